"""A word list of the season's own, before the built-in one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pipeline.nearest import did_you_mean
from pipeline.notes.lexicon import built_in_words, lexicon_of
from pipeline.problems import SeasonUnusableError

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pipeline.notes.lexicon import Lexicon

LONGEST_PHRASE = 80
"""Letters of the longest phrase that is taken."""


def lexicon_with(own: dict[str, Any], file_name: str) -> Lexicon:
    """The built-in lexicon with the season's own phrases, which go first.

    `own` is written as `words.toml` is. Raises `SeasonUnusableError` with a sentence for each
    thing in it that the reader of notes has no use for.
    """
    problems = list(_problems(own))
    if problems:
        raise SeasonUnusableError([f"{file_name}: {problem}" for problem in problems])
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


def _problems_of(section: str, group: str, phrases: object, groups: object) -> Iterator[str]:
    """What is wrong with a list of phrases."""
    names = list(groups) if isinstance(groups, dict) else []
    if group not in names:
        yield f"[{section}] has no list {group!r}; its lists are {', '.join(names)}."
    elif not isinstance(phrases, list):
        yield f'[{section}], {group}: takes a list of phrases in quotes, as in ["torn", "rent"].'
    else:
        for phrase in phrases:
            if not isinstance(phrase, str) or not 0 < len(phrase.strip()) <= LONGEST_PHRASE:
                yield (
                    f"[{section}], {group}: {str(phrase)[:LONGEST_PHRASE]!r} is no phrase of 1 to "
                    f"{LONGEST_PHRASE} letters."
                )
