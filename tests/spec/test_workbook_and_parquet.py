"""The same season is the same in a workbook, in Parquet files and in a folder of CSV files."""

from __future__ import annotations

from datetime import date, datetime, time
from typing import TYPE_CHECKING

import polars as pl
import pytest
from openpyxl import Workbook, load_workbook
from polars.testing import assert_frame_equal

from pipeline.checking.check_season import sentence_of
from pipeline.checking.past_midnight import NEXT_DAY
from pipeline.good_rows import check_season
from pipeline.intake.values import NO_NUMBER
from pipeline.problems import SeasonUnusableError
from schemas.tables import TABLES
from schemas.types import TYPES
from tests.spec.season_texts import SeasonText, valid_season

if TYPE_CHECKING:
    from pathlib import Path

SOURCE = ["source_file", "source_row"]


def cell_for_a_spreadsheet(table: str, column: str, cell: str) -> object:
    """The cell as someone who types it into a spreadsheet would have it: numbers as numbers."""
    kind = TABLES[table].column(column).kind
    if cell == "":
        return None
    if kind == "moment":
        return datetime.fromisoformat(cell)
    if kind in {"number", "count"} or column in {"trip", "haul"}:
        return float(cell) if "." in cell else int(cell)
    return cell


def write_workbook(season: SeasonText, path: Path) -> Path:
    book = Workbook()
    book.remove(book.active)
    for name, (headers, *rows) in season.tables.items():
        sheet = book.create_sheet(name)
        sheet.append(headers)
        for row in rows:
            pairs = zip(headers, row, strict=True)
            sheet.append([cell_for_a_spreadsheet(name, column, cell) for column, cell in pairs])
    book.save(path)
    return path


def write_parquet(season: SeasonText, folder: Path) -> Path:
    folder.mkdir()
    for name, (headers, *rows) in season.tables.items():
        kinds = {column.name: TYPES[column.kind] for column in TABLES[name].columns}
        typed = [
            [_typed(name, column, cell) for column, cell in zip(headers, row, strict=True)]
            for row in rows
        ]
        schema = {column: kinds[column] for column in headers}
        pl.DataFrame(typed, schema=schema, orient="row").write_parquet(folder / f"{name}.parquet")
    return folder


def _typed(table: str, column: str, cell: str) -> object:
    kind = TABLES[table].column(column).kind
    if cell and kind == "yes or no":
        return cell == "yes"
    return (
        cell_for_a_spreadsheet(table, column, cell)
        if kind in {"number", "count", "moment"}
        else (cell or None)
    )


@pytest.mark.parametrize("kind", ["workbook", "parquet"])
def test_workbook_and_parquet_give_the_same_tables_as_csv(kind: str, tmp_path: Path) -> None:
    season = valid_season()
    _, from_csv = check_season(season.write_csv(tmp_path / "csv"))
    if kind == "workbook":
        path = write_workbook(season, tmp_path / "season.xlsx")
    else:
        path = write_parquet(season, tmp_path / "parquet")
    _, other = check_season(path)
    assert other.set_aside.is_empty(), [sentence_of(r) for r in other.set_aside.to_dicts()]
    assert other.counts == from_csv.counts
    for name, table in from_csv.tables.items():
        assert_frame_equal(other.tables[name].drop(SOURCE), table.drop(SOURCE))


def test_a_row_of_a_workbook_is_numbered_as_the_spreadsheet_does(tmp_path: Path) -> None:
    season = valid_season()
    season.set_cell("hauls", 8, "tow_hours", "-4")
    _, checked = check_season(write_workbook(season, tmp_path / "season.xlsx"))
    (row,) = checked.set_aside.to_dicts()
    assert (row["source_file"], row["source_row"]) == (
        "season.xlsx, sheet hauls",
        8,
    )


@pytest.mark.parametrize(
    ("missing", "said"),
    [
        ("", [f"season.xlsx, sheet hauls, row 8, depth_m: '#DIV/0!' {NO_NUMBER}."]),
        ('[hauls.read]\nmissing = ["#DIV/0!"]', []),
    ],
)
def test_a_cell_whose_formula_failed_is_no_blank_unless_it_is_said_to_be(
    missing: str, said: list[str], tmp_path: Path
) -> None:
    path = write_workbook(valid_season(), tmp_path / "season.xlsx")
    book = load_workbook(path)
    sheet = book["hauls"]
    (column,) = (cell.column for cell in sheet[1] if cell.value == "depth_m")
    sheet.cell(8, column, "#DIV/0!").data_type = "e"
    book.save(path)
    path.with_suffix(".toml").write_text(missing, encoding="utf-8")
    _, checked = check_season(path)
    assert [sentence_of(row) for row in checked.set_aside.iter_rows(named=True)] == said
    assert checked.counts["hauls"]["used"] == 10 - len(said)


