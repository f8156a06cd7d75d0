"""The words of damage notes, what they mean, and which of them a slip of the pen is nearest to."""

from __future__ import annotations

import re
import tomllib
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, NamedTuple

from rapidfuzz import process
from rapidfuzz.distance import OSA

if TYPE_CHECKING:
    from collections.abc import Iterator

Meanings = dict[str, str]
"""What a phrase means: the sections of the word file that it stands in, and its group in each."""

Words = Mapping[str, Mapping[str, list[str]]]
"""A word file: its sections, their groups, and the phrases of each."""

TOKEN = re.compile(r"\d+(?:[.,]\d+)*|[^\W\d_]+(?:['./&+-][^\W\d_]+)*|[^\w\s]")
"""A number, a word with what joins its letters (c/end, st'bd, p+s, cod-end), or a sign."""

ALONE = ""
"""The second word of a phrase that has one only."""

SHORTEST_SLIP = 5
"""Shorter words are taken as they stand."""
TWO_SLIPS = 8
"""A word of so many letters may hide two slips, a shorter one a single slip."""

PARTS_OF_ONE = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4"}
SIGNS = str.maketrans(
    {"’": "'", "‘": "'", "`": "'", "´": "'", "“": '"', "”": '"', "–": "-", "—": "-", "⁄": "/"}
)


class Token(NamedTuple):
    """A word, number or sign of a note, and from which letter to which it stands."""

    word: str
    start: int
    stop: int


class Phrase(NamedTuple):
    """The words of a phrase in their order, and what it means."""

    words: tuple[str, ...]
    meanings: Meanings


@dataclass(frozen=True)
class Lexicon:
    """Phrases by their first two words, the longest first; and the single words to mend slips by.

    A phrase of one word has no second, which is `ALONE`. `spelling` has the words by their first
    letter; what stands in `no_slips` is never mended.
    """

    phrases: dict[str, dict[str, list[Phrase]]]
    spelling: dict[str, list[str]]
    no_slips: frozenset[str]
    mended_before: dict[str, str] = field(default_factory=dict)

    def mended(self, word: str) -> str:
        """The word, or the known one that it is a slip of."""
        known = self.mended_before.get(word)
        if known is None:
            known = self.mended_before[word] = self._mend(word)
        return known

    def phrases_from(self, first: str, second: str) -> list[Phrase]:
        """The phrases that may begin with two words of a note, the likeliest first."""
        known = self.phrases.get(self.mended(first))
        if known is None:
            return []
        seconds = dict.fromkeys((second, self.mended(second), ALONE))
        return [phrase for word in seconds for phrase in known.get(word, ())]

    def _mend(self, word: str) -> str:
        if word in self.phrases or len(word) < SHORTEST_SLIP or word in self.no_slips:
            return word
        if word.endswith("s") and word[:-1] in self.phrases:
            return word[:-1]
        slips = 2 if len(word) >= TWO_SLIPS else 1
        known = self.spelling.get(word[0], ())
        nearest = process.extractOne(word, known, scorer=OSA.distance, score_cutoff=slips)
        return nearest[0] if nearest else word


def plain(note: str) -> str:
    """The note in lower case, with one kind of dash, quote and blank, and no control characters."""
    for sign, written in PARTS_OF_ONE.items():
        note = note.replace(sign, written)
    text = unicodedata.normalize("NFKC", note).translate(SIGNS).lower()
    if not text.isprintable():
        text = "".join(letter if letter.isprintable() else " " for letter in text)
    return " ".join(text.split())


def tokens(text: str) -> list[Token]:
    """The words, numbers and signs of a plain note, with their places."""
    return [Token(match.group(), *match.span()) for match in TOKEN.finditer(text)]


def lexicon_of(*word_files: Words) -> Lexicon:
    """The lexicon of one or more word files; where two hold a phrase, the first has its meaning."""
    meanings: dict[tuple[str, ...], Meanings] = {}
    for words in word_files:
        meanings = _meanings_in(words) | meanings
    no_slips = {word for words in word_files for word in words.get("stop", {}).get("words", [])}
    return Lexicon(_by_first_words(meanings), _by_first_letter(meanings), frozenset(no_slips))


def _meanings_in(words: Words) -> dict[tuple[str, ...], Meanings]:
    """What each phrase of a word file means."""
    meanings: dict[tuple[str, ...], Meanings] = {}
    for section, group, phrase in _lines_of(words):
        key = tuple(token.word for token in tokens(plain(phrase)))
        meanings.setdefault(key, {})[section] = group
    return meanings


def _lines_of(words: Words) -> Iterator[tuple[str, str, str]]:
    """Each phrase with its section and group; the words of `stop` mean nothing."""
    for section, groups in words.items():
        if section != "stop":
            for group, phrases in groups.items():
                yield from ((section, group, phrase) for phrase in phrases)


def _by_first_words(
    meanings: dict[tuple[str, ...], Meanings],
) -> dict[str, dict[str, list[Phrase]]]:
    """The phrases by their first word and their second, those of most words first."""
    phrases: dict[str, dict[str, list[Phrase]]] = {}
    for words in sorted(meanings, key=len, reverse=True):
        first, second = (*words, ALONE)[:2]
        phrase = Phrase(words, meanings[words])
        phrases.setdefault(first, {}).setdefault(second, []).append(phrase)
    return phrases


def _by_first_letter(meanings: dict[tuple[str, ...], Meanings]) -> dict[str, list[str]]:
    """The words long enough to hide a slip, by their first letter."""
    spelling: dict[str, list[str]] = {}
    for word in sorted({word for words in meanings for word in words}):
        if len(word) >= SHORTEST_SLIP and word.isalpha():
            spelling.setdefault(word[0], []).append(word)
    return spelling


@cache
def built_in_words() -> Words:
    """The word file `words.toml`."""
    words: Words = tomllib.loads((files(__package__) / "words.toml").read_text("utf-8"))
    return words


@cache
def built_in() -> Lexicon:
    """The lexicon of `words.toml`."""
    return lexicon_of(built_in_words())
