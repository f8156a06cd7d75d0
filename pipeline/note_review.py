"""The table in which a person reads damage notes over: `damage_review`, least sure first.

A row counts once it has a name in `who`. What the program read stands in `as_read`, so that a row
in which somebody changed something is never written over, with or without a name. Such a row keeps
the note that was read, and has in `note_now` what the log says since, where that is another.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import polars as pl

from pipeline.reviews import KEY, READ, with_note_now
from pipeline.rows import table_or_empty
from schemas.words import NOT_NAMED

if TYPE_CHECKING:
    from pipeline.rows import CheckedSeason

OF_READING = ["rests_on", "how_sure", "the_record_says"]
HELPS = ["note_now", *OF_READING]
"""Columns for the person alone, which the program does not read back."""
COLUMNS = [*KEY, "damage_note", "note_now", *READ, "who", "reviewed_on", *OF_READING, "as_read"]

NOTE_CHANGED, NAME_WANTED, GAINSAID = -3, -2, -1
SURE = {"guess": 0, "likely": 1, "sure": 2}
NOT_TOLD = SURE["guess"]
READ_BY_A_PERSON = len(SURE)
"""In which order the notes stand in the review: first those that a person can help most."""


@dataclass(frozen=True)
class Review:
    """The review table with `COLUMNS`, and what is to be said of it.

    `note_changed` has the rows that count though the log has another note now.
    """

    table: pl.DataFrame
    hauls_of_rows: pl.DataFrame
    """Of each row of the present review the haul that it is of, by its `source_row`."""
    named: int
    changed_without_name: int
    note_changed: pl.DataFrame
    by_sure: dict[str, int]
    not_told: int


def review_of(season: CheckedSeason, readings: pl.DataFrame) -> Review:
    """Every note of the season with its reading, least sure first; a person's rows stay, last.

    Before all go those that count though their note has changed since, then those that were changed
    and have no name: they do not count until they have one.

    `readings` are those of `read_notes`, by the `row` of the haul.
    """
    fresh = _fresh(season.tables["hauls"], readings)
    own = _of_a_person(season)
    rest = fresh.join(own, on=KEY, how="anti")
    kept = _kept(season, own, fresh)
    table = pl.concat([rest, kept.select(rest.columns)], how="vertical_relaxed")
    told = rest.filter(pl.col("damaged") != "unknown")
    counts = dict(told["how_sure"].value_counts().iter_rows())
    return Review(
        table.sort("order", "at", maintain_order=True).select(COLUMNS),
        hauls_of_rows=table_or_empty(season, "damage_review").select("source_row", *KEY),
        named=own["who"].count(),
        changed_without_name=own["who"].null_count(),
        note_changed=kept.filter(pl.col("order") == NOTE_CHANGED),
        by_sure={level: counts.get(level, 0) for level in reversed(SURE)},
        not_told=rest.height - told.height,
    )


def changed_without_name(season: CheckedSeason) -> int:
    """How many rows of the present review were changed and do not count, as they have no name."""
    return int(_of_a_person(season)["who"].null_count())


def _fresh(hauls: pl.DataFrame, readings: pl.DataFrame) -> pl.DataFrame:
    """The notes as the program reads them now; first those that the record gainsays."""
    noted = hauls.filter(pl.col("damage_note").is_not_null()).join(
        readings, on="row", suffix="_read"
    )
    read = noted.select(
        *KEY,
        "damage_note",
        pl.lit(None, pl.String).alias("note_now"),
        pl.coalesce("damaged_read", pl.lit("unknown")).alias("damaged"),
        *("parts", "side", "cause", "mending_hours_read", "hands_read", "hours_lost_read"),
        _rests_on().alias("rests_on"),
        pl.col("damaged_sure").alias("how_sure"),
        pl.when(pl.col("damaged").is_not_null())
        .then(pl.when("damaged").then(pl.lit("damaged")).otherwise(pl.lit("not damaged")))
        .alias("the_record_says"),
        pl.lit(None, pl.String).alias("who"),
        pl.lit(None, pl.String).alias("reviewed_on"),
        pl.col("row").alias("at"),
    ).rename({f"{name}_read": name for name in ("mending_hours", "hands", "hours_lost")})
    says, read_as = pl.col("the_record_says"), pl.col("damaged")
    gainsaid = ((says == "damaged") & (read_as == "no")) | (
        (says == "not damaged") & (read_as == "yes")
    )
    order = (
        pl.when(gainsaid)
        .then(GAINSAID)
        .when(read_as == "unknown")
        .then(NOT_TOLD)
        .otherwise(pl.col("how_sure").replace_strict(SURE))
    )
    return read.with_columns(order.cast(pl.Int64).alias("order"), _as_read().alias("as_read"))


def _kept(season: CheckedSeason, own: pl.DataFrame, fresh: pl.DataFrame) -> pl.DataFrame:
    """A person's rows, each with the note that was read and how the program reads the one now."""
    note = pl.coalesce("damage_note", "damage_note_now").alias("damage_note")
    helps = fresh.select(*KEY, pl.col("damage_note").alias("damage_note_now"), *OF_READING)
    named = pl.col("who").is_not_null()
    order = (
        pl.when(named & pl.col("note_now").is_not_null())
        .then(NOTE_CHANGED)
        .when(named)
        .then(READ_BY_A_PERSON)
        .otherwise(NAME_WANTED)
    )
    return (
        with_note_now(season, own)
        .join(helps, on=KEY, how="left", maintain_order="left")
        .with_columns(note, order.cast(pl.Int64).alias("order"))
    )


def _of_a_person(season: CheckedSeason) -> pl.DataFrame:
    """The rows of the present review that have a name, or in which something was changed."""
    present = table_or_empty(season, "damage_review")
    if "who" not in season.found.get("damage_review", ("who",)):
        present = present.with_columns(pl.lit(NOT_NAMED).alias("who"))
    changed = pl.col("as_read").is_null() | (pl.col("as_read") != _as_read())
    return present.filter(pl.col("who").is_not_null() | changed).with_columns(
        pl.col("row").alias("at")
    )


def _as_read() -> pl.Expr:
    """The reading in one cell, without a blank at its end that a spreadsheet might lose."""
    cells = [pl.col(name).cast(pl.String).fill_null("") for name in READ]
    return pl.concat_str(cells, separator="/")


def _rests_on() -> pl.Expr:
    """The words that each answer rests on: damaged: torn; parts: belly."""
    told = [
        pl.when(pl.col(f"{name}_words").is_not_null()).then(
            pl.concat_str(pl.lit(f"{name.replace('_', ' ')}: "), f"{name}_words")
        )
        for name in READ
    ]
    return pl.concat_list(told).list.drop_nulls().list.join(" | ")
