"""A season split into a folder of season folders loses no row and finds the same effects."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

import polars as pl
import pytest
from hypothesis import given, settings

from pipeline.good_rows import check_season
from pipeline.run_season import run_season
from schemas.tables import TABLES
from synthetic_data.co_op import write_co_op
from synthetic_data.season import invent_season
from synthetic_data.writing import (
    DECK_LOG,
    DECK_LOG_ENCODING,
    season_toml,
    write_season,
    write_table,
)
from tests.properties.test_rows_are_never_lost import checked_or_none
from tests.spec.random_spoiling import SpoiltSeason, spoilt_seasons

if TYPE_CHECKING:
    from pipeline.rows import CheckedSeason

SAME = 1e-8
SEED, HAULS = 3, 400


def split_by_boat(folder: Path, tables: dict[str, pl.DataFrame]) -> Path:
    """A season folder a boat, with the season's mapping in each and the rest of it above them."""
    of_the_whole, mark, mapping = season_toml().partition("[hauls]")
    folder.mkdir()
    (folder / "season.toml").write_text(of_the_whole, encoding="utf-8")
    for boat in tables["vessels"]["vessel"]:
        season = folder / boat
        season.mkdir()
        (season / "season.toml").write_text(mark + mapping, encoding="utf-8")
        for name, table in tables.items():
            if name == "hauls":
                log = table.filter(pl.col("Boat") == boat)
                write_table(season / DECK_LOG, log, separator=";", encoding=DECK_LOG_ENCODING)
            else:
                own = table.filter(pl.col("vessel") == boat) if "vessel" in table.columns else table
                write_table(season / f"{name}.csv", own)
    return folder


def test_a_season_split_by_boat_finds_the_same_effects(tmp_path: Path) -> None:
    write_season(tmp_path / "one", hauls=HAULS, seed=SEED)
    whole = run_season(tmp_path / "one").findings
    tables = invent_season(hauls=HAULS, seed=SEED).tables
    split = run_season(split_by_boat(tmp_path / "co-op", tables)).findings
    assert len(split["seasons"]) == 4
    assert split["season"]["adjusted_for"] == whole["season"]["adjusted_for"]
    assert split["rows"]["hauls"] == whole["rows"]["hauls"]
    for name in ("effects", "rates", "measures", "boats"):
        assert_alike(split[name], whole[name])


def assert_alike(one: object, other: object) -> None:
    """Numbers to `SAME` of themselves, all else the same."""
    if isinstance(other, dict):
        assert isinstance(one, dict)
        assert one.keys() == other.keys()
        for key, value in other.items():
            assert_alike(one[key], value)
    elif isinstance(other, list):
        assert isinstance(one, list)
        for mine, theirs in zip(one, other, strict=True):
            assert_alike(mine, theirs)
    elif isinstance(other, float):
        assert one == pytest.approx(other, rel=SAME, abs=SAME)
    else:
        assert one == other


@settings(max_examples=8, deadline=None)
@given(one=spoilt_seasons, other=spoilt_seasons)
def test_every_row_of_two_spoilt_seasons_is_used_or_set_aside(
    one: SpoiltSeason, other: SpoiltSeason
) -> None:
    with tempfile.TemporaryDirectory() as folder:
        for name, season in (("one", one), ("other", other)):
            (Path(folder) / name).mkdir()
            season.write(Path(folder) / name)
        checked = checked_or_none(folder)
    if checked is not None:
        assert_nothing_lost(checked)


def assert_nothing_lost(season: CheckedSeason) -> None:
    source = ["source_file", "source_row"]
    for name, count in season.counts.items():
        assert count["read"] == count["used"] + count["set_aside"]
        gone = season.set_aside.filter(table=name).select(source)
        used = season.tables[name].select(source)
        assert gone.is_unique().all()
        assert used.is_unique().all()
        assert used.join(gone, on=source, how="semi").is_empty()
        keyed_by_season = name in {"prices", "corrections"}
        if not keyed_by_season:
            assert season.tables[name].select(pl.struct(TABLES[name].key).is_unique().all()).item()


def test_logs_kept_in_different_ways_are_read_as_one(tmp_path: Path) -> None:
    write_co_op(tmp_path / "co-op", boats=3, hauls=120, seed=SEED)
    folder, season = check_season(tmp_path / "co-op")
    assert_nothing_lost(season)
    assert len(folder.seasons) == 5
    hauls = season.tables["hauls"]
    assert hauls["vessel"].n_unique() == 3
    assert hauls["season"].n_unique() == 5
    depths = hauls.group_by("season").agg(pl.col("depth_m").median())["depth_m"]
    speeds = hauls.group_by("season").agg(pl.col("speed_kn").median())["speed_kn"]
    hours = hauls.group_by("season").agg(pl.col("tow_hours").median())["tow_hours"]
    for medians in (depths, speeds, hours):
        assert medians.max() < 2 * medians.min()


def test_an_invented_co_op_is_the_same_for_the_same_seed(tmp_path: Path) -> None:
    write_co_op(tmp_path / "one", boats=2, hauls=60, seed=SEED)
    write_co_op(tmp_path / "other", boats=2, hauls=60, seed=SEED)
    files = sorted(p.relative_to(tmp_path / "one") for p in (tmp_path / "one").rglob("*.*"))
    assert files
    for file in filter(lambda f: (tmp_path / "one" / f).is_file(), files):
        assert (tmp_path / "one" / file).read_bytes() == (tmp_path / "other" / file).read_bytes()
