"""A boat's own page has no column without a word, and explains no word that it does not use."""

from __future__ import annotations

from typing import Any

import pytest

from reports.coop.boat_page import own_ratios
from reports.coop.sections import how_to_read_shared
from schemas.codes import BoatWithout
from tests.spec.test_coops_first_screen import CASES, DAMAGE, season

Row = dict[str, Any]


def own(why_none: BoatWithout | None) -> Row:
    """A boat's findings: its one ratio, or why there is none."""
    ends = ("ratio", "low", "high")
    ratio = dict.fromkeys(ends) if why_none else dict(zip(ends, (0.5, 0.4, 0.6), strict=True))
    row = {"outcome": DAMAGE, "rig": "hop", "reference": "ring", **ratio, "why_none": why_none}
    return {
        **season(CASES[0]),
        "boat": "Skua",
        "ratios": [{**row, "mean": None, "mean_without": None}],
    }


@pytest.mark.parametrize("why_none", [None, BoatWithout.RIG_NOT_FISHED])
def test_why_there_is_no_ratio_has_a_column_where_there_is_none(
    why_none: BoatWithout | None,
) -> None:
    section = own_ratios(own(why_none))
    assert section is not None
    (table,) = section.tables
    assert (table.headers[-1] == "why none") == (why_none is not None)
    assert [len(row) for row in table.rows] == [len(table.headers)]


@pytest.mark.parametrize(("page", "verdicts"), [("coop", True), ("boat", False)])
def test_verdicts_are_explained_where_there_are_any(page: str, *, verdicts: bool) -> None:
    findings = season(CASES[0]) if page == "coop" else own(None)
    findings["effects"] = []
    said = how_to_read_shared(findings).points
    assert any(words.startswith("Clear means") for words in said) == verdicts
    assert not any(words.startswith("Could have shown") for words in said)
