"""A note cut into clauses, and in each the items that mean something: words, phrases, times."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from pipeline.notes.lexicon import ALONE, Token, tokens
from pipeline.notes.times import stretches

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pipeline.notes.lexicon import Lexicon, Meanings, Phrase
    from pipeline.notes.times import Stretch

SENTENCE_ENDS = {".", ";", "!", "?", "|"}
BREAKS = {",", "-", "/"}
TURNS = {
    "but", "though", "tho", "however", "although", "yet", "then", "except", "still", "apart",
    "only",
}  # fmt: skip
"""Words after which a note may say the contrary."""

JOINTS = re.compile(r"([/+&.-])")
"""What joins the words of a compound."""

LONGEST_SHORT_FORM = 5
"""So many letters at most before a full stop are an abbreviation: stbd., c.end."""

NET = {"net", "nets", "trawl", "twine", "mesh", "meshes", "netting", "panel", "gear", "her", "she"}

PARTS_OF_A_FISH = {"wing", "belly"}
FISH_NEAR = 3
"""A wing so few words from a fish is the fish's own: skate wings."""


class Item(NamedTuple):
    """A word, phrase or time that means something.

    `at` and `end` count the note's words and signs, `start` and `stop` its letters; a time has
    no words. A `slip` is not spelt as the word that it is taken for.
    """

    meanings: Meanings
    at: int
    end: int
    start: int
    stop: int
    words: tuple[str, ...] = ()
    time: Stretch | None = None
    slip: bool = False

    @property
    def text(self) -> str:
        """Its words as they stand in the note."""
        return " ".join(self.words)

    def means(self, section: str, group: str | None = None) -> bool:
        """Whether it stands in the section of the word file, and there in the group."""
        return section in self.meanings and group in {None, self.meanings[section]}

    def follows(self, other: Item, within: int) -> bool:
        """Whether it stands after the other, with at most so many words between."""
        return 0 <= self.at - other.end <= within


@dataclass
class Clause:
    """What stands between two stops of a note, and of which sentence it is.

    It stands from the letter `start` to `stop`. `words` has its words by their place, `unknown`
    those that mean nothing to the lexicon. It is `turned` if a but stands before it, and `asked`
    if a question mark ends it.
    """

    note: str
    sentence: int
    start: int = 0
    stop: int = 0
    turned: bool = False
    asked: bool = False
    items: list[Item] = field(default_factory=list)
    words: dict[int, str] = field(default_factory=dict)
    unknown: list[str] = field(default_factory=list)

    def of(self, section: str, group: str | None = None) -> list[Item]:
        """Its items that stand in the section of the word file, and there in the group."""
        found = self.by_section.get(section, [])
        return found if group is None else [item for item in found if item.means(section, group)]

    @cached_property
    def by_section(self) -> dict[str, list[Item]]:
        """Its items by the sections that they stand in."""
        found: dict[str, list[Item]] = {}
        for item in self.items:
            for section in item.meanings:
                found.setdefault(section, []).append(item)
        return found

    def after(self, item: Item) -> Item | None:
        """The item that comes next in the clause."""
        return next((other for other in self.items if other.at >= item.end), None)

    @cached_property
    def text(self) -> str:
        """Its letters, from the first to the last."""
        return self.note[self.start : self.stop].strip()

    @cached_property
    def said(self) -> frozenset[str]:
        """Its words, in no order."""
        return frozenset(self.words.values())

    @cached_property
    def first_word(self) -> str:
        """Its first word, or none."""
        return next(iter(self.words.values()), "")

    @cached_property
    def parts(self) -> list[Item]:
        """The parts of the net that it names; not the wings of a skate."""
        fish = self.of("fish")
        return [
            part
            for part in self.of("part")
            if part.meanings["part"] not in PARTS_OF_A_FISH
            or not any(abs(one.at - part.at) <= FISH_NEAR for one in fish)
        ]

    @cached_property
    def names_the_net(self) -> bool:
        """Whether it speaks of the net, the gear, the twine."""
        return bool(self.said & NET)


