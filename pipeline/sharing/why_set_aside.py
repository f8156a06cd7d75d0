"""How many rows were set aside for which kind of reason, without what a log says.

A reason in full may hold a value, a day, a rig or a row's number, so each is told by its kind.
Whose a row is can't always be read, so boats can't be counted here: of fewer than ten rows it is
only told that there were some. Own judgement; no source.
"""

from __future__ import annotations

from typing import Any

from schemas.words import saying

Row = dict[str, Any]

FEW_ROWS = 10

KINDS = (
    ("is the same row again", saying("the same row again")),
    ("as another row that says", saying("two rows of one thing that say different things")),
    ("is of a haul that was set aside", saying("of a haul that was itself set aside")),
    (
        "is of a haul that is not among",
        saying("of a haul that was itself set aside or is not there"),
    ),
    ("is longer than a tow", saying("a tow longer than any")),
    ("is a rig that", saying("a rig that is not described")),
    ("no fitting of this boat", saying("no rig named or fitted")),
    ("the fitting in force says", saying("another rig than the one fitted")),
    ("overlaps the boat's next", saying("fittings that overlap")),
    ("is a species in no list", saying("a species in no list")),
    ("is not a ground", saying("a ground that is not known")),
    ("is not a day and time", saying("no day and time")),
    ("can't be read as a day and time", saying("no day and time")),
    ("can't be read as a day and time", saying("no day and time")),
    ("is not after the haul was shot", saying("hauled before it was shot")),
    ("is not a number", saying("no number")),
    ("decimal point", saying("a decimal point where there should be a comma")),
    ("must be", saying("out of bounds")),
)
OTHER = saying("another reason")


def set_aside_by_kind(by_reason: list[Row]) -> list[Row]:
    """Table, kind of reason and rows (null if fewer than ten), from findings["set_aside"]."""
    counts: dict[tuple[str, str], int] = {}
    for row in by_reason:
        key = row["table"], kind_of(row["reason"])
        counts[key] = counts.get(key, 0) + row["rows"]
    return [
        {"table": table, "why": why, "rows": rows if rows >= FEW_ROWS else None}
        for (table, why), rows in sorted(counts.items())
    ]


def kind_of(reason: str) -> str:
    """The kind of a reason, in words that are the same for every row."""
    return next((told for part, told in KINDS if part in reason), OTHER)
