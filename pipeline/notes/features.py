"""What a note is weighed by: its words, their letters, and what the word list makes of them."""

from __future__ import annotations

from itertools import chain, pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from pipeline.notes.clauses import Clause, Item

Run = tuple[str, ...]
"""Words, or meanings, that stand on end in a clause."""
Sign = tuple[str, str]
"""A word, and what it means; the word is blank for a time and where a clause begins."""

START, TURN, END, NUMBER, ASKED = "^", "<but>", "$", "#", "<asked>"
"""What stands before a clause, before one behind a but, behind a clause, for any number, and behind
what is asked."""

SHORTEST_PIECE, LONGEST_PIECE = 2, 5
"""Pieces of so many letters of a word are weighed, the blanks at its ends among them."""
LONGEST_WORD = 30
"""Of a longer word only so many letters are weighed."""

UNKNOWN, GOES_ON = "?", "+"
"""What an unknown word means; and what stands before the meaning of a phrase's later words."""
MOST_SIGNS = 80
"""So many signs of a note are looked at."""

TOLD_BY = ("part", "harm", "time", "not")
"""Sections of which a note has words or has none."""
MANY_SAYINGS = 6
"""A note of more words and phrases is as one of so many."""


def written(word: str) -> str:
    """A word as it is weighed: all numbers are one."""
    return NUMBER if word[0].isdigit() else word


def words_of(clause: Clause) -> list[str]:
    """The words of a clause in their order; those of a time are left out."""
    return [NUMBER if word[0].isdigit() else word for word in clause.words.values()]


def meaning_of(saying: Item | str) -> str:
    """What a phrase means, as one name; an unknown word means itself."""
    return written(saying) if isinstance(saying, str) else saying.meanings.name


def meanings_of(clause: Clause) -> list[str]:
    """What the words and phrases of a clause mean, in their order."""
    return [meaning_of(saying) for saying in clause.in_order]


def runs_of_words(words: Sequence[str]) -> Iterable[Run]:
    """The words of a clause one by one, and two by two with its ends."""
    return chain(zip(words, strict=False), pairwise((START, *words, END)))


def runs_of_meanings(meanings: Sequence[str], *, turned: bool) -> Iterable[Run]:
    """What a clause means, word by word, two by two and three by three with its ends."""
    edged = (TURN if turned else START, *meanings, END)
    return chain(zip(edged, strict=False), pairwise(edged), _three_by_three(edged))


def signs_of(clauses: Iterable[Clause]) -> list[Sign]:
    """The words of a note, each with its meaning; a clause begins with a sign of its own."""
    signs: list[Sign] = []
    for clause in clauses:
        signs.append(("", TURN if clause.turned else START))
        for saying in clause.in_order:
            if isinstance(saying, str):
                signs.append((written(saying), UNKNOWN))
                continue
            first, *later = saying.words or ("",)
            name = saying.meanings.name
            signs.append((written(first) if first else "", name))
            signs += ((written(word), GOES_ON + name) for word in later)
        if clause.asked:
            signs.append(("", ASKED))
    return signs[:MOST_SIGNS] or [("", START)]


def course(meanings: Sequence[Sequence[str]]) -> Iterable[Run]:
    """What a note speaks of from clause to clause, two by two and three by three; and its shape.

    The shape is which of `TOLD_BY` it has words of, and how many words and phrases it has.
    """
    known = [each for of_clause in meanings for each in of_clause if each[0] == "<"]
    every = "".join(known)
    sections = [section for section in TOLD_BY if f"<{section}" in every]
    shape = (*sections, str(min(sum(map(len, meanings)), MANY_SAYINGS)))
    return chain(pairwise(known), _three_by_three(known), (shape,))


def _three_by_three(names: Sequence[str]) -> Iterable[Run]:
    return zip(names, names[1:], names[2:], strict=False)


def pieces(word: str) -> Iterator[str]:
    """The pieces of a word's letters."""
    edged = f" {word[:LONGEST_WORD]} "
    for length in range(SHORTEST_PIECE, LONGEST_PIECE + 1):
        for start in range(len(edged) - length + 1):
            yield edged[start : start + length]
