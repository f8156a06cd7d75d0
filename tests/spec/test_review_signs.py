"""A review of notes is written for the spreadsheet that the log was kept in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline import run_season
from tests.spec.run_here import run_here
from tests.spec.season_texts import csv_bytes
from tests.spec.test_note_command import noted_season, review_rows

if TYPE_CHECKING:
    from pathlib import Path


def test_a_review_has_the_signs_of_the_log_and_comes_back_from_its_spreadsheet(
    tmp_path: Path,
) -> None:
    season = noted_season()
    headers, *hauls = season.tables.pop("hauls")
    hauls = [[cell.replace(".", ",") for cell in row] for row in hauls]
    hauls[0][headers.index("damage_note")] = "belly torn, 3½ hrs mending, señal"
    season.files["hauls.csv"] = csv_bytes([headers, *hauls], ";").decode().encode("cp1252")
    season.settings = '[hauls.read]\ndecimal = ","\nencoding = "cp1252"\n'
    folder = season.write_csv(tmp_path / "season")
    place = folder / "damage_review.csv"
    assert run_here("note", "season", cwd=tmp_path).returncode == 0
    written = place.read_text(encoding="utf-8-sig")
    header, *rows = written.splitlines()
    torn = next(row for row in rows if "belly torn" in row)
    assert header.startswith("vessel;trip;haul;damage_note;")
    assert ";yes;belly;;;3,5;;;" in torn
    assert run_here("note", "season", cwd=tmp_path).returncode == 0
    assert place.read_text(encoding="utf-8-sig") == written

    named = torn.replace(";3,5;;;;;", ";4,5;;;Ada;1/4/31;")
    assert named != torn
    place.write_text(written.replace(torn, named), encoding="cp1252")
    assert run_season(folder).findings["notes"]["read_by_persons"] == {"Ada": 1}
    assert run_here("note", "season", cwd=tmp_path).returncode == 0
    assert named in place.read_text(encoding="utf-8-sig")


def test_a_review_that_a_spreadsheet_wrote_with_other_signs_keeps_them(tmp_path: Path) -> None:
    folder = noted_season().write_csv(tmp_path / "season")
    place = folder / "damage_review.csv"
    run_here("note", "season", cwd=tmp_path)
    rows = [list(row.values()) for row in review_rows(folder)]
    headers = list(review_rows(folder)[0])
    place.write_bytes(csv_bytes([headers, *rows], ";"))
    assert run_here("note", "season", cwd=tmp_path).returncode == 0
    assert place.read_text(encoding="utf-8-sig").startswith("vessel;trip;haul;")


def test_a_file_in_utf_8_beside_a_log_in_an_older_encoding_is_read_as_it_is(tmp_path: Path) -> None:
    season = noted_season()
    headers, *hauls = season.tables.pop("hauls")
    hauls[0][headers.index("damage_note")] = "señal de rotura"
    season.files["hauls.csv"] = csv_bytes([headers, *hauls]).decode().encode("cp1252")
    season.settings = '[hauls.read]\nencoding = "cp1252"\n'
    folder = season.write_csv(tmp_path / "season")
    run_here("note", "season", cwd=tmp_path)
    place = folder / "damage_review.csv"
    place.write_text(place.read_text(encoding="utf-8-sig"), encoding="utf-8")
    rows = review_rows(folder)
    assert run_here("note", "season", cwd=tmp_path).returncode == 0
    assert place.read_text(encoding="utf-8-sig").count("señal de rotura") == 1
    assert [row["damage_note"] for row in rows].count("señal de rotura") == 1
