"""The reading of a damage note says what `notes.md` says."""

from __future__ import annotations

import polars as pl
import pytest

from pipeline.notes.read_notes import read_notes
from pipeline.notes.reading import read_note
from synthetic_data import invent_season
from tests.spec.text_tables import page_text, rows_of


def notes() -> list[list[str]]:
    sections = page_text("notes.md").split("\n## ")[1:]
    return [row for section in sections for row in rows_of(section)[1]]


def read(note: str | None) -> tuple[str, float | None]:
    schema = {"row": pl.Int64, "damage_note": pl.String}
    (reading,) = read_notes(pl.DataFrame([(7, note)], schema=schema, orient="row")).to_dicts()
    assert reading["row"] == 7
    return reading["damaged"] or "unsure", reading["mending_hours"]


@pytest.mark.parametrize(("note", "damage", "hours"), notes(), ids=lambda part: part)
def test_the_note_says(note: str, damage: str, hours: str) -> None:
    assert read(note) == (damage, float(hours) if hours else None)


@pytest.mark.parametrize("note", [row[0] for row in notes()])
def test_capitals_and_blanks_around_a_note_make_no_difference(note: str) -> None:
    assert read(f"  {note.upper()} ") == read(note) == read(note.lower())


def test_no_note_says_nothing() -> None:
    assert read(None) == ("unsure", None)


def test_an_empty_table_of_notes_is_read() -> None:
    empty = pl.DataFrame(schema={"row": pl.Int64, "damage_note": pl.String})
    assert read_notes(empty).is_empty()


def test_no_invented_note_is_read_as_its_opposite_or_with_other_hours() -> None:
    known = invent_season(8, 3000, 11, spoilt=False).known_hauls.with_row_index("row")
    known = known.with_columns(pl.col("note").replace("", None).alias("damage_note"))
    read_as = read_notes(known.select("row", "damage_note"))
    told = known.join(read_as.select("row", said="damaged", hours="mending_hours"), on="row")
    assert told.filter((pl.col("said") == "yes") & ~pl.col("damaged"))["note"].to_list() == []
    assert told.filter((pl.col("said") == "no") & pl.col("damaged"))["note"].to_list() == []
    apart = (pl.col("hours") - pl.col("mending_hours")).abs() > 0.05
    assert told.filter(apart)["note"].to_list() == []


@pytest.mark.parametrize(
    ("note", "mending"),
    [
        ("belly torn, two and a hauf oors shewin", 2.5),
        ("belly torn, two days mending", 48),
        ("belly torn, all hands 6pm to midnight", 6),
        ("belly torn, mended fae ten at nicht tae fower i the mornin", 6),
        ("belly torn. It took us until a quarter to nine to mend it, starting at half five", 3.25),
        ("came fast 0315, hauled 0350, belly torn, started mending 0400, done 0700", 3),
        ("0340 fast. 0610 net on deck, belly torn. Mended by 0930. 1000 shot", 3.3333),
        ("belly torn. 5 hrs lost, 4 of them with needles", 4),
        ("belly torn, 2 hrs mending + 1 hr asleep on the heap", 2),
        ("0715-0900 mend. 0930-1115 mend.", 3.5),
        ("drew the wing through the block, a right mess of it, 3hr", 3),
    ],
)
def test_hours_of_mending_by_the_clock_and_beside_other_times(note: str, mending: float) -> None:
    assert read(note) == ("yes", mending)


@pytest.mark.parametrize(
    ("note", "lost"),
    [
        ("vessel time lost 7 h, of which 3 h transit and 1.5 h waiting, gear torn", 7.0),
        ("lost 2 hrs steaming back to harbour, another 2 hrs steaming out, belly torn", 4.0),
        ("belly torn, stopped 2 h, lost 2 h", 2.0),
        ("belly torn, steamed 3 hrs each way for twine", 6.0),
        ("belly torn, half a day lost", 12.0),
        ("belly torn, half the day lost, 5 hrs", 5.0),
        ("belly torn, 3 hrs mending, forty minutes' sleep", None),
    ],
)
def test_hours_lost_count_once_what_is_told_in_parts(note: str, lost: float | None) -> None:
    assert read_note(note).hours_lost.value == lost
