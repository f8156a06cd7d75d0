"""On the season's mix of grounds: over which grounds, what is refused, and how it is said."""

from __future__ import annotations

from dataclasses import asdict, replace
from typing import TYPE_CHECKING, Any

import polars as pl
import pytest

from pipeline.rates.effects import find_effects
from pipeline.rates.looks import Judging
from pipeline.rates.on_the_mix import OF_THE_SEASON, OnTheMix, find_on_the_mix, mixes_of
from reports.on_the_mix import mix_table, mix_words
from schemas.outcomes import outcome

if TYPE_CHECKING:
    from collections.abc import Mapping

OUTCOME = {**asdict(outcome("damage_events"))}


def told_of(hours_on: Mapping[str, float], grounds_of_discs: list[str]) -> OnTheMix:
    """Bobbins on every ground in 40 hauls each, discs on some; discs tear half as often."""
    rows = [
        {
            "outcome": "damage_events",
            "vessel": "Skua",
            "trip": f"{rig} {at % 10}",
            "rig_version": rig,
            "ground": ground,
            "stretch": "2031 Q1",
            "hauls": 1,
            "hauls_with_some": int(at % every == 0),
            "tow_hours": hours / 80,
            "total": float(at % every == 0),
        }
        for rig, every in (("bobbins", 2), ("discs", 4))
        for ground, hours in hours_on.items()
        for at in range(40)
        if rig == "bobbins" or ground in grounds_of_discs
    ]
    sums = pl.DataFrame(rows)
    effects = find_effects(sums, sums, "bobbins", ["ground"], "trip")
    mixes = {OF_THE_SEASON: dict(hours_on)}
    (told,) = find_on_the_mix(sums, effects, ["ground"], "trip", mixes, Judging())
    return told


def findings_of(
    told: OnTheMix, verdict: str, *, allowed_for: bool = True, alike_in: tuple[str, ...] = ()
) -> dict[str, Any]:
    """The findings with this on the mix, and another verdict over all grounds."""
    over_all = {"outcome": told.outcome, "rig": told.rig, "ground": "all", "verdict": verdict}
    over_all |= {"part": "whole record", "adjusted_for": ["ground", *alike_in]}
    return {
        "on_the_mix": [asdict(told)],
        "season": {"reference_rig": "bobbins"},
        "effects": [over_all | {"ratio": 0.5, "low": 0.4, "high": 0.7, "cautions": []}],
        "standing": {"looks": {"allowed_for": allowed_for}},
    }


def test_a_ground_fished_with_one_alone_is_left_out_and_named() -> None:
    told = told_of({"mud": 0.1, "sand": 0.5, "stones": 0.4}, ["sand", "stones"])
    assert (told.grounds, told.missing) == (["sand", "stones"], ["mud"])
    assert told.share == pytest.approx(0.9)
    assert told.ratio == pytest.approx(0.5)
    findings = findings_of(told, told.verdict)
    words = mix_words(findings, OUTCOME)
    assert words[0].endswith("The season's mix of grounds is sand 50 %, stones 40 % and mud 10 %.")
    assert words[1].startswith(
        "Over sand and stones, 90 % of the season's mix of grounds, discs damaged the net 50 % "
        "less often per hour towed than bobbins (anything from "
    )
    assert mix_table(findings, OUTCOME)[0].rows[0][:4] == [
        "discs",
        OF_THE_SEASON,
        "sand, stones",
        "90 %",
    ]


@pytest.mark.parametrize(
    ("verdict", "allowed_for", "said"),
    [("no clear difference", True, 1), ("no clear difference", False, 0), (None, True, 0)],
)
def test_where_a_verdict_on_a_mix_is_another_it_is_said_which_goes(
    verdict: str | None, *, allowed_for: bool, said: int
) -> None:
    told = told_of({"sand": 0.5, "stones": 0.4}, ["sand", "stones"])
    findings = findings_of(told, verdict or told.verdict, allowed_for=allowed_for)
    assert told.verdict != "no clear difference"
    goes = "Where a verdict is another than that over all grounds, go by that one"
    assert mix_words(findings, OUTCOME)[0].count(goes) == said


@pytest.mark.parametrize(
    ("on_the_mix", "over_all", "said", "cell"),
    [
        ([], (), None, "–"),
        (["vessel"], ("vessel",), "On each ground it is held alike in boat.", "boat"),
        (
            ["vessel"],
            ("vessel", "quarter"),
            "On each ground it is held alike in boat, but not in time of year, as the ratio over "
            "all grounds is: for that there are too few trips.",
            "boat",
        ),
        (
            [],
            ("vessel",),
            "It is not held alike in boat, as the ratio over all grounds is: for that there are "
            "too few trips.",
            "–",
        ),
    ],
)
def test_what_a_ratio_on_a_mix_is_held_alike_in_is_said(
    on_the_mix: list[str], over_all: tuple[str, ...], said: str | None, cell: str
) -> None:
    told = replace(
        told_of({"sand": 0.5, "stones": 0.4}, ["sand", "stones"]), adjusted_for=on_the_mix
    )
    findings = findings_of(told, told.verdict, alike_in=over_all)
    words = mix_words(findings, OUTCOME)[1]
    assert words.endswith(said) if said else "alike" not in words
    assert mix_table(findings, OUTCOME)[0].rows[0][-2] == cell


def test_too_little_of_the_mix_is_no_answer() -> None:
    told = told_of({"mud": 0.25, "sand": 0.35, "stones": 0.4}, ["sand", "stones"])
    assert told.share == pytest.approx(0.75)
    assert (told.ratio, told.reason) == (None, "too little of the mix was fished with both")


def test_a_season_of_one_ground_has_no_mix() -> None:
    fished = pl.DataFrame({"ground": ["sand", "unknown"], "tow_hours": [30.0, 10.0]})
    assert mixes_of(fished, {"sand": 1.0}) == {}


def test_hours_on_ground_that_was_not_recorded_are_in_no_mix() -> None:
    fished = pl.DataFrame({"ground": ["sand", "mud", "unknown"], "tow_hours": [30.0, 10.0, 60.0]})
    assert mixes_of(fished, {}) == {OF_THE_SEASON: {"mud": 0.25, "sand": 0.75}}
