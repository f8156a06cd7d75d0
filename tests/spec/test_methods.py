"""What the study says of its methods is true of the run: `methods.md`, on small seasons."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

import pytest

from pipeline import run_season
from reports.study.deviations import not_adjusted
from reports.study.opening import what_was_compared
from reports.study.section import deviations, methods
from tests.spec.test_lean_seasons import HAULS, always, haul
from tests.spec.text_tables import page_text, rows_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from pipeline.findings import Findings

Row = dict[str, Any]


AS_IT_IS = always()
CASES = rows_of(page_text("methods.md"))[1]


@dataclass(frozen=True)
class Season:
    """How each haul is changed, the settings, the files beside the hauls, the reference asked."""

    change: Callable[[Row], Row] = AS_IT_IS
    settings: str = ""
    files: tuple[tuple[str, str], ...] = ()
    reference: str | None = None


def third_rig(row: Row) -> Row:
    rig = ("discs", "bobbins", "chain")[row["trip"] // 2 % 3]
    return {**row, "rig_version": rig, "ground": "sand"}


def noted(row: Row) -> Row:
    note = "port wing torn, 2 hrs mend" if row["damaged"] == "yes" else "net ok"
    return {**row, "damaged": "", "damage_note": note}


def catches() -> str:
    rows = (haul(at) for at in range(HAULS))
    lines = (f"{r['vessel']},{r['trip']},{r['haul']},PLE,{20 + r['haul'] % 9}" for r in rows)
    return "\n".join(["vessel,trip,haul,species,kept_kg", *lines]) + "\n"


REVIEW = "vessel,trip,haul,damaged,who\nSkua,0,0,yes,Ada\n"
CORRECTION = ("table,key,column,old,new,who,why\nhauls,Skua/0/0,tow_hours,2,3,Ada,slip\n",)
SEASONS = {
    "plain": Season(),
    "errors of the model": Season(settings='[model]\nerrors = "model"\n'),
    "three rigs": Season(third_rig),
    "three rigs alone": Season(third_rig, '[model]\nmany_looks = "alone"\n'),
    "one boat": Season(always(vessel="Skua")),
    "six trips": Season(lambda row: {**row, "vessel": "Skua", "trip": row["trip"] % 6}),
    "one rig": Season(always(rig_version="discs")),
    "notes only": Season(noted),
    "a note read over": Season(noted, files=(("damage_review", REVIEW),)),
    "a cell put right": Season(files=(("corrections", *CORRECTION),)),
    "a haul of no hours": Season(
        lambda row: {**row, "tow_hours": 0 if row["haul"] == 7 else row["tow_hours"]}
    ),
    "another reference": Season(reference="discs"),
    "nothing adjusted for": Season(settings="[model]\nadjust = []\n"),
    "none torn with one rig": Season(
        lambda row: {**row, "damaged": row["damaged"] if row["rig_version"] == "discs" else "no"}
    ),
    "none torn": Season(always(damaged="no")),
    "rigs apart": Season(
        lambda row: {**row, "ground": {"discs": "sand", "bobbins": "stones"}[row["rig_version"]]}
    ),
    "fish too": Season(files=(("catches", catches()),)),
    "invented": Season(settings='[season]\ntitle = "A spring (invented)"\n'),
    "a boat for half the year": Season(
        lambda row: {**row, "shot_at": f"2031-{4 if row['vessel'] == 'Tern' else 2:02}-01 06:00"}
    ),
    "another smallest": Season(
        settings="[model]\nsmallest_that_matters = { damage_events = 1.5 }\n"
    ),
}


def findings_of(name: str) -> Findings:
    return made(SEASONS[name])


@cache
def made(season: Season) -> Findings:
    """The findings of a season."""
    rows = [season.change(haul(at)) for at in range(HAULS)]
    with TemporaryDirectory() as place:
        folder = Path(place)
        with (folder / "hauls.csv").open("w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, rows[0])
            writer.writeheader()
            writer.writerows(rows)
        for table, text in season.files:
            (folder / f"{table}.csv").write_text(text, encoding="utf-8")
        (folder / "season.toml").write_text(season.settings, encoding="utf-8")
        return run_season(folder, reference=season.reference).findings


def said_of(findings: Findings) -> str:
    told, departs = methods(findings), deviations(findings)
    return " ".join([*told.paragraphs, *departs.points])


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case[0]}: {case[1][:40]}")
def test_a_sentence_is_there_where_it_is_true_and_only_there(case: list[str]) -> None:
    season, says, never = case
    said = said_of(findings_of(season))
    assert says in said
    assert never not in said


def test_what_is_said_to_be_held_alike_is_what_hauls_differed_in() -> None:
    assert "like for like in ground, boat and depth as" in what_was_compared(findings_of("plain"))
    assert "like for like in ground and depth as" in what_was_compared(findings_of("one boat"))


def test_every_season_of_the_table_is_looked_at() -> None:
    assert {case[0] for case in CASES} == set(SEASONS)


def test_why_a_factor_is_left_out_is_said_once_and_of_which_outcome_where_not_of_all() -> None:
    def model(outcome: str, **of: object) -> Row:
        asked = ["ground", "vessel", "depth_band", "quarter"]
        of_all = {"outcome": outcome, "ground": "all", "part": "whole record", "rig": None}
        return of_all | {"asked_for": asked, "adjusted_for": []} | of

    alike = ["vessel: the same for all that had any", "depth_band: the same for all that had any"]
    few = ["ground: too few trips to adjust for it"]
    blank = ["quarter: not recorded of any that had any"]
    models = [
        model("damage_events", left_out=[*alike, *blank], adjusted_for=["ground"]),
        model("damage_events", left_out=[*alike, *blank, *few], rig="discs", part="2031 Q1"),
    ]
    assert not_adjusted(models, findings_of("plain")) == [
        "Not adjusted for boat: all hauls that the ratios rest on were alike in that.",
        "Not adjusted for depth: all hauls that the ratios rest on were alike in that as far as "
        "bands of depth tell. What else the rigs' hauls differed in there is in the ratios too.",
        "Not adjusted for time of year: no haul that the ratios rest on has that on record.",
        "Not adjusted for ground in net damage (discs, 2031 Q1): there are too few trips for that.",
    ]


@pytest.mark.parametrize("season", ["plain", "fish too", "none torn with one rig"])
def test_the_models_on_the_page_are_those_of_the_findings(season: str) -> None:
    findings = findings_of(season)
    folds = {fold.title: fold for fold in methods(findings).folds}
    models = [
        model
        for outcome in ("damage_events", "bottom_living_kg")
        for model in findings["standing"]["models"]
        if model["ground"] == "all" and model["outcome"] == outcome
    ]
    assert [f"The model {model['name']}" for model in models] == list(folds)[:-1]
    for model in models:
        (table,) = folds[f"The model {model['name']}"].tables
        assert [row[0] for row in table.rows] == [term["term"] for term in model["terms"]]
        told = [term for term in model["terms"] if term["estimate"] is not None]
        shown = [row[1] for row in table.rows if row[1] != "not told"]
        assert shown == [f"{term['estimate']:.4f}" for term in told]
