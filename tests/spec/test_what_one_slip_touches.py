"""A slip in one row does what it must to the rows that hang on it, and no more."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl
import pytest

from pipeline.checking.shape_reasons import BLANK_TOW, SKIPPED
from pipeline.good_rows import check_season
from pipeline.run_season import run_season
from tests.spec.season_texts import SeasonText, valid_season
from tests.spec.spoilt_seasons import write_spoilt

if TYPE_CHECKING:
    from pathlib import Path

    from pipeline.rows import CheckedSeason


def checked(season: SeasonText, folder: Path) -> CheckedSeason:
    return check_season(season.write_csv(folder / "season"))[1]


def depth_of_the_corrected_haul(season: CheckedSeason) -> float:
    haul = season.tables["hauls"].filter(vessel="Gull", trip="3", haul="2")
    return float(haul["depth_m"].item())


def test_a_correction_puts_its_cell_right(tmp_path: Path) -> None:
    assert depth_of_the_corrected_haul(checked(valid_season(), tmp_path)) == 57


def test_a_correction_may_fill_a_blank_and_may_blank_a_cell(tmp_path: Path) -> None:
    season = valid_season()
    season.tables["corrections"] += [
        ["hauls", "Gull/3/3", "ground", "", "sand", "Ada", "left out"],
        ["hauls", "Skua/1/1", "depth_m", "62", "", "Ada", "made up"],
    ]
    season = checked(season, tmp_path)
    hauls = season.tables["hauls"]
    assert hauls.filter(vessel="Gull", haul="3")["ground"].item() == "sand"
    assert hauls.filter(vessel="Skua", trip="1", haul="1")["depth_m"].item() is None
    assert season.set_aside.is_empty()


def test_a_row_that_was_wrong_is_used_once_it_is_corrected(tmp_path: Path) -> None:
    season = valid_season()
    season.set_cell("hauls", 8, "tow_hours", "-4")
    season.tables["corrections"].append(
        ["hauls", "Tern/7/3", "tow_hours", "-4", "4", "Ada", "slip of the pen"]
    )
    assert checked(season, tmp_path).set_aside.is_empty()


@pytest.mark.parametrize(
    "written",
    [
        "corrections row 2, who:",
        "corrections row 2, why:",
        "corrections row 2 stands twice, new: 58",
        "corrections row 2, old: 76",
    ],
)
def test_a_correction_that_is_set_aside_is_not_made(written: str, tmp_path: Path) -> None:
    _, season = check_season(write_spoilt(written, tmp_path))
    assert season.tables["corrections"].is_empty()
    assert depth_of_the_corrected_haul(season) == 75


def test_a_haul_with_a_catch_row_set_aside_has_no_whole_catch(tmp_path: Path) -> None:
    _, season = check_season(write_spoilt("catches row 3, kept_kg: -40", tmp_path))
    assert season.hauls_missing_catch.rows() == [("Skua", "1", "1")]


@pytest.mark.parametrize("written", ["catches row 3 stands twice", "hauls row 8, tow_hours: -4"])
def test_a_catch_of_which_nothing_is_missing_is_whole(written: str, tmp_path: Path) -> None:
    _, season = check_season(write_spoilt(written, tmp_path))
    assert season.hauls_missing_catch.is_empty()


def test_an_unreadable_fitting_does_not_leave_the_one_before_it_in_force(tmp_path: Path) -> None:
    # Skua/1/2 is before, Skua/2/2 after the day that can't be read.
    _, season = check_season(
        write_spoilt("fittings row 2, fitted_to:; then fittings row 3, fitted_from: soon", tmp_path)
    )
    assert season.tables["hauls"].filter(vessel="Skua", trip="2", haul="2").is_empty()


def test_a_fitting_that_is_set_aside_leaves_its_time_without_a_rig(tmp_path: Path) -> None:
    _, season = check_season(
        write_spoilt("fittings row 2, fitted_to:; then fittings row 3, rig_version: x", tmp_path)
    )
    skua = season.tables["hauls"].filter(vessel="Skua")
    assert skua.select("trip", "haul").rows() == [("1", "1"), ("1", "2"), ("2", "1")]


@pytest.mark.parametrize("beside", ["vessels", "no vessels"])
def test_a_table_without_the_boat_is_of_the_season_s_one_boat(beside: str, tmp_path: Path) -> None:
    season = valid_season()
    one_boat = {
        name: [rows[0], *(row for row in rows[1:] if row[0] == "Skua")]
        for name, rows in season.tables.items()
        if name in {"vessels", "hauls", "catches", "fittings"}
    }
    one_boat["rig_versions"] = season.tables["rig_versions"]
    one_boat["catches"] = [row[1:] for row in one_boat["catches"]]
    if beside == "no vessels":
        del one_boat["vessels"]
    assert checked(SeasonText(one_boat), tmp_path).counts["catches"] == {
        "read": 4,
        "used": 4,
        "set_aside": 0,
    }


def test_hauls_without_trip_are_of_the_day_and_without_number_of_their_row(tmp_path: Path) -> None:
    season = valid_season()
    headers, *rows = season.tables["hauls"]
    hauls = [[row[0], *row[3:]] for row in [headers, *rows]]
    keys = checked(SeasonText({"hauls": hauls, "fittings": season.tables["fittings"]}), tmp_path)
    as_written = keys.tables["hauls"].sort("source_row")
    assert as_written.select("vessel", "trip", "haul").rows()[::9] == [
        ("Skua", "2031-03-04", "2"),
        ("Gull", "11", "11"),
    ]


def test_a_season_of_hauls_alone_is_enough(tmp_path: Path) -> None:
    hauls = [["tow_hours", "rig_version", "ground"], ["3", "bobbins-14", "mud"], ["4", "new", ""]]
    season = checked(SeasonText({"hauls": hauls}), tmp_path)
    assert season.set_aside.is_empty()
    assert season.tables["hauls"].select("ground", "vessel").rows() == [
        ("mud", "the boat"),
        ("unknown", "the boat"),
    ]


def test_a_tow_over_the_change_of_the_clock_has_its_true_hours(tmp_path: Path) -> None:
    hauls = [
        ["haul", "shot_at", "hauled_at", "rig_version"],
        ["1", "2031-10-26 00:30", "2031-10-26 03:30", "bobbins-14"],
        ["2", "2031-03-30 00:30", "2031-03-30 03:30", "bobbins-14"],
        ["3", "2031-03-29 00:30", "2031-03-29 03:30", "bobbins-14"],
    ]
    season = SeasonText({"hauls": hauls}, '[season]\ntime_zone = "Europe/Lisbon"\n')
    as_written = checked(season, tmp_path).tables["hauls"].sort("source_row")
    assert as_written["tow_hours"].to_list() == [4, 2, 3]


def test_a_position_on_land_is_told_as_the_log_writes_it(tmp_path: Path) -> None:
    season = valid_season()
    for column, written in (("latitude", "52 54.0 N"), ("longitude", "1 12.0 W")):
        at = season.tables["hauls"][0].index(column)
        for row in season.tables["hauls"][1:]:
            row[at] = ""
        season.tables["hauls"][7][at] = written
    unit = '{ unit = "degree minute" }'
    season.settings = f"[hauls.columns]\nlatitude = {unit}\nlongitude = {unit}\n"
    (told,) = checked(season, tmp_path).remarks.filter(column="latitude").rows(named=True)
    assert told["value"] == "52 54.0 N / 1 12.0 W"


@pytest.mark.parametrize(
    ("shot", "hauled"),
    [("2031-03-30 01:34", "2031-03-30 05:51"), ("2031-03-29 22:10", "2031-03-30 01:34")],
)
def test_a_time_that_the_clocks_skipped_is_named_as_that(
    shot: str, hauled: str, tmp_path: Path
) -> None:
    hauls = [
        ["haul", "shot_at", "hauled_at", "rig_version"],
        ["1", shot, hauled, "bobbins-14"],
        ["2", "2031-03-29 00:30", "2031-03-29 03:30", "bobbins-14"],
        ["3", "2031-03-30 01:34", "", "bobbins-14"],
    ]
    settings = '[season]\ntime_zone = "Europe/Lisbon"\n'
    gone = checked(SeasonText({"hauls": hauls}, settings), tmp_path).set_aside
    assert gone["reason"].to_list() == [
        SKIPPED.format("2031-03-30 01:34", "Europe/Lisbon"),
        BLANK_TOW,
    ]


def test_without_a_time_zone_the_hours_are_by_the_clock(tmp_path: Path) -> None:
    hauls = [
        ["haul", "shot_at", "hauled_at", "rig_version"],
        ["1", "2031-10-26 00:30", "2031-10-26 03:30", "bobbins-14"],
    ]
    hours = checked(SeasonText({"hauls": hauls}), tmp_path).tables["hauls"]["tow_hours"]
    assert hours.to_list() == pytest.approx([3])


def test_a_column_that_is_kept_comes_along_as_text(tmp_path: Path) -> None:
    season = valid_season()
    headers, *rows = season.tables["hauls"]
    season.tables["hauls"] = [[*headers, "moon"], *([*row, "new"] for row in rows)]
    season.settings = '[hauls]\nkeep = ["moon"]\n'
    result = checked(season, tmp_path)
    assert result.kept == ("moon",)
    assert result.tables["hauls"].select(pl.col("moon").unique()).to_series().to_list() == ["new"]


def test_a_price_that_is_set_aside_makes_values_unknown_and_not_zero(tmp_path: Path) -> None:
    # Every haul with bobbins-14 caught plaice, whose one price is left blank.
    season = run_season(write_spoilt("prices row 2, price_per_kg:", tmp_path))
    rates = [r for r in season.findings["rates"] if (r["outcome"], r["ground"]) == ("value", "all")]
    values = {rate["rig"]: rate["hauls"] for rate in rates}
    assert values == {"bobbins-12": 1, "rubber-10": 1}
