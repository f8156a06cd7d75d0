"""Counts that scatter more than chance: a factor that each group of rows shares, gamma by law.

Where each row is a group of its own this is the negative binomial with a variance that grows as the
square of the mean (NB2); where the rows of a trip share it, the Poisson model with trip as a random
effect. The likelihood of both is in closed form, so one fit does for both. Coefficients are found
by scoring for each shape, and the shape where the likelihood of the two together is highest. The
errors are those of the expected information, given the shape, as in R's MASS::glm.nb; shape and
coefficients are independent there.

Weights are no counts: they are told in lots, of a size that makes them scatter within a trip as
counts do. That is this project's own judgement; no source. It leaves them free of their unit.

Sources, from memory: Lawless, Canadian Journal of Statistics 15 (1987) 209 (negative binomial);
Hausman, Hall & Griliches, Econometrica 52 (1984) 909 (the factor shared by a group); Venables &
Ripley, Modern Applied Statistics with S, 4th ed. 2002, section 7.4 (the shape's own score).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import brentq
from scipy.sparse import csr_array
from scipy.special import digamma

from pipeline.rates.poisson import LEAST_SPARE_TRIPS, NARROWEST, WIDEST, NoFitError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pipeline.rates.cells import Cells

MOST_STEPS = 100
CLOSE_ENOUGH = 1e-9
LONGEST_STEP = 2.0
MOST_ALIKE = 1e4
"""With a larger shape the groups differ by less than one part in a hundred: by nothing to see."""
LEAST_ALIKE = 1e-2


@dataclass(frozen=True)
class GroupedRows:
    """Rows of a count model: pattern, group, hours and total of each, and the patterns' design."""

    design: NDArray[np.float64]
    terms: tuple[str, ...]
    pattern: NDArray[np.int64]
    group: NDArray[np.int64]
    hours: NDArray[np.float64]
    total: NDArray[np.float64]


@dataclass(frozen=True)
class LogRatioFit:
    """Estimates with their covariance."""

    terms: tuple[str, ...]
    estimate: NDArray[np.float64]
    covariance: NDArray[np.float64]

    def effect(self, term: str) -> tuple[float, float] | None:
        """The log ratio of a term and its standard error; None where it can't be told."""
        if term not in self.terms:
            return None
        at = self.terms.index(term)
        variance = float(self.covariance[at, at])
        if not NARROWEST**2 < variance < WIDEST**2:
            return None
        return float(self.estimate[at]), float(np.sqrt(variance))


@dataclass(frozen=True)
class ScatterFit(LogRatioFit):
    """Such a fit, and the shape of what the groups share; None where chance alone explains it."""

    shape: float | None


def rows_of(cells: Cells, lot: float, *, by_trip: bool) -> GroupedRows:
    """The sums by trip and pattern, in lots, with each trip a group, or each row one of its own."""
    keys = cells.trip * len(cells.design) + cells.pattern
    _, first, place = np.unique(keys, return_index=True, return_inverse=True)
    trip = np.unique(cells.trip[first], return_inverse=True)[1]
    return GroupedRows(
        cells.design,
        cells.terms,
        cells.pattern[first],
        trip if by_trip else np.arange(len(first)),
        np.bincount(place, cells.hours).astype(float),
        np.bincount(place, cells.total) / lot,
    )


def lot_size(
    amount: NDArray[np.float64], mean: NDArray[np.float64], trip: NDArray[np.int64]
) -> float | None:
    """The size of lots in which the amounts of hauls scatter within a trip as counts do.

    That is Pearson's statistic by its degrees of freedom, of each haul against its share of what
    its trip had, by the fitted means. None where trips have too few hauls to tell, or these agree.
    """
    had, expected = np.bincount(trip, amount), np.bincount(trip, mean)
    share = mean * (had / expected)[trip]
    seen = share > 0
    spare = int(seen.sum()) - int((had > 0).sum())
    if spare < LEAST_SPARE_TRIPS:
        return None
    size = float(((amount - share)[seen] ** 2 / share[seen]).sum()) / spare
    return size if size > float(amount.max()) / MOST_ALIKE**2 else None


