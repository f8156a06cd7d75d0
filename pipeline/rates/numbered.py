"""Sums with their words numbered, so that millions of them are grouped by counting."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
import polars as pl

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from numpy.typing import NDArray

    Numbers = NDArray[np.int64]

NUMBER = "\x1f"
"""Before the name of a column of words it is that of their numbers. No file has such a header."""
TRIP = NUMBER + "trip of its boat"
"""The number of the trip, in the order of boat and trip."""
OF_TRIP = ["vessel", "trip"]
ROOM = 8
"""Numbers are counted in a table up to so many times as long as they are, and beyond it sorted."""


class Codes(NamedTuple):
    """The words, or numbers, that a column has, in order; and of each row which of them it has."""

    words: Sequence[Any]
    codes: Numbers


def numbered(sums: pl.DataFrame) -> pl.DataFrame:
    """The sums with the number of each word beside it, in the order of words, and `TRIP`.

    Words become an Enum of those that there are. What is so already is left as it is, so that it is
    done once for all outcomes and grounds.
    """
    words = [name for name, kind in sums.schema.items() if kind == pl.String]
    if words:
        sums = sums.with_columns(column for name in words for column in _as_enum(sums[name]))
    if TRIP in sums.columns or not set(OF_TRIP) <= set(sums.columns):
        return sums
    trip, _ = grouped([codes_of(sums, column) for column in OF_TRIP])
    return sums.with_columns(pl.Series(TRIP, trip))


def _as_enum(column: pl.Series) -> tuple[pl.Series, pl.Series]:
    """The words as an Enum of those that there are, and the number of each."""
    words = column.cast(pl.Enum(column.unique().drop_nulls().sort()))
    return words, words.to_physical().cast(pl.Int64).alias(NUMBER + column.name)


def with_words(sums: pl.DataFrame, column: str, codes: Codes) -> pl.DataFrame:
    """The numbered sums with one more column of words."""
    numbers = pl.Series(NUMBER + column, codes.codes)
    words = pl.Series(column, codes.words, dtype=pl.Enum(codes.words)).gather(numbers)
    return sums.with_columns(words, numbers)


def by_outcome(sums: pl.DataFrame) -> dict[str, pl.DataFrame]:
    """The numbered sums of each outcome, in the order of their names."""
    parts = numbered(sums).partition_by("outcome", maintain_order=True, as_dict=True)
    return {str(name): part for (name,), part in sorted(parts.items())}


def only(sums: pl.DataFrame, column: str, words: Collection[str]) -> pl.DataFrame:
    """The numbered sums whose word in the column is one of these, of which some may be in none."""
    wanted = np.array([word in words for word in _words(sums, column)], dtype=bool)
    return sums.filter(pl.Series(wanted[sums[NUMBER + column].to_numpy()]))


def codes_of(sums: pl.DataFrame, column: str) -> Codes:
    """The words, or numbers, of a column of numbered sums, and which of them each row has."""
    if NUMBER + column in sums.columns:
        codes, present = ranked(sums[NUMBER + column].to_numpy())
        words = _words(sums, column)
        return Codes([words[at] for at in present], codes)
    numbers, codes = np.unique(sums[column].to_numpy(), return_inverse=True)
    return Codes(numbers.tolist(), codes)


def _words(sums: pl.DataFrame, column: str) -> list[str]:
    kind = sums[column].dtype
    return kind.categories.to_list() if isinstance(kind, pl.Enum) else []


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
