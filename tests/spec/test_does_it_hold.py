"""Whether a headline holds is found and said as `standing.md` has it."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from pipeline import run_season
from pipeline.rates.hours_slope import claim
from pipeline.rates.sensitivity import stand
from reports.does_it_hold.section import does_it_hold, residual_figure
from reports.does_it_hold.sentences import (
    at_the_worst_end,
    hours_words,
    scatter_words,
    stands_words,
    summed_up,
)
from reports.editions import EDITIONS
from reports.folder import as_json
from reports.page import season_page
from schemas.codes import OtherWay
from tests.spec.text_tables import cases_under

if TYPE_CHECKING:
    from pathlib import Path

cases_of = partial(cases_under, "standing.md")
Row = dict[str, Any]


@pytest.mark.parametrize("case", cases_of("Verdicts"), ids=lambda case: case["says"])
def test_what_is_said_follows_from_the_verdicts_alone(case: dict[str, str]) -> None:
    told, others = case["as told"], [word for word in case["other ways"].split("; ") if word]
    by_itself = case["by itself"] or told
    as_clear = int(case["as clear"] or len(others))
    ways = [
        {"way": way, "verdict": verdict, "verdict_alone": by_itself if at < as_clear else verdict}
        for at, (way, verdict) in enumerate(
            zip((OtherWay.SCATTER, OtherWay.RANDOM_TRIPS, OtherWay.TRIMMED), others, strict=False)
        )
    ]
    row = {
        "verdict": told,
        "verdict_alone": by_itself,
        "stands": stand(told, others),
        "ways": [*ways, {"way": OtherWay.TWO_PARTS, "verdict": None}],
        "changed_by": [way["way"] for way in ways if way["verdict"] != told],
    }
    assert row["stands"] == case["stands"]
    assert stands_words(row) == case["says"]


@pytest.mark.parametrize("case", cases_of("Hours"), ids=lambda case: f"{case['from']} {case['to']}")
def test_which_claim_holds_follows_from_the_interval_alone(case: dict[str, str]) -> None:
    assert claim(float(case["from"]), float(case["to"])) == case["claim"]


def write_hauls(folder: Path, case: dict[str, str]) -> Path:
    """A season of single hauls by the laws of the case, from a fixed seed."""
    chance = np.random.default_rng(31)
    hauls, catches = [], []
    for trip in range(40):
        rig = ("bobbins", "discs")[trip // 2 % 2]
        tears, catch = (float(case[name]) if rig == "discs" else 1.0 for name in ("tears", "catch"))
        for haul in range(12):
            hours = float(chance.uniform(0.5, 8))
            mean = (0.12 * hours if case["damage goes by"] == "hour" else 0.5) * tears
            damaged = "yes" if chance.random() < -np.expm1(-mean) else "no"
            ground = ("sand", "stones")[haul % 2]
            key = f"Skua {trip % 2},{trip},{haul}"
            hauls.append(f"{key},{rig},{ground},{hours:.2f},2031-02-{1 + trip % 28:02d},{damaged}")
            kilos = float(chance.gamma(3, 10)) * hours * catch
            if chance.random() < float(case["hauls without fish"]):
                kilos = 0.0
            if trip == 2 and haul == 0:
                kilos = float(case["kg in the first haul"])
            catches.append(f"{key},PLE,{kilos:.1f}")
    first = "vessel,trip,haul,"
    headers = f"{first}rig_version,ground,tow_hours,shot_at,damaged"
    (folder / "hauls.csv").write_text("\n".join([headers, *hauls]) + "\n", encoding="utf-8")
    (folder / "catches.csv").write_text(
        "\n".join([f"{first}species,kept_kg", *catches]) + "\n", encoding="utf-8"
    )
    (folder / "season.toml").write_text('[season]\nreference_rig = "bobbins"\n', encoding="utf-8")
    return folder


@pytest.mark.parametrize("case", cases_of("Seasons"), ids=lambda case: case["season"])
def test_a_season_through_the_whole_program(case: dict[str, str], tmp_path: Path) -> None:
    findings = run_season(write_hauls(tmp_path, case)).findings
    found = next(r for r in findings["sensitivity"] if r["outcome"] == case["outcome"])
    assert (found["verdict"], found["stands"]) == (case["verdict"], case["stands"])
    assert findings["diagnostics"]["hours"]["claim"] == case["of hours"]
    effect = next(
        e for e in findings["effects"] if (e["outcome"], e["ground"]) == (case["outcome"], "all")
    )
    assert (found["ratio"], found["low"], found["high"]) == (
        effect["ratio"],
        effect["low"],
        effect["high"],
    )
    section = does_it_hold(findings)
    assert section is not None
    assert any(stands_words(found) == trial.says for trial in section.trials)
    assert 'id="does-it-hold"' in season_page(findings, EDITIONS["study"])
    as_json(findings)


def test_the_haul_that_makes_the_difference_is_named(tmp_path: Path) -> None:
    case = cases_of("Seasons")[-1]
    findings = run_season(write_hauls(tmp_path, case)).findings
    first = next(
        trip
        for trip in findings["diagnostics"]["influential_trips"]
        if trip["outcome"] == case["outcome"]
    )
    assert (first["vessel"], first["trip"]) == ("Skua 0", "2")
    section = does_it_hold(findings)
    assert section is not None
    assert any(
        trial.rests.startswith("It rests most on trip 2 of Skua 0 (0.7") for trial in section.trials
    )


@pytest.mark.parametrize("rows", ["", "Skua,1,1,a,sand,3,yes\n", "Skua,1,1,a,sand,3,no\n" * 1])
def test_a_record_too_small_has_no_section(rows: str, tmp_path: Path) -> None:
    (tmp_path / "hauls.csv").write_text(
        f"vessel,trip,haul,rig_version,ground,tow_hours,damaged\nSkua,1,0,b,sand,3,yes\n{rows}",
        encoding="utf-8",
    )
    findings = run_season(tmp_path).findings
    assert findings["sensitivity"] == []
    assert [model["why"] for model in findings["diagnostics"]["models"]] == [
        "no rate model could be fitted"
    ]
    assert findings["diagnostics"]["hours"]["claim"] == "can't tell"
    assert does_it_hold(findings) is None


@pytest.mark.parametrize(
    ("groups", "says", "explained"),
    [
        ([(-0.1, 0.2), (0.1, 0.3)], "of 2 groups of hauls 1 off the model", ["Orange"]),
        (
            [(-0.1, 0.2), (None, None)],
            "of 1 groups of hauls of enough trips to tell 0 off the model",
            ["A dot without a bar"],
        ),
    ],
)
def test_groups_are_counted_and_drawn_as_they_are(
    groups: list[tuple[float | None, float | None]], says: str, explained: list[str]
) -> None:
    held = [
        {"by": "boat", "group": f"{at}", "hauls": 9, "mean": 0.0, "low": low, "high": high}
        | {"spread": 1.0}
        for at, (low, high) in enumerate(groups)
    ]
    model = {"outcome": "damage_events", "part": "whole record", "residual_seed": 1}
    model |= {"groups": held, "residuals": held[0] | {"by": None}, "why": None}
    model |= {"dispersion": None, "trips_against_hauls": None}
    outcome = {"name": "damage_events", "title": "Net damage", "counted": True}
    assert says in scatter_words(model, outcome)
    caption = residual_figure(model, outcome).caption
    told = [words for words in ("Orange", "A dot without a bar") if words in caption]
    assert told == explained


def test_hours_are_told_with_what_bends_them() -> None:
    hours = {"slope": 1.0, "low": 0.5, "high": 2.0, "claim": "per hour", "why": None}
    (said,) = hours_words(hours, {"whole record"})
    assert said.startswith("A tow twice as long had damage 2.0 times as often (between 1.4 and 4")
    assert "a rate per hour is the right one" in said
    assert "often hauled early" in said
    shorter = hours | {"slope": -1.6, "low": -2.0, "high": -1.0, "claim": "neither"}
    assert "hints that damaged tows were cut short" in hours_words(shorter, set())[0]
    wide = hours | {"low": -90.0, "high": 90.0, "claim": "can't tell"}
    assert hours_words(wide, set())[0].startswith(
        "The record can't tell whether damage goes with the ho"
    )
    assert hours_words(None, set()) == []
    (in_part,) = hours_words(hours | {"hauls": 13027}, {"1999 to 2002"})
    assert in_part.endswith(
        "This is of the whole record, 13,027 hauls, and not of 1999 to 2002 alone as the headlines "
        "are."
    )


def test_the_clear_headlines_are_counted() -> None:
    holds = {"rig": "discs", "outcome_title": "Net damage", "verdict": "lower", "stands": "holds"}
    fades = holds | {"rig": "chain", "stands": "fades"}
    unclear = holds | {"verdict": "too little to tell"}
    same = "said again in every other way listed here"
    assert summed_up([unclear]) == [
        "None of the headlines is clear, so there is none that could fall."
    ]
    assert summed_up([holds, unclear]) == [f"The one clear headline is {same}."]
    assert summed_up([holds, holds]) == [f"The two clear headlines are {same}."]
    assert summed_up([holds] * 3) == [f"The clear headlines, all 3 of them, are {same}."]
    assert summed_up([holds, fades]) == [
        f"Of the clear headlines, 2 in all, 1 are {same}; not so chain (net damage)."
    ]


def test_what_the_unknown_hauls_could_undo_is_told_beside_the_ways() -> None:
    assert at_the_worst_end([]) == []
    (said,) = at_the_worst_end(["discs", "chain"])
    assert "could undo what is clear on damage for discs and chain, as stands under" in said
