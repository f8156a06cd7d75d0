"""A wrong cell in a column from which nothing is worked out costs nobody its row."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from pipeline.good_rows import check_season
from schemas.tables import TABLES
from tests.spec.spoilt_seasons import write_spoilt

ROOT = Path(__file__).parents[2]
ONLY_KEPT = sorted(
    {column.name for table in TABLES.values() for column in table.columns if column.only_kept}
)


@pytest.mark.parametrize("column", ONLY_KEPT)
def test_nothing_is_worked_out_from_such_a_column(column: str) -> None:
    code = [
        file
        for room in ("pipeline", "reports")
        for file in (ROOT / room).rglob("*")
        if file.suffix in {".py", ".sql"}
    ]
    naming = [file.name for file in code if re.search(rf"\b{column}\b", file.read_text("utf-8"))]
    assert naming == []


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
