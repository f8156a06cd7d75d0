"""A log under headers of its own: what is missing is told first, with lines that can be copied."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pipeline.good_rows import check_season
from pipeline.problems import SeasonUnusableError
from tests.spec.season_texts import csv_bytes, valid_season

if TYPE_CHECKING:
    from pathlib import Path

    from tests.spec.season_texts import Rows

LOG = [
    ["Boat", "Date", "Trip", "Shot", "Up", "Gear", "Bottom", "Fathom", "Remarks"],
    ["Skua", "24/03/2031", "1", "0530", "905", "bobbins-14", "mud", "30", "net ok"],
    ["Skua", "24/03/2031", "1", "1000", "13.30", "bobbins-14", "sand", "31", ""],
    ["Skua", "03/04/2031", "2", "2200", "0145", "rubber-10", "mud", "44", "belly torn"],
]
NO_HOURS = (
    "hauls.csv: no header is known for the hours towed, tow_hours, nor for both times to work them "
    "out from, shot_at and hauled_at."
)
NO_RIG = (
    "hauls.csv: no header is known for the rig, rig_version, and no table fittings says which was "
    "fished."
)


def test_the_headers_are_named_and_the_lines_that_are_told_read_the_log(tmp_path: Path) -> None:
    *said, headers, to_copy = _refused(tmp_path / "season", LOG)
    assert said == [NO_HOURS, NO_RIG]
    assert headers == f"Its headers are {', '.join(LOG[0])}; known of these: Trip."
    assert "season.toml" in to_copy
    _, lines = to_copy.split("\n\n")
    (tmp_path / "season" / "season.toml").write_text(lines, encoding="utf-8")
    _, season = check_season(tmp_path / "season")
    hauls = season.tables["hauls"]
    assert season.set_aside.is_empty()
    assert hauls["vessel"].to_list() == ["Skua"] * 3
    assert hauls["shot_at"].dt.to_string("%m-%d %H:%M").to_list() == [
        *("03-24 05:30", "03-24 10:00", "04-03 22:00")
    ]
    assert hauls["tow_hours"].round(2).to_list() == [3.58, 3.5, 3.75]
    assert hauls["rig_version"].to_list() == ["bobbins-14", "bobbins-14", "rubber-10"]
    assert hauls["ground"].to_list() == ["mud", "sand", "mud"]
    assert hauls["depth_m"].round(1).to_list() == [54.9, 56.7, 80.5]
    assert hauls["damage_note"].to_list() == ["net ok", None, "belly torn"]


def test_where_nothing_can_be_guessed_its_place_is_told(tmp_path: Path) -> None:
    rows = [["Boot", "Reis", "Trek"], ["Alk", "1", "1"]]
    none_known, to_copy = _refused(tmp_path / "season", rows)
    assert none_known.startswith("hauls.csv: none of its headers is known: Boot, Reis, Trek. If ")
    assert to_copy.endswith('[hauls.columns]\ntow_hours = "?"\nrig_version = "?"\n')


@pytest.mark.parametrize("missing", ["tow_hours", "rig_version"])
def test_what_is_known_is_not_told_as_missing(missing: str, tmp_path: Path) -> None:
    season = valid_season()
    del season.tables["fittings"]
    for column in {"tow_hours": ("tow_hours", "hauled_at")}.get(missing, (missing,)):
        season.set_cell("hauls", 1, column, f"x {column[::-1]}")
    said = _sentences(season.write_csv(tmp_path / "season"))
    assert said[0] == {"tow_hours": NO_HOURS, "rig_version": NO_RIG}[missing]
    assert said[1].startswith("Its headers are vessel, trip, haul, ")
    assert said[2].endswith(f'[hauls.columns]\n{missing} = "?"\n')


def test_lines_go_under_a_heading_that_is_there(tmp_path: Path) -> None:
    *_, to_copy = _refused(tmp_path / "season", LOG, '[hauls.columns]\nrig_version = "Gear"\n')
    assert "[hauls.columns]" not in to_copy
    assert "rig_version" not in to_copy
    assert 'ground = "Bottom"\n' in to_copy


def _refused(season: Path, rows: Rows, settings: str = "") -> list[str]:
    season.mkdir()
    (season / "hauls.csv").write_bytes(csv_bytes(rows))
    (season / "season.toml").write_text(settings, encoding="utf-8")
    return _sentences(season)


def _sentences(season: Path) -> list[str]:
    with pytest.raises(SeasonUnusableError) as refusal:
        check_season(season)
    return refusal.value.sentences
