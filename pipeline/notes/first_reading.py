"""A first, careful reading of a damage note: damage, no damage, or not sure.

Not sure is the answer whenever the words pull both ways; such a haul counts for nothing that
concerns damage, and the report says how many there were.
"""

from __future__ import annotations

import polars as pl

NOTHING = (
    r"^\W*$|^\W*(nil|none|no|ok|okay|o\.?k|clean|clear|fine|good|nothing|no damage|"
    r"n/?a|"
    r"(net|gear|all)\s+(is |was |came )?(up |in )?"
    r"(ok|okay|clean|clear|fine|good|well|sound|intact))"
    r"\W*$"
)
"""A note that says nothing happened, and nothing else."""

HARM = (
    r"\b(torn|tore|tears?|ripp?ed|rips?|burst|bust|holed?|holes|parted|split|slit|shredded|"
    r"chafed (thro|through|thru)|out of her|in ribbons|in bits|carried away|lost the (net|lot))\b"
)
"""Words of harm to the net."""

NO_HARM = (
    r"\b(no|not|nothing|never|without|nae|any)\s+(\w+\s+)?"
    r"(torn|tore|tears?|ripp?ed|rips?|burst|holed?|holes|parted|split|damage[d]?|harm|mending)\b"
    r"|\b(got|came|come|pulled) (off|up|clear|free|away) ?(clean|clear|free|ok|intact)?\b"
)
"""Harm denied, and near misses."""

ELSEWHERE = (
    r"\b(old|yesterday|yesterday's|last (trip|haul|week|night)|previous|earlier|his|their|"
    r"another boat|other boat|rip (tide|current)|tide rip)\b"
)
"""Harm of another day, of another boat's net, or none of a net at all."""

DURATION = r"(\d+(?:[.,]\d+)?)\s*(hours?|hrs?|h|minutes?|mins?)\b"
"""A stretch of time: a number and its unit."""

LOST_TIME = r"\b(lost|late|wasted|down)\b"


def read_notes(notes: pl.DataFrame) -> pl.DataFrame:
    """What each note says: `row`, `damaged` (yes, no, or null for not sure), `mending_hours`.

    `notes` has `row` and `damage_note`. Mending hours are read where there was damage and the
    note holds one duration only.
    """
    note = pl.col("damage_note").str.to_lowercase().str.strip_chars()
    harm = note.str.replace_all(NO_HARM, " ").str.contains(HARM)
    denied = note.str.contains(NO_HARM)
    elsewhere = note.str.contains(ELSEWHERE)
    damaged = (
        pl.when(note.str.contains(NOTHING))
        .then(pl.lit("no"))
        .when(elsewhere)
        .then(None)
        .when(harm & ~denied)
        .then(pl.lit("yes"))
        .when(denied & ~harm)
        .then(pl.lit("no"))
    )
    one_duration = (note.str.count_matches(DURATION) == 1) & ~note.str.contains(LOST_TIME)
    return notes.select(
        "row",
        damaged.alias("damaged"),
        pl.when((damaged == "yes") & one_duration).then(_hours(note)).alias("mending_hours"),
    )


def _hours(note: pl.Expr) -> pl.Expr:
    duration = note.str.extract_groups(DURATION)
    size = duration.struct[0].str.replace(",", ".").cast(pl.Float64, strict=False)
    return pl.when(duration.struct[1].str.starts_with("m")).then(size / 60).otherwise(size)
