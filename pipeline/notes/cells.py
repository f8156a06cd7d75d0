"""The reading of a note as the cells of one row."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pipeline.notes.reading import FIELDS

if TYPE_CHECKING:
    from pipeline.notes.reading import Reading

JOINT = ";"
"""Between several parts, causes or words."""

COLUMNS = tuple(f"{field}{what}" for field in FIELDS for what in ("", "_words", "_sure"))
"""Each thing that a note may tell, the words it rests on, and how sure it is."""


def cells_of(reading: Reading) -> tuple[Any, ...]:
    """The cells in the order of `COLUMNS`, names and words joined by a semicolon.

    What is not told is None, and how sure then likewise, but for `damaged`.
    """
    cells: list[Any] = []
    for field, (value, words, sure) in zip(FIELDS, reading, strict=True):
        cell = (JOINT.join(value) or None) if isinstance(value, tuple) else value
        cells += [cell, JOINT.join(words) or None]
        cells.append(None if cell is None and field != "damaged" else sure)
    return tuple(cells)
