"""Text files are read however they were saved; every row keeps where it came from."""

from __future__ import annotations

import gzip
from typing import TYPE_CHECKING

import pytest
from polars.testing import assert_frame_equal

from pipeline.checking.check_season import sentence_of
from pipeline.good_rows import check_season
from pipeline.intake.read_season import read_as_text
from pipeline.intake.season_folder import open_season
from tests.spec.season_texts import csv_bytes, valid_season

if TYPE_CHECKING:
    from pathlib import Path

    import polars as pl

    from pipeline.rows import CheckedSeason

SOURCE = ["source_file", "source_row"]
HAULS = [["trip", "haul", "tow_hours", "rig_version"]]


def write_hauls(folder: Path, name: str, trips: list[str], **how: str) -> None:
    """A file of one haul a trip, with a column for each word in `how`."""
    rows = [[*HAULS[0], *how], *([trip, "1", "3", "bobbins-14", *how.values()] for trip in trips)]
    (folder / name).parent.mkdir(exist_ok=True, parents=True)
    (folder / name).write_bytes(csv_bytes(rows))


def read_hauls(season: Path) -> pl.DataFrame:
    """The hauls as text."""
    tables, _ = read_as_text(open_season(season))
    return tables["hauls"].frame


def test_several_files_by_a_pattern_are_one_table(tmp_path: Path) -> None:
    write_hauls(tmp_path, "logs/a.csv", ["1", "2"])
    write_hauls(tmp_path, "logs/b.csv", ["3"], ground="mud")
    (tmp_path / "season.toml").write_text('[hauls]\nfile = "logs/*.csv"\n', encoding="utf-8")
    hauls = read_hauls(tmp_path)
    assert hauls["source_file"].to_list() == ["a.csv", "a.csv", "b.csv"]
    assert hauls["source_row"].to_list() == [2, 3, 2]
    assert hauls["ground"].to_list() == [None, None, "mud"]
    assert hauls["row"].to_list() == [0, 1, 2]


def test_a_pattern_may_begin_at_the_root(tmp_path: Path) -> None:
    write_hauls(tmp_path, "logs/a.csv", ["1", "2"])
    settings = f'[hauls]\nfile = "{tmp_path.as_posix()}/logs/*.csv"\n'
    (tmp_path / "season.toml").write_text(settings, encoding="utf-8")
    assert read_hauls(tmp_path).height == 2


def test_files_of_one_name_in_two_folders_are_told_apart(tmp_path: Path) -> None:
    write_hauls(tmp_path, "skua/log.csv", ["1"])
    write_hauls(tmp_path, "tern/log.csv", ["2"])
    (tmp_path / "season.toml").write_text('[hauls]\nfile = "*/log.csv"\n', encoding="utf-8")
    hauls = read_hauls(tmp_path)
    assert hauls.select(SOURCE).is_unique().all()


def test_lines_above_the_header_are_skipped_and_still_counted(tmp_path: Path) -> None:
    season = valid_season()
    hauls = csv_bytes(season.tables["hauls"])
    season.files["hauls.csv"] = b"Deck log of the year\n\n" + hauls.replace(b",4,rub", b",-4,rub")
    season.settings = "[hauls.read]\nskip_lines = 2\n"
    _, checked = check_season(season.write_csv(tmp_path / "season"))
    said = [sentence_of(row) for row in checked.set_aside.to_dicts() if row["table"] == "hauls"]
    assert [sentence.split(":")[0] for sentence in said] == [
        "hauls.csv, row 6, tow_hours",
        "hauls.csv, row 10, tow_hours",
    ]


def test_blank_lines_are_no_rows_but_are_counted(tmp_path: Path) -> None:
    (tmp_path / "hauls.csv").write_text(
        "trip,tow_hours,rig_version\n1,3,a\n\n,,\n2,4,a\n", encoding="utf-8"
    )
    hauls = read_hauls(tmp_path)
    assert hauls["source_row"].to_list() == [2, 5]


@pytest.mark.parametrize("ends", ["\n", "\r\n", "\r"], ids=["line feed", "both", "return"])
def test_line_ends_of_any_machine_are_read(ends: str, tmp_path: Path) -> None:
    season = valid_season()
    hauls = csv_bytes(season.tables["hauls"]).replace(b"\n", ends.encode())
    season.files["hauls.csv"] = hauls
    _, checked = check_season(season.write_csv(tmp_path / "season"))
    assert checked.counts["hauls"] == {"read": 10, "used": 10, "set_aside": 0}


def note_in_row(row: int, checked: CheckedSeason) -> str | None:
    """The note of the haul in this row of its file."""
    (note,) = checked.tables["hauls"].filter(source_row=row)["damage_note"]
    return note


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_an_encoding_that_is_named_is_read(encoding: str, tmp_path: Path) -> None:
    season = valid_season()
    season.set_cell("hauls", 8, "damage_note", "près du récif, ½ heure")
    season.files["hauls.csv"] = csv_bytes(season.tables["hauls"]).decode().encode(encoding)
    if encoding not in {"utf-8", "utf-8-sig"}:
        season.settings = f'[hauls.read]\nencoding = "{encoding}"\n'
    _, checked = check_season(season.write_csv(tmp_path / "season"))
    assert note_in_row(8, checked) == "près du récif, ½ heure"


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
def test_the_separator_is_seen_from_the_header(separator: str, tmp_path: Path) -> None:
    season = valid_season()
    season.set_cell("hauls", 8, "damage_note", "net ok, and; well | so")
    season.files["hauls.csv"] = csv_bytes(season.tables["hauls"], separator)
    _, checked = check_season(season.write_csv(tmp_path / "season"))
    assert note_in_row(8, checked) == "net ok, and; well | so"


