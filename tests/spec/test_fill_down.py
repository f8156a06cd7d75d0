"""A log kept as on paper: what is written on the first row only of several holds on all of them."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
from polars.testing import assert_frame_equal

from pipeline.good_rows import check_season
from pipeline.problems import SeasonUnusableError
from tests.spec.season_texts import csv_bytes, valid_season

if TYPE_CHECKING:
    from pathlib import Path

    from pipeline.rows import CheckedSeason
    from tests.spec.season_texts import Rows

SETTINGS = """
[hauls]
{}
[hauls.columns]
vessel = {{ value = "Skua" }}
shot_at = {{ from = ["Date", "Shot"], format = "%d/%m/%Y %H%M" }}
tow_hours = "Hours"
rig_version = "Gear"
[catches.across]
kept_kg = {{ PLE = "Plaice" }}
"""
AS_ON_PAPER = [
    ["Trip", "Date", "Shot", "Hours", "Gear", "Plaice"],
    ["1", "24/03/2031", "0530", "3", "discs", "10"],
    ["", "", "1000", "3", "", "20"],
    ["2", "26/03/2031", "0600", "3", "bobbins", ""],
    ["", "", "1100", "3", "", "30"],
    ["", "27/03/2031", "0400", "3", "discs", "40"],
]
IN_FULL = [
    ["Trip", "Date", "Shot", "Hours", "Gear", "Plaice"],
    ["1", "24/03/2031", "0530", "3", "discs", "10"],
    ["1", "24/03/2031", "1000", "3", "discs", "20"],
    ["2", "26/03/2031", "0600", "3", "bobbins", ""],
    ["2", "26/03/2031", "1100", "3", "bobbins", "30"],
    ["2", "27/03/2031", "0400", "3", "discs", "40"],
]
FILLED = 'fill_down = ["trip", "Date", "Gear"]'


def test_a_log_as_on_paper_is_read_as_one_in_full(tmp_path: Path) -> None:
    filled = _checked(tmp_path / "paper", AS_ON_PAPER, FILLED)
    in_full = _checked(tmp_path / "full", IN_FULL)
    assert filled.set_aside.is_empty()
    for name in ("hauls", "catches"):
        assert_frame_equal(filled.tables[name], in_full.tables[name])


def test_nothing_is_filled_that_is_not_named(tmp_path: Path) -> None:
    hauls = _checked(tmp_path / "season", AS_ON_PAPER, 'fill_down = ["trip"]').tables["hauls"]
    assert hauls["trip"].to_list() == ["1", "2", "2"]
    assert hauls["rig_version"].to_list() == ["discs", "bobbins", "discs"]


@pytest.mark.parametrize("column", ["vessel", "trip", "rig_version"])
def test_the_remedy_that_is_told_works(column: str, tmp_path: Path) -> None:
    season = valid_season()
    del season.tables["fittings"]
    headers, *rows = season.tables["hauls"]
    at, whole = headers.index(column), [list(row) for row in rows]
    for name in ("rig_version", column):
        _fill(whole, headers.index(name))
    season.tables["hauls"] = [headers, *whole]
    in_full = check_season(season.write_csv(tmp_path / "full"))[1].tables["hauls"]
    for above, row in reversed([*pairwise(whole)]):
        row[at] = "" if row[at] == above[at] else row[at]
    path = season.write_csv(tmp_path / "paper")
    told = check_season(path)[1].set_aside.filter(column=column)["reason"]
    assert told.len() == [row[at] for row in whole].count("")
    remedy = re.search(r"put (fill_down = .*) under \[hauls\] in season.toml$", told[0])
    assert remedy
    (path / "season.toml").write_text(f"[hauls]\n{remedy[1]}\n", encoding="utf-8")
    assert_frame_equal(check_season(path)[1].tables["hauls"], in_full)


def test_one_blank_in_a_log_that_is_kept_in_full_is_no_case_for_it(tmp_path: Path) -> None:
    rows = [list(row) for row in IN_FULL]
    rows[2][0] = ""
    (reason,) = _checked(tmp_path / "season", rows).set_aside.filter(table="hauls")["reason"]
    assert reason == "is blank, and the row is of no use without it"


def test_below_a_row_that_cannot_be_taken_apart_nothing_is_filled(tmp_path: Path) -> None:
    rows = [list(row) for row in AS_ON_PAPER]
    rows[3] += ["one cell too many"]
    season = _checked(tmp_path / "season", rows, FILLED)
    hauls = season.set_aside.filter(table="hauls")
    assert hauls["source_row"].to_list() == [4, 5, 6]
    assert season.tables["hauls"]["trip"].to_list() == ["1", "1"]


def test_a_file_is_not_filled_from_the_one_before(tmp_path: Path) -> None:
    season = tmp_path / "season"
    season.mkdir()
    for name, rows in (("a.csv", AS_ON_PAPER), ("b.csv", [AS_ON_PAPER[0], AS_ON_PAPER[2]])):
        (season / name).write_bytes(csv_bytes(rows))
    settings = SETTINGS.format(f'file = "?.csv"\n{FILLED}')
    (season / "season.toml").write_text(settings, encoding="utf-8")
    gone = check_season(season)[1].set_aside.filter(table="hauls")
    assert gone.select("source_file", "source_row", "column").rows() == [("b.csv", 2, "trip")]


def test_a_name_that_is_no_header_and_no_column_is_told(tmp_path: Path) -> None:
    with pytest.raises(SeasonUnusableError) as refusal:
        _checked(tmp_path / "season", AS_ON_PAPER, 'fill_down = ["Dates"]')
    assert refusal.value.sentences[0] == (
        "hauls.csv has no header 'Dates' that [hauls] fill_down asks for (did you mean 'Date'?); "
        "its headers are Trip, Date, Shot, Hours, Gear, Plaice."
    )


def _checked(season: Path, rows: Rows, fill_down: str = "") -> CheckedSeason:
    season.mkdir()
    (season / "hauls.csv").write_bytes(csv_bytes(rows))
    (season / "season.toml").write_text(SETTINGS.format(fill_down), encoding="utf-8")
    return check_season(season)[1]


def _fill(rows: Rows, at: int) -> None:
    for before, row in pairwise(rows):
        row[at] = row[at] or before[at]
