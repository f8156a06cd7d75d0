"""Which hauls the rows of a damage review are of, in a log without haul numbers.

There a haul is called by its row, and a row put into the log, or a log sorted anew, gives that name
to another haul. So the note says which haul a review is of:

- While all reviews of a boat and trip name hauls that have their notes, they stay where they are.
- Else those of one note are of the hauls of their boat and trip that have it, if there are as many
  of these as of them, and it does not matter which is whose: as they all stand at such hauls still,
  or all say the same.
- Of the rest nobody knows whose they are, and none of them counts.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import polars as pl

from pipeline.reviews import READ, plain_note
from pipeline.rows import filled_in, refusal
from schemas.hauls import HAUL_KEY
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.rows import ValueTable

NO_NOTE = saying(
    "is blank, and the log has no haul numbers, so nothing tells which haul the row is of once "
    "rows have moved; write the note here as the log has it, or give the log haul numbers"
)
OF_NO_HAUL = saying(
    "is the note of no haul of this boat and trip now, and the log has no haul numbers to know it "
    "by, so the row does not count; write the note here as the log has it"
)
OF_SEVERAL = saying(
    "is the note in {} rows here and of {} hauls that they could be of, and rows of the log have "
    "moved, so nobody can tell which is whose, and none counts; write in each, under haul, the row "
    "that it is of now, or take it out"
)
REASONS = (OF_SEVERAL,)


def at_their_hauls(reviews: ValueTable, hauls: ValueTable) -> ValueTable:
    """The reviews of a log without haul numbers, each under the haul that has its note now.

    With a refusal for each of which that is not known.
    """
    noted = pl.col("damage_note").is_not_null()
    of_note = reviews.frame.filter(noted).with_columns(plain_note("damage_note").alias("note"))
    logged = hauls.frame.filter(noted).select(*HAUL_KEY, plain_note("damage_note").alias("note"))
    found = _with_hauls_now(of_note, logged, _within(reviews, hauls))
    unknown = found.filter(~pl.col("known"))
    none = pl.col("hauls_alike").is_null()
    several = filled_in(OF_SEVERAL, "rows_alike", "hauls_alike")
    refused = [
        refusal(reviews.frame.filter(~noted), "damage_note", NO_NOTE),
        refusal(unknown.filter(none), "damage_note", OF_NO_HAUL),
        refusal(unknown.filter(~none), "damage_note", several),
    ]
    moved = pl.col("known") & ~pl.col("in_place")
    at_hauls = found.with_columns(
        pl.when(moved).then(f"{name}_now").otherwise(name).alias(name) for name in HAUL_KEY
    )
    frame = pl.concat([reviews.frame.filter(~noted), at_hauls.select(reviews.frame.columns)]).sort(
        "row"
    )
    return replace(reviews, frame=frame, refusals=pl.concat([reviews.refusals, *refused]))


def _within(reviews: ValueTable, hauls: ValueTable) -> list[str]:
    """Within what a note is looked for: the trip, where it was not made of the row as well."""
    by_row = {"trip", "shot_at"}.isdisjoint(hauls.found)
    return ["vessel"] if by_row or "trip" not in reviews.found else ["vessel", "trip"]


def _with_hauls_now(reviews: pl.DataFrame, logged: pl.DataFrame, within: list[str]) -> pl.DataFrame:
    """The reviews with the haul that each is of, `…_now`, and whether that is `known`.

    `in_place` is whether all reviews of one note name hauls that have it.
    """
    alike = [*within, "note"]
    nth = pl.int_range(pl.len()).over(alike).alias("nth")
    there = logged.select(*HAUL_KEY, pl.col("note").alias("note_there"))
    now = logged.select(
        *alike,
        nth,
        pl.len().over(alike).alias("hauls_alike"),
        pl.col(HAUL_KEY).name.suffix("_now"),
    )
    has_its_note = (pl.col("note") == pl.col("note_there")).fill_null(value=False)
    as_many = pl.col("rows_alike") == pl.col("hauls_alike")
    return (
        reviews.join(there, on=HAUL_KEY, how="left", maintain_order="left")
        .with_columns(
            nth,
            pl.len().over(alike).alias("rows_alike"),
            has_its_note.all().over(alike).alias("in_place"),
            has_its_note.all().over(within).alias("none_moved"),
            (pl.struct(READ).n_unique().over(alike) == 1).alias("say_the_same"),
        )
        .join(now.drop("hauls_alike"), on=[*alike, "nth"], how="left")
        .join(now.select(*alike, "hauls_alike").unique(), on=alike, how="left")
        .with_columns(
            known=pl.col("none_moved")
            | (as_many & (pl.col("in_place") | pl.col("say_the_same"))).fill_null(value=False)
        )
    )
