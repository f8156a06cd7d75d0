"""A season through the whole program: a boat's ratio is that of a season of this boat alone."""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING, Any

import pytest

from pipeline import run_season
from reports.contents import report_contents
from reports.editions import EDITIONS
from synthetic_data.writing import DECK_LOG, DECK_LOG_ENCODING, write_season

if TYPE_CHECKING:
    from pathlib import Path

Row = dict[str, Any]


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("boats") / "season"
    write_season(folder, boats=4, hauls=1200, seed=3, spoilt=False)
    return folder


@pytest.fixture(scope="module")
def findings(season: Path) -> Row:
    return run_season(season).findings


def only(boat: str, season: Path, folder: Path) -> Path:
    """The season with the hauls of one boat."""
    shutil.copytree(season, folder)
    log = folder / DECK_LOG
    heading, *lines = log.read_text(encoding=DECK_LOG_ENCODING).splitlines(keepends=True)
    own = [line for line in lines if boat in line.split(";")]
    assert 0 < len(own) < len(lines)
    log.write_text("".join([heading, *own]), encoding=DECK_LOG_ENCODING)
    return folder


def told(findings: Row, boat: str) -> dict[tuple[str, str], Row]:
    """The boat's ratios, by outcome and rig."""
    return {
        (row["outcome"], row["rig"]): each
        for row in findings["boats"]
        for each in row["boats"]
        if each["vessel"] == boat and each["log_ratio"] is not None
    }


def test_a_boat_is_told_as_in_a_season_of_its_own(
    season: Path, findings: Row, tmp_path: Path
) -> None:
    boat = max(findings["season"]["vessels"], key=lambda name: len(told(findings, name)))
    alone = run_season(only(boat, season, tmp_path / "alone")).findings
    effects = {
        (effect["outcome"], effect["rig"], effect["part"]): effect
        for effect in alone["effects"]
        if effect["ground"] == "all"
    }
    ratios = told(findings, boat)
    assert len(ratios) > 1
    for (outcome, rig), own in ratios.items():
        effect = effects[outcome, rig, own["part"]]
        for name in ("ratio", "low", "high", "rig_hauls", "reference_trips"):
            assert own[name] == pytest.approx(effect[name], rel=1e-9)
    assert alone["boats"] == []
    sections = [section.name for section in report_contents(alone, EDITIONS["study"]).sections]
    assert "boat-by-boat" not in sections


def test_every_rig_of_a_headline_is_held_boat_by_boat(findings: Row) -> None:
    season = findings["season"]
    rigs = {rig["rig_version"] for rig in findings["rigs"]} - {season["reference_rig"]}
    assert {(row["outcome"], row["rig"]) for row in findings["boats"]} == {
        (outcome, rig) for outcome in season["headlines"] for rig in rigs
    }
    assert any(row["mean"] for row in findings["boats"])
    for row in findings["boats"]:
        assert [boat["vessel"] for boat in row["boats"]] == season["vessels"]
        assert all(b["why_none"] or b["log_ratio"] is not None for b in row["boats"])
