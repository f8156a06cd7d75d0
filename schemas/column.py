"""What a column and a table are: the only place where either is described."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Kind = Literal["text", "code", "word", "words", "yes or no", "number", "count", "moment"]

SOURCE_COLUMNS = ("source_file", "source_row")
"""Where a row came from, carried along with every row that is read."""


@dataclass(frozen=True)
class Column:
    """One column of a season table.

    `least` and `most` are inclusive bounds in `unit`; `above` is a strict lower bound.
    `words` lists what a `word` may say, and each of several `words` joined by a semicolon. A
    column is never required to be filled unless `required` is set: a blank cell means *not
    recorded*. From an `only_kept` column nothing is worked out: a cell there that can't be right
    is left blank, and its row used.
    """

    name: str
    kind: Kind
    meaning: str
    unit: str = ""
    example: str = ""
    least: float | None = None
    most: float | None = None
    above: float | None = None
    words: tuple[str, ...] = ()
    required: bool = False
    only_kept: bool = False

    @property
    def is_answer(self) -> bool:
        """Whether yes and no are among its words, and so may be written as short as elsewhere."""
        return {"yes", "no"} <= set(self.words)


@dataclass(frozen=True)
class Table:
    """One table of the season folder: what a row is, which columns name it, what it feeds."""

    name: str
    one_row_is: str
    key: tuple[str, ...]
    columns: tuple[Column, ...]
    feeds: str

    @property
    def column_names(self) -> tuple[str, ...]:
        """The names of the columns, in the order of the template."""
        return tuple(column.name for column in self.columns)

    def column(self, name: str) -> Column:
        """The column of that name; raises `KeyError` if the table has none."""
        for column in self.columns:
            if column.name == name:
                return column
        raise KeyError(name)
