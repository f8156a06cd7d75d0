"""What a fit works on: a design over patterns, and sums by trip and pattern."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import polars as pl
from scipy.optimize import linprog
from scipy.sparse import csr_array, eye_array, hstack

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

INDEPENDENT = 1e-9
"""A term whose part that other terms can't give is smaller than this says nothing of its own."""
RANK_TOLERANCE = 1e-9


@dataclass(frozen=True)
class Cells:
    """Sums by trip and pattern, and the terms of a model over the patterns.

    `design` is patterns × terms. `row`, `pattern` and `trip` are indices, one for each sum: its
    place in what was laid out, its pattern and its trip; `hauls`, `hours` and `total` stand beside
    them. `estimable` says of each term whether the patterns tell it from the others.
    """

    design: NDArray[np.float64]
    terms: tuple[str, ...]
    estimable: NDArray[np.bool_]
    row: NDArray[np.int64]
    pattern: NDArray[np.int64]
    trip: NDArray[np.int64]
    hauls: NDArray[np.float64]
    hours: NDArray[np.float64]
    total: NDArray[np.float64]

    @property
    def haul_count(self) -> int:
        """How many hauls the sums are of."""
        return int(self.hauls.sum())

    @property
    def trip_count(self) -> int:
        """How many trips, which is how many clusters."""
        return len(np.unique(self.trip))


def lay_out(
    sums: pl.DataFrame,
    rig: str,
    reference: str,
    factors: Sequence[str],
    measure: str | None = None,
    *,
    every_pattern: bool = False,
) -> Cells:
    """The cells of a model with one term a level of `rig` and of each factor.

    `sums` has vessel, trip, hauls, tow_hours, total, the column `rig` and the factors. The
    level that others are held against is `reference` for the rig, the first word for a factor.
    `measure` is a column of numbers that the log rate follows in a straight line.
    `every_pattern` is whether those are kept whose mean goes to nought as the likelihood grows.
    """
    columns = [rig, *factors]
    conditions = columns if measure is None else [*columns, measure]
    ranks = sums.select(pl.col(conditions).rank("dense")).to_numpy()
    _, first, pattern = np.unique(ranks, axis=0, return_index=True, return_inverse=True)
    pattern = pattern.ravel()
    terms = ["intercept"]
    parts = [np.ones(len(first))]
    for column, of_pattern in zip(columns, ranks[first].T, strict=False):
        levels = sums[column].unique().sort().to_list()
        base = reference if column == rig else levels[0]
        for rank, level in enumerate(levels, start=1):
            if level != base:
                terms.append(term(column, level))
                parts.append((of_pattern == rank).astype(float))
    if measure is not None:
        terms.append(measure)
        parts.append(sums[measure].to_numpy()[first].astype(float))
    design = np.column_stack(parts)
    hauls, hours, amount = (
        sums[name].to_numpy().astype(float) for name in ("hauls", "tow_hours", "total")
    )
    total = np.bincount(pattern, amount, len(design)).astype(float)
    finite = np.ones(len(design), dtype=bool)
    if not every_pattern:
        finite = finite_mean(design[:, _independent(_relations(design))], total)
    row = np.flatnonzero(finite[pattern])
    design = design[finite]
    relations = _relations(design)
    independent = _independent(relations)
    place = np.cumsum(finite) - 1
    trip = sums.select(pl.struct("vessel", "trip").rank("dense").alias("trip"))["trip"].to_numpy()
    return Cells(
        design=design[:, independent],
        terms=tuple(np.array(terms)[independent]),
        estimable=_estimable(relations)[independent],
        row=row,
        pattern=place[pattern[row]],
        trip=np.unique(trip[row], return_inverse=True)[1],
        hauls=hauls[row],
        hours=hours[row],
        total=amount[row],
    )


def term(column: str, level: str) -> str:
    """The name of the term for one level of a factor."""
    return f"{column}: {level}"


def finite_mean(design: NDArray[np.float64], total: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Which patterns have a mean that does not go to zero as the likelihood grows.

    A pattern with none of the outcome has no finite log mean where some direction of the
    coefficients lowers it and moves no pattern that has some (Haberman 1974; found by linear
    programming). Leaving such patterns out is the limit of the fit. Where the patterns that have
    some already tell every term, no direction is left, and nothing need be sought.
    """
    none: NDArray[np.bool_] = total == 0
    if np.linalg.matrix_rank(design[~none]) == design.shape[1]:
        return np.ones(len(total), dtype=bool)
    lowered, terms = int(none.sum()), design.shape[1]
    found = linprog(
        np.repeat([0.0, -1.0], [terms, lowered]),
        A_ub=hstack([csr_array(design[none]), eye_array(lowered)]),
        b_ub=np.zeros(lowered),
        A_eq=hstack([csr_array(design[~none]), csr_array((len(design) - lowered, lowered))]),
        b_eq=np.zeros(len(design) - lowered),
        bounds=[(None, None)] * terms + [(0, 1)] * lowered,
    )
    finite = np.ones(len(total), dtype=bool)
    finite[none] = np.round(found.x[terms:]) == 0  # each is 0 or 1
    return finite


def _relations(design: NDArray[np.float64]) -> NDArray[np.float64]:
    """A matrix with the linear relations of the design's columns and no more rows than terms."""
    return np.asarray(np.linalg.qr(design, mode="r"))


def _independent(design: NDArray[np.float64]) -> list[int]:
    """The terms that those before them do not already give, first come first kept."""
    kept: list[int] = []
    basis = np.zeros((design.shape[0], 0))
    for at in range(design.shape[1]):
        column = design[:, at]
        rest = column - basis @ (basis.T @ column)
        rest -= basis @ (basis.T @ rest)
        size = float(np.linalg.norm(rest))
        if size > INDEPENDENT * max(float(np.linalg.norm(column)), 1.0):
            kept.append(at)
            basis = np.column_stack([basis, rest / size])
    return kept


def _estimable(design: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Whether each coefficient is the same in every solution: its unit vector is a row's mix."""
    terms = design.shape[1]
    tall = np.vstack([design, np.zeros((max(terms - len(design), 0), terms))])
    _, sizes, rows = np.linalg.svd(tall, full_matrices=False)
    rank = int((sizes > sizes.max() * RANK_TOLERANCE).sum())
    null_space = rows[rank:]
    return np.asarray((np.abs(null_space) < RANK_TOLERANCE).all(axis=0))