def clauses_of(note: str, lexicon: Lexicon) -> list[Clause]:
    """The clauses of a plain note, in their order; those without a word left out."""
    clauses = [Clause(note, 0)]
    for at, piece in _pieces(note, lexicon):
        here = clauses[-1]
        if isinstance(piece, Item):
            here.items.append(piece)
            here.words.update(enumerate(piece.words, start=at))
        elif piece.word in SENTENCE_ENDS | BREAKS | TURNS:
            if not _ends_a_short_form(piece, at, here):
                clauses.append(_next_clause(here, piece))
            continue
        else:
            here.words[at] = piece.word
            here.unknown.append(piece.word)
        here.stop = piece.stop
    return [clause for clause in clauses if clause.items or clause.words]


def _next_clause(clause: Clause, between: Token) -> Clause:
    """The clause that begins behind a stop or a but."""
    clause.asked = clause.asked or between.word == "?"
    ends = between.word in SENTENCE_ENDS
    return Clause(
        clause.note,
        clause.sentence + (1 if ends else 0),
        start=between.stop,
        stop=between.stop,
        turned=between.word in TURNS,
    )


def _ends_a_short_form(stop: Token, at: int, clause: Clause) -> bool:
    """Whether a full stop only ends the short form of a part or a side."""
    if stop.word != "." or not clause.items:
        return False
    last = clause.items[-1]
    short = last.end == at and last.stop - last.start <= LONGEST_SHORT_FORM
    return short and (last.means("part") or last.means("side"))


def _pieces(note: str, lexicon: Lexicon) -> Iterator[tuple[int, Item | Token]]:
    """The items and the other words and signs of a note, each with its place."""
    found = _words_of(note, lexicon)
    times = stretches(note)
    at = 0
    while at < len(found):
        item = (times and _time_at(found, at, times)) or _phrase_at(found, at, lexicon)
        yield at, item or found[at]
        at = item.end if item else at + 1


def _words_of(note: str, lexicon: Lexicon) -> list[Token]:
    """The words of a note, with compounds that nobody knows taken apart: belly/stbd."""
    found: list[Token] = []
    for token in tokens(note):
        whole = token.word.isalpha() or token.word[0].isdigit() or token.word in lexicon.phrases
        if whole:
            found.append(token)
            continue
        start = token.start
        for piece in JOINTS.split(token.word):
            if piece:
                found.append(Token(piece, start, start + len(piece)))
            start += len(piece)
    return found


def _time_at(found: list[Token], at: int, times: list[Stretch]) -> Item | None:
    """The stretch of time that the word is in."""
    start = found[at].start
    time = next((time for time in times if time.start <= start < time.end), None)
    if time is None:
        return None
    end = at
    while end < len(found) and found[end].start < time.end:
        end += 1
    return Item({"time": "words"}, at, end, time.start, time.end, time=time)


def _phrase_at(found: list[Token], at: int, lexicon: Lexicon) -> Item | None:
    """The longest phrase of the lexicon that begins at the word."""
    second = found[at + 1].word if at + 1 < len(found) else ALONE
    for phrase in lexicon.phrases_from(found[at].word, second):
        if _stands_at(phrase, found, at, lexicon):
            here = found[at : at + len(phrase.words)]
            words = tuple(token.word for token in here)
            end = at + len(words)
            slip = words != phrase.words
            return Item(phrase.meanings, at, end, here[0].start, here[-1].stop, words, slip=slip)
    return None


def _stands_at(phrase: Phrase, found: list[Token], at: int, lexicon: Lexicon) -> bool:
    """Whether the words behind the first two are those of the phrase, but for slips."""
    if at + len(phrase.words) > len(found):
        return False
    for known, token in zip(phrase.words[2:], found[at + 2 : at + len(phrase.words)], strict=True):
        if known not in {token.word, lexicon.mended(token.word)}:
            return False
    return True
