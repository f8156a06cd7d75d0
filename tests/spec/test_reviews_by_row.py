"""Whose review it is in a log without haul numbers is what is written in `reviews_by_row.md`."""

from __future__ import annotations

import csv
from typing import TYPE_CHECKING

import pytest

from pipeline.begin_reading import read
from pipeline.checking.check_season import sentence_of
from pipeline.clock import silent
from pipeline.good_rows import check_season
from pipeline.joining.database import Database
from pipeline.problems import SeasonUnusableError
from pipeline.run_season import find
from tests.spec.run_here import run_here
from tests.spec.test_note_command import review_rows, write_review
from tests.spec.text_tables import cases_of, page_text

if TYPE_CHECKING:
    from pathlib import Path

CASES = cases_of(page_text("reviews_by_row.md"))


def write(file: Path, *rows: list[str]) -> None:
    with file.open("w", encoding="utf-8", newline="") as opened:
        csv.writer(opened).writerows(rows)


def write_log(folder: Path, logged: str) -> None:
    """The log: of each haul its trip and its note."""
    hauls = [haul.strip().split(maxsplit=1) for haul in logged.split(";")]
    rows = [["Skua", trip, "a", "sand", "3", note] for trip, note in hauls]
    header = ["vessel", "trip", "rig_version", "ground", "tow_hours", "damage_note"]
    write(folder / "hauls.csv", header, *rows)


def season_of(case: dict[str, str], folder: Path) -> Path:
    write_log(folder, case["the log now"])
    reviews = []
    for row in case["the review"].split(";"):
        place, *words, damaged = row.split()
        note = " ".join(words).strip("-")
        reviews.append(["Skua", place[0], place[1:], note, damaged, "Ada"])
    header = ["vessel", "trip", "haul", "damage_note", "damaged", "who"]
    write(folder / "damage_review.csv", header, *reviews)
    return folder


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["the case"])
def test_a_review_counts_for_the_haul_that_has_its_note(
    case: dict[str, str], tmp_path: Path
) -> None:
    with Database() as database:
        find(read(season_of(case, tmp_path), silent), database)
        places = database.get("hauls").select("row", "source_row")
        hauls = database.get("haul_damage").join(places, on="row").sort("source_row")
    events = {"yes": 1, "no": 0, "unknown": None}
    told = hauls.select("damage_told_by", "damage_events").rows()
    for said, (told_by, happened) in zip(case["said of each"].split("; "), told, strict=True):
        assert (told_by == "a person") == (said != "-")
        assert said == "-" or happened == events[said]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["the case"])
def test_a_review_of_which_that_is_not_known_is_told_of(
    case: dict[str, str], tmp_path: Path
) -> None:
    _, season = check_season(season_of(case, tmp_path))
    told = [sentence_of(row) for row in season.set_aside.iter_rows(named=True)]
    assert len(told) == int(case["not known"])
    assert all(case["what is said"] in sentence for sentence in told)
    assert season.remarks.filter(table="damage_review").is_empty()


def test_what_was_written_by_hand_is_kept_at_its_haul(tmp_path: Path) -> None:
    folder = tmp_path / "season"
    folder.mkdir()
    write_log(folder, "A belly torn; A dogs; B wind NW")
    assert run_here("note", "season", cwd=tmp_path).returncode == 0
    rows = [{**row, "mine": f"mine of {row['damage_note']}"} for row in review_rows(folder)]
    torn = next(row for row in rows if row["damage_note"] == "belly torn")
    torn |= {"mending_hours": "7", "who": "Ada"}
    write_review(folder, rows)
    write_log(folder, "A net ok; A belly torn; A dogs; B wind NW")
    assert run_here("note", "season", cwd=tmp_path).returncode == 0
    after = {row["damage_note"]: row for row in review_rows(folder)}
    assert {note: row["haul"] for note, row in after.items()} == {
        "net ok": "2",
        "belly torn": "3",
        "dogs": "4",
        "wind NW": "5",
    }
    assert {row["mine"] for row in rows} | {""} == {row["mine"] for row in after.values()}
    assert all(row["mine"] in ("", f"mine of {note}") for note, row in after.items())
    assert (after["belly torn"]["mending_hours"], after["belly torn"]["who"]) == ("7.0", "Ada")


def test_nothing_is_written_while_a_row_of_a_person_is_of_no_haul(tmp_path: Path) -> None:
    folder = tmp_path / "season"
    folder.mkdir()
    case = next(case for case in CASES if case["the case"] == "the note was changed since")
    before = (season_of(case, folder) / "damage_review.csv").read_bytes()
    done = run_here("note", "season", cwd=tmp_path)
    assert done.returncode == SeasonUnusableError.exit_code
    assert "'belly torn' is the note of no haul of this boat and trip now" in done.stderr
    assert (folder / "damage_review.csv").read_bytes() == before
