"""A reader who works at the hidden cells of shared tables, knowing what is shown and no more.

Written apart from the program, and in another way: it has one unknown a hidden cell, and each total
as an equation, where the program has the finest combinations.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import chain, product
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import eye_array, kron

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    import polars as pl

Key: TypeAlias = "tuple[str | None, ...]"
ENDLESS = 1e4
"""So many times the largest value shown."""


@dataclass(frozen=True)
class Equations:
    """Unknowns of zero or more, by the key of their cell, and the equations that they must meet."""

    unknown: list[Key]
    factors: np.ndarray
    totals: np.ndarray
    largest: float

    def bounds(self, groups: Sequence[Sequence[Key]]) -> np.ndarray:
        """Between what the sum of each of these groups of hidden cells must be (groups × two).

        All in one linear program, side by side; what is found beyond all bounds is endless.
        """
        if not groups:
            return np.empty((0, 2))
        aims = np.array([[float(key in set(group)) for key in self.unknown] for group in groups])
        both = np.vstack([aims, -aims])
        found = linprog(
            both.ravel(),
            A_eq=kron(eye_array(len(both)), self.factors, format="csr"),
            b_eq=np.tile(self.totals, len(both)),
            bounds=(0, ENDLESS),
        )
        assert found.status == 0, found.message
        ends = (np.abs(both) * found.x.reshape(both.shape)).sum(axis=1)
        ends[ends >= ENDLESS / 2] = np.inf
        return ends.reshape(2, -1).T * self.largest


def keys_of(cells: pl.DataFrame, columns: Sequence[str]) -> list[Key]:
    return cells.select(columns).rows()


def equations(
    shown: dict[Key, float | None], tables: Sequence[Sequence[Sequence[str]]], columns: list[str]
) -> Equations:
    """What the shown cells say: `shown` has each cell's value, None where it is hidden.

    A cell that is not there is empty.
    """
    unknown = [key for key, value in shown.items() if value is None]
    place = {key: at for at, key in enumerate(unknown)}
    largest = max((value for value in shown.values() if value), default=1.0)
    rows, totals = [], []
    for total, parts in _sums(shown, tables, columns):
        row, rest = np.zeros(len(unknown)), 0.0
        for key, sign in [(total, 1), *((part, -1) for part in parts)]:
            if shown[key] is None:
                row[place[key]] += sign
            else:
                rest -= sign * shown[key]
        if row.any():
            rows.append(row)
            totals.append(rest / largest)
    return Equations(
        unknown, np.array(rows).reshape(len(rows), len(unknown)), np.array(totals), largest
    )


def _sums(
    shown: dict[Key, float | None], tables: Sequence[Sequence[Sequence[str]]], columns: list[str]
) -> Iterator[tuple[Key, list[Key]]]:
    """Each total with the cells that it is said to be the sum of."""
    filled = {key: {c for c, value in zip(columns, key, strict=True) if value} for key in shown}
    for table in tables:
        for depths in product(*(range(len(side) + 1) for side in table)):
            kept = set(chain(*(side[:depth] for side, depth in zip(table, depths, strict=True))))
            for side, depth in zip(table, depths, strict=True):
                if depth == len(side):
                    continue
                finer = kept | {side[depth]}
                of = [columns.index(column) for column in kept]
                for total in (key for key in shown if filled[key] == kept):
                    yield (
                        total,
                        [
                            key
                            for key in shown
                            if filled[key] == finer and all(key[at] == total[at] for at in of)
                        ],
                    )
