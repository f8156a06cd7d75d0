"""What the damage notes of a season say, each distinct note read once."""

from __future__ import annotations

import polars as pl

from pipeline.notes.reading import read_note

READ = {"damage_note": pl.String, "damaged": pl.String, "mending_hours": pl.Float64}


def read_notes(notes: pl.DataFrame) -> pl.DataFrame:
    """What each note says: `row`, `damaged` (yes, no, or null for not told), `mending_hours`.

    `notes` has `row` and `damage_note`. Mending hours are given only where there was damage.
    """
    distinct = notes["damage_note"].drop_nulls().unique().to_list()
    readings = [
        (note, reading.damaged, reading.mending_hours)
        for note, reading in zip(distinct, map(read_note, distinct), strict=True)
    ]
    read = pl.DataFrame(readings, schema=READ, orient="row")
    return notes.join(read, on="damage_note", how="left", maintain_order="left").select(
        "row", "damaged", "mending_hours"
    )
