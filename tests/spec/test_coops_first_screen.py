"""The co-op's first screen says what is shown further down, and the true reason for what is not."""

from __future__ import annotations

from typing import Any

import pytest

from pipeline.sharing.periods import Part
from reports.cells import rate_cell, ratio_cell
from reports.coop.differences import differences
from reports.coop.screen import cards, coop_screen, lead
from reports.coop.sections import cell_words, what_was_hidden
from reports.first_screen import key_to
from schemas.outcomes import HEADLINES, fixed_outcome
from tests.spec.text_tables import cases_of, page_text

Row = dict[str, Any]
CASES = cases_of(page_text("coop_screen.md"))
LEANS = {"▲": ["better"], "": ["open"], "none": []}
DAMAGE = HEADLINES[0]


def ratio(cell: str) -> Row:
    """A ratio of hop to ring, as the table has it."""
    told, low, high, verdict = cell.split(" ", 3)
    apart = verdict == "apart"
    return {
        "outcome": DAMAGE,
        "rig": "hop",
        "reference": "ring",
        "ground": "all",
        "part": "whole record",
        "ratio": float(told),
        "low": float(low),
        "high": float(high),
        "verdict": "too little to tell" if apart else verdict,
        "verdict_alone": "too little to tell" if apart else verdict,
        "cautions": ["not side by side"] if apart else [],
    }


def mean(cell: str) -> Row:
    """The same over three boats; how far they differ is not shared."""
    of_all = ratio(cell)
    told = {name: of_all[name] for name in ("ratio", "low", "high", "verdict")}
    return {
        **{name: of_all[name] for name in ("outcome", "rig", "reference")},
        "boats_with_a_ratio": 3,
        "mean": {**told, "more_than_chance": None},
        "would_gain": None,
        "boats": [],
    }


def season(case: Row, rigs: tuple[str, ...] = ("ring", "hop")) -> Row:
    """The shared findings of the case."""
    hidden = case["hidden"].split(", ")
    return {
        "season": {
            "title": "The co-op",
            "reference_rig": "ring",
            "headlines": [DAMAGE],
            "boats": 4,
            "hauls": 400,
            "tow_hours": 1200.0,
            "first_month": None,
            "last_month": None,
            "not_of_all_boats": [],
            "seasons_left_out": 0,
        },
        "sharing": {"hidden_for": {}, "hidden": 0, "cells": 4, "min_vessels": 3, "max_share": 0.8},
        "outcomes": [{**vars(fixed_outcome(DAMAGE)), "matters": 2.0}],
        "rigs": [{"rig_version": rig, "is_reference": rig == "ring"} for rig in rigs],
        "cells": [
            {"rig": rig, "ground": ground, "shown": rig not in hidden and ground is None}
            for rig in (None, *rigs)
            for ground in (None, "mud")
        ],
        "sensitivity": [],
        "unknown_damage": {"any": False, "hauls": None, "ratios": []},
        "effects": [ratio(case["over all hauls"])] if case["over all hauls"] else [],
        "boats": [mean(case["mean"])] if case["mean"] else [],
    }


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["case"])
def test_it_leads_with_what_is_clear_and_says_why_the_rest_is_not_shown(case: Row) -> None:
    findings = season(case)
    screen = coop_screen(findings)
    assert screen.lead == case["leads with"]
    reasons = [said for said in screen.untold if "over all hauls is shown" in said]
    assert reasons == [case["why not"]] * bool(case["why not"])
    assert [line.leans for card in cards(findings) for line in card.lines] == LEANS[case["card"]]


def test_a_ratio_on_one_ground_alone_is_none_over_all() -> None:
    case = dict.fromkeys(CASES[0], "") | {"hidden": "hop", "over all hauls": "0.50 0.40 0.60 lower"}
    findings = season(case)
    findings["effects"][0]["ground"] = "mud"
    assert lead(findings) == "No difference from ring can be shown: why is said below."
    assert "The hours of hop are hidden" in coop_screen(findings).untold[0]


def test_of_one_rig_alone_it_says_that_there_is_nothing_to_compare() -> None:
    findings = season(dict.fromkeys(CASES[0], ""), rigs=("ring",))
    assert lead(findings).startswith("Only one rig version was fished (ring)")


