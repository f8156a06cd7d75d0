"""What a person's row in damage_review does is what is written in `reviews.md`."""

from __future__ import annotations

import csv
from typing import TYPE_CHECKING

import pytest

from pipeline.begin_reading import read
from pipeline.clock import silent
from pipeline.good_rows import check_season
from pipeline.joining.database import Database
from pipeline.note_review import review_of
from pipeline.note_words import readings_of
from pipeline.run_season import find
from reports.check_summary import check_summary
from reports.notes_section import notes
from reports.review_file import told_of_review, write_review
from schemas.settings import Reading
from tests.spec.text_tables import cases_of, page_text

if TYPE_CHECKING:
    from pathlib import Path

Case = dict[str, str]
CASES = cases_of(page_text("reviews.md"))
CHANGED = next(case for case in CASES if case["the case"] == "the note was changed since")

SETTINGS = "[costs]\nmending_hour = 10\n"
HAUL = ("vessel", "trip", "haul", "rig_version", "ground", "tow_hours")
OF_LOG = ("damage_note", "damaged", "mending_hours")
OF_REVIEW = ("damage_note", "damaged", "parts", "mending_hours", "hands")


def season_of(case: Case, folder: Path) -> Path:
    """The haul of the case, and one beside it that nobody reviewed."""
    logged = [case["log: note"], case["log: damaged"], case["log: mending_hours"]]
    _write(
        folder / "hauls.csv",
        [*HAUL, *OF_LOG],
        ["Skua", "1", "1", "a", "sand", "3", *logged],
        ["Skua", "1", "2", "a", "sand", "3", "wing torn, 1 hr", "", ""],
    )
    _write(
        folder / "damage_review.csv",
        ["vessel", "trip", "haul", *OF_REVIEW, "who"],
        ["Skua", "1", "1", *(case[name] for name in OF_REVIEW), "Ada"],
    )
    (folder / "season.toml").write_text(SETTINGS, encoding="utf-8")
    return folder


def _write(file: Path, *rows: list[str]) -> None:
    with file.open("w", encoding="utf-8", newline="") as opened:
        csv.writer(opened).writerows(rows)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["the case"])
def test_a_review_does_what_is_written(case: Case, tmp_path: Path) -> None:
    with Database() as database:
        find(read(season_of(case, tmp_path), silent), database)
        told = database.get("haul_damage").sort("row").row(0, named=True)
    for name, column in (
        ("events", "damage_events"),
        ("hours", "mending_hours"),
        ("cost", "mending_cost"),
    ):
        assert told[column] == (float(case[name]) if case[name] else None), column
    assert (told["parts"] or "") == case["parts then"]
    assert (told["damage_told_by"], told["read_by"]) == (case["told by"], "Ada")
    assert told["damage_note"] == case["note then"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["the case"])
def test_what_does_not_agree_is_remarked_on_once(case: Case, tmp_path: Path) -> None:
    _, checked = check_season(season_of(case, tmp_path))
    told = [(row["table"], row["column"]) for row in checked.remarks.iter_rows(named=True)]
    on = case["remark on"]
    assert told == ([("damage_review", on)] if on else [])


def test_a_note_that_changed_stands_first_and_is_kept_until_it_was_read(tmp_path: Path) -> None:
    season_of(CHANGED, tmp_path)
    for _ in range(2):  # what was read is not forgotten the second time
        folder, checked = check_season(tmp_path)
        review = review_of(checked, readings_of(folder, checked))
        write_review(review, tmp_path / "damage_review.csv", Reading())
        first = review.table.row(0, named=True)
        assert (first["damage_note"], first["note_now"]) == (CHANGED["damage_note"], "net clear")
    said = told_of_review(review, tmp_path)
    assert "1 that a person read has another note in the log now" in said
    assert "Skua, trip 1, haul 1: 'belly torn, 3 hrs, 2 men', now 'net clear'" in said


def test_the_page_and_check_name_a_note_that_changed(tmp_path: Path) -> None:
    folder, checked = check_season(season_of(CHANGED, tmp_path))
    said = check_summary(checked, readings_of(folder, checked), folder.settings)
    told = "damage_review.csv, row 2, damage_note: 'belly torn, 3 hrs, 2 men' is not the note"
    assert told in said
    with Database() as database:
        findings = find(read(tmp_path, silent), database).findings
    words = " ".join(notes(findings).paragraphs)
    assert "1 note has been changed in the log since a person read it" in words
    assert "Skua, trip 1, haul 1 (damage_review, row 2)" in words


def test_check_tells_how_many_rows_of_a_review_count(tmp_path: Path) -> None:
    season_of(CHANGED, tmp_path)
    with (tmp_path / "damage_review.csv").open("a", encoding="utf-8") as review:
        review.write('Skua,1,2,"wing torn, 1 hr",yes,wing,1,,\n')
    folder, checked = check_season(tmp_path)
    said = check_summary(checked, readings_of(folder, checked), folder.settings)
    assert "Of the rows of damage_review 1 has a name in who, and counts;" in said


def test_a_note_read_as_not_known_stands_before_the_sure_ones(tmp_path: Path) -> None:
    season_of(CHANGED, tmp_path)
    (tmp_path / "damage_review.csv").unlink()
    with (tmp_path / "hauls.csv").open("a", encoding="utf-8") as log:
        log.write("Skua,1,3,a,sand,3,belly torn? will look,,\n")
    folder, checked = check_season(tmp_path)
    table = review_of(checked, readings_of(folder, checked)).table
    assert table["damaged"].to_list() == ["unknown", "no", "yes"]
    assert table["how_sure"].to_list()[0] == "sure"
