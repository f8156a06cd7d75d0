"""A wrong cell in a column from which nothing is worked out costs nobody its row."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from pipeline import run_season
from pipeline.good_rows import check_season
from schemas.tables import TABLES
from tests.spec.season_texts import valid_season
from tests.spec.spoilt_seasons import write_spoilt

ROOT = Path(__file__).parents[2]
COLUMNS = [(table.name, column) for table in TABLES.values() for column in table.columns]
ONLY_KEPT = {column.name for _, column in COLUMNS if column.only_kept}
USED = {column.name for _, column in COLUMNS if not column.only_kept}
BOUNDED = {"number", "count", "moment", "yes or no", "word", "words"}
"""Kinds of which a cell can be refused."""


@cache
def code() -> dict[str, str]:
    """The program, file by file."""
    return {
        str(file): file.read_text("utf-8")
        for room in ("pipeline", "reports")
        for file in (ROOT / room).rglob("*")
        if file.suffix in {".py", ".sql"}
    }


def naming(column: str) -> list[str]:
    return [file for file, text in code().items() if re.search(rf"\b{column}\b", text)]


@pytest.mark.parametrize("column", sorted(ONLY_KEPT - USED))
def test_nothing_is_worked_out_from_such_a_column(column: str) -> None:
    assert naming(column) == []


def test_a_column_of_which_nothing_is_worked_out_is_only_kept() -> None:
    for table, column in COLUMNS:
        if column.kind in BOUNDED and column.name not in TABLES[table].key:
            assert column.only_kept or naming(column.name), (table, column.name)


@pytest.mark.parametrize(("table", "column"), [("catches", "count"), ("vessels", "length_m")])
def test_where_another_table_uses_a_column_of_that_name_findings_hang_on_it_there_alone(
    table: str, column: str, tmp_path: Path
) -> None:
    season, other = valid_season(), valid_season()
    headers, *rows = other.tables[table]
    for row in range(2, len(rows) + 2):
        other.set_cell(table, row, column, str(row + 17))
    assert column in headers
    assert column in ONLY_KEPT & USED
    assert other.tables != season.tables
    found, found_with = (
        run_season(each.write_csv(tmp_path / name)).findings
        for name, each in (("as it is", season), ("another", other))
    )
    assert found == found_with


def test_a_wrong_count_of_fish_costs_a_catch_nothing(tmp_path: Path) -> None:
    _, season = check_season(write_spoilt("catches row 2, count: -4", tmp_path))
    assert season.set_aside.is_empty()
    assert season.hauls_missing_catch.is_empty()
    assert season.tables["catches"].filter(source_row=2)["count"].to_list() == [None]
    assert season.remarks["column"].to_list() == ["count"]


@pytest.mark.parametrize("cell", ["31", "slow"])
def test_the_cell_is_blank_and_the_row_is_there(cell: str, tmp_path: Path) -> None:
    _, season = check_season(write_spoilt(f"hauls row 8, speed_kn: {cell}", tmp_path))
    hauls = season.tables["hauls"]
    assert hauls.filter(source_row=8)["speed_kn"].to_list() == [None]
    assert hauls.filter(source_row=7)["speed_kn"].to_list() == [3.1]
    assert season.set_aside.is_empty()


def test_a_row_that_is_wrong_in_another_column_too_is_set_aside(tmp_path: Path) -> None:
    written = "hauls row 8, speed_kn: 31; then hauls row 8, tow_hours: -4"
    _, season = check_season(write_spoilt(written, tmp_path))
    assert season.set_aside["column"].to_list() == ["tow_hours"]
    assert season.remarks.is_empty()