def test_a_workbook_in_the_folder_stands_in_for_tables_without_a_file(tmp_path: Path) -> None:
    season = valid_season()
    catches = SeasonText({"catches": season.tables.pop("catches")})
    folder = season.write_csv(tmp_path / "season")
    write_workbook(catches, folder / "catches of the year.xlsx")
    _, checked = check_season(folder)
    assert checked.counts["catches"] == {"read": 7, "used": 7, "set_aside": 0}


def test_a_sheet_may_have_a_name_of_its_own(tmp_path: Path) -> None:
    season = valid_season()
    renamed = {"Log 2031" if name == "hauls" else name: r for name, r in season.tables.items()}
    book = Workbook()
    book.remove(book.active)
    for name, rows in renamed.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append([cell or None for cell in row])
    book.save(tmp_path / "season.xlsx")
    (tmp_path / "season.toml").write_text('[hauls]\nsheet = "Log 2031"\n', encoding="utf-8")
    _, checked = check_season(tmp_path / "season.xlsx")
    assert checked.counts["hauls"] == {"read": 10, "used": 10, "set_aside": 0}


def test_a_file_that_is_no_workbook_or_parquet_is_refused(tmp_path: Path) -> None:
    for name in ("season.xlsx", "hauls.parquet"):
        (tmp_path / name).write_bytes(b"not what its name says")
    with pytest.raises(SeasonUnusableError, match="can't be read as a workbook"):
        check_season(tmp_path / "season.xlsx")
    (tmp_path / "season.xlsx").unlink()
    with pytest.raises(SeasonUnusableError, match="can't be read as a Parquet file"):
        check_season(tmp_path)


def test_a_trip_saved_as_a_decimal_number_is_the_same_trip(tmp_path: Path) -> None:
    season = valid_season()
    headers, *rows = season.tables.pop("catches")
    catches = pl.DataFrame(rows, schema=headers, orient="row")
    folder = season.write_csv(tmp_path / "season")
    decimals = catches.with_columns(pl.col("trip", "haul").cast(pl.Float64))
    decimals.write_parquet(folder / "catches.parquet")
    _, checked = check_season(folder)
    assert checked.counts["catches"] == {"read": 7, "used": 7, "set_aside": 0}


@pytest.mark.parametrize("day", [date(2031, 3, 4), "04/03/2031"])
@pytest.mark.parametrize("shot", [time(5, 30), "0530"])
def test_a_day_and_a_time_are_read_whether_cells_of_their_own_kind_or_typed_in(
    day: date | str, shot: time | str, tmp_path: Path
) -> None:
    book = Workbook()
    sheet = book.active
    sheet.title = "hauls"
    sheet.append(["vessel", "trip", "haul", "Day", "Shot", "tow_hours", "rig_version"])
    sheet.append(["Skua", "1", "1", day, shot, 3.5, "discs"])
    # Beside them stand cells of the other kinds, as in a log kept by several hands.
    sheet.append(["Skua", "1", "2", "04/03/2031", "1130", 3.5, "discs"])
    book.save(tmp_path / "season.xlsx")
    (tmp_path / "season.toml").write_text(
        '[hauls.columns]\nshot_at = { from = ["Day", "Shot"], format = "%d/%m/%Y %H%M" }\n'
    )
    _, checked = check_season(tmp_path / "season.xlsx")
    assert checked.set_aside.is_empty()
    assert checked.tables["hauls"]["shot_at"].to_list() == [
        datetime(2031, 3, 4, 5, 30),
        datetime(2031, 3, 4, 11, 30),
    ]


