"""What a fit works on: a design over patterns, and sums by trip and pattern."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from scipy.optimize import linprog
from scipy.sparse import csr_array, eye_array, hstack

from pipeline.rates.design import RANK_TOLERANCE, Design, null_space, told_apart
from pipeline.rates.numbered import grouped, numbered

if TYPE_CHECKING:
    from collections.abc import Sequence

    import polars as pl
    from numpy.typing import NDArray

    from pipeline.rates.numbered import Rows, Sums

INDEPENDENT = 1e-9
"""A term whose part that other terms can't give is smaller than this says nothing of its own."""


@dataclass(frozen=True)
class Cells:
    """Sums by trip and pattern, and the terms of a model over the patterns.

    `row`, `pattern` and `trip` are indices, one for each sum: its place in what was laid out, its
    pattern and its trip; `hauls`, `hours` and `total` stand beside them. `estimable` says of each
    term whether the patterns tell it from the others; `yes_or_no` is that of the sums.
    """

    coded: Design
    terms: tuple[str, ...]
    estimable: NDArray[np.bool_]
    row: NDArray[np.int64]
    pattern: NDArray[np.int64]
    trip: NDArray[np.int64]
    hauls: NDArray[np.float64]
    hours: NDArray[np.float64]
    total: NDArray[np.float64]
    yes_or_no: bool = False

    @property
    def design(self) -> NDArray[np.float64]:
        """The terms as a matrix: patterns × terms."""
        return self.coded.matrix

    @property
    def haul_count(self) -> int:
        """How many hauls the sums are of."""
        return int(self.hauls.sum())

    @cached_property
    def trip_count(self) -> int:
        """How many trips, which is how many clusters."""
        return int((np.bincount(self.trip) > 0).sum())

    @cached_property
    def pattern_hours(self) -> NDArray[np.float64]:
        """The hours of each pattern."""
        return np.bincount(self.pattern, self.hours, len(self.coded)).astype(float)

    @cached_property
    def pattern_total(self) -> NDArray[np.float64]:
        """The total of each pattern."""
        return np.bincount(self.pattern, self.total, len(self.coded)).astype(float)