def test_a_packed_file_is_read(tmp_path: Path) -> None:
    season = valid_season()
    season.files["hauls.csv.gz"] = gzip.compress(csv_bytes(season.tables.pop("hauls")))
    _, checked = check_season(season.write_csv(tmp_path / "season"))
    assert checked.counts["hauls"]["used"] == 10


def test_a_note_over_two_lines_is_one_cell(tmp_path: Path) -> None:
    season = valid_season()
    season.set_cell("hauls", 8, "damage_note", "net ok\nbelly looked at")
    _, checked = check_season(season.write_csv(tmp_path / "season"))
    assert note_in_row(8, checked) == "net ok\nbelly looked at"
    assert checked.counts["hauls"]["used"] == 10


def test_headers_are_known_whatever_their_capitals_and_blanks_are(tmp_path: Path) -> None:
    plain, season = valid_season(), valid_season()
    for rows in season.tables.values():
        rows[0] = [f" {header.upper().replace('_', ' ')} " for header in rows[0]]
    _, as_ours = check_season(plain.write_csv(tmp_path / "plain"))
    _, checked = check_season(season.write_csv(tmp_path / "season"))
    assert checked.remarks.is_empty()
    for name, table in as_ours.tables.items():
        assert_frame_equal(checked.tables[name], table)


def test_a_header_that_the_mapping_asks_for_is_no_other_column(tmp_path: Path) -> None:
    (tmp_path / "hauls.csv").write_text("tow_hours,rig_version,Ground\n3,a,net ok\n")
    (tmp_path / "season.toml").write_text('[hauls.columns]\ndamage_note = "Ground"\n')
    hauls = read_hauls(tmp_path)
    assert hauls["damage_note"].to_list() == ["net ok"]
    assert "ground" not in hauls.columns


TORN = 'Skua,1,1,3,a,\nSkua,1,2,3,a,"port wing torn\nSkua,1,3,3,a,\n\nSkua,1,4,3,a,belly torn"\n'
WITHIN = 'Skua,1,1,a,,3\nSkua,1,2,a,"wing torn,3\nSkua,1,3,a,belly torn",3\nSkua,1,4,a,,3\n'


@pytest.mark.parametrize(
    ("headers", "rows"),
    [
        ("vessel,trip,haul,tow_hours,rig_version,damage_note", TORN),
        ("vessel,trip,haul,rig_version,damage_note,tow_hours", WITHIN),
    ],
    ids=["the last column", "a column within"],
)
def test_a_quotation_mark_left_open_takes_no_other_haul_along(
    headers: str, rows: str, tmp_path: Path
) -> None:
    (tmp_path / "hauls.csv").write_text(f"{headers}\n{rows}")
    _, checked = check_season(tmp_path)
    assert [sentence_of(row) for row in checked.set_aside.to_dicts()] == [
        "hauls.csv, row 3: the cell under damage_note begins with a quotation mark and does not "
        "end with one; put one at its end, or take it out."
    ]
    assert checked.tables["hauls"]["haul"].to_list() == ["1", "3", "4"]


def test_a_long_note_over_lines_is_no_row(tmp_path: Path) -> None:
    note = '"wing, belly, square,\ncodend, headline, sweeps, selvedge torn, all mended by noon"'
    hauls = f"trip,haul,tow_hours,rig_version,damage_note\n1,1,3,a,{note}\n1,2,3,a,\n"
    (tmp_path / "hauls.csv").write_text(hauls)
    _, checked = check_season(tmp_path)
    assert checked.set_aside.is_empty()
    assert checked.tables["hauls"]["damage_note"].to_list() == [note.strip('"'), None]


def test_a_blank_line_is_no_row_where_a_quotation_mark_is_left_open(tmp_path: Path) -> None:
    hauls = 'trip,haul,tow_hours,rig_version,damage_note\n1,1,3,a,"ok\n\n1,2,3,a,\n'
    (tmp_path / "hauls.csv").write_text(hauls)
    _, checked = check_season(tmp_path)
    assert checked.counts["hauls"] == {"read": 2, "used": 1, "set_aside": 1}


def test_a_separator_behind_every_row_is_nothing(tmp_path: Path) -> None:
    hauls = "trip,haul,tow_hours,rig_version\n1,1,3,a,\n1,2,3,a, \n1,3,3,a,,x\n"
    (tmp_path / "hauls.csv").write_text(hauls)
    _, checked = check_season(tmp_path)
    assert checked.tables["hauls"]["source_row"].to_list() == [2, 3]
    assert checked.set_aside["source_row"].to_list() == [4]


@pytest.mark.parametrize("line", ["sep=;", '"sep=;"', "SEP=;"])
def test_a_line_that_says_the_separator_is_no_header_but_is_counted(
    line: str, tmp_path: Path
) -> None:
    (tmp_path / "hauls.csv").write_text(f"{line}\n\nhaul;tow_hours;rig_version\n1;3;a,b,c,d\n")
    hauls = read_hauls(tmp_path)
    assert hauls["source_row"].to_list() == [4]
    assert hauls["rig_version"].to_list() == ["a,b,c,d"]


def test_an_empty_file_among_others_is_told_of(tmp_path: Path) -> None:
    write_hauls(tmp_path, "logs/a.csv", ["1", "2"])
    (tmp_path / "logs/b.csv").write_text("")
    (tmp_path / "season.toml").write_text('[hauls]\nfile = "logs/*.csv"\n', encoding="utf-8")
    _, checked = check_season(tmp_path)
    assert checked.counts["hauls"]["used"] == 2
    assert [sentence_of(row) for row in checked.remarks.to_dicts()] == [
        "b.csv, row 1: the table hauls has no header and no row, so the season is read as if it "
        "were not there."
    ]
