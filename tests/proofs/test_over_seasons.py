"""What the long proofs share; the proofs themselves are run by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.proofs.over_seasons import over_seasons

if TYPE_CHECKING:
    import pytest


def test_what_is_found_comes_in_the_order_of_the_seeds(capsys: pytest.CaptureFixture[str]) -> None:
    assert list(over_seasons(float, range(3, 6))) == [3.0, 4.0, 5.0]
    assert capsys.readouterr().err.endswith("3 of 3\n")
