"""Whether a note says nothing of the net, nor of what tears one: of wind, fish or the day only.

Where a skipper writes of damage only when there was some, such a note tells of none as a blank one
does. Words that the list does not know are taken for talk of other things, but for those below.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.notes.clauses import clauses_of
from pipeline.notes.lexicon import built_in, plain

if TYPE_CHECKING:
    from pipeline.notes.lexicon import Lexicon

OF_THE_NET = frozenset({
    "part", "harm", "mending", "doubt", "old", "thing", "cause", "off_clean", "hearsay",
})  # fmt: skip
"""Sections of the word file that are of the net, of what tears it, or of doubt."""
OF_TROUBLE = frozenset({"foul", "fouled", "heavy", "strain", "trouble", "problem", "problems"})
"""Words that no section has, and that may be of the net. Own judgement; no source."""


def says_nothing_of_the_net(note: str, lexicon: Lexicon | None = None) -> bool:
    """Whether no word of a note is of the net, of what tears one, or of doubt; blank notes so."""
    return not any(
        clause.names_the_net
        or clause.asked
        or not OF_THE_NET.isdisjoint(clause.by_section)
        or not OF_TROUBLE.isdisjoint(clause.said)
        for clause in clauses_of(plain(note), lexicon or built_in())
    )
