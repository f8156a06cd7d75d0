"""What the damage notes of a season say, each distinct note read once."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.notes.cells import COLUMNS
from pipeline.notes.many import NoteReader

if TYPE_CHECKING:
    from pipeline.notes.lexicon import Lexicon

NUMBERS = {
    "mending_hours": pl.Float64(),
    "hands": pl.Int64(),
    "hours_lost": pl.Float64(),
}

READING_SCHEMA: dict[str, pl.DataType] = {name: NUMBERS.get(name, pl.String()) for name in COLUMNS}


def read_notes(notes: pl.DataFrame, lexicon: Lexicon | None = None) -> pl.DataFrame:
    """What each note says: `row` and the columns of `READING_SCHEMA`.

    `notes` has `row` and `damage_note`. What is not told is null, and how sure then likewise, but
    for `damaged`. Mending hours are given only where there was damage.
    """
    distinct = notes["damage_note"].drop_nulls().unique(maintain_order=True).to_list()
    with NoteReader(lexicon) as reader:
        cells = [(note, *read) for note, read in zip(distinct, reader.read(distinct), strict=True)]
    read = pl.DataFrame(cells, {"damage_note": pl.String(), **READING_SCHEMA}, orient="row")
    return notes.join(read, on="damage_note", how="left", maintain_order="left").select(
        "row", *READING_SCHEMA
    )
