"""Hauls of which nobody knows if the net was damaged bound what the findings could be."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import polars as pl
import pytest

from pipeline import run_season
from pipeline.begin_reading import read
from pipeline.clock import silent
from pipeline.joining.database import Database
from pipeline.run_season import find
from reports.unknown_hauls import supposed_table, supposed_words
from synthetic_data.writing import write_season

if TYPE_CHECKING:
    from pathlib import Path

REFERENCE = "bobbins-14"
Told = dict[tuple[str, str], tuple[float, str]]
"""By rig and part of the record: the ratio, 0 where there is none, and the verdict."""


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("unknown") / "season"
    write_season(folder, boats=4, hauls=700, seed=5, spoilt=False)
    return folder


@pytest.fixture(scope="module")
def found(season: Path) -> tuple[dict[str, Any], pl.DataFrame]:
    """The findings, and the hauls of which nobody knows if the net was damaged."""
    with Database() as database:
        results = find(read(season, silent), database)
        hauls = database.get("haul_damage")
    return results.findings, hauls.filter(pl.col("damage_events").is_null())


def supposed(findings: dict[str, Any], end: str) -> Told:
    return {
        (row["rig"], row["part"]): (row["ratio"] or 0.0, row["verdict"])
        for row in findings["notes"]["supposed"]
        if row["supposed"] == end
    }


def on_damage(findings: dict[str, Any]) -> Told:
    return {
        (row["rig"], row["part"]): (row["ratio"] or 0.0, row["verdict"])
        for row in findings["effects"]
        if row["outcome"] == "damage_events" and row["ground"] == "all"
    }


@pytest.mark.parametrize("end", ["most", "least"])
def test_each_end_is_a_season_in_which_a_person_says_so(
    season: Path, found: tuple[dict[str, Any], pl.DataFrame], end: str
) -> None:
    findings, unknown = found
    told = supposed(findings, end)
    of_rigs = unknown["rig_version"].value_counts(sort=True)["rig_version"].to_list()
    rig = next(name for name in of_rigs if told.get((name, "whole record"), (0.0, ""))[0] > 0)
    damaged = {"most": rig, "least": REFERENCE}[end]
    says = pl.when(pl.col("rig_version") == damaged).then(pl.lit("yes")).otherwise(pl.lit("no"))
    review = season / "damage_review.csv"
    unknown.filter(pl.col("rig_version").is_in([rig, REFERENCE])).select(
        "vessel", "trip", "haul", damaged=says, who=pl.lit("Ada")
    ).write_csv(review)
    filled = on_damage(run_season(season).findings)
    review.unlink()
    ratio, verdict = filled[rig, "whole record"]
    assert told[rig, "whole record"] == (pytest.approx(ratio, rel=1e-9), verdict)


def test_what_was_recorded_lies_between_the_ends(
    found: tuple[dict[str, Any], pl.DataFrame],
) -> None:
    findings, _ = found
    least, most = supposed(findings, "least"), supposed(findings, "most")
    recorded = on_damage(findings)
    compared = [key for key in least if recorded[key][0] > 0]
    assert compared
    assert all(least[key][0] <= recorded[key][0] <= most[key][0] for key in compared)


def test_what_falls_at_an_end_is_told_with_the_interval_that_holds_1() -> None:
    def at(low: float, high: float, verdict: str) -> dict[str, Any]:
        together = {"low_together": low * 0.9, "high_together": high * 1.1}
        limits = {"low": low, "high": high, **together}
        return {"rig": "discs", "part": "whole record", "ratio": 0.7, "verdict": verdict, **limits}

    recorded = {**at(0.5, 0.8, "lower"), "reference": "bobbins"}
    worst = {"least": at(0.4, 0.7, "lower"), "most": at(0.6, 0.96, "too little to tell")}
    moved = [{"rig": "discs", "part": "whole record", "recorded": recorded, **worst}]
    (said,) = supposed_words({"unknown_hauls": 3}, moved)
    assert "What is clear on damage would fall at one of the ends for discs: there" in said
    assert "stays so" not in said
    looks = {"allowed_for": True, "comparisons": 4, "confidence": 0.9875}
    assert supposed_table(moved, looks).rows == [
        ["discs", "0.70 (0.45 to 0.88)", "0.70 (0.36 to 0.77)", "0.70 (0.54 to 1.06)"]
    ]


def test_a_season_that_knows_of_every_haul_supposes_nothing(tmp_path: Path) -> None:
    rows = [f"Skua,{trip},1,a,sand,3,{'yes' if trip % 2 else 'no'}" for trip in range(6)]
    text = "\n".join(["vessel,trip,haul,rig_version,ground,tow_hours,damaged", *rows])
    (tmp_path / "hauls.csv").write_text(text + "\n", encoding="utf-8")
    assert run_season(tmp_path).findings["notes"]["supposed"] == []
