"""The season fished again and again: each time some of its trips count for more, some for less.

A trip's weight is drawn from the exponential law (the Bayesian bootstrap: Rubin, Annals of
Statistics 9 (1981) 130), so that no trip is ever left out whole and a fit that exists for the
season exists for every draw. With the trips weighted, the fit is found by Newton's steps from the
season's own, all draws at once, from sums by trip and pattern.
"""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256
from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import csr_array

from pipeline.rates.poisson import half_width

if TYPE_CHECKING:
    import polars as pl
    from numpy.typing import NDArray

    from pipeline.rates.cells import Cells

DRAWS = 1000
MOST_STEPS = 30
CLOSE_ENOUGH = 1e-3
"""The last step's size in any log rate. Steps shrink as their squares, so it is off by 1e-6."""
LONGEST_STEP = 2.0
TAILS = (0.025, 0.975)


@dataclass(frozen=True)
class Interval:
    """A figure and its 95 % interval; the limits are None where no draw can tell them."""

    estimate: float
    low: float | None
    high: float | None


def trip_weights(trips: pl.DataFrame, draws: int = DRAWS) -> NDArray[np.float64]:
    """The weights of the trips in each draw: trips × draws, of mean 1.

    `trips` has vessel and trip, sorted. Seeded by their names: the same season gives the same
    weights, in any currency.
    """
    names = "\n".join("\t".join(name) for name in trips.select("vessel", "trip").iter_rows())
    seed = int.from_bytes(sha256(names.encode()).digest()[:8])
    return np.random.default_rng(seed).standard_exponential((trips.height, draws))


def refit(
    cells: Cells,
    estimate: NDArray[np.float64],
    trip: NDArray[np.int64],
    weights: NDArray[np.float64],
) -> NDArray[np.float64]:
    """The coefficients in each draw: terms × draws, from the season's own `estimate`.

    `trip` is each sum's row in `weights`.
    """
    shape = (len(cells.design), len(weights))
    hours, total = (
        csr_array((amount, (cells.pattern, trip)), shape=shape) @ weights
        for amount in (cells.hours, cells.total)
    )
    # A pattern has a level of each factor and no other, so that most of the design is nought.
    rows, columns = np.triu_indices(cells.design.shape[1])
    products = csr_array((cells.design[:, rows] * cells.design[:, columns]).T)
    design, by_term = csr_array(cells.design), csr_array(cells.design.T)
    found = np.repeat(estimate[:, None], weights.shape[1], axis=1)
    open_draws = np.arange(weights.shape[1])
    for _ in range(MOST_STEPS):
        mean = hours * np.exp(design @ found[:, open_draws])
        information = np.empty((len(open_draws), *(2 * design.shape[1:])))
        upper = (products @ mean).T
        information[:, rows, columns] = upper
        information[:, columns, rows] = upper
        score = by_term @ (total - mean)
        step = np.linalg.solve(information, score.T[..., None])[..., 0].T
        size = np.abs(step).max(axis=0)
        found[:, open_draws] += step * np.minimum(1, LONGEST_STEP / np.maximum(size, LONGEST_STEP))
        unsettled = size > CLOSE_ENOUGH
        if not unsettled.any():
            break
        open_draws = open_draws[unsettled]
        hours, total = hours[:, unsettled], total[:, unsettled]
    return found


def stretched(row: NDArray[np.float64], trips: int) -> NDArray[np.float64]:
    """A rate and its draws, these moved away from the rate as far as so few trips ask for.

    The first of `row` is the season's own rate, the rest are draws. In logs they go as much further
    off as t is wider than the normal on `trips` − 1, and by the share of the spread that draws of
    so few trips lack (Hesterberg, The American Statistician 69 (2015) 371, section 4.2; from
    memory). `trips` is at least two. How often such intervals hold the truth, and how often
    without it: `tests/proofs/money_over_seasons.py`.
    """
    wider = half_width(trips - 1) / half_width(np.inf) * np.sqrt((trips + 1) / (trips - 1))
    return _moved_off(row, wider)


def at_least_as_wide(row: NDArray[np.float64], spread: float) -> NDArray[np.float64]:
    """A mean and its draws, these moved away from the mean until their logs spread as much.

    The first of `row` is the season's own mean, the rest are draws.
    """
    if row[0] <= 0 or (own := float(np.log(row[1:] / row[0]).std())) <= 0:
        return row
    return _moved_off(row, max(1.0, spread / own))


def _moved_off(row: NDArray[np.float64], times: float) -> NDArray[np.float64]:
    """The draws so many times as far from the season's own figure, in logs; nothing stays so."""
    return row if row[0] <= 0 else np.asarray(row[0] * (row / row[0]) ** times)


def interval_of(row: NDArray[np.float64], *, sure: bool = True) -> Interval:
    """A figure and the percentiles of its draws; without limits where the draws are not `sure`.

    The first of `row` is the season's own figure, the rest are draws.
    """
    if not sure:
        return Interval(float(row[0]), None, None)
    low, high = np.quantile(row[1:], TAILS)
    return Interval(float(row[0]), float(low), float(high))
