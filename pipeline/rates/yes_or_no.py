"""A ratio of damage with each haul as damaged or not, whatever number of times.

A rate model counts; where a log says of each haul only whether there was damage, long tows on bad
ground can't have more than one. With a chance of damage of 1 - exp(-mean), the mean being hours by
a rate as in the rate model, the ratio is of the same rates: a binomial law with complementary
log-log link. Such hauls scatter less than counts do, and the errors are those of their own law.

Source, from memory: McCullagh & Nelder, Generalized Linear Models, 2nd ed. 1989, section 4.3.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import polars as pl

from pipeline.rates.poisson import SUREST, NoFitError
from pipeline.rates.shared_scatter import LogRatioFit, inverse

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pipeline.rates.fits import Fitted

MOST_STEPS = 100
CLOSE_ENOUGH = 1e-9
LONGEST_STEP = 2.0


def chance_of_some(mean: NDArray[np.float64]) -> NDArray[np.float64]:
    """The chance that a haul had some, by a fit of yes or no as if it counted."""
    return np.minimum(mean, SUREST)


def fit_yes_or_no(fitted: Fitted, hauls: pl.DataFrame) -> LogRatioFit:
    """The fit of single hauls, with the terms of a rate fit, and from its estimates on.

    `hauls` has pattern, tow_hours, amount; those of levels without any are not in the fit. Raises
    `NoFitError` where there is no finite solution.
    """
    cells = fitted.cells
    place = fitted.seen.rows.frame[cells.row].select("pattern")
    place = place.with_columns(cell=pl.Series(cells.pattern)).unique("pattern")
    placed = hauls.join(place, on="pattern", how="inner")
    cell, hours = (placed[name].to_numpy() for name in ("cell", "tow_hours"))
    damaged = placed["amount"].to_numpy() > 0
    estimate = fitted.fit.estimate
    for _ in range(MOST_STEPS):
        mean = hours * np.exp(cells.coded.mix(estimate))[cell]
        with np.errstate(over="ignore"):
            per_sound = mean / np.expm1(mean)
        score, weight = (
            np.bincount(cell, of_haul, len(cells.coded)).astype(float)
            for of_haul in (np.where(damaged, per_sound, -mean), mean * per_sound)
        )
        covariance = inverse(cells.design.T @ (cells.design * weight[:, None]))
        step = covariance @ cells.coded.sums(score)
        size = float(np.abs(step).max())
        if size < CLOSE_ENOUGH:
            return LogRatioFit(cells.terms, estimate, covariance)
        estimate = estimate + step * min(1.0, LONGEST_STEP / max(size, LONGEST_STEP))
    raise NoFitError
