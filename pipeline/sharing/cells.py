"""The cells of the tables that are shared: inner cells and every total, with what each boat adds.

What a reader does not know is what stands in each combination of all the tables' columns that no
table shows to be empty; every cell is a sum of these. Tables that share a column are tied together
by that, and so are a total and what it sums.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import reduce
from itertools import chain, product
from typing import TYPE_CHECKING, TypeAlias

import numpy as np
import polars as pl

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from schemas.settings import Sharing

HOURS = "tow_hours"

Dimension: TypeAlias = "Sequence[str]"
"""The columns of one side of a table, coarse ones first: ("ground_gear", "rig_version")."""


@dataclass(frozen=True)
class Cells:
    """Every cell of the tables, once, and what the boats add to it.

    `keys` has a row a cell and a column for each of the tables' columns, null where summed over.
    `sums` (cells × combinations) says what each cell sums, `inner` (tables × cells) which cells of
    a table are no total. `present` (boats × combinations) is where a boat fished, `amounts`
    (measures × boats × combinations) how much; the first measure is hours.
    """

    keys: pl.DataFrame
    sums: NDArray[np.bool_]
    inner: NDArray[np.bool_]
    boats: tuple[str, ...]
    measures: tuple[str, ...]
    present: NDArray[np.bool_]
    amounts: NDArray[np.float64]

    def totals(self) -> NDArray[np.float64]:
        """Measures × cells: what stands in each cell."""
        return np.asarray(self.amounts.sum(axis=1) @ self.sums.T)

    def vessels(self) -> NDArray[np.int64]:
        """How many boats fished in each cell."""
        return np.asarray(boats_in(self.sums, self).sum(axis=1))


def boats_in(sums: NDArray[np.bool_], cells: Cells) -> NDArray[np.bool_]:
    """Sums × boats: which boats fished in each of the sums of combinations."""
    return np.asarray(sums.astype(int) @ cells.present.T.astype(int) > 0)


def few_boats(sums: NDArray[np.bool_], cells: Cells, sharing: Sharing) -> NDArray[np.bool_]:
    """Which of the sums of combinations are of fewer boats than `min_vessels`."""
    return np.asarray(boats_in(sums, cells).sum(axis=1) < sharing.min_vessels)


def mostly_one_boats(sums: NDArray[np.bool_], cells: Cells, sharing: Sharing) -> NDArray[np.bool_]:
    """Of which of the sums of combinations one boat has more than `max_share` of the hours."""
    hours = sums @ cells.amounts[0].T
    return np.asarray(hours.max(axis=1) > sharing.max_share * hours.sum(axis=1))


def told_by_few(measure: str, cells: Cells, sharing: Sharing) -> NDArray[np.bool_]:
    """Of which cells the hours of `measure` are of too few boats, or mostly one boat's.

    Such hours are those of which something was recorded. Where it was of none, nothing is told.
    """
    hours = cells.sums @ cells.amounts[cells.measures.index(measure)].T
    few = (hours > 0).sum(axis=1) < sharing.min_vessels
    mostly = hours.max(axis=1) > sharing.max_share * hours.sum(axis=1)
    return np.asarray((few | mostly) & hours.any(axis=1))


def lay_out(
    contributions: pl.DataFrame, tables: Sequence[Sequence[Dimension]], measures: Sequence[str]
) -> Cells:
    """The cells of the tables, from rows with the tables' columns, `vessel`, hours and measures.

    ValueError where a column of a table is blank, or an amount is blank, below zero or no number,
    or hours are zero.
    """
    columns = list(dict.fromkeys(chain(*chain(*tables))))
    names = (HOURS, *(name for name in measures if name != HOURS))
    _refuse(contributions, [*columns, "vessel"], names)
    each = [list(dict.fromkeys(chain(*table))) for table in tables]
    unknown = reduce(_join, (contributions.select(own).unique() for own in each)).select(columns)
    unknown = unknown.sort(columns).with_row_index("combination")
    keys, sums = _cells_of(unknown, tables, columns)
    boats = tuple(contributions["vessel"].unique().sort())
    present, amounts = _by_boat(contributions, unknown, columns, boats, names)
    inner = [
        keys.select(
            pl.all_horizontal(pl.col(column).is_not_null() == (column in own) for column in columns)
        )
        .to_series()
        .to_numpy()
        for own in each
    ]
    return Cells(keys, sums, np.array(inner), boats, names, present, amounts)


def _refuse(contributions: pl.DataFrame, filled: list[str], names: tuple[str, ...]) -> None:
    """Raise ValueError for what no cell can be made of."""
    for column in filled:
        if contributions[column].null_count():
            raise ValueError(f"{column} is blank in some rows")
    for name in names:
        amounts = contributions[name].cast(pl.Float64)
        allowed = amounts > 0 if name == HOURS else amounts >= 0
        if not (amounts.is_finite() & allowed).fill_null(value=False).all():
            least = "more than zero" if name == HOURS else "zero or more"
            raise ValueError(f"{name} must be {least} in every row")


def _join(left: pl.DataFrame, right: pl.DataFrame) -> pl.DataFrame:
    """The combinations that neither table shows to be empty."""
    shared = [column for column in right.columns if column in left.columns]
    return left.join(right, on=shared) if shared else left.join(right, how="cross")


def _cells_of(
    unknown: pl.DataFrame, tables: Sequence[Sequence[Dimension]], columns: list[str]
) -> tuple[pl.DataFrame, NDArray[np.bool_]]:
    """The cells' keys, and which combinations each sums; the total of all stands first."""
    kept = {
        tuple(column for column in columns if column in set(chain(*parts)))
        for table in tables
        for parts in product(*([side[:depth] for depth in range(len(side) + 1)] for side in table))
    }
    summed = [
        unknown.group_by(names, maintain_order=True).agg("combination")
        if names
        else unknown.select(pl.col("combination").implode())
        for names in sorted(kept, key=lambda names: (len(names), names))
    ]
    cells = pl.concat(summed, how="diagonal").select(*columns, "combination")
    sums = np.zeros((len(cells), len(unknown)), dtype=bool)
    at = cells.select("combination").with_row_index("cell").explode("combination").to_numpy().T
    sums[at[0], at[1]] = True
    return cells.drop("combination"), sums


def _by_boat(
    contributions: pl.DataFrame,
    unknown: pl.DataFrame,
    columns: list[str],
    boats: tuple[str, ...],
    names: tuple[str, ...],
) -> tuple[NDArray[np.bool_], NDArray[np.float64]]:
    """Where each boat fished, and how much of each measure it has there."""
    rows = contributions.group_by(*columns, "vessel").agg(pl.col(names).cast(pl.Float64).sum())
    rows = rows.join(unknown, on=columns)
    boat = rows["vessel"].replace_strict(boats, range(len(boats)), return_dtype=pl.Int64)
    place = boat.to_numpy(), rows["combination"].to_numpy()
    present = np.zeros((len(boats), len(unknown)), dtype=bool)
    present[place] = True
    amounts = np.zeros((len(names), len(boats), len(unknown)))
    for measure, name in enumerate(names):
        amounts[measure][place] = rows[name].to_numpy()
    return present, amounts
