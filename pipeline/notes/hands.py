"""How many mended: 2 men 3 hrs is three hours by the clock and six of work."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.notes.times import WORDS
from pipeline.notes.told import Told

if TYPE_CHECKING:
    from pipeline.notes.clauses import Clause, Item
    from pipeline.notes.harm import Telling

MOST_HANDS = 20
"""No trawler mends with more (own judgement, no source)."""


def hands_told(told: list[Telling]) -> Told[int | None]:
    """How many people mended, in a note that gives hours of mending; None where it does not say."""
    counted = [
        (count, f"{one.clause.words.get(item.at - 1, '')} {item.text}".strip())
        for one in told
        if not one.elsewhere
        for item in one.clause.of("hands")
        if (count := _count(item, one.clause)) is not None
    ]
    if not counted:
        return Told(None)
    most, words = max(counted)
    return Told(most, (words,))


def _count(item: Item, clause: Clause) -> int | None:
    """The number before men, hands or lads; both of us are two."""
    if item.means("hands", "two"):
        return 2
    before = clause.words.get(item.at - 1, "")
    count = int(before) if before.isdecimal() else WORDS.get(before, 0)
    return count if 0 < count <= MOST_HANDS else None