def test_midnight_is_a_time_of_day_and_a_haul_past_it_is_hauled_the_day_after(
    tmp_path: Path,
) -> None:
    book = Workbook()
    sheet = book.active
    sheet.title = "hauls"
    sheet.append(["trip", "haul", "Day", "Shot", "Up", "tow_hours", "rig_version"])
    for row in PAST_MIDNIGHT:
        sheet.append(["1", row[0], date(2031, 3, 4), *row[1:4], "discs"])
    book.save(tmp_path / "season.xlsx")
    form = 'format = "%d/%m/%Y %H%M"'
    (tmp_path / "season.toml").write_text(
        f'[hauls.columns]\nshot_at = {{ from = ["Day", "Shot"], {form} }}\n'
        f'hauled_at = {{ from = ["Day", "Up"], {form} }}\n'
    )
    _, checked = check_season(tmp_path / "season.xlsx")
    hauled = dict(checked.tables["hauls"].select("haul", "hauled_at").iter_rows())
    assert hauled == {name: up for name, *_, up in PAST_MIDNIGHT if up}
    told = checked.remarks.filter(reason=NEXT_DAY)["value"].to_list()
    assert told == ["2031-03-05 02:15", "2031-03-05 00:00", "2031-03-05 02:15"]
    assert checked.set_aside["column"].to_list() == ["hauled_at"] * 2


PAST_MIDNIGHT = [
    ("by its hours", time(23), time(2, 15), 3.25, datetime(2031, 3, 5, 2, 15)),
    ("up at midnight", time(20), time(0), 4.0, datetime(2031, 3, 5)),
    ("shot at midnight", time(0), time(4), 4.0, datetime(2031, 3, 4, 4)),
    ("of one day", time(5), time(9), 4.0, datetime(2031, 3, 4, 9)),
    ("without its hours", time(23), time(2, 15), None, datetime(2031, 3, 5, 2, 15)),
    ("not by its hours", time(9), time(5), 4.0, None),
    ("a slip without hours", time(9), time(5), None, None),
]
"""A haul, when it was shot and came up by the one day, its hours, and when it came up indeed."""


def test_blank_rows_above_the_header_are_counted(tmp_path: Path) -> None:
    season = valid_season()
    season.set_cell("hauls", 8, "tow_hours", "-4")
    path = write_workbook(season, tmp_path / "season.xlsx")
    book = load_workbook(path)
    book["hauls"].insert_rows(1, 2)
    book["hauls"].insert_rows(5)
    book.save(path)
    _, checked = check_season(path)
    (row,) = checked.set_aside.to_dicts()
    assert row["source_row"] == 11
    assert checked.counts["hauls"]["read"] == 10


def test_a_title_above_the_header_of_a_sheet_is_skipped_and_counted(tmp_path: Path) -> None:
    season = valid_season()
    season.set_cell("hauls", 8, "tow_hours", "-4")
    path = write_workbook(season, tmp_path / "season.xlsx")
    book = load_workbook(path)
    book["hauls"].insert_rows(1, 2)
    book["hauls"]["A1"] = "Deck log of the year"
    book.save(path)
    (tmp_path / "season.toml").write_text("[hauls.read]\nskip_lines = 1\n", encoding="utf-8")
    _, checked = check_season(path)
    assert checked.set_aside["source_row"].to_list() == [10]


def test_a_header_that_stands_twice_on_a_sheet_is_told_of(tmp_path: Path) -> None:
    season = valid_season()
    headers = season.tables["hauls"][0]
    headers[headers.index("depth_m")] = "latitude"
    path = tmp_path / "season.xlsx"
    book = Workbook()
    book.active.title = "hauls"
    for row in season.tables["hauls"]:
        book.active.append(row)
    book.save(path)
    with pytest.raises(SeasonUnusableError) as refusal:
        check_season(path)
    assert refusal.value.sentences == [
        "season.xlsx, sheet 'hauls': the header 'latitude' stands twice; rename one of them."
    ]


def test_an_empty_sheet_is_taken_as_absent_and_told_of(tmp_path: Path) -> None:
    season = valid_season()
    season.tables["prices"] = [[]]
    _, checked = check_season(write_workbook(season, tmp_path / "season.xlsx"))
    assert "prices" not in checked.tables
    assert [sentence_of(row) for row in checked.remarks.to_dicts()] == [
        "season.xlsx, sheet prices, row 1: the table prices has no header and no row, so the "
        "season is read as if it were not there."
    ]


def test_a_workbook_without_a_haul_says_that_it_is_empty(tmp_path: Path) -> None:
    season = valid_season()
    season.tables["hauls"] = [[]]
    path = write_workbook(season, tmp_path / "season.xlsx")
    with pytest.raises(SeasonUnusableError) as refusal:
        check_season(path)
    assert refusal.value.sentences == [
        "season.xlsx, sheet 'hauls' is empty: it has no header and no row; save it anew, or take "
        "it away."
    ]
