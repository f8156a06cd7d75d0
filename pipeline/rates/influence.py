"""Which trips a ratio rests on: its change when a trip is left out, by one step.

One step of scoring from the whole fit, with the trip's own score and information taken away
(Pregibon, Annals of Statistics 9 (1981) 705; Preisser & Qaqish, Biometrika 83 (1996) 551, for
clusters; both from memory). No fit is run again.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import polars as pl

from pipeline.rates.cells import term
from pipeline.rates.hurdle import trips_of
from pipeline.rates.poisson import information

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pipeline.rates.cells import Cells
    from pipeline.rates.headline_fits import HeadlineFit

MOST_TRIPS = 3
SINGULAR = 1e-9
"""Less information than this share of the largest is none: the trip alone tells a term."""


@dataclass(frozen=True)
class InfluentialTrip:
    """A trip, what it had, and what the headline's ratio would be without it, to one step.

    `ratio_without` is None where the ratio could not be told without the trip. `log_change`,
    by which the log ratio moves without it, is for programs; no page tells it.
    """

    outcome: str
    rig: str
    reference: str
    part: str
    vessel: str
    trip: str
    hauls: int
    tow_hours: float
    total: float
    ratio: float
    ratio_without: float | None
    log_change: float | None


def influential_trips(headlines: Sequence[HeadlineFit]) -> list[InfluentialTrip]:
    """Of each headline the three trips that move it most, the strongest first."""
    found: list[InfluentialTrip] = []
    without: dict[int, NDArray[np.float64]] = {}
    for headline in headlines:
        effect, fitted = headline.effect, headline.fitted
        name = term("rig_version", effect.rig)
        if fitted is None or effect.log_ratio is None or effect.ratio is None:
            continue
        if id(fitted) not in without:
            without[id(fitted)] = changes_without(fitted.cells, fitted.fit.estimate)
        changes = without[id(fitted)][:, fitted.cells.terms.index(name)]
        names = trips_of(fitted)
        strength = np.where(np.isnan(changes), np.inf, np.abs(changes))
        for at in np.argsort(-strength, kind="stable")[:MOST_TRIPS]:
            trip = names.row(int(at), named=True)
            own = headline.sums.filter(
                (pl.col("vessel") == trip["vessel"]) & (pl.col("trip") == trip["trip"])
            )
            change = None if np.isnan(changes[at]) else float(changes[at])
            found.append(
                InfluentialTrip(
                    effect.outcome,
                    effect.rig,
                    effect.reference,
                    effect.part,
                    trip["vessel"],
                    trip["trip"],
                    int(own["hauls"].sum()),
                    float(own["tow_hours"].sum()),
                    float(own["total"].sum()),
                    effect.ratio,
                    None if change is None else float(effect.ratio * np.exp(change)),
                    change,
                )
            )
    return found


def changes_without(cells: Cells, estimate: NDArray[np.float64]) -> NDArray[np.float64]:
    """How each term changes when a trip is left out: trips × terms.

    A term that could not be told without the trip is not a number there.
    """
    whole = information(cells, estimate)
    mean = cells.hours * np.exp(cells.design @ estimate)[cells.pattern]
    left_over = cells.total - mean
    order = np.argsort(cells.trip, kind="stable")
    ends = np.cumsum(np.bincount(cells.trip))
    changes = np.empty((len(ends), len(cells.terms)))
    for trip, rows in enumerate(np.split(order, ends[:-1])):
        design = cells.design[cells.pattern[rows]]
        rest = whole - design.T @ (design * mean[rows, None])
        changes[trip] = _step(rest, -(left_over[rows] @ design), whole)
    return changes


def _step(
    rest: NDArray[np.float64], score: NDArray[np.float64], whole: NDArray[np.float64]
) -> NDArray[np.float64]:
    """The step to the estimate without the trip; not a number for terms that are lost with it.

    Information is held against that of all trips, term by term, so that no unit matters.
    """
    scale = np.sqrt(np.diag(whole))
    values, axes = np.linalg.eigh(rest / np.outer(scale, scale))
    told = values > SINGULAR
    step = axes[:, told] @ ((axes[:, told].T @ (score / scale)) / values[told]) / scale
    lost = (np.abs(axes[:, ~told]) > np.sqrt(SINGULAR)).any(axis=1)
    return np.where(lost, np.nan, step)
