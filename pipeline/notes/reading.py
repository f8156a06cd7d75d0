"""One note read: was the net damaged, where, on which side, by what, and what it cost in hours."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from pipeline.notes.clauses import clauses_of
from pipeline.notes.damaged import SHORT_ANSWERS, Damage, damage_told
from pipeline.notes.harm import tellings
from pipeline.notes.hours import hours_told
from pipeline.notes.lexicon import built_in, plain
from pipeline.notes.parts import causes_of, damaged_parts, side_of

if TYPE_CHECKING:
    from pipeline.notes.damaged import Answer
    from pipeline.notes.lexicon import Lexicon

MOST_LETTERS = 2000
"""So much of a note is read; what comes behind it is not."""


@dataclass(frozen=True)
class Reading:
    """What a note tells of this boat's net in this haul; None and () are not told.

    `words` are those of the note that `damaged` rests on. Hours are by the clock.
    """

    damaged: Answer | None = None
    words: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    side: str | None = None
    cause: tuple[str, ...] = ()
    mending_hours: float | None = None
    hours_lost: float | None = None


def read_note(note: str, lexicon: Lexicon | None = None) -> Reading:
    """Read one note by the words of the lexicon, else by those of `words.toml`."""
    text = plain(note[:MOST_LETTERS])
    if not text:
        return Reading()
    told = tellings(clauses_of(text, lexicon or built_in()))
    damage = Damage("no", (text,)) if _short_no(text) else damage_told(told)
    yes = damage.answer == "yes"
    mending, lost = hours_told(told, damaged=yes)
    return Reading(
        damaged=damage.answer,
        words=damage.words,
        parts=damaged_parts(told) if yes else (),
        side=side_of(told) if yes else None,
        cause=causes_of(told) if yes else (),
        mending_hours=mending,
        hours_lost=lost,
    )


def _short_no(text: str) -> bool:
    """Whether the whole note is a no, a nought or a stroke."""
    stroke = "-" in text and not text.strip(" .!-")
    return stroke or text.strip(" .!-") in SHORT_ANSWERS
