"""The co-op's first screen says what is shown further down, and the true reason for what is not."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from reports.coop.screen import cards, coop_screen, lead
from schemas.outcomes import HEADLINES, fixed_outcome
from tests.spec.text_tables import rows_of

Row = dict[str, Any]
NAMES, ROWS = rows_of((Path(__file__).parent / "coop_screen.md").read_text(encoding="utf-8"))
CASES = [dict(zip(NAMES, row, strict=True)) for row in ROWS]
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
        },
        "sharing": {"hidden_for": {}, "hidden": 0, "cells": 4, "min_vessels": 3, "max_share": 0.8},
        "outcomes": [{**vars(fixed_outcome(DAMAGE)), "matters": 2.0}],
        "rigs": [{"rig_version": rig, "is_reference": rig == "ring"} for rig in rigs],
        "cells": [
            {"rig": rig, "ground": ground, "shown": rig not in hidden and ground is None}
            for rig in (None, *rigs)
            for ground in (None, "mud")
        ],
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
    case = dict.fromkeys(NAMES, "") | {"hidden": "hop", "over all hauls": "0.50 0.40 0.60 lower"}
    findings = season(case)
    findings["effects"][0]["ground"] = "mud"
    assert lead(findings) == "No difference from ring can be shown: why is said below."
    assert "The hours of hop are hidden" in coop_screen(findings).untold[0]


def test_of_one_rig_alone_it_says_that_there_is_nothing_to_compare() -> None:
    findings = season(dict.fromkeys(NAMES, ""), rigs=("ring",))
    assert lead(findings).startswith("Only one rig version was fished (ring)")
