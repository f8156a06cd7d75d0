"""Plain text on a terminal: columns under headers, and paragraphs that keep to its width."""

from __future__ import annotations

from textwrap import wrap
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

WIDE = 80


def columns(headers: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    """The rows under their headers: the first column to the left, the rest to the right.

    A column in which no row has anything is left out. A header may have several lines.
    """
    table = [*_header_lines(headers), *rows]
    kept = [at for at in range(len(headers)) if at == 0 or any(row[at] for row in rows)]
    widths = {at: max(len(row[at]) for row in table) for at in kept}
    return [
        "  ".join(
            row[at].ljust(widths[at]) if at == 0 else row[at].rjust(widths[at]) for at in kept
        ).rstrip()
        for row in table
    ]


def _header_lines(headers: Sequence[str]) -> list[list[str]]:
    """The headers line by line, the shorter ones at the bottom."""
    lines = [header.split("\n") for header in headers]
    most = max(map(len, lines))
    return [
        list(line) for line in zip(*([""] * (most - len(of)) + of for of in lines), strict=True)
    ]


def titled(title: str, sentences: Iterable[str]) -> list[str]:
    """The sentences under a title, each a paragraph; nothing where there are none."""
    said = [line for sentence in sentences for line in paragraph(sentence, "  ")]
    return ["", title, *said] if said else []


def paragraph(text: str, indent: str = "") -> list[str]:
    """The text in lines of the terminal's width; from the second on a little further in."""
    further = f"{indent}  " if indent else ""
    return wrap(text, WIDE, initial_indent=indent, subsequent_indent=further)


def so_many(number: int, one: str, many: str) -> str:
    """The number and what there is of it: one row, 40 rows; `rigseason` itself speaks English."""
    return f"{number:,} {one if number == 1 else many}"
