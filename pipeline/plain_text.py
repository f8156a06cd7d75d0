"""Text without the signs that no log means and some readers choke on."""

from __future__ import annotations

import re
from typing import Any

CONTROL = r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\x{202a}-\x{202e}\x{2066}-\x{2069}\x{fffe}\x{ffff}]"
"""Control characters and non-characters, in the syntax of polars.

Among them those that turn the way of writing of all that follows: a name needs none to be read from
right to left, and one left open mirrors the figures behind it.
"""

LINE_SEPARATORS = r"[\x{2028}\x{2029}\x85]"

HEAD_OF_A_FORMULA = r"[=+@\-\t\r＝＋－＠]"
"""What a spreadsheet would take for the head of a formula."""
NUMBER = r"-?\d+([.,]\d+)?([eE][+-]?\d+)?"
"""What begins like a formula and is none."""

_RUNS, _NUMBER = re.compile(HEAD_OF_A_FORMULA), re.compile(NUMBER)
_CONTROL = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\u202a-\u202e\u2066-\u2069\ufffe\uffff\ud800-\udfff]"
)
_LINE_SEPARATORS = re.compile("[\u2028\u2029\x85]")


def plain(value: Any) -> Any:  # noqa: ANN401 - whatever a TOML file holds
    """The value with every text in it made plain: lists and tables through and through."""
    if isinstance(value, str):
        return _LINE_SEPARATORS.sub(" ", _CONTROL.sub("\ufffd", value))
    if isinstance(value, list):
        return [plain(each) for each in value]
    if isinstance(value, dict):
        return {plain(key): plain(each) for key, each in value.items()}
    return value


def plain_cell(text: str) -> str:
    """Text that a spreadsheet would run marked as text by a quote; a number is no formula."""
    return f"'{text}" if _RUNS.match(text) and not _NUMBER.fullmatch(text) else text
