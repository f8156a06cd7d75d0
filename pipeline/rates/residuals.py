"""Randomised quantile residuals of single hauls, summed up by what was fitted, ground, boat, time.

Each haul's place in the law that the model would give it, as a normal quantile; where the law has
steps, a place within the step is drawn at random. If the law held they would be standard normal,
whatever the haul. Counts take the Poisson law with the fitted mean; where no haul had more than
one, the mean is the chance of one. Weights have no law in the model, which is of means alone:
beside the fitted mean they are given the share of hauls that have none, and a gamma law with one
shape when there is some. That is this project's own judgement.

Source: Dunn & Smyth, Journal of Computational and Graphical Statistics 5 (1996) 236.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import polars as pl
from scipy.optimize import brentq
from scipy.special import digamma, gammainc, ndtri, pdtr

from pipeline.rates.poisson import half_width
from pipeline.rates.support import LEAST_TRIPS

if TYPE_CHECKING:
    from numpy.typing import NDArray

SEED = 1996
"""The place within a step is drawn with this seed, haul by haul in the order of boat and trip."""
FITTED_GROUPS = 10
MOST_MONTHS = 24
"""A longer record is summed up by year."""
FURTHEST = 1e-12
"""A place nearer to either end is drawn in, so that no residual is infinite."""


@dataclass(frozen=True)
class ResidualGroup:
    """The residuals of some hauls: what they are by, which, how many, and how they lie.

    `mean` is 0 and `spread` 1 where the law holds; the limits of the mean are clustered by trip.
    """

    by: str
    group: str
    hauls: int
    trips: int
    mean: float
    low: float | None
    high: float | None
    spread: float | None


def quantile_residuals(
    amount: NDArray[np.float64],
    mean: NDArray[np.float64],
    *,
    counted: bool,
    yes_or_no: bool = False,
) -> NDArray[np.float64]:
    """The residuals of hauls in a settled order, by their amounts and fitted means above nought.

    Of `yes_or_no` the means are below one.
    """
    draw = np.random.default_rng(SEED).random(len(amount))
    if yes_or_no:
        place = np.where(amount > 0, 1 - mean + draw * mean, draw * (1 - mean))
    elif counted:
        whole = np.floor(amount)
        below = np.where(whole > 0, pdtr(np.maximum(whole - 1, 0), mean), 0.0)
        place = below + draw * (pdtr(whole, mean) - below)
    else:
        some = amount > 0
        without = 1 - some.mean()
        when = mean / (1 - without)
        shape = _gamma_shape(amount[some] / when[some])
        place = without * draw
        place[some] = without + (1 - without) * gammainc(shape, shape * amount[some] / when[some])
    return np.asarray(ndtri(np.clip(place, FURTHEST, 1 - FURTHEST)))


def _gamma_shape(relative: NDArray[np.float64]) -> float:
    """The likeliest shape of a gamma law, from amounts by their means (Choi & Wette, 1969).

    Technometrics 11, 683; from memory. It solves log k − digamma(k) = log mean − mean log.
    """
    apart = float(np.log(relative.mean()) - np.log(relative).mean())
    if apart < FURTHEST:
        return 1 / FURTHEST

    def beyond(log_shape: float) -> float:
        return float(log_shape - digamma(np.exp(log_shape))) - apart

    return float(np.exp(brentq(beyond, -30.0, 30.0)))


def by_groups(hauls: pl.DataFrame) -> list[ResidualGroup]:
    """The residuals by tenths of what was fitted, by ground, boat and time.

    `hauls` has vessel, trip, ground, shot_at, mean (fitted, per haul) and residual.
    """
    dated = hauls.filter(pl.col("shot_at").is_not_null())
    month = pl.col("shot_at").dt.strftime("%Y-%m")
    by_month = dated.select(month.n_unique()).item() <= MOST_MONTHS
    time = month if by_month else pl.col("shot_at").dt.strftime("%Y")
    tenth = (pl.col("mean").rank("min") - 1) * FITTED_GROUPS // pl.len() + 1
    asked = {
        "fitted": hauls.with_columns(group=tenth.cast(pl.Int64).cast(pl.String).str.zfill(2)),
        "ground": hauls.with_columns(group=pl.col("ground").fill_null("unknown")),
        "boat": hauls.with_columns(group="vessel"),
        "time": dated.with_columns(group=time),
    }
    return [
        summed_up(by, str(group), part)
        for by, told in asked.items()
        for (group,), part in told.sort("group", maintain_order=True).group_by(
            "group", maintain_order=True
        )
    ]


def summed_up(by: str, group: str, hauls: pl.DataFrame) -> ResidualGroup:
    """The mean of the residuals with its 95 % limits by trip, and their spread."""
    residual = hauls["residual"].to_numpy()
    count, mean = len(residual), float(residual.mean())
    by_trip = (
        hauls.group_by("vessel", "trip", maintain_order=True)
        .agg((pl.col("residual") - mean).sum().alias("beyond"))["beyond"]
        .to_numpy()
    )
    trips = len(by_trip)
    low = high = None
    if trips >= LEAST_TRIPS:
        std_error = float(np.sqrt((by_trip**2).sum() * trips / (trips - 1))) / count
        reach = half_width(trips - 1) * std_error
        low, high = mean - reach, mean + reach
    spread = float(residual.std(ddof=1)) if count > 1 else None
    return ResidualGroup(by, group, count, trips, mean, low, high, spread)
