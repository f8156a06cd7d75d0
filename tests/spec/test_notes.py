"""The reading of a damage note says what `notes.md` says."""

from __future__ import annotations

from pathlib import Path

import polars as pl
import pytest

from pipeline.notes.read_notes import read_notes
from synthetic_data import invent_season
from tests.spec.text_tables import rows_of

HERE = Path(__file__).parent


def notes() -> list[list[str]]:
    sections = (HERE / "notes.md").read_text(encoding="utf-8").split("\n## ")[1:]
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
