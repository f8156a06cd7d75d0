"""A word on rows of a damage review: the note that was read has changed, or cells do not agree."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.reviews import changed_notes_of, named_reviews_of
from pipeline.rows import refusal
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.rows import CheckedSeason

NOTE_CHANGED = saying(
    "is not the note that the log has of this haul now; the row counts all the same. Read the new "
    "note, put the row right, and empty this cell"
)
DAMAGED_BLANK = saying(
    "is blank in a row with a name, so whether the net was damaged is not known, unless a column "
    "of the log says so; write yes, no or unknown"
)
NOT_OF_DAMAGE = saying(
    "stands in a row that does not say that the net was damaged, and is left out; if it was, write "
    "yes under damaged"
)

ONLY_OF_DAMAGE = ("mending_hours", "hours_lost", "hands", "parts", "side", "cause")
"""What a review says of damage alone, in the order of what it would change."""


def review_remarks(season: CheckedSeason) -> pl.DataFrame:
    """The remarks on the `damage_review` of one season: on rows that count, as they have a name."""
    named = named_reviews_of(season)
    asked = "damaged" in season.found["damage_review"]
    return pl.concat(
        [
            refusal(changed_notes_of(season), "damage_note", NOTE_CHANGED),
            refusal(named.filter(pl.col("damaged").is_null() & asked), "damaged", DAMAGED_BLANK),
            *_damage_where_none_is_said(named),
        ]
    )


def _damage_where_none_is_said(named: pl.DataFrame) -> list[pl.DataFrame]:
    """Of each row that says no or unknown, the first cell that tells of damage all the same."""
    found, rows = [], named.filter(pl.col("damaged").is_in(["no", "unknown"]))
    for column in ONLY_OF_DAMAGE:
        none = pl.col(column).is_null() | pl.col(column).cast(pl.String).is_in(["0", "0.0"])
        found.append(refusal(rows.filter(~none), column, NOT_OF_DAMAGE))
        rows = rows.filter(none)
    return found
