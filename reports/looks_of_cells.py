"""How a cell of a table is set: figures on one line, words in a column wide enough to read."""

from __future__ import annotations

MOST_FIGURES = 24
"""A cell with figures of so many letters and fewer stays on one line: a date, an interval."""
WORDS, LONG_WORDS = 14, 48
"""Cells longer than this are words, or sentences, and their column is never a thin one."""


def look_of_cell(cell: str) -> str:
    """The class of a cell: `figures`, `words`, `long-words`, or none where it is short."""
    if len(cell) > LONG_WORDS:
        return "long-words"
    if len(cell) <= MOST_FIGURES and any(character.isdigit() for character in cell):
        return "figures"
    return "words" if len(cell) > WORDS else ""
