"""Boats are held to themselves and to one another as worked out in `boats.md`."""

from __future__ import annotations

from dataclasses import asdict
from functools import partial
from typing import TYPE_CHECKING, Any

import polars as pl
import pytest

from pipeline.rates.over_boats import TOO_FEW_BOATS, OverBoats, find_over_boats
from reports.boats.alone import of_one_or_none
from reports.boats.chart import boats_chart
from reports.boats.section import boat_by_boat
from reports.boats.sentences import of_mean
from reports.charts import in_page
from reports.marks import marks
from reports.pictures import DRAWN_HERE
from schemas.outcomes import outcome
from tests.spec.text_tables import cases_under

if TYPE_CHECKING:
    from reports.parts import Section

cases_of = partial(cases_under, "boats.md")
DAMAGE = outcome("damage_events")
HOURS, HAULS = 100.0, 25
RIGS = ("bobbins", "discs")


def sums_of(tears: str) -> pl.DataFrame:
    """The trips that a cell tells of, one sum a trip."""
    rows = []
    for boat in tears.split("; "):
        vessel, *rates, trips = boat.split()
        for rig, rate in zip(RIGS, rates, strict=True):
            for trip in range(int(trips) if rate != "-" else 0):
                torn = float(rate) + ((-1) ** trip if float(rate) else 0)
                rows.append((vessel, f"{rig} {trip}", rig, min(int(torn), HAULS), torn))
    names = ["vessel", "trip", "rig_version", "hauls_with_some", "total"]
    same = {"outcome": "damage_events", "ground": "stones", "stretch": "2031 Q1"}
    return pl.DataFrame(rows, schema=names, orient="row").with_columns(
        *(pl.lit(value).alias(name) for name, value in same.items()),
        hauls=pl.lit(HAULS),
        tow_hours=pl.lit(HOURS),
    )


def found_in(tears: str) -> OverBoats:
    sums = sums_of(tears)
    named = [boat.split()[0] for boat in tears.split("; ")]
    # A boat of which nothing is known of damage has hauls of something else.
    silent = set(named) - set(sums["vessel"])
    other = sums.head(len(silent)).with_columns(
        outcome=pl.lit("debris_kg"), vessel=pl.Series(sorted(silent), dtype=pl.String)
    )
    fished = pl.DataFrame({"rig_version": RIGS, "ground": "stones"})
    (found,) = find_over_boats(pl.concat([sums, other]), fished, "bobbins", ["vessel"], "trip")
    return found


@pytest.mark.parametrize("case", cases_of("What is found"), ids=lambda case: case["case"])
def test_what_is_found(case: dict[str, str]) -> None:
    found = found_in(case["tears"])
    mean = found.mean
    assert (f"{mean.ratio:.2f}" if mean else "") == case["mean"]
    assert (mean.verdict if mean else "") == case["verdict"]
    assert found.why_no_mean == (None if mean else TOO_FEW_BOATS)
    without = [f"{boat.vessel}: {boat.why_none}" for boat in found.boats if boat.why_none]
    assert "; ".join(without) == case["none"]


@pytest.mark.parametrize("case", cases_of("What is said"), ids=lambda case: case["case"])
def test_what_is_said(case: dict[str, str]) -> None:
    assert of_mean(asdict(found_in(case["tears"])), asdict(DAMAGE)) == case["says"]


def findings_of(tears: str) -> dict[str, Any]:
    found = found_in(tears)
    return {
        "season": {
            "reference_rig": "bobbins",
            "vessels": [boat.vessel for boat in found.boats],
        },
        "outcomes": [asdict(DAMAGE)],
        "boats": [asdict(found)],
    }


def section_of(tears: str) -> Section:
    section = boat_by_boat(findings_of(tears))
    assert section is not None
    return section


def picture_of(tears: str) -> str | None:
    chart = boats_chart(findings_of(tears), asdict(DAMAGE), marks(list(RIGS), "bobbins"))
    return None if chart is None else in_page(DRAWN_HERE.chart(chart)(), "boats")


def test_two_boats_are_told_without_a_mean_or_a_drawing() -> None:
    section = section_of("Skua 4 2 8; Tern 8 4 8")
    assert section.paragraphs[1].startswith(
        "Net damage on the only two boats that can be held to themselves, too few for a mean over "
        "boats, as times bobbins's: with discs Skua 0.50 ("
    )
    assert [figure.kind for figure in section.figures] == ["numbers"]
    assert picture_of("Skua 4 2 8; Tern 8 4 8") is None


def test_one_boat_that_fished_both_is_only_named() -> None:
    section = section_of("Skua 4 2 8; Tern 8 - 8")
    assert section.figures == []
    assert section.paragraphs[1:] == [
        "Fished enough beside bobbins on one boat alone: discs (Skua). Whether another boat would "
        "see the same, the record can't tell."
    ]


def test_boats_of_one_rig_each_are_told_how_to_settle_it() -> None:
    section = section_of("Skua 4 - 8; Tern - 4 8")
    assert section.figures == []
    assert "mean over boats" not in section.paragraphs[0]
    assert section.paragraphs[1:] == [
        "No boat by itself gives a ratio to bobbins for discs: Skua (did not fish discs); Tern "
        "(did not fish bobbins). Fishing both in turn, on one boat and one ground, would tell more."
    ]


