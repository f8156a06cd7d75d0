"""What the pages promise of a small trial: foul tows, a rig without damage, confounded terms."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from functools import partial
from html import unescape
from typing import TYPE_CHECKING, Any

import pytest

from reports.advice.to_do import to_write_down
from reports.cells import outcomes_of
from reports.charts import ratio_chart
from reports.doubts import further_doubts
from reports.editions import bottom_living_fish, net_damage
from reports.marks import marks
from reports.sentences import is_headline
from reports.standing.models import model_facts
from reports.study.citation import citation
from reports.study.flow_drawing import flow_drawing
from reports.study.further_methods import further_sentences
from reports.study.methods import headline_models
from reports.study.opening import headline_table
from tests.spec.test_lean_seasons import HAULS
from tests.spec.test_methods import SEASONS, Season, catches, findings_of, made

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Section

Row = dict[str, Any]
CATCHES = ("catches", catches())


def fish(findings: Findings) -> Section:
    section = bottom_living_fish(findings)
    assert section is not None
    return section


def foul(row: Row, *, every: int) -> Row:
    """With its costs written, and foul every so many hauls."""
    torn = row["damaged"] == "yes"
    costs = dict.fromkeys(("mending_hours", "hours_lost"), 2 if torn else "")
    return {**row, **costs, "valid": ("yes", "no")[row["haul"] % every == 0]}


def test_a_foul_tow_is_no_catch_that_was_not_written() -> None:
    findings = made(Season(partial(foul, every=4), files=(CATCHES,)))
    assert "15 hauls are marked foul; what they caught is left out." in fish(findings).paragraphs
    assert not any("catch" in said for said in to_write_down(findings))


def test_of_foul_tows_and_of_hauls_without_a_catch_each_is_told() -> None:
    half = "\n".join(catches().splitlines()[: HAULS // 2 + 1])
    findings = made(Season(partial(foul, every=HAULS), files=(("catches", half),)))
    said = fish(findings).paragraphs
    assert "1 haul is marked foul; what it caught is left out." in said
    assert any(each.startswith("Of the 59 other hauls, 30 say nothing") for each in said)
    assert "the catch of each haul: 30 of 59 not written" in to_write_down(findings)


def test_what_goes_wholly_with_another_term_is_no_part_of_the_model_and_is_told() -> None:
    findings = findings_of("a boat for half the year")
    (model, *_) = headline_models(findings)
    assert model["adjusted_for"] == ["ground", "vessel", "depth_band"]
    assert "quarter: not to be told apart from vessel" in model["left_out"]
    (effect,) = (e for e in findings["effects"] if e["model"] == model["name"])
    assert "quarter" not in f"{effect['adjusted_for']} {effect['method']}"
    assert (
        "Time of year went wholly with boat in these hauls: holding boat alike holds time of year "
        "alike as well, but which of them makes a difference can't be told."
    ) in further_doubts(findings)


def test_what_hauls_differ_in_by_itself_is_told_apart() -> None:
    assert not any("wholly" in said for said in further_doubts(findings_of("plain")))


def test_a_rig_without_damage_is_told_by_its_hauls_and_its_upper_limit() -> None:
    findings = made(replace(SEASONS["none torn with one rig"], reference="discs"))
    (effect,) = (e for e in findings["effects"] if e["model"] is None and is_headline(e))
    high = f"{effect['high']:.2f}"
    section = net_damage(findings)
    assert section is not None
    (said,) = (each for each in section.paragraphs if "had no net damage" in each)
    assert "can't be ruled out). bobbins: none in 30 hauls; discs: 6 in 30 hauls. That none" in said
    (row,) = section.figures[0].table.rows
    assert row[2:5] == ["none of 30", "0.00", high]
    table = headline_table(findings)
    assert table is not None
    assert table.rows[0][2] == "none of 30"
    assert "its interval begins at nought" in section.figures[0].caption


def test_a_rig_without_damage_has_a_bar_from_the_edge_to_its_limit_and_no_mark() -> None:
    findings = made(replace(SEASONS["none torn with one rig"], reference="discs"))
    chart = ratio_chart(
        findings, outcomes_of(findings)["damage_events"], marks(["bobbins", "discs"], "discs")
    )
    assert chart is not None
    (bar,) = chart["datasets"]["rows"]
    least, _ = chart["layer"][1]["encoding"]["x"]["scale"]["domain"]
    assert bar["ratio"] is None
    assert bar["low"] < least < bar["high"]
    assert "net damage in none of 30, up to" in bar["says"]


def test_a_rig_with_damage_has_its_ratio_and_nothing_is_said_of_none() -> None:
    section = net_damage(findings_of("plain"))
    assert section is not None
    assert not any("none in" in said for said in section.paragraphs)
    assert "none of" not in section.figures[0].table.rows[0][2]
    assert "begins at nought" not in section.figures[0].caption


def test_methods_say_in_what_a_mix_of_grounds_is_not_held_alike() -> None:
    findings = findings_of("plain")
    said = "There are too few trips to hold it alike in boat and depth as well"
    assert not any(said in each for each in further_sentences(findings))
    bare = [{**row, "adjusted_for": []} for row in findings["on_the_mix"]]
    assert any(said in each for each in further_sentences({**findings, "on_the_mix": bare}))


@pytest.mark.parametrize(
    ("season", "title", "abstract"),
    [
        (
            Season(),
            "Skua and Tern: comparison of ground-gear rigs",
            "Rates with 2 rig versions, reference bobbins, in 60 hauls of 2 boats on 20 trips, "
            "1 Jan to 4 Mar 2031.",
        ),
        (
            Season(lambda row: {**row, "rig_version": "discs", "vessel": "Skua"}),
            "Skua: rates with one ground-gear rig",
            "Rates with discs, the only rig version, in 60 hauls of 1 boat on 20 trips, "
            "1 Jan to 4 Mar 2031.",
        ),
        (
            Season(partial(foul, every=4)),
            "Skua and Tern: comparison of ground-gear rigs",
            "Rates with 2 rig versions, reference bobbins, in 60 hauls of 2 boats on 20 trips, "
            "15 hauls foul, 1 Jan to 4 Mar 2031.",
        ),
    ],
    ids=["two rigs", "one rig and boat", "foul tows"],
)
def test_what_is_cited_is_what_was_done(season: Season, title: str, abstract: str) -> None:
    lines = citation(made(season), date(2031, 5, 1)).splitlines()
    assert f'title: "{title}"' in lines
    assert f'abstract: "{abstract}"' in lines


def test_a_term_that_is_not_told_has_a_reason_beside_its_table() -> None:
    findings = findings_of("a boat for half the year")
    (model, *_) = headline_models(findings)
    why = {term["term"]: term["untold"] for term in model["terms"] if term["estimate"] is None}
    assert why == {"vessel: Tern": "only told together with other terms"}
    shown = model_facts(model)
    assert shown["not told"] == "vessel: Tern (only told together with other terms)"


def test_of_a_model_with_all_terms_told_no_reason_is_given() -> None:
    (model, *_) = headline_models(findings_of("plain"))
    assert all(term["untold"] is None for term in model["terms"])
    assert "not told" not in model_facts(model)


@pytest.mark.parametrize(
    ("season", "says", "never"),
    [
        ("plain", "1 rig compared with bobbins: 30 hauls, 10 trips discs:", "No model"),
        ("plain", "(h beside: the rig's hours side by side with bobbins)", "hours fished side"),
        ("one rig", "No rig beside the reference to compare discs: 60 hauls, 20 trips", "beside:"),
        ("one rig", "No model over all grounds one rig alone", "0 rigs"),
        ("six trips", "No model over all grounds too few trips for its terms", "h beside"),
        (
            "none torn with one rig",
            "No model over all grounds one of the two had none; limits are worked out without one",
            "too few",
        ),
    ],
)
def test_the_boxes_of_the_flow_read_by_themselves(season: str, says: str, never: str) -> None:
    drawn = flow_drawing(findings_of(season)).partition("<rect")[2]
    words = unescape(" ".join(re.findall(r">([^<>]+)<", drawn))).replace("\u00a0", " ")
    assert says in words
    assert never not in words
