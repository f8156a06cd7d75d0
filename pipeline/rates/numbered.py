"""Sums as arrays, their words numbered, so that millions of them are grouped by counting.

What follows from rigs, conditions, hauls and hours alone is the same for all outcomes that were
recorded of the same hauls. So it is kept apart from the outcome's own amounts, as `Rows`, which
these outcomes share, and is worked out once, when it is first asked for.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

import numpy as np
import polars as pl

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Hashable, Iterator, Mapping, Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Numbers = NDArray[np.int64]

RECORDED = ("total", "hauls_with_some")
"""What was recorded of an outcome; all other columns are of the fishing."""
TOGETHER = "\x1f"
"""Between the names of two columns, or their words: both together. No file has such a header."""
ROOM = 8
"""Numbers are counted in a table up to so many times as long as they are, and beyond it sorted."""

Made = TypeVar("Made")


class Codes(NamedTuple):
    """The words, or numbers, that a column has, in order; and of each row which of them it has."""

    words: Sequence[Any]
    codes: Numbers


class Taken(NamedTuple):
    """Rows `at` some places of the `whole`."""

    whole: Rows
    at: Numbers


@dataclass(frozen=True, eq=False)
class Rows:
    """What was fished, row by row: boat, trip, rig, conditions, hauls and hours.

    They are those of a table, or taken from other rows, of which what is known is not worked out
    again. What is `made` of them is remembered by its name.
    """

    source: pl.DataFrame | Taken
    made: dict[Hashable, Any] = field(default_factory=dict)

    def __len__(self) -> int:
        return len(self.source.at) if isinstance(self.source, Taken) else self.source.height

    @cached_property
    def frame(self) -> pl.DataFrame:
        """The rows as a table of words and numbers."""
        if isinstance(self.source, Taken):
            return self.source.whole.frame[self.source.at]
        return self.source

    def once(self, name: Hashable, make: Callable[[], Made]) -> Made:
        """What is made of these rows alone, the first time that it is asked for."""
        if name not in self.made:
            self.made[name] = make()
        made: Made = self.made[name]
        return made

    def codes(self, column: str) -> Codes:
        """The words, or numbers, of a column and which of them each row has.

        Two columns with `TOGETHER` between their names are as one.
        """
        return self.once(("codes", column), lambda: self._codes(column))

    def _codes(self, column: str) -> Codes:
        if TOGETHER in column:
            return _together([self.codes(each) for each in column.split(TOGETHER)])
        if not isinstance(self.source, Taken):
            return _of_words(self.source[column])
        words, codes = self.source.whole.codes(column)
        there, present = ranked(codes[self.source.at])
        return Codes([words[at] for at in present], there)

    @cached_property
    def trips(self) -> Numbers:
        """The number of each row's trip, in the order of boat and trip."""
        if isinstance(self.source, Taken):
            return ranked(self.source.whole.trips[self.source.at])[0]
        return grouped([self.codes("vessel"), self.codes("trip")])[0]

    @cached_property
    def hauls(self) -> Floats:
        """The hauls of each row."""
        return self.numbers("hauls")

    @cached_property
    def hours(self) -> Floats:
        """The hours towed of each row."""
        return self.numbers("tow_hours")

    def numbers(self, column: str) -> Floats:
        """A column of numbers as they are."""
        if isinstance(self.source, Taken):
            return self.source.whole.numbers(column)[self.source.at]
        return self.source[column].to_numpy().astype(np.float64)

    def having(self, column: str, words: Collection[str]) -> Rows:
        """The rows whose word in the column is one of these, of which some may be in none."""
        wanted = frozenset(words)
        return self.once(("having", column, wanted), lambda: self._having(column, wanted))

    def _having(self, column: str, words: frozenset[str]) -> Rows:
        own, codes = self.codes(column)
        kept = np.array([word in words for word in own], dtype=bool)
        return self if kept.all() else self.taken(np.flatnonzero(kept[codes]))

    def taken(self, at: Numbers) -> Rows:
        """The rows at these places."""
        return Rows(Taken(self, at))


