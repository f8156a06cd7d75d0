"""Nobody can tell a hidden cell, in a share of the seasons of the long proof."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pipeline.sharing.share_table import share_table
from tests.proofs.hidden_cells_over_seasons import MEASURES, attacked, season

if TYPE_CHECKING:
    import numpy as np

    from pipeline.sharing.cells import Cells
    from schemas.settings import Sharing

SEASONS = 30
KINDS = ("a cell", "a boat's own cells", "by a boat")


@pytest.mark.parametrize("seed", range(SEASONS))
def test_no_reader_tells_a_hidden_cell(seed: int) -> None:
    counts = attacked(seed)
    assert bool(counts["a cell"]) == bool(counts["hidden"])
    assert {kind: counts[f"{kind} told"] for kind in KINDS} == dict.fromkeys(KINDS, 0)


def test_a_reader_tells_cells_where_none_is_hidden_for_another(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def no_more(_cells: Cells, unsafe: np.ndarray, _sharing: Sharing) -> np.ndarray:
        return unsafe

    monkeypatch.setattr("pipeline.sharing.share_table.hide_more", no_more)
    counts = sum((attacked(seed) for seed in range(6)), start=attacked(6))
    assert all(counts[f"{kind} told"] for kind in KINDS)


def test_most_of_these_seasons_hide_cells() -> None:
    shared = (share_table(rows, tables, [], rules) for rows, tables, rules in map(season, range(5)))
    assert sum(bool(each.cells["hidden"].count()) for each in shared) > 2


@pytest.mark.parametrize("seed", range(3))
def test_the_order_of_rows_does_not_matter(seed: int) -> None:
    contributions, tables, rules = season(seed)
    turned = contributions.sample(fraction=1, shuffle=True, seed=seed)
    shared = [share_table(rows, tables, MEASURES, rules) for rows in (contributions, turned)]
    assert shared[0].cells["hidden"].equals(shared[1].cells["hidden"])
    assert shared[0].said == shared[1].said
