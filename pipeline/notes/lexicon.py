"""The words of damage notes, what they mean, and which of them a slip of the pen is nearest to."""

from __future__ import annotations

import re
import tomllib
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from importlib.resources import files
from typing import TYPE_CHECKING, NamedTuple

from rapidfuzz import process
from rapidfuzz.distance import OSA

from pipeline.notes.remembered import Remembered
from schemas.words import FRACTIONS

if TYPE_CHECKING:
    from collections.abc import Iterator

UNGROUPED = {"time", "harm"}
"""Sections whose groups make no difference to what a phrase weighs."""


class Meanings(dict[str, str]):
    """What a phrase means: the sections of the word file that it stands in, its group in each."""

    @cached_property
    def name(self) -> str:
        """All of it as one name, by which it is weighed: <part:belly>, <harm>."""
        return "".join(
            sorted(
                f"<{section}>" if section in UNGROUPED else f"<{section}:{group}>"
                for section, group in self.items()
            )
        )


Words = Mapping[str, Mapping[str, list[str]]]
"""A word file: its sections, their groups, and the phrases of each."""

TOKEN = re.compile(r"\d+(?:[.,]\d+)*|[^\W\d_]+(?:['./&+-][^\W\d_]+)*|[^\w\s]")
"""A number, a word with what joins its letters (c/end, st'bd, p+s, cod-end), or a sign."""

JOINTS = re.compile(r"([/+&.-])")
"""What joins the words of a compound."""

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

SIGNS = str.maketrans(
    {"’": "'", "‘": "'", "`": "'", "´": "'", "“": '"', "”": '"', "–": "-", "—": "-", "⁄": "/"}
)


class Phrase(NamedTuple):
    """The words of a phrase in their order, and what it means."""

    words: tuple[str, ...]
    meanings: Meanings


NO_PHRASES: list[Phrase] = []


class Opening(NamedTuple):
    """The phrases that begin with a word: the word alone, and the longer ones by their second.

    Of the longer ones with the same second word, those of most words come first.
    """

    alone: Phrase | None
    longer: dict[str, list[Phrase]]

    def going_on(self, after: Token) -> list[Phrase]:
        """The longer ones that may go on with the next word."""
        found = self.longer.get(after.word, NO_PHRASES)
        if after.mended == after.word:
            return found
        return found + self.longer.get(after.mended, NO_PHRASES)


class Token(NamedTuple):
    """A word, number or sign, its place behind the last blank, and the phrases it begins.

    `mended` is the word itself, or the known one that it is a slip of.
    """

    word: str
    place: int
    mended: str
    opening: Opening | None


@dataclass(frozen=True)
class Lexicon:
    """Phrases by their first word; and the single words to mend slips by.

    `spelling` has the words by their first letter, `by_consonants` by their letters but the vowels;
    `known` is every word of a phrase, and what stands in `no_slips` is never mended. `own` are the
    phrases of the first of several word files, which are the season's.
    """

    phrases: dict[str, Opening]
    spelling: dict[str, list[str]]
    no_slips: frozenset[str]
    known: frozenset[str]
    by_consonants: dict[str, str]
    own: frozenset[tuple[str, ...]] = frozenset()

    @cached_property
    def tokens_in(self) -> Remembered[str, tuple[Token, ...]]:
        """By what stands between two blanks: its words and signs, unknown compounds taken apart."""
        return Remembered(self._tokens_in)

    def _tokens_in(self, piece: str) -> tuple[Token, ...]:
        if piece.isdecimal():
            return (self._token(piece, 0),)
        return tuple(
            self._token(word, place)
            for match in TOKEN.finditer(piece)
            for word, place in self._apart(match[0], match.start())
        )

    def _token(self, word: str, place: int) -> Token:
        mended = self._mended(word)
        return Token(word, place, mended, self.phrases.get(word) or self.phrases.get(mended))

    def _apart(self, word: str, place: int) -> Iterator[tuple[str, int]]:
        """The words of a compound that nobody knows, belly/stbd, or else the word; their places."""
        whole = word.isalpha() or len(word) == 1 or word[0].isdigit() or word in self.phrases
        for part in [word] if whole else JOINTS.split(word):
            if part:
                yield part, place
            place += len(part)

    def _mended(self, word: str) -> str:
        if word[0].isdigit() or word in self.known or word in self.no_slips:
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
    for sign, written in FRACTIONS.items():
        note = note.replace(sign, written)
    text = unicodedata.normalize("NFKC", note).translate(SIGNS).lower()
    if not text.isprintable():
        text = "".join(letter if letter.isprintable() else " " for letter in text)
    return " ".join(text.split())


def words_in(text: str) -> tuple[str, ...]:
    """The words, numbers and signs of a plain text."""
    return tuple(TOKEN.findall(text))


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
        frozenset(_meanings_in(word_files[0]) if len(word_files) > 1 else ()),
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
        meanings.setdefault(words_in(plain(phrase)), Meanings())[section] = group
    return meanings


def _lines_of(words: Words) -> Iterator[tuple[str, str, str]]:
    """Each phrase with its section and group; the words of `stop` mean nothing."""
    for section, groups in words.items():
        if section != "stop":
            for group, phrases in groups.items():
                yield from ((section, group, phrase) for phrase in phrases)


def _by_first_words(meanings: dict[tuple[str, ...], Meanings]) -> dict[str, Opening]:
    """The phrases by their first word."""
    longer: dict[str, dict[str, list[Phrase]]] = {words[0]: {} for words in meanings}
    for words in sorted(meanings, key=len, reverse=True):
        if len(words) > 1:
            phrase = Phrase(words, meanings[words])
            longer[words[0]].setdefault(words[1], []).append(phrase)
    return {word: Opening(_alone(word, meanings), going_on) for word, going_on in longer.items()}


def _alone(word: str, meanings: dict[tuple[str, ...], Meanings]) -> Phrase | None:
    """The phrase that is this one word."""
    means = meanings.get((word,))
    return None if means is None else Phrase((word,), means)


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
