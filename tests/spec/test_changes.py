"""Changes of rig are looked about, and told, as worked out in `changes.md`."""

from __future__ import annotations

from dataclasses import asdict
from functools import partial
from typing import TYPE_CHECKING, Any

import altair as alt
import polars as pl
import pytest

from pipeline.rates.changes import Changes, find_changes
from reports.changes.chart import changes_chart
from reports.changes.section import before_and_after
from reports.changes.sentences import came_with, of_pair, of_placebo, on_first_screen, what_followed
from reports.charts import arrows_beyond, in_page, layered, ratio_ticks, whole
from reports.marks import marks
from reports.pictures import DRAWN_HERE
from schemas.outcomes import outcome
from tests.spec.fished_in_turn import fished
from tests.spec.text_tables import cases_under

if TYPE_CHECKING:
    from reports.parts import Section

cases_of = partial(cases_under, "changes.md")
DAMAGE, FISH = (asdict(outcome(name)) for name in ("damage_events", "bottom_living_kg"))


def found_in(*boats: str) -> Changes:
    hauls = pl.concat(fished(text, f"Boat {at}" if at else "Skua") for at, text in enumerate(boats))
    return find_changes(hauls, "bobbins", "trip")


def only_change(text: str) -> dict[str, Any]:
    (change,) = asdict(found_in(text))["changes"]
    return dict(change)


def of_damage(change: dict[str, Any]) -> dict[str, Any]:
    (held,) = (h for h in change["ratios"] if h["about"]["outcome"] == DAMAGE["name"])
    return dict(held)


@pytest.mark.parametrize("case", cases_of("Which changes count"), ids=lambda case: case["case"])
def test_which_changes_count(case: dict[str, str]) -> None:
    found = found_in(case["fished"])
    told = [f"{c.rig_before} to {c.rig_after} {c.hauls_a_side}" for c in found.changes]
    assert ", ".join(told) == case["changes"]
    assert (found.of_all, len(found.without)) == (int(case["of"]), int(case["quiet"]))


@pytest.mark.parametrize("case", cases_of("What came with a change"), ids=lambda case: case["case"])
def test_what_came_with_a_change(case: dict[str, str]) -> None:
    assert came_with(only_change(case["fished"])) == case["says"]


@pytest.mark.parametrize("case", cases_of("What followed"), ids=lambda case: case["case"])
def test_what_followed(case: dict[str, str]) -> None:
    assert what_followed(of_damage(only_change(case["fished"])), DAMAGE) == case["says"]


def test_changes_at_sea_are_held_to_days_during_a_trip() -> None:
    at_sea = "85 bobbins, torn 1 in 5; 25 discs, torn 1 in 5, same trip"
    between = "85 bobbins, torn 1 in 5; 25 discs, torn 1 in 5"
    for text, between_trips in ((at_sea, False), (between, True)):
        found = found_in(text)
        assert [change.between_trips for change in found.changes] == [between_trips]
        assert {day.between_trips for day in found.without} == {between_trips}


# There and back again: 16 tears in 80 hauls with bobbins, 8 in 80 with discs.
THERE_AND_BACK = (
    "40 bobbins, torn 1 in 5; 40 discs, torn 1 in 10; 40 bobbins, torn 1 in 5",
    "40 discs, torn 1 in 10; 40 bobbins, torn 1 in 5",
)
STEADY = "400 bobbins, torn 1 in 5"


def test_changes_between_two_rigs_are_one_ratio_whichever_came_first() -> None:
    found = found_in(*THERE_AND_BACK)
    (pair,) = found.pairs
    assert (pair.rig, pair.reference) == ("discs", "bobbins")
    assert (pair.changes_to, pair.changes_back) == (1, 2)
    pooled = pair.ratios[0]
    assert pooled.days == 3
    assert pooled.ratio.ratio == pytest.approx(0.5)
    assert of_pair(asdict(pair), asdict(pooled), DAMAGE).startswith(
        "Net damage over the changes between bobbins and discs (1 from bobbins to discs and 2 from "
        "discs to bobbins; nothing else changed with them): with discs 50 % less often ("
    )


