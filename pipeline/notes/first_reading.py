"""A first, careful reading of a damage note: damage, no damage, or not sure.

Not sure is the answer whenever the words pull both ways; such a haul counts for nothing that
concerns damage, and the report says how many there were.
"""

from __future__ import annotations

import polars as pl

NOTHING = (
    r"^\W*$|^\W*(nil|none|no|ok|okay|o\.?k|clean|clear|fine|good|nothing|n/?a|"
    r"(no|nil|nothing) (damage|to mend|to report|torn)|"
    r"(net|gear|all)\s+(is |was |came )?(up |in )?"
    r"(ok|okay|clean|clear|fine|good|well|sound|intact|whole))\W*$"
)
"""A note that says nothing happened, and nothing else."""

NET_PART = (
    r"(cod-?\s?end|c/end|baitings?|wings?|belly|bellies|bunts?|bosom|square|quarter|lengthener|"
    r"headline)"
)

HARM = (
    r"\b(torn|tore|tears?|ripp?ed|rips?|rents?|burst|bust|holed?|holes|parted|split|slit|shredded|"
    r"chafed (right |clean )?(thro|through|thru)|broken meshes|out of her|in ribbons|in bits|"
    r"carried away|lost the (net|lot)|mended|patched|damaged)\b"
    rf"|\b({NET_PART} (is |was |all )?|meshes )gone\b|\blost (\w+ )?{NET_PART}"
)
"""Words of harm to the net."""

NO_HARM = (
    r"\b(no|nil|not|nothing|never|without|nae|any)\s+(\w+\s+)?(to\s+)?"
    r"(torn|tore|tears?|ripp?ed|rips?|rents?|burst|holed?|holes|parted|split|damaged?|harm|mend|"
    r"mending)\b"
    r"|\b(got|came|come|pulled|backed|hauled) (off|clear|free|away)\b( clean| clear| ok| intact)?"
    r"|\boff clean\b"
    r"|\bnet (is |was |came up |still )?(whole|sound|fine|intact|clean|ok)\b"
)
"""Harm denied, and near misses."""

ELSEWHERE = (
    r"\b(old|yesterday|yesterday's|last (trip|haul|week|night)|previous|earlier|his|their|"
    r"another boat|other boat|rip (tide|current)|tide rip)\b"
)
"""Harm of another day, of another boat's net, or none of a net at all."""

DOUBT = (
    r"\?|\b(maybe|perhaps|possibly|probably|might|not sure|unsure|think)\b"
    r"|\bnot (badly|only|just|much|too)\b"
)
"""The skipper's own doubt, and words that turn a denial round."""

FRACTIONS = {"½": "5", "1/2": "5", "¼": "25", "1/4": "25", "¾": "75", "3/4": "75"}

HOURS = r"\b(?:(\d{1,2}(?:[.,]\d+)?) ?(?:hours?|hrs?|h))(?: ?(\d{1,2}) ?(?:minutes?|mins?|m)?)?\b"
MINUTES = r"\b(\d{1,3}) ?(?:minutes?|mins?)\b"
"""A stretch of time: 2 hrs, 1.5 h, 1 h 15, 45 min."""

NOT_MENDING = (
    r"\b(late|wasted|down|lost (an? |half |\d|time)|(at|after|towed|tow of|for) \d)"
    r"|\d ?(-|–|to) ?\d"
)
"""Time lost, the time of day, the time towed, and ranges."""


def read_notes(notes: pl.DataFrame) -> pl.DataFrame:
    """What each note says: `row`, `damaged` (yes, no, or null for not sure), `mending_hours`.

    `notes` has `row` and `damage_note`. Mending hours are read where there was damage and the
    note holds one stretch of time that can only be mending.
    """
    note = _with_decimals(pl.col("damage_note").str.to_lowercase().str.strip_chars())
    harm = note.str.replace_all(NO_HARM, " ").str.contains(HARM)
    denied = note.str.contains(NO_HARM)
    unsure = note.str.contains(ELSEWHERE) | note.str.contains(DOUBT)
    damaged = (
        pl.when(note.str.contains(NOTHING))
        .then(pl.lit("no"))
        .when(unsure)
        .then(None)
        .when(harm & ~denied)
        .then(pl.lit("yes"))
        .when(denied & ~harm)
        .then(pl.lit("no"))
    )
    return notes.select(
        "row",
        damaged.alias("damaged"),
        pl.when((damaged == "yes") & ~note.str.contains(NOT_MENDING))
        .then(_hours(note))
        .alias("mending_hours"),
    )


def _with_decimals(note: pl.Expr) -> pl.Expr:
    """The note with 2½ as 2.5 and ½ as 0.5."""
    for sign, digits in FRACTIONS.items():
        note = note.str.replace_all(rf"(\d) ?{sign}", f"${{1}}.{digits}")
        note = note.str.replace_all(sign, f"0.{digits}", literal=True)
    return note


def _hours(note: pl.Expr) -> pl.Expr:
    """The one stretch of time that the note holds, in hours; null where it holds none or more."""
    parts = note.str.extract_groups(HOURS)
    whole = parts.struct[0].str.replace(",", ".").cast(pl.Float64, strict=False)
    rest = parts.struct[1].cast(pl.Float64, strict=False).fill_null(0)
    minutes = note.str.extract(MINUTES).cast(pl.Float64, strict=False)
    left_over = note.str.replace(HOURS, " ")
    again = left_over.str.contains(HOURS) | left_over.str.contains(MINUTES)
    one_of_minutes = note.str.count_matches(MINUTES) == 1
    return (
        pl.when(whole.is_not_null() & ~again)
        .then(whole + rest / 60)
        .when(whole.is_null() & one_of_minutes)
        .then(minutes / 60)
    )
