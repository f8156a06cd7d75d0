"""What the damage notes of a season say, each distinct note read once."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.notes.cells import COLUMNS
from pipeline.notes.many import NoteReader
from pipeline.notes.silent import says_nothing_of_the_net

if TYPE_CHECKING:
    from pipeline.notes.lexicon import Lexicon

NUMBERS = {
    "mending_hours": pl.Float64(),
    "hands": pl.Int64(),
    "hours_lost": pl.Float64(),
}

READING_SCHEMA: dict[str, pl.DataType] = {name: NUMBERS.get(name, pl.String()) for name in COLUMNS}


def read_notes(notes: pl.DataFrame, lexicon: Lexicon | None = None) -> pl.DataFrame:
    """What each note says: `row`, the columns of `READING_SCHEMA`, and `silent`.

    `notes` has `row` and `damage_note`. What is not told is null, and how sure then likewise, but
    for `damaged`. Mending hours are given only where there was damage. A note is `silent` where it
    is written, damage is not told, and no word of it is of the net; a blank one is not.
    """
    distinct = notes["damage_note"].drop_nulls().unique(maintain_order=True).to_list()
    with NoteReader(lexicon) as reader:
        cells = [(note, *read) for note, read in zip(distinct, reader.read(distinct), strict=True)]
    read = pl.DataFrame(cells, {"damage_note": pl.String(), **READING_SCHEMA}, orient="row")
    untold = read.filter(pl.col("damaged").is_null())["damage_note"].to_list()
    silent = [note for note in untold if says_nothing_of_the_net(note, lexicon)]
    read = read.with_columns(pl.col("damage_note").is_in(silent).alias("silent"))
    return notes.join(read, on="damage_note", how="left", maintain_order="left").select(
        "row", *READING_SCHEMA, pl.col("silent").fill_null(value=False)
    )
