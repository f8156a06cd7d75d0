"""What a note is weighed by: its words, their letters, and what the word list makes of them."""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from operator import attrgetter
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from pipeline.notes.clauses import Clause

Run = tuple[str, ...]
"""Words, or meanings, that stand on end in a clause."""

START, TURN, END, NUMBER = "^", "<but>", "$", "#"
"""What stands before a clause, before one behind a but, behind a clause, and for any number."""

SHORTEST_PIECE, LONGEST_PIECE = 2, 5
"""Pieces of so many letters of a word are weighed, the blanks at its ends among them."""
LONGEST_WORD = 30
"""Of a longer word only so many letters are weighed."""

TOLD_BY = ("part", "harm", "time", "not")
"""Sections of which a note has words or has none."""
MANY_SAYINGS = 6
"""A note of more is as one of so many."""

UNGROUPED = {"time", "harm"}
"""Sections of the word file whose groups make no difference here."""


class Saying(NamedTuple):
    """A word of a clause that nobody knows, or a phrase that the word list does.

    It stands at the place `at`, as `text`. A time has no `words`; numbers are `NUMBER`.
    """

    meaning: str
    words: Run
    at: int
    text: str


def sayings(clause: Clause) -> list[Saying]:
    """The words and phrases of a clause in their order."""
    note = clause.note
    found = [
        Saying(
            _named(tuple(item.meanings.items())),
            tuple(map(_written, item.words)),
            item.at,
            note[item.start : item.stop],
        )
        for item in clause.items
    ]
    inside = {at for item in clause.items for at in range(item.at, item.end)}
    for at, word in clause.words.items():
        if at not in inside:
            written = _written(word)
            found.append(Saying(written, (written,), at, word))
    found.sort(key=attrgetter("at"))
    return found


def _written(word: str) -> str:
    return NUMBER if word[0].isdigit() else word


@cache
def _named(meanings: tuple[tuple[str, str], ...]) -> str:
    """The sections and groups of a phrase as one name."""
    names = (
        f"<{section}>" if section in UNGROUPED else f"<{section}:{group}>"
        for section, group in meanings
    )
    return "".join(sorted(names))


def runs_of_words(said: Sequence[Saying]) -> Iterator[Run]:
    """The words of a clause one by one, and two by two with its ends."""
    words = [word for saying in said for word in saying.words]
    edged = (START, *words, END)
    yield from ((word,) for word in words)
    yield from pairwise(edged)


def runs_of_meanings(said: Sequence[Saying], *, turned: bool) -> Iterator[Run]:
    """What a clause means, word by word, two by two and three by three with its ends."""
    edged = (TURN if turned else START, *(saying.meaning for saying in said), END)
    yield from ((meaning,) for meaning in edged)
    yield from pairwise(edged)
    yield from zip(edged, edged[1:], edged[2:], strict=False)


def course(said: Sequence[Sequence[Saying]]) -> Iterator[Run]:
    """What a note speaks of from clause to clause, two by two and three by three; and its shape.

    The shape is which of `TOLD_BY` it has words of, and how many words and phrases it has.
    """
    meanings = [each.meaning for one in said for each in one if each.meaning.startswith("<")]
    yield from pairwise(meanings)
    yield from zip(meanings, meanings[1:], meanings[2:], strict=False)
    sections = [section for section in TOLD_BY if any(f"<{section}" in one for one in meanings)]
    yield (*sections, str(min(sum(map(len, said)), MANY_SAYINGS)))


def pieces(word: str) -> Iterator[str]:
    """The pieces of a word's letters."""
    edged = f" {word[:LONGEST_WORD]} "
    for length in range(SHORTEST_PIECE, LONGEST_PIECE + 1):
        for start in range(len(edged) - length + 1):
            yield edged[start : start + length]
