"""A file's capitals make no difference; one that looks like a table and is not read is told of."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from openpyxl import Workbook

from pipeline import run_season
from pipeline.good_rows import check_season
from pipeline.note_words import readings_of
from pipeline.problems import SeasonUnusableError
from reports.check_summary import check_summary
from reports.language import language_of, told_in
from reports.reason_words import reason_said
from reports.record_sections import set_aside
from tests.spec.season_texts import csv_bytes, valid_season

if TYPE_CHECKING:
    from pathlib import Path


def empty_workbook(path: Path, *sheets: str) -> None:
    book = Workbook()
    book.remove(book.active)
    for name in sheets:
        book.create_sheet(name).append(["vessel"])
    book.save(path)


def not_read(season: Path) -> tuple[str, ...]:
    return check_season(season)[1].not_read


def test_a_file_is_known_whatever_its_capitals_are(tmp_path: Path) -> None:
    season = valid_season()
    season.settings = '[season]\ntitle = "Autumn"\n'
    folder = season.write_csv(tmp_path / "season")
    for name in ("hauls.csv", "catches.csv", "season.toml"):
        (folder / name).rename(folder / name.capitalize())
    (folder / "prices.csv").rename(folder / "PRICES.CSV")
    found, checked = check_season(folder)
    assert found.settings.season.title == "Autumn"
    assert checked.counts["hauls"]["used"] == 10
    assert set(checked.tables) == set(season.tables)
    assert checked.not_read == ()


def test_a_sheet_is_known_whatever_its_capitals_are(tmp_path: Path) -> None:
    season = valid_season()
    del season.tables["vessels"]
    folder = season.write_csv(tmp_path / "season")
    empty_workbook(folder / "boats.xlsx", "Vessels")
    assert "vessels" in check_season(folder)[1].found


def test_of_two_files_that_differ_in_capitals_alone_neither_is_chosen(tmp_path: Path) -> None:
    season = valid_season()
    folder = season.write_csv(tmp_path / "season")
    (folder / "hauls.csv").rename(folder / "Hauls.csv")
    (folder / "HAULS.csv").write_bytes(csv_bytes(season.tables["hauls"]))
    with pytest.raises(SeasonUnusableError) as refusal:
        check_season(folder)
    assert refusal.value.sentences == [
        "the folder season has 'HAULS.csv' and 'Hauls.csv', which differ in capitals alone; call "
        "the one that is to be read 'hauls.csv'."
    ]


def test_what_looks_like_a_table_and_is_not_read_is_told_of(tmp_path: Path) -> None:
    season = valid_season()
    del season.tables["vessels"]
    folder = season.write_csv(tmp_path / "season")
    for name in ("hauls.tsv", "Hauls.csv", "vessel.csv", "crew.csv"):
        (folder / name).write_text("haul\n")
    empty_workbook(folder / "first.xlsx", "hauls", "vessels")
    empty_workbook(folder / "second.xlsx", "hauls")
    (folder / "season.toml").write_text("")
    (folder / "Season.toml").write_text("")
    assert not_read(folder) == (
        "first.xlsx is not read, as it is not the only workbook of the folder; put into one what "
        "is to count.",
        "second.xlsx is not read, as it is not the only workbook of the folder; put into one what "
        "is to count.",
        "Hauls.csv is not read, as hauls.csv is; put into that one what is to count, and take the "
        "other away.",
        "hauls.tsv is not read, as hauls.csv is; put into that one what is to count, and take the "
        "other away.",
        "vessel.csv is not read (did you mean 'vessels'?); give it the name of its table, or name "
        "it in season.toml.",
        "Season.toml is not read, as season.toml is; put into that one what is to count, and take "
        "the other away.",
    )


def test_sheets_that_are_not_read_are_told_of(tmp_path: Path) -> None:
    season = valid_season()
    del season.tables["vessels"], season.tables["prices"]
    folder = season.write_csv(tmp_path / "season")
    empty_workbook(folder / "log.xlsx", "Hauls", "vessels", "Price", "what we ate")
    assert not_read(folder) == (
        "log.xlsx, sheet Hauls is not read, as hauls.csv is; put into that one what is to count, "
        "and take the other away.",
        "log.xlsx, sheet Price is not read (did you mean 'prices'?); give it the name of its "
        "table, or name it in season.toml.",
        "log.xlsx is read in part, and nothing from its sheets: what we ate; where one holds rows "
        "of a table, name it under sheet in season.toml.",
    )
    (folder / "log.xlsx").unlink()
    empty_workbook(folder / "log.xlsx", "hauls")
    assert not_read(folder) == (
        "log.xlsx is not read, as it has no sheet with the name of a table that no file has; name "
        "its sheet after the table, or take the workbook away.",
    )


def test_a_file_that_the_settings_leave_for_another_is_not_told_of(tmp_path: Path) -> None:
    season = valid_season()
    season.files["deck log.csv"] = csv_bytes(season.tables["hauls"])
    season.settings = '[hauls]\nfile = "deck log.csv"\n'
    assert not_read(season.write_csv(tmp_path / "season")) == ()


def test_several_workbooks_without_a_haul_are_named(tmp_path: Path) -> None:
    for name in ("a.xlsx", "b.xlsx"):
        empty_workbook(tmp_path / name, "hauls")
    with pytest.raises(SeasonUnusableError, match=r"several workbooks: a\.xlsx, b\.xlsx; give"):
        check_season(tmp_path)


def test_of_several_seasons_each_file_is_named_with_its_folder(tmp_path: Path) -> None:
    valid_season().write_csv(tmp_path / "2031")
    (tmp_path / "2031" / "Hauls.tsv").write_text("haul\n")
    (tmp_path / "prices.csv").write_text("species\n")
    assert not_read(tmp_path) == (
        "prices.csv is not read, as it lies beside the season folders; put it into one.",
        "2031/Hauls.tsv is not read, as hauls.csv is; put into that one what is to count, and take "
        "the other away.",
    )


def test_check_and_the_report_tell_what_is_not_read(tmp_path: Path) -> None:
    season = valid_season()
    del season.tables["vessels"]
    folder = season.write_csv(tmp_path / "season")
    empty_workbook(folder / "log.xlsx", "hauls", "vessels")
    results = run_season(folder)
    (told,) = results.season.not_read
    readings = readings_of(results.folder, results.season)
    summary = check_summary(results.season, readings, results.folder.settings)
    assert f"\nNot read:\n  {told}\n" in summary
    assert told in set_aside(results.findings).paragraphs
    with told_in(language_of("es")):
        assert reason_said(told).startswith("log.xlsx, hoja hauls no se lee, ")


@pytest.mark.parametrize(
    "named", ['sheet = "March"', 'sheet = ["march"]', 'file = "log.xlsx"', 'sheet = "M[!a]*"']
)
def test_of_a_workbook_of_which_one_sheet_is_named_the_others_are_told_of(
    named: str, tmp_path: Path
) -> None:
    season = valid_season()
    hauls = season.tables.pop("hauls")
    season.settings = f"[hauls]\n{named}\n"
    folder = season.write_csv(tmp_path / "season")
    book = Workbook()
    book.remove(book.active)
    for name in ("March", "Mei", "hauls"):
        sheet = book.create_sheet(name)
        for row in hauls:
            sheet.append([cell or None for cell in row])
    book.save(folder / "log.xlsx")
    left = "March, hauls" if "!" in named else "Mei, hauls"
    assert not_read(folder) == (
        f"log.xlsx is read in part, and nothing from its sheets: {left}; where one holds rows of a "
        "table, name it under sheet in season.toml.",
    )
