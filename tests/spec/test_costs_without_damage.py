"""What damage cost in a haul that is said to have had none is remarked on and left out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline import run_season
from pipeline.begin_reading import read
from pipeline.clock import silent
from pipeline.joining.database import Database
from pipeline.run_season import find

if TYPE_CHECKING:
    from pathlib import Path

HEADERS = (
    "vessel,trip,haul,rig_version,ground,tow_hours,damaged,mending_hours,hours_lost,repair_cost"
)


def hauls(folder: Path, *rows: str) -> Path:
    (folder / "hauls.csv").write_text("\n".join([HEADERS, *rows]) + "\n", encoding="utf-8")
    return folder


def test_it_is_remarked_on_cell_by_cell(tmp_path: Path) -> None:
    season = hauls(tmp_path, "Skua,1,1,a,sand,3,no,2,1,50", "Skua,1,2,a,sand,3,yes,2,1,50")
    remarks = run_season(season).findings["remarks"]
    assert {(row["column"], row["source_row"]) for row in remarks} == {
        ("mending_hours", 2),
        ("hours_lost", 2),
        ("repair_cost", 2),
    }
    assert all("what damage cost leaves it out" in row["reason"] for row in remarks)


def test_it_is_counted_nowhere(tmp_path: Path) -> None:
    season = hauls(tmp_path, "Skua,1,1,a,sand,3,no,2,1,50", "Skua,1,2,a,sand,3,yes,4,3,70")
    with Database() as database:
        find(read(season, silent), database)
        told = database.get("haul_damage").sort("row")
    for column, only in (("mending_hours", 4.0), ("hours_lost", 3.0), ("mending_cost", 70.0)):
        assert told[column].to_list() == [0.0, only]


def test_ten_days_lost_to_one_haul_are_remarked_on(tmp_path: Path) -> None:
    season = hauls(tmp_path, "Skua,1,1,a,sand,3,yes,2,300,50")
    (remark,) = run_season(season).findings["remarks"]
    assert (remark["column"], remark["value"]) == ("hours_lost", "300.0")
    assert "more than 240 h lost to one haul" in remark["reason"]