def lay_out(
    sums: pl.DataFrame | Sums,
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
    sums = numbered(sums)
    asked = (rig, reference, tuple(factors), measure)
    laid = sums.rows.once(("laid out", *asked), lambda: _lay(sums.rows, *asked))
    rows, row = sums.rows, np.arange(len(sums))
    if not every_pattern:
        total = np.bincount(laid.pattern, sums.total, len(laid.design)).astype(float)
        finite = finite_mean(laid.told.design, total)
        if not finite.all():
            row = np.flatnonzero(finite[laid.pattern])
            rows = rows.taken(row)
            laid = _Laid(
                laid.terms, laid.design.at(finite), (np.cumsum(finite) - 1)[laid.pattern[row]]
            )
    return Cells(
        coded=laid.told.design,
        terms=tuple(np.array(laid.terms)[laid.told.kept]),
        estimable=laid.told.estimable,
        row=row,
        pattern=laid.pattern,
        trip=rows.trips,
        hauls=rows.hauls,
        hours=rows.hours,
        total=sums.total[row],
        yes_or_no=sums.yes_or_no,
    )


class _Told(NamedTuple):
    """A design without the terms that those before them give, which those are, and `estimable`."""

    design: Design
    kept: list[int]
    estimable: NDArray[np.bool_]


@dataclass(frozen=True)
class _Laid:
    """All terms of a model over the patterns that rows were of, and the pattern of each row."""

    terms: list[str]
    design: Design
    pattern: NDArray[np.int64]

    @cached_property
    def told(self) -> _Told:
        """The terms that tell something of their own."""
        if told_apart(self.design):
            every = list(range(self.design.terms))
            return _Told(self.design, every, np.ones(self.design.terms, dtype=bool))
        relations = _relations(self.design)
        kept = _independent(relations)
        return _Told(self.design.keep(kept), kept, _estimable(relations, kept))


def _lay(
    rows: Rows, rig: str, reference: str, factors: tuple[str, ...], measure: str | None
) -> _Laid:
    columns = [rig, *factors]
    levels = [rows.codes(column) for column in columns]
    slope = () if measure is None else (rows.numbers(measure),)
    values = [rows.codes(measure)] if measure is not None else []
    pattern, first = grouped([*levels, *values])
    terms, place = ["intercept"], [np.zeros(len(first), dtype=np.int64)]
    of_base: list[NDArray[np.int64]] = []
    for column, level in zip(columns, levels, strict=True):
        base = level.words.index(reference) if column == rig else 0
        after = len(terms) - (np.arange(len(level.words)) > base)
        place.append((np.arange(len(level.words)) + after)[level.codes[first]])
        of_base.append(level.codes[first] == base)
        terms += [term(column, word) for at, word in enumerate(level.words) if at != base]
    terms += [measure] if measure is not None else []
    for of_factor, is_base in zip(place[1:], of_base, strict=True):
        of_factor[is_base] = len(terms)
    design = Design(
        np.array(place),
        np.array([column[first] for column in slope]).reshape(-1, len(first)),
        np.arange(len(terms) - len(slope), len(terms)),
        len(terms),
    )
    return _Laid(terms, design, pattern)


def term(column: str, level: str) -> str:
    """The name of the term for one level of a factor."""
    return f"{column}: {level}"


def finite_mean(design: Design, total: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Which patterns have a mean that does not go to zero as the likelihood grows.

    A pattern with none of the outcome has no finite log mean where some direction of the
    coefficients lowers it and moves no pattern that has some (Haberman 1974; found by linear
    programming). Leaving such patterns out is the limit of the fit. Where the patterns that have
    some already tell every term, no direction is left, and nothing need be sought.
    """
    none: NDArray[np.bool_] = total == 0
    if not none.any():
        return ~none
    if told_apart(design, ~none):
        return np.ones(len(total), dtype=bool)
    some = design.at(~none)
    telling = some.at(some.telling()).matrix
    if np.linalg.matrix_rank(telling) == design.terms:
        return np.ones(len(total), dtype=bool)
    lowered = int(none.sum())
    found = linprog(
        np.repeat([0.0, -1.0], [design.terms, lowered]),
        A_ub=hstack([csr_array(design.at(none).matrix), eye_array(lowered)]),
        b_ub=np.zeros(lowered),
        A_eq=hstack([csr_array(telling), csr_array((len(telling), lowered))]),
        b_eq=np.zeros(len(telling)),
        bounds=[(None, None)] * design.terms + [(0, 1)] * lowered,
    )
    finite = np.ones(len(total), dtype=bool)
    finite[none] = np.round(found.x[design.terms :]) == 0  # each is 0 or 1
    return finite


def _relations(design: Design) -> NDArray[np.float64]:
    """A matrix with the linear relations of the design's columns and no more rows than terms."""
    return np.asarray(np.linalg.qr(design.at(design.telling()).matrix, mode="r"))


def _independent(design: NDArray[np.float64]) -> list[int]:
    """The terms that those before them do not already give, first come first kept.

    `design` is the triangle of `_relations`.
    """
    norms = np.maximum(np.linalg.norm(design, axis=0), 1.0)
    # Of a triangle, what each column adds to those before it stands on the diagonal, as long as
    # each of them adds something.
    if design.shape[0] >= design.shape[1] and (np.abs(np.diag(design)) > INDEPENDENT * norms).all():
        return list(range(design.shape[1]))
    kept: list[int] = []
    basis = np.zeros((design.shape[0], 0))
    for at in range(design.shape[1]):
        column = design[:, at]
        rest = column - basis @ (basis.T @ column)
        rest -= basis @ (basis.T @ rest)
        size = float(np.linalg.norm(rest))
        if size > INDEPENDENT * norms[at]:
            kept.append(at)
            basis = np.column_stack([basis, rest / size])
    return kept


def _estimable(relations: NDArray[np.float64], kept: list[int]) -> NDArray[np.bool_]:
    """Whether each term kept is the same in every solution: its unit vector is a row's mix."""
    if len(kept) == relations.shape[1]:
        return np.ones(len(kept), dtype=bool)
    told = np.abs(null_space(relations)) < RANK_TOLERANCE
    return np.asarray(told.all(axis=1))[kept]
