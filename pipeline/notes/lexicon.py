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

MOST_REMEMBERED = 50_000
"""So many words are remembered with what they are slips of, and then the list begins anew."""
ALONE = ""
"""The second word of a phrase that has one only."""

SHORTEST_SLIP = 5
"""Shorter words are taken as they stand."""
ENDINGS = (
    ("s", ""), ("'s", ""), ("z", ""), ("in", "ing"), ("it", "ed"), ("t", "ed"), ("d", "ed"),
    ("pit", "ped"),
)  # fmt: skip
"""Ends of words and what they stand for: wings, wing's, mendin, burstit, turnt, crackd."""
SHORTEST_STEM, SHORTEST_BARE, SHORTEST_TO_SHORTEN = 3, 3, 4
"""So many letters stand before such an end, in a word without its vowels, and in the full word."""
WRITTEN_SHORT = ("harm", "part", "mending", "lost", "side", "cause", "sound", "trouble")
"""Sections whose words are written without their vowels, the likeliest first."""
VOWELS = "aeiou"
CONSONANTS = re.compile(r"[^\W\daeiou_]+")
SHORT_END = re.compile(r"(?:[bcdfghkmpstvz]d|[tkpdsv]n)$")
"""A word with its vowels left out, or those of its end: splcd, ripd, rotn."""
LONGEST_TO_KEEP_LETTERS = 6
"""In a word of so many letters a slip drops, adds or swaps letters; a letter changed is another
word: shift is no shaft."""
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


NO_PHRASES: list[Phrase] = []


@dataclass(frozen=True)
class Lexicon:
    """Phrases by their first two words, the longest first; and the single words to mend slips by.

    A phrase of one word has no second, which is `ALONE`. `spelling` has the words by their first
    letter, `by_consonants` by their letters but the vowels; `known` is every word of a phrase, and
    what stands in `no_slips` is never mended.
    """

    phrases: dict[str, dict[str, list[Phrase]]]
    spelling: dict[str, list[str]]
    no_slips: frozenset[str]
    known: frozenset[str]
    by_consonants: dict[str, str]
    mended_before: dict[str, str] = field(default_factory=dict)

    def mended(self, word: str) -> str:
        """The word, or the known one that it is a slip of."""
        known = self.mended_before.get(word)
        if known is None:
            if len(self.mended_before) >= MOST_REMEMBERED:
                self.mended_before.clear()
            known = self.mended_before[word] = self._mend(word)
        return known

    def beginning_with(self, word: str) -> dict[str, list[Phrase]] | None:
        """The phrases that begin with a word of a note, by their second word."""
        return self.phrases.get(word) or self.phrases.get(self.mended(word))

    def likeliest(self, known: dict[str, list[Phrase]], second: str) -> list[Phrase]:
        """Those of some phrases that may go on with a second word, the likeliest first."""
        alone = known.get(ALONE, NO_PHRASES)
        if len(known) == (1 if alone else 0):
            return alone
        found = known.get(second, NO_PHRASES) if second else NO_PHRASES
        mended = self.mended(second) if second else second
        if mended != second:
            found = found + known.get(mended, NO_PHRASES)
        return found + alone if found else alone

    def _mend(self, word: str) -> str:
        if word in self.known or word in self.no_slips:
            return word
        written_out = self._written_out(word)
        if written_out or len(word) < SHORTEST_SLIP:
            return written_out or word
        slips = 2 if len(word) >= TWO_SLIPS else 1
        known = self.spelling.get(word[0], ())
        nearest = process.extractOne(word, known, scorer=OSA.distance, score_cutoff=slips)
        return nearest[0] if nearest and _may_be_a_slip(word, nearest[0]) else word

    def _written_out(self, word: str) -> str | None:
        """The known word that is short or spoken otherwise here: wings, mendin, rippit, splcd."""
        for ending, full in ENDINGS:
            stem = word.removesuffix(ending) if word.endswith(ending) else ""
            if len(stem) >= SHORTEST_STEM and stem + full in self.known:
                return stem + full
        if len(word) >= SHORTEST_BARE and (CONSONANTS.fullmatch(word) or SHORT_END.search(word)):
            bare = without_vowels(word)
            for short, end in ((bare, ""), (bare.removesuffix("s"), "s")):
                known = self.by_consonants.get(short)
                if (
                    known
                    and len(known) + len(end) > len(word)
                    and bare == short + end[: len(bare) - len(short)]
                ):
                    return known
        return None


def without_vowels(word: str) -> str:
    """The first letter and the consonants behind it, of twins one: rpd for ripped."""
    bare = word[:1]
    for letter in word[1:]:
        if letter not in VOWELS and letter != bare[-1]:
            bare += letter
    return bare


def _may_be_a_slip(word: str, known: str) -> bool:
    """Whether a slip may make the one word of the other: few change a letter of a short word."""
    if len(word) > LONGEST_TO_KEEP_LETTERS or len(word) != len(known):
        return True
    return sorted(word) == sorted(known)


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
    return [Token(match[0], match.start(), match.end()) for match in TOKEN.finditer(text)]


def lexicon_of(*word_files: Words) -> Lexicon:
    """The lexicon of one or more word files; where two hold a phrase, the first has its meaning."""
    meanings: dict[tuple[str, ...], Meanings] = {}
    for words in word_files:
        meanings = _meanings_in(words) | meanings
    no_slips = {word for words in word_files for word in words.get("stop", {}).get("words", [])}
    return Lexicon(
        _by_first_words(meanings),
        _by_first_letter(meanings),
        frozenset(no_slips),
        frozenset(word for words in meanings for word in words),
        _by_consonants(meanings),
    )


def _by_consonants(meanings: dict[tuple[str, ...], Meanings]) -> dict[str, str]:
    """The single words by their consonants; of several the one of the section named first."""
    found: dict[str, str] = {}
    for section in WRITTEN_SHORT:
        for words, means in meanings.items():
            if section in means and len(words) == 1 and len(words[0]) >= SHORTEST_TO_SHORTEN:
                bare = without_vowels(words[0])
                if len(bare) >= SHORTEST_BARE:
                    found.setdefault(bare, words[0])
    return found


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
