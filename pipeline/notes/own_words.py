"""A word list of the season's own, before the built-in one."""

from __future__ import annotations

from itertools import islice
from typing import TYPE_CHECKING, Any

from pipeline.nearest import did_you_mean
from pipeline.notes.lexicon import built_in_words, lexicon_of, plain, words_in
from pipeline.problems import SeasonUnusableError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pipeline.notes.lexicon import Lexicon

MOST_TOLD = 10
"""So many problems of a word list are told."""
EVERYDAY = {"the", "a", "an", "and", "of", "in", "on", "to", "it", "is", "was", "we", "her", "she"}
LONGEST_PHRASE = 80
"""Letters of the longest phrase that is taken."""


def lexicon_with(own: dict[str, Any], file_name: str) -> Lexicon:
    """The built-in lexicon with the season's own phrases, which go first.

    `own` is written as `words.toml` is. Raises `SeasonUnusableError` with a sentence for each
    thing in it that the reader of notes has no use for.
    """
    problems = list(islice(_problems(own), MOST_TOLD + 1))
    if problems:
        told = [f"{file_name}: {problem}" for problem in problems[:MOST_TOLD]]
        more = [f"{file_name}: and more like these."] if len(problems) > MOST_TOLD else []
        raise SeasonUnusableError([*told, *more])
    return lexicon_of(own, built_in_words())


def _problems(own: dict[str, Any]) -> Iterator[str]:
    """What is wrong with a word list."""
    known = built_in_words()
    for section, groups in own.items():
        if section not in known:
            yield f"there is no section [{section}]{did_you_mean(section, known)}."
        elif not isinstance(groups, dict):
            yield f"[{section}] takes lists of phrases, as in words.toml."
        else:
            for group, phrases in groups.items():
                yield from _problems_of(section, group, phrases, known[section])
            yield from _in_two_lists(section, groups)


def _problems_of(section: str, group: str, phrases: object, groups: object) -> Iterator[str]:
    """What is wrong with a list of phrases."""
    names = list(groups) if isinstance(groups, dict) else []
    if group not in names:
        yield f"[{section}] has no list {group!r}; its lists are {', '.join(names)}."
    elif not isinstance(phrases, list):
        yield f'[{section}], {group}: takes a list of phrases in quotes, as in ["torn", "rent"].'
    else:
        for phrase in phrases:
            if not _is_a_phrase(phrase):
                yield (
                    f"[{section}], {group}: {str(phrase)[:LONGEST_PHRASE]!r} is no phrase of 1 to "
                    f"{LONGEST_PHRASE} letters."
                )
            elif section != "stop" and _words_in(phrase) <= EVERYDAY:
                yield f"[{section}], {group}: {phrase!r} stands in every note, and tells nothing."


def _is_a_phrase(phrase: object) -> bool:
    """Whether it is a text with a letter or figure in it, and not too long."""
    if not isinstance(phrase, str) or len(phrase) > LONGEST_PHRASE:
        return False
    return any(letter.isalnum() for word in _words_in(phrase) for letter in word)


def _words_in(phrase: str) -> set[str]:
    return set(words_in(plain(phrase)))


def _in_two_lists(section: str, groups: dict[str, Any]) -> Iterator[str]:
    """Phrases of which nobody can say what they mean."""
    first: dict[str, str] = {}
    for group, phrases in groups.items():
        for phrase in phrases if isinstance(phrases, list) else []:
            if isinstance(phrase, str) and first.setdefault(plain(phrase), group) != group:
                yield f"[{section}]: {phrase!r} stands in {first[plain(phrase)]} and in {group}."
