"""A note in pieces of words, as the model of `gist.py` knows them.

A word that is not in the list of pieces is cut into the longest that are, from its first letter on
(Wu et al. 2016, "Google's neural machine translation system", section 4.1); so a slip or a word
never seen still says something. A piece inside a word stands in the list behind `##`.
"""

from __future__ import annotations

import re
import unicodedata
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

BEGIN, END, STRANGE, HIDDEN = "[CLS]", "[SEP]", "[UNK]", "[MASK]"
"""What stands before a note, behind it, for a word of strange signs, and for a hidden word."""
MOST_PIECES = 128
"""So many pieces of a note are looked at."""
LONGEST_WORD = 100
"""A longer word is strange."""

WORD = re.compile(r"[^\W_]+|[^\s\w]|_")
INSIDE = "##"


def word_pieces(note: str, numbers: Mapping[str, int]) -> list[int]:
    """The numbers of a note's pieces, between those of its beginning and its end."""
    bare = "".join(
        letter
        for letter in unicodedata.normalize("NFD", note)
        if unicodedata.category(letter) != "Mn"
    )
    inner = [number for word in WORD.findall(bare) for number in _cut(word, numbers)]
    return [numbers[BEGIN], *inner[: MOST_PIECES - 2], numbers[END]]


def _cut(word: str, numbers: Mapping[str, int]) -> list[int]:
    """The numbers of a word's pieces; of a word that can't be cut, that of a strange one."""
    pieces = list(_longest_first(word, numbers)) if len(word) <= LONGEST_WORD else [None]
    return (
        [numbers[STRANGE]] if None in pieces else [piece for piece in pieces if piece is not None]
    )


def _longest_first(word: str, numbers: Mapping[str, int]) -> Iterator[int | None]:
    """The longest piece that the word begins with, then that of what is left; None at a loss."""
    start = 0
    while start < len(word):
        inside = INSIDE if start else ""
        ends = range(len(word), start, -1)
        end = next((end for end in ends if inside + word[start:end] in numbers), None)
        if end is None:
            yield None
            return
        yield numbers[inside + word[start:end]]
        start = end
