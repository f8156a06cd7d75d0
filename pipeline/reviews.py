"""The reviews of notes that count, and those whose note has changed in the log since."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.rows import table_or_empty
from schemas.tables import TABLES

if TYPE_CHECKING:
    from pipeline.rows import CheckedSeason

REVIEW = TABLES["damage_review"]
KEY = list(REVIEW.key)
READ = ["damaged", "parts", "side", "cause", "mending_hours", "hands", "hours_lost"]
"""What a note may tell, as it stands in a review."""


def named_reviews(season: CheckedSeason) -> pl.DataFrame:
    """The reviews that count: those with a name, or all of a table of one's own without names.

    The program's own file says what it read: without its column of names nobody has looked at it.
    """
    return pl.concat([named_reviews_of(each) for each in season.seasons], how="diagonal")


def named_reviews_of(season: CheckedSeason) -> pl.DataFrame:
    """The same of one season by itself."""
    reviews = table_or_empty(season, "damage_review")
    if {"who", "as_read"}.isdisjoint(season.found.get("damage_review", ())):
        return reviews
    return reviews.filter(pl.col("who").is_not_null())


def changed_notes(season: CheckedSeason) -> pl.DataFrame:
    """The named reviews of which the log has another note now, `note_now`.

    None where the review does not say which note was read, or the log has no notes.
    """
    return pl.concat([changed_notes_of(each) for each in season.seasons], how="diagonal")


def changed_notes_of(season: CheckedSeason) -> pl.DataFrame:
    """The same of one season by itself."""
    return with_note_now(season, named_reviews_of(season)).filter(pl.col("note_now").is_not_null())


def with_note_now(season: CheckedSeason, reviews: pl.DataFrame) -> pl.DataFrame:
    """Reviews of one season with `note_now`: what the log has, where that was not what was read."""
    logged = season.tables["hauls"].select(*KEY, pl.col("damage_note").alias("note_now"))
    has_notes = pl.lit("damage_note" in season.found["hauls"])
    changed = has_notes & pl.col("damage_note").is_not_null()
    changed &= plain_note("damage_note") != plain_note("note_now")
    now = pl.when(changed).then(pl.col("note_now").fill_null(NO_NOTE))
    return reviews.join(logged, on=KEY, how="left", maintain_order="left").with_columns(
        now.alias("note_now")
    )


NO_NOTE = "(blank)"
"""What stands for a note that the log has no more."""


def plain_note(note: str) -> pl.Expr:
    """The note without its spaces, and the quote by which a spreadsheet takes it for text."""
    spaced = pl.col(note).fill_null("").str.replace_all(r"\s+", " ")
    return spaced.str.strip_chars().str.strip_prefix("'")
