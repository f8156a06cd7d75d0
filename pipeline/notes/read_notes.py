"""What the damage notes of a season say, each distinct note read once."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.notes.many import NoteReader
from pipeline.notes.reading import FIELDS, Reading

if TYPE_CHECKING:
    from pipeline.notes.lexicon import Lexicon

JOINT = ";"
"""Between several parts, causes or words."""

NUMBERS = {"mending_hours": pl.Float64, "hands": pl.Int64, "hours_lost": pl.Float64}

READING_SCHEMA: dict[str, Any] = {
    name: kind
    for field in FIELDS
    for name, kind in {
        field: NUMBERS.get(field, pl.String),
        f"{field}_words": pl.String,
        f"{field}_sure": pl.String,
    }.items()
}
"""Each thing that a note may tell, the words it rests on, and how sure it is."""


def read_notes(notes: pl.DataFrame, lexicon: Lexicon | None = None) -> pl.DataFrame:
    """What each note says: `row` and the columns of `READING_SCHEMA`.

    `notes` has `row` and `damage_note`. What is not told is null, and how sure then likewise, but
    for `damaged`. Mending hours are given only where there was damage.
    """
    distinct = notes["damage_note"].drop_nulls().unique(maintain_order=True).to_list()
    with NoteReader(lexicon) as reader:
        readings = reader.read(distinct)
    cells = [
        {"damage_note": note, **cells_of(reading)}
        for note, reading in zip(distinct, readings, strict=True)
    ]
    read = pl.DataFrame(cells, schema={"damage_note": pl.String, **READING_SCHEMA})
    return notes.join(read, on="damage_note", how="left", maintain_order="left").select(
        "row", *READING_SCHEMA
    )


def cells_of(reading: Reading) -> dict[str, Any]:
    """The reading of a note as one row: names and words joined by a semicolon."""
    cells: dict[str, Any] = {}
    for field in FIELDS:
        told = getattr(reading, field)
        value = JOINT.join(told.value) if isinstance(told.value, tuple) else told.value
        nothing = value is None or value == ""
        cells[field] = None if nothing else value
        cells[f"{field}_words"] = JOINT.join(told.words) or None
        cells[f"{field}_sure"] = None if nothing and field != "damaged" else told.sure
    return cells