def fit_scatter(rows: GroupedRows, start: NDArray[np.float64]) -> ScatterFit:
    """The fit, from the Poisson fit's coefficients as the `start`.

    Where the likelihood grows without end as the groups become alike, the estimates are the start's
    and the shape None. Raises `NoFitError` where there is no finite solution.
    """
    found = start

    def slope(log_shape: float) -> float:
        nonlocal found
        found, mean = _solve(rows, found, float(np.exp(log_shape)))
        return _shape_score(rows, mean, float(np.exp(log_shape)))

    most, least = np.log(MOST_ALIKE), np.log(LEAST_ALIKE)
    if slope(most) >= 0:
        return ScatterFit(rows.terms, start, inverse(_poisson_information(rows, start)), None)
    if slope(least) <= 0:
        raise NoFitError
    shape = float(np.exp(brentq(slope, least, most, xtol=1e-12, rtol=1e-14)))
    found, mean = _solve(rows, found, shape)
    return ScatterFit(rows.terms, found, inverse(_information(rows, mean, shape)), shape)


def _solve(
    rows: GroupedRows, start: NDArray[np.float64], shape: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """The coefficients for a shape, and each row's mean, by scoring."""
    estimate = start
    had = np.bincount(rows.group, rows.total)
    for _ in range(MOST_STEPS):
        mean = rows.hours * np.exp(rows.design @ estimate)[rows.pattern]
        weight = (shape + had) / (shape + np.bincount(rows.group, mean))
        left_over = rows.total - weight[rows.group] * mean
        score = np.bincount(rows.pattern, left_over, len(rows.design)) @ rows.design
        step = inverse(_information(rows, mean, shape)) @ score
        size = float(np.abs(step).max())
        if not np.isfinite(size):
            raise NoFitError
        estimate = estimate + step * min(1.0, LONGEST_STEP / max(size, LONGEST_STEP))
        if size < CLOSE_ENOUGH:
            return estimate, rows.hours * np.exp(rows.design @ estimate)[rows.pattern]
    raise NoFitError


def _information(rows: GroupedRows, mean: NDArray[np.float64], shape: float) -> NDArray[np.float64]:
    """The expected information on the coefficients, given the shape."""
    groups = int(rows.group.max()) + 1
    by_group = csr_array((mean, (rows.group, rows.pattern)), (groups, len(rows.design)))
    moved = np.asarray(by_group @ rows.design)
    alike = moved / (shape + np.bincount(rows.group, mean))[:, None]
    return np.asarray(_weighed(rows, mean) - moved.T @ alike)


def _poisson_information(rows: GroupedRows, estimate: NDArray[np.float64]) -> NDArray[np.float64]:
    return _weighed(rows, rows.hours * np.exp(rows.design @ estimate)[rows.pattern])


def _weighed(rows: GroupedRows, mean: NDArray[np.float64]) -> NDArray[np.float64]:
    by_pattern = np.bincount(rows.pattern, mean, len(rows.design))
    return np.asarray(rows.design.T @ (rows.design * by_pattern[:, None]))


def inverse(information: NDArray[np.float64]) -> NDArray[np.float64]:
    """The inverse of an information matrix; raises `NoFitError` where there is none."""
    try:
        inverted = np.asarray(np.linalg.inv(information), dtype=float)
    except np.linalg.LinAlgError as error:
        raise NoFitError from error
    if not np.isfinite(inverted).all():
        raise NoFitError
    return inverted


def _shape_score(rows: GroupedRows, mean: NDArray[np.float64], shape: float) -> float:
    """How the log likelihood changes with the shape, by group."""
    had, expected = np.bincount(rows.group, rows.total), np.bincount(rows.group, mean)
    moved = digamma(shape + had) - digamma(shape) + np.log(shape / (shape + expected))
    return float((moved + 1 - (shape + had) / (shape + expected)).sum())