@dataclass(frozen=True, eq=False)
class Sums:
    """The sums of one outcome: its `total` and the hauls `with_some` of it, for each of `rows`.

    `yes_or_no` is whether no haul of the outcome had another amount than one or none; it is of all
    the sums from which these were taken.
    """

    rows: Rows
    total: Floats
    with_some: Floats
    yes_or_no: bool

    def __len__(self) -> int:
        return len(self.rows)

    def codes(self, column: str) -> Codes:
        """The words, or numbers, of a column and which of them each row has."""
        return self.rows.codes(column)

    def only(self, column: str, words: Collection[str]) -> Sums:
        """The sums whose word in the column is one of these, of which some may be in none."""
        return self._of(self.rows.having(column, words))

    def at(self, kept: NDArray[np.bool_]) -> Sums:
        """The sums that are marked."""
        return self if kept.all() else self._of(self.rows.taken(np.flatnonzero(kept)))

    def _of(self, rows: Rows) -> Sums:
        if rows is self.rows or not isinstance(rows.source, Taken):
            return self
        at = rows.source.at
        return Sums(rows, self.total[at], self.with_some[at], self.yes_or_no)


def numbered(sums: pl.DataFrame | Sums) -> Sums:
    """The sums of one outcome as arrays; what is so already is left as it is."""
    if isinstance(sums, Sums):
        return sums
    return _recorded(Rows(sums.drop(RECORDED, strict=False)), sums)


def _recorded(rows: Rows, sums: pl.DataFrame) -> Sums:
    """The rows with what was recorded; what was not asked for is nought."""
    total, with_some = (
        sums[name].to_numpy().astype(np.float64) if name in sums.columns else np.zeros(len(rows))
        for name in RECORDED
    )
    return Sums(rows, total, with_some, bool((total == with_some).all()))


def by_outcome(sums: pl.DataFrame | Mapping[str, Sums]) -> Mapping[str, Sums]:
    """The sums of each outcome, in the order of their names; what is so already is left so.

    Outcomes that were recorded of the same fishing share their rows.
    """
    if not isinstance(sums, pl.DataFrame):
        return sums
    found: dict[str, Sums] = {}
    different: list[Rows] = []
    for name, part in sorted(_parts(sums)):
        fished = part.drop("outcome", *RECORDED, strict=False)
        rows = next((known for known in different if known.frame.equals(fished)), None)
        if rows is None:
            rows = Rows(fished)
            different.append(rows)
        found[name] = _recorded(rows, part)
    return found


def _parts(sums: pl.DataFrame) -> Iterator[tuple[str, pl.DataFrame]]:
    """The rows of each outcome, which as a rule stand together, so that they need no copy."""
    runs = sums["outcome"].rle().struct.unnest()
    if runs["value"].is_duplicated().any():
        parts = sums.partition_by("outcome", maintain_order=True, as_dict=True).items()
        yield from ((str(name), part) for (name,), part in parts)
        return
    begin = 0
    for many, name in runs.iter_rows():
        yield str(name), sums[begin : begin + many]
        begin += many


def _of_words(column: pl.Series) -> Codes:
    """The words, or numbers, of a column in order, and which of them each row has."""
    if column.dtype != pl.String:
        numbers, codes = np.unique(column.to_numpy(), return_inverse=True)
        return Codes(numbers.tolist(), codes)
    each = column.to_list()
    words = sorted(set(each))
    number = {word: at for at, word in enumerate(words)}
    return Codes(words, np.array([number[word] for word in each], dtype=np.int64))


def _together(columns: Sequence[Codes]) -> Codes:
    """The words of several columns put together, and which of them each row has."""
    codes, first = grouped(columns)
    words = zip(*([each.words[at] for at in each.codes[first]] for each in columns), strict=True)
    return Codes([TOGETHER.join(map(str, each)) for each in words], codes)


def grouped(columns: Sequence[Codes]) -> tuple[Numbers, Numbers]:
    """The number of each row's group, groups in the order of the columns; a row of each group."""
    codes, groups = np.zeros(len(columns[0].codes), dtype=np.int64), 1
    for column in columns:
        size = len(column.words)
        codes = codes * size + column.codes
        groups *= size
        if groups > ROOM * (len(codes) + 1):
            codes, present = ranked(codes)
            groups = len(present)
    codes, present = ranked(codes)
    first = np.empty(len(present), dtype=np.int64)
    first[codes[::-1]] = np.arange(len(codes))[::-1]
    return codes, first


def ranked(numbers: Numbers) -> tuple[Numbers, Numbers]:
    """The rank of each number among those that there are, from nought; and which there are."""
    most = int(numbers.max(initial=-1)) + 1
    if most > ROOM * (len(numbers) + 1):
        present, ranks = np.unique(numbers, return_inverse=True)
        return ranks, present
    there = np.zeros(most, dtype=bool)
    there[numbers] = True
    return (np.cumsum(there) - 1)[numbers], np.flatnonzero(there)
