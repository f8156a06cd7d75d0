"""A cell that lies far from all others of its kind is told of; of a good season none is."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

import polars as pl
import pytest

from pipeline.checking.check_season import sentence_of
from pipeline.checking.slips import ENOUGH_ROWS, WORKED_OUT_PAST
from pipeline.good_rows import check_season
from pipeline.run_season import run_season
from tests.spec.text_tables import page_text, rows_of

if TYPE_CHECKING:
    from pathlib import Path

HAULS = 24
FIRST_SHOT = datetime(2031, 3, 1, 6, 10)
CASES = rows_of(page_text("slips.md"))[1]


def season(hauls: int = HAULS) -> dict[str, pl.DataFrame]:
    """The season of `slips.md`, every cell as text; kilos go up and down as the days do."""
    shots = [FIRST_SHOT + timedelta(hours=6 * at) for at in range(hauls)]
    named = {"vessel": "Skua", "trip": "1", "haul": [str(at + 1) for at in range(hauls)]}
    log = {
        **named,
        "shot_at": [f"{shot:%Y-%m-%d %H:%M}" for shot in shots],
        "tow_hours": ["4"] * hauls,
        "rig_version": ["discs", "rope"] * (hauls // 2),
        "depth_m": [str(40 + at) for at in range(hauls)],
    }
    kept = [str(20 + 2 * (at * 7 % hauls)) for at in range(hauls)]
    caught = {**named, "species": "PLE", "kept_kg": kept, "discarded_kg": ["2"] * hauls}
    return {"hauls": pl.DataFrame(log), "catches": pl.DataFrame(caught)}


def write_over(tables: dict[str, pl.DataFrame], written: str) -> None:
    place, cell = written.split(": ")
    table, haul, column = place.split()
    here = pl.lit(value=True) if haul == "all" else pl.col("haul") == haul
    over = pl.when(here).then(pl.lit(cell)).otherwise(column).alias(column)
    tables[table] = tables[table].with_columns(over)


def remarked(tables: dict[str, pl.DataFrame], folder: Path) -> list[str]:
    """Of each remark the table, the haul and the column; each quotes its cell as it is written."""
    for name, table in tables.items():
        table.write_csv(folder / f"{name}.csv")
    _, checked = check_season(folder)
    assert checked.set_aside.is_empty()
    places = []
    for remark in checked.remarks.to_dicts():
        row = tables[remark["table"]].row(remark["source_row"] - 2, named=True)
        assert remark["value"] == row[remark["column"]]
        places.append(f"{remark['table']} {row['haul']} {remark['column']}")
    return places


@pytest.mark.parametrize(("case", "written", "told"), CASES, ids=[case for case, *_ in CASES])
def test_a_cell_far_from_all_others_is_told_of(
    case: str, written: str, told: str, tmp_path: Path
) -> None:
    tables = season()
    for each in filter(None, written.split("; ")):
        write_over(tables, each)
    assert sorted(remarked(tables, tmp_path)) == sorted(filter(None, told.split("; "))), case


def test_hours_that_stand_in_no_cell_are_said_to_be_worked_out(tmp_path: Path) -> None:
    tables = season()
    towed = pl.when(pl.col("haul") == "9").then(18).otherwise(4)
    hauled = pl.col("shot_at").str.to_datetime() + pl.duration(hours=towed)
    written = hauled.dt.strftime("%Y-%m-%d %H:%M").alias("hauled_at")
    tables["hauls"] = tables["hauls"].with_columns(written).drop("tow_hours")
    for name, table in tables.items():
        table.write_csv(tmp_path / f"{name}.csv")
    _, checked = check_season(tmp_path)
    (remark,) = checked.remarks.filter(pl.col("column") == "tow_hours").to_dicts()
    assert sentence_of(remark) == f"hauls.csv, row 10, tow_hours, {WORKED_OUT_PAST}."


@pytest.mark.parametrize("slip", ["catches 9 kept_kg: 3600", "hauls 9 depth_m: 340"])
def test_of_a_few_cells_none_is_called_far_from_the_others(slip: str, tmp_path: Path) -> None:
    tables = season(ENOUGH_ROWS - 2)
    write_over(tables, slip)
    assert remarked(tables, tmp_path) == []


@pytest.mark.parametrize(("hauls", "told"), [(24, 0), (40, 0), (42, 2)])
def test_a_whole_trip_may_have_a_slip_in_its_year_if_it_is_a_small_part(
    hauls: int, told: int, tmp_path: Path
) -> None:
    tables = season(hauls)
    for haul, shot in (("9", "06:10"), ("10", "12:10")):
        write_over(tables, f"hauls {haul} shot_at: 2013-03-03 {shot}")
    for name, table in tables.items():
        trip = pl.when(pl.col("haul").is_in(["9", "10"])).then(pl.lit("2")).otherwise("trip")
        tables[name] = table.with_columns(trip.alias("trip"))
    assert len(remarked(tables, tmp_path)) == told


@pytest.mark.parametrize(
    ("written", "span"),
    [
        ("hauls 9 shot_at: 2013-03-03 06:10", ("2031-03-01", "2031-03-07")),
        ("hauls 9 shot_at: 2041-03-03 06:10", ("2031-03-01", "2031-03-07")),
        (
            "hauls 9 shot_at: 2041-03-03 06:10; hauls 11 shot_at: 2013-03-03 18:10",
            ("2031-03-01", "2031-03-07"),
        ),
        ("hauls 1 shot_at: 2030-03-01 06:10", ("2030-03-01", "2031-03-07")),
    ],
)
def test_a_year_that_is_a_slip_is_no_end_of_the_season(
    written: str, span: tuple[str, str], tmp_path: Path
) -> None:
    tables = season()
    for each in written.split("; "):
        write_over(tables, each)
    for name, table in tables.items():
        table.write_csv(tmp_path / f"{name}.csv")
    about = run_season(tmp_path).findings["season"]
    assert (about["first_day"], about["last_day"]) == span


def test_a_haul_whose_year_is_a_slip_counts_as_one_of_no_known_day(tmp_path: Path) -> None:
    found = []
    for at, written in enumerate(("hauls 9 shot_at: 2013-03-03 06:10", "hauls 9 shot_at: ")):
        tables = season()
        write_over(tables, written)
        folder = tmp_path / f"season {at}"
        folder.mkdir()
        for name, table in tables.items():
            table.write_csv(folder / f"{name}.csv")
        findings = run_season(folder).findings
        found.append({name: findings[name] for name in ("effects", "rates", "trips", "changes")})
    assert found[0] == found[1]
    assert any(effect["outcome"] == "bottom_living_kg" for effect in found[0]["effects"])
