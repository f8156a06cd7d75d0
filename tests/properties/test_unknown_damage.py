"""Hauls of which nobody knows if the net was damaged bound what the findings could be."""

from __future__ import annotations

import csv
from typing import TYPE_CHECKING, Any

import pytest

from pipeline import run_season
from synthetic_data.writing import write_season

if TYPE_CHECKING:
    from pathlib import Path

Told = dict[tuple[str, str], tuple[float, str]]
"""By rig and part of the record: the ratio, 0 where there is none, and the verdict."""


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("unknown") / "season"
    write_season(folder, boats=2, hauls=400, seed=5, spoilt=False)
    return folder


@pytest.fixture(scope="module")
def findings(season: Path) -> dict[str, Any]:
    return run_season(season).findings


def supposed(findings: dict[str, Any], what: str) -> Told:
    return {
        (row["rig"], row["part"]): (row["ratio"] or 0.0, row["verdict"])
        for row in findings["notes"]["supposed"]
        if row["supposed"] == what
    }


def on_damage(findings: dict[str, Any]) -> Told:
    return {
        (row["rig"], row["part"]): (row["ratio"] or 0.0, row["verdict"])
        for row in findings["effects"]
        if row["outcome"] == "damage_events" and row["ground"] == "all"
    }


def same(one: Told, other: Told) -> bool:
    return one.keys() == other.keys() and all(
        one[key][1] == other[key][1] and one[key][0] == pytest.approx(other[key][0], rel=1e-9)
        for key in one
    )


def test_supposed_sound_is_a_season_whose_blank_notes_mean_no_damage(
    season: Path, findings: dict[str, Any]
) -> None:
    assert findings["notes"]["unknown_hauls"] > 0
    settings = season / "season.toml"
    text = settings.read_text(encoding="utf-8")
    settings.write_text(text + '\n[notes]\nblank_means = "no damage"\n', encoding="utf-8")
    filled = run_season(season).findings
    settings.write_text(text, encoding="utf-8")
    assert filled["notes"]["unknown_hauls"] == 0
    assert same(supposed(findings, "sound"), on_damage(filled))


def test_supposed_damaged_is_a_season_in_which_a_person_says_so(
    season: Path, findings: dict[str, Any]
) -> None:
    with (season / "deck log 2031.csv").open(encoding="cp1252", newline="") as log:
        hauls = list(csv.DictReader(log, delimiter=";"))
    review = season / "damage_review.csv"
    with review.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(["vessel", "trip", "haul", "damaged", "who"])
        writer.writerows(
            [haul["Boat"], haul["Trip"], haul["Haul no"], "yes", "Ada"]
            for haul in hauls
            if not haul["Damage"] and not haul["Remarks"]
        )
    filled = run_season(season).findings
    review.unlink()
    assert filled["notes"]["unknown_hauls"] == 0
    assert same(supposed(findings, "damaged"), on_damage(filled))


def test_a_season_that_knows_of_every_haul_supposes_nothing(tmp_path: Path) -> None:
    rows = [f"Skua,{trip},1,a,sand,3,{'yes' if trip % 2 else 'no'}" for trip in range(6)]
    text = "\n".join(["vessel,trip,haul,rig_version,ground,tow_hours,damaged", *rows])
    (tmp_path / "hauls.csv").write_text(text + "\n", encoding="utf-8")
    assert run_season(tmp_path).findings["notes"]["supposed"] == []