def findings_of(*boats: str) -> dict[str, Any]:
    return {
        "season": {"reference_rig": "bobbins", "headlines": [DAMAGE["name"], FISH["name"]]},
        "outcomes": [DAMAGE, FISH],
        "changes": asdict(found_in(*boats)),
    }


def section_of(*boats: str) -> Section:
    section = before_and_after(findings_of(*boats))
    assert section is not None
    return section


def test_a_season_that_keeps_its_rig_has_no_such_section() -> None:
    assert before_and_after(findings_of(STEADY)) is None


def test_without_a_quiet_day_the_section_says_that_nothing_is_there_to_hold_it_against() -> None:
    section = section_of("20 bobbins, torn 1 in 5; 20 discs, torn 1 in 5")
    assert section.paragraphs[-1].startswith("No boat kept one rig long enough")
    assert on_first_screen(findings_of("20 bobbins, torn 1 in 5; 20 discs, torn 1 in 5")) == []


def test_days_without_a_change_say_how_far_they_moved() -> None:
    uneven = "; ".join(["40 bobbins, torn 1 in 5", "40 bobbins, torn 1 in 10"] * 6)
    findings = findings_of(*THERE_AND_BACK, uneven)
    (placebo,) = (p for p in findings["changes"]["placebos"] if p["outcome"] == DAMAGE["name"])
    assert (placebo["days"], placebo["between_trips"]) == (6, True)
    said = of_placebo(placebo, DAMAGE, findings["changes"]["hauls_a_side"])
    assert said.startswith(
        "Net damage about 6 days without a change, between trips, 40 hauls to a side: the ratio "
        "ran from 0.50 to 0.50. None of their intervals tells of a change; by chance about one in "
        "twenty would, though nothing was changed. All of them together: 50 % less often ("
    )
    assert said in section_of(*THERE_AND_BACK, uneven).paragraphs
    assert on_first_screen(findings) == [
        "Before and after: of 3 changes of rig that lasted, none came with a change of ground, tow "
        "length, depth or season as well. At each of 6 days on which nothing was changed "
        "net damage by itself went to between 0.50 and 0.50 times what it was before."
    ]


def test_changes_and_days_without_are_drawn_apart_and_say_what_they_are() -> None:
    findings = findings_of(*THERE_AND_BACK, STEADY)
    chart = changes_chart(findings, DAMAGE, marks(["bobbins", "discs"], "bobbins"))
    assert chart is not None
    picture = in_page(DRAWN_HERE.chart(chart)(), "changes")
    for panel in ("bobbins to discs", "discs to bobbins", "discs, times bobbins"):
        assert f">{panel}</text>" in picture
    assert ">days without a change</text>" in picture
    assert 'aria-label="discs: Skua, 2031-03-11, 0.50 times (between' in picture
    assert 'aria-label="bobbins: Boat 2, 2031-03-11, no change, 1.00 times (between' in picture


def test_a_change_after_or_before_which_nothing_tore_is_an_arrow_at_the_end_of_the_scale() -> None:
    findings = findings_of(*THERE_AND_BACK, STEADY)
    changes = findings["changes"]["changes"]
    afterwards, before = (
        held["about"]
        for change in changes[:2]
        for held in change["ratios"]
        if held["about"]["outcome"] == DAMAGE["name"]
    )
    afterwards |= {"ratio": 0.0, "low": 0.0, "high": 3.0, "log_ratio": None, "total_after": 0}
    before |= {"ratio": None, "low": 0.4, "high": None, "log_ratio": None, "total_before": 2}
    chart = changes_chart(findings, DAMAGE, marks(["bobbins", "discs"], "bobbins"))
    assert chart is not None
    section = before_and_after(findings)
    assert section is not None
    assert "A hollow triangle at the edge" in section.figures[0].caption
    rows = {row["kind"]: row for row in chart["datasets"]["rows"]}
    ends = chart["spec"]["layer"][1]["encoding"]["x"]["scale"]["domain"]
    assert (rows["none after"]["ratio"], rows["none before"]["ratio"]) == tuple(ends)
    assert rows["none after"]["high"] == 3.0
    assert rows["none before"]["low"] == 0.4
    picture = in_page(DRAWN_HERE.chart(chart)(), "changes")
    assert picture.count("drawn at the end of the scale") >= 2
    assert rows["none after"]["says"] == (
        "bobbins: Boat 1, 2031-03-11, after discs: none at all (yet up to 3.0 times what it was "
        "can't be ruled out); drawn at the end of the scale"
    )
    assert rows["none before"]["says"].endswith(
        "after bobbins: on what was fished on both sides none before, so at least 0.4 times as "
        "much; drawn at the end of the scale"
    )