def told_of_none(tears: str, why_none: str, adjusted_for: list[str]) -> str:
    """What is said of a rig of which this is why no boat has a ratio."""
    findings = findings_of(tears)
    findings["season"] |= {"adjusted_for": adjusted_for, "grounds": ["sand", "stones"]}
    findings["rigs"] = ["bobbins", "discs", "rope"]
    findings["method"] = {"support": {"spare_trips": 4}}
    for boat in findings["boats"][0]["boats"]:
        boat |= {"why_none": why_none, "log_ratio": None}
    (said,) = of_one_or_none(findings)
    return said


def test_boats_of_too_few_trips_are_told_how_many_they_want() -> None:
    boats = "Skua 4 2 8; Tern 8 4 8"
    why = (
        "No boat by itself gives a ratio to bobbins for discs: Skua and Tern (too few trips to "
        "compare like for like). A boat's model wants 4 trips more than it has terms"
    )
    few = "too few trips to adjust"
    in_figures = f"{why}: with 3 rig versions on 2 grounds that is 8 trips."
    assert told_of_none(boats, few, ["vessel", "ground", "quarter"]) == in_figures
    assert told_of_none(boats, few, ["quarter", "ground"]) == f"{why}."
    assert "terms" not in told_of_none(boats, "none seen", ["ground"])


def test_why_no_boat_has_a_ratio_is_told_by_outcome_where_it_differs() -> None:
    findings, fish = findings_of("Skua 4 - 8; Tern 4 - 8"), asdict(outcome("bottom_living_kg"))
    (row,) = findings["boats"]
    boats = [{**boat, "why_none": "none seen"} for boat in row["boats"]]
    both = [row, {**row, "outcome": "bottom_living_kg", "boats": boats}]
    findings |= {"outcomes": [*findings["outcomes"], fish], "boats": both}
    assert of_one_or_none(findings) == [
        "No boat by itself gives a ratio to bobbins for discs: in net damage Skua and Tern (did "
        "not fish discs); in bottom-living fish Skua and Tern (none recorded with one of them, or "
        "with both). Fishing both in turn, on one boat and one ground, would tell more."
    ]


def test_a_season_of_one_boat_has_no_such_section() -> None:
    fished = pl.DataFrame({"rig_version": RIGS, "ground": "stones"})
    assert find_over_boats(sums_of("Skua 4 2 8"), fished, "bobbins", [], "trip") == []
    assert boat_by_boat({"boats": []}) is None


def test_a_boat_without_a_tear_is_named_with_the_way_it_draws_the_mean() -> None:
    said = section_of("Skua 4 2 8; Tern 8 4 8; Gull 6 0 8; Rook 2 1 8").paragraphs[1]
    assert said.endswith(
        "Not in it: Gull (none at all with discs). With those that had none, it would be lower."
    )


def test_boats_that_differ_are_told_to_and_what_a_further_one_sees_is_left_open() -> None:
    said = section_of("Skua 8 2 8; Tern 4 4 8; Gull 2 8 8").paragraphs[1]
    assert "(0.03 to 31.2 times, which settles nothing): too little to tell." in said
    assert "The boats differ more than chance would have it: about 97 % of " in said
    assert "How a further boat would do can't be told from so few." in said


def test_every_boat_and_the_mean_are_drawn_and_say_what_they_are() -> None:
    picture = picture_of("Skua 4 2 8; Tern 8 4 8; Gull 6 3 8")
    assert picture is not None
    for name in ("Skua", "Tern", "Gull", "mean over boats"):
        assert f'aria-label="discs: {name}, 0.50 times bobbins' in picture
        assert f">{name}</text>" in picture


def test_many_boats_left_out_for_one_reason_are_counted() -> None:
    others = "; ".join(f"Boat{number} 4 - 8" for number in range(5))
    said = section_of(f"Skua 4 2 8; Tern 8 4 8; Gull 6 3 8; {others}").paragraphs[1]
    assert said.endswith("Not in it: 5 boats (did not fish discs).")


def test_a_boat_told_of_a_part_of_its_record_is_shown_with_it() -> None:
    early = sums_of("Gull 6 3 8").with_columns(stretch=pl.lit("2031 Q1"))
    later = sums_of("Gull 6 - 40").with_columns(
        stretch=pl.lit("2031 Q3"), trip=pl.concat_str(pl.lit("later "), pl.col("trip"))
    )
    before = sums_of("Gull - 3 40").with_columns(
        stretch=pl.lit("2030 Q4"), trip=pl.concat_str(pl.lit("before "), pl.col("trip"))
    )
    sums = pl.concat([sums_of("Skua 4 2 8; Tern 8 4 8"), before, early, later])
    fished = pl.DataFrame({"rig_version": RIGS, "ground": "stones"})
    (found,) = find_over_boats(sums, fished, "bobbins", [], "trip")
    assert [boat.part for boat in found.boats] == ["2031 Q1", "whole record", "whole record"]
    assert found.mean is not None
    assert found.mean.ratio == pytest.approx(0.5)
    section = boat_by_boat(findings_of("Skua 4 2 8; Tern 8 4 8") | {"boats": [asdict(found)]})
    assert section is not None
    assert section.figures[0].table.rows[0][0] == "discs, Gull in 2031 Q1"