@pytest.mark.parametrize(
    ("grounds", "caption"),
    [
        (["all", "mud", "sand"], "over all grounds and on each"),
        (["all", "sand"], "over all grounds and on sand, the one ground that may be shown"),
        (["all"], "over all grounds; of single grounds none may be shown"),
        (["mud"], "on mud"),
    ],
)
def test_the_table_of_ratios_names_the_grounds_that_it_is_of(
    grounds: list[str], caption: str
) -> None:
    findings = season(CASES[0])
    findings["season"]["grounds"] = ["mud", "sand"]
    told = findings["effects"][0] | {"raw_ratio": None}
    findings["effects"] = [told | {"ground": ground} for ground in grounds]
    section = differences(findings)
    assert section.tables[0].caption == f"Each rig against ring, like for like, {caption}"
    assert section.paragraphs[-1].endswith("a dash: its rates are not tabled.")


@pytest.mark.parametrize(
    ("verdict", "alone", "folded"),
    [
        ("lower", "lower", False),
        ("no clear difference", "no clear difference", False),
        ("too little to tell", "lower", False),
        ("too little to tell", "too little to tell", True),
        ("too little to tell", "no clear difference", True),
    ],
)
def test_comparisons_that_tell_too_little_are_folded_away(
    verdict: str, alone: str, *, folded: bool
) -> None:
    findings = season(CASES[0])
    told = findings["effects"][0] | {"raw_ratio": None}
    findings["season"]["grounds"] = ["mud"]
    shown = told | {"verdict": verdict, "verdict_alone": alone}
    findings["effects"] = [told, shown | {"ground": "mud"}]
    section = differences(findings)
    assert section.tables[0].headers[:2] == ["rig", "verdict"]
    assert len(section.tables[0].rows) == 2 - folded
    assert [fold.title for fold in section.folds] == (
        ["1 comparison that tells too little"] if folded else []
    )
    assert sum(len(table.rows) for fold in section.folds for table in fold.tables) == folded


def test_where_no_ratio_can_be_told_a_sentence_says_why_and_no_table_of_dashes() -> None:
    findings = season({**CASES[0], "over all hauls": "0.50 0.40 0.60 apart"})
    section = differences(findings)
    assert section.tables == []
    assert section.paragraphs[-1] == (
        "Against ring there is no ratio to show, over all grounds or on any: not side by side."
    )
    assert "part of the record" in coop_screen(findings).untold[-1]


@pytest.mark.parametrize("hidden", [0, 2])
def test_what_was_tried_of_hidden_cells_is_told_where_there_are_any(hidden: int) -> None:
    findings = season(CASES[0]) | {"set_aside": []}
    findings["sharing"]["hidden"] = hidden
    tried = "solving for each" in what_was_hidden(findings).paragraphs[0]
    assert tried is (hidden > 0)


def test_the_page_tells_of_parts_and_seasons_that_lack_and_names_no_boat() -> None:
    findings = season(CASES[0]) | {"set_aside": []}
    findings["season"] |= {
        "not_of_all_boats": [
            Part(2032, None, ("Skua",)).shared(),
            Part(2031, 8, ("Skua", "Tern")).shared(),
        ],
        "seasons_left_out": 3,
    }
    assert (
        what_was_hidden(findings)
        .paragraphs[-1]
        .startswith(
            "Not all boats have hauls in 2032 and the time from August 2031 on. Beside a report"
        )
    )
    assert coop_screen(findings).untold[-1].startswith("3 seasons that were handed over are not")
    assert "Skua" not in str(findings)


def test_only_the_marks_that_stand_before_a_line_are_explained() -> None:
    clear, open_ = (cards(season(case)) for case in (CASES[0], CASES[3]))
    assert key_to(clear) == "▲ what a skipper would want."
    assert key_to(open_) == "· no difference that is clear."


@pytest.mark.parametrize(
    ("ratio", "told"),
    [
        (0.004, "under 0.01"),
        (0.5, "0.50"),
        (9.994, "9.99"),
        (9.996, "10.0"),
        (92.01, "92.0"),
        (100.0, "100.0"),
        (194.0, "over 100"),
    ],
)
def test_a_ratio_has_no_more_figures_than_it_can_bear(ratio: float, told: str) -> None:
    assert ratio_cell(ratio) == told


@pytest.mark.parametrize(
    ("rate", "told"),
    [(8.0, "8.00"), (17.02, "17.0"), (9.996, "10.0"), (2020.4, "2,020"), (0.0, "0")],
)
def test_a_rate_has_three_figures_like_those_beside_it(rate: float, told: str) -> None:
    assert rate_cell(rate) == told


def test_a_cell_without_damage_says_how_much_there_may_yet_be() -> None:
    cell = {
        "shown": True,
        "damage_events_per_hour": 0.0,
        "damage_events_per_hour_at_most": 0.0184,
    }
    assert cell_words(cell, "damage_events_per_hour", 100) == "0–1.84"