def test_no_triangle_is_explained_where_none_is_drawn() -> None:
    figure = section_of(*THERE_AND_BACK, STEADY).figures[0]
    assert "A bar with an arrow at the edge is wider than shown." in figure.caption
    assert "triangle" not in figure.caption


def test_a_bar_that_goes_on_beyond_the_edge_ends_in_an_arrow() -> None:
    bars = alt.Chart().encode(color=alt.value("#000000"))
    scale = alt.Scale(type="log", domain=[0.5, 2], clamp=True, nice=False)
    y = alt.Y("name:N")

    def drawn(low: float, high: float) -> int:
        chart = layered(*arrows_beyond(bars, scale, [0.5, 2.0], y), height=20)
        rows = [{"name": "Tern", "low": low, "high": high}]
        return DRAWN_HERE.chart(whole(chart, rows=rows))().count(' d="M')

    within, left, both = drawn(0.6, 1.9), drawn(0.1, 1.9), drawn(0.1, 9.0)
    assert (left - within, both - within) == (1, 2)


@pytest.mark.parametrize(
    ("ends", "marked"),
    [([0.5, 2.0], [0.5, 1, 2]), ([0.04, 25.0], [0.05, 0.2, 1, 5, 20])],
)
def test_ratios_are_marked_as_far_as_all_of_them_have_room(
    ends: list[float], marked: list[float]
) -> None:
    assert ratio_ticks(ends, 250) == marked


def test_where_no_change_has_a_ratio_only_the_numbers_are_shown() -> None:
    section = section_of("40 bobbins, torn 1 in 5; 40 discs, torn 1 in 5, mud")
    assert {figure.kind for figure in section.figures} == {"numbers"}
    (row,) = section.figures[0].table.rows
    assert row[3] == "hardly any of it on the same ground"


def test_so_many_changes_that_nobody_would_read_them_are_counted() -> None:
    often = "; ".join(["15 bobbins, torn 1 in 5", "15 discs, torn 1 in 5"] * 17)
    assert "3 more changes are in findings.json under changes." in section_of(often).points


def test_of_very_many_changes_some_are_looked_about_and_the_report_says_so() -> None:
    often = "; ".join(["15 bobbins, torn 1 in 5", "15 discs, torn 1 in 5"] * 36)
    found = found_in(often)
    assert (found.of_all, found.lasted, len(found.changes)) == (71, 71, 60)
    assert section_of(often).paragraphs[1] == (
        "There were 71 changes of rig on a boat; with fifteen hauls or more of one rig before, and "
        "of the other after, 71 lasted. 60 of them, spread evenly over all, are looked about here. "
        "None came with a change of ground, tow length, depth or season."
    )


def test_intervals_that_days_without_a_change_belie_are_said_to_be_too_narrow() -> None:
    # Each trip of forty hauls by itself: much fish, then little, and the days of a trip alike.
    uneven = "; ".join(["40 bobbins, torn 1 in 5, 90 kg", "40 bobbins, torn 1 in 5"] * 6)
    findings = findings_of(*THERE_AND_BACK, uneven)
    fish = next(p for p in findings["changes"]["placebos"] if p["outcome"] == FISH["name"])
    assert (fish["days"], fish["show_change"], fish["too_narrow"]) == (6, 6, True)
    said = of_placebo(fish, FISH, 40)
    assert "That is more than chance: intervals about single days are too narrow here" in said
    tears = next(p for p in findings["changes"]["placebos"] if p["outcome"] == DAMAGE["name"])
    assert (tears["show_change"], tears["too_narrow"]) == (0, False)
