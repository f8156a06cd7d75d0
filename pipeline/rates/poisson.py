"""The rate model: Poisson pseudo-likelihood with the log of tow hours as offset.

Fitted to sums by trip and pattern of factors. With x the same for all hauls of a sum, the score
Σ x (y − μ) and the information Σ x xᵀ μ of single hauls are exactly those of the sums, and so is
the middle of the sandwich when it is summed by trip. Only the number of hauls must be carried
along, for the small-sample correction. The sums are fitted by scoring, to what statsmodels finds
of single hauls; a library would count rows where hauls are meant. Errors are by leaving out one
trip at a time (`leave_out.py`), and by the sandwich only where trips are so many that both agree.

Sources: McCullagh & Nelder, Generalized Linear Models, 2nd ed. 1989, ch. 6 (offset, information);
Gourieroux, Monfort & Trognon, Econometrica 52 (1984) 701 (pseudo-likelihood); Liang & Zeger,
Biometrika 73 (1986) 13 (errors by cluster); Tukey, Annals of Mathematical Statistics 29 (1958) 614
(leaving one out; page from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp
from typing import TYPE_CHECKING, Literal

import numpy as np
from scipy.linalg import eigh
from scipy.special import ndtri, stdtrit

from pipeline.rates.leave_out import LeftOut, leave_out

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pipeline.rates.cells import Cells
    from pipeline.rates.design import Design

MOST_STEPS = 100
CLOSE_ENOUGH = 1e-10
"""The last step's size in any coefficient; steps shrink as their squares, so the next is none."""
NARROWEST, WIDEST = 1e-6, 10.0
"""A log ratio with a standard error beyond these is not known at all: e¹⁰ is twenty thousand, and
no error at all is trips that happen to agree."""

LEAST_SPARE_TRIPS = 4
"""With fewer trips beyond the number of terms there is no spread to judge an error by."""

CONFIDENCE = 0.95
FARTHEST = 500.0

SUREST = 0.9
"""No haul is taken to be surer of damage than this: its error would be none. This project's own
judgement, no source."""

MANY_TRIPS = 2_000
"""With more trips none is left out: the sandwich says the same, and takes less time."""

Correction = Literal["HC0", "HC1"]


class NoFitError(Exception):
    """The model has no finite solution on these sums."""


@dataclass(frozen=True)
class RateFit:
    """Estimates of log rates and log ratios with their covariance.

    `covariance` is the one asked for and `from_model` what chance alone makes it. `left_out` is
    there where the covariance comes from leaving out one trip at a time.
    """

    terms: tuple[str, ...]
    estimate: NDArray[np.float64]
    covariance: NDArray[np.float64]
    from_model: NDArray[np.float64]
    estimable: NDArray[np.bool_]
    hauls: int
    trips: int
    left_out: LeftOut | None

    def effect(self, term: str, *, counted: bool = False) -> tuple[float, float] | None:
        """The log ratio of a term and its standard error; None where it can't be told.

        Of `counted` events the error is never less than chance alone makes it: a few trips that
        happen to agree do not make events more certain than chance lets them be.
        """
        if term not in self.terms:
            return None
        at = self.terms.index(term)
        variance = float(self.covariance[at, at])
        if counted:
            variance = max(variance, float(self.from_model[at, at]))
        if not self.estimable[at] or not NARROWEST**2 < variance < WIDEST**2:
            return None
        return float(self.estimate[at]), float(np.sqrt(variance))

    def effects(
        self, terms: Sequence[str], *, counted: bool = False
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """The log ratios of several terms and their covariance; all of them must be told.

        The covariance and the model's are held against each other, and none of their common axes
        has less than the model's variance of `counted` events, or of weights than the model's
        times their mean spread by trip. For trips that several rigs shared may agree by chance, or
        be too few to tell all directions. It does not depend on the level that the terms are
        held against, nor on the unit.
        """
        at = [self.terms.index(name) for name in terms]
        covariance, model = self.covariance[np.ix_(at, at)], self.from_model[np.ix_(at, at)]
        against_model, axes = eigh(covariance, model)
        least = 1.0 if counted else against_model.mean()
        spread = model @ axes
        return self.estimate[at], spread * np.maximum(against_model, least) @ spread.T


def interval(
    log_ratio: float, std_error: float, freedom: float, confidence: float = CONFIDENCE
) -> tuple[float, float]:
    """The interval of a ratio, by t, or by the normal where `freedom` is infinite.

    A limit beyond all numbers is given as the last of them, e⁵⁰⁰.
    """
    reach = half_width(freedom, confidence) * std_error
    return exp(max(log_ratio - reach, -FARTHEST)), exp(min(log_ratio + reach, FARTHEST))


def half_width(freedom: float, confidence: float = CONFIDENCE) -> float:
    """The half-width of an interval in standard errors: of t, or of the normal."""
    tail = 1 - (1 - confidence) / 2
    return float(ndtri(tail)) if np.isinf(freedom) else float(stdtrit(freedom, tail))


def fit_rates(cells: Cells, errors: Literal["trip", "model"]) -> RateFit:
    """The fit, with standard errors by trip or from the model.

    A term that one trip alone tells has no error by trip, and is not told.

    Raises `NoFitError` where there is no finite solution, or too few trips for its terms.
    """
    estimate = solve(cells)
    bread = np.asarray(np.linalg.inv(information(cells, estimate)))
    from_model = of_yes_or_no(cells, estimate, bread) if cells.yes_or_no else bread
    covariance, estimable, left_out = from_model, cells.estimable, None
    if errors == "trip":
        if cells.trip_count - len(cells.terms) < LEAST_SPARE_TRIPS:
            raise NoFitError
        if cells.trip_count > MANY_TRIPS:
            covariance = clustered(cells, estimate, bread=bread)
        else:
            left_out = leave_out(cells, estimate, bread)
            covariance, estimable = left_out.covariance, estimable & ~left_out.alone
    return RateFit(
        cells.terms,
        estimate,
        covariance,
        from_model,
        estimable,
        cells.haul_count,
        cells.trip_count,
        left_out,
    )


def solve(cells: Cells) -> NDArray[np.float64]:
    """The coefficients, by scoring; raises `NoFitError` where there is no finite solution.

    Each step solves as many equations as there are terms, however many patterns there are. Scoring
    starts from means between the totals and their average (McCullagh & Nelder, section 2.5), and a
    step is halved until the likelihood does not fall.
    """
    hours, total = cells.pattern_hours, cells.pattern_total
    if total.sum() <= 0:
        raise NoFitError
    design = cells.coded
    begun = (total + total.mean()) / 2
    working = np.log(begun / hours) + (total - begun) / begun
    try:
        with np.errstate(over="ignore", invalid="ignore"):
            estimate = np.linalg.solve(design.crossed(begun), design.sums(begun * working))
            return _climb(design, hours, total, np.asarray(estimate, dtype=np.float64))
    except np.linalg.LinAlgError as error:
        raise NoFitError from error


def _climb(
    design: Design,
    hours: NDArray[np.float64],
    total: NDArray[np.float64],
    estimate: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Scoring from an estimate to the top of the likelihood; raises `NoFitError` short of it."""

    def height(at: NDArray[np.float64]) -> tuple[float, NDArray[np.float64]]:
        log_rate = design.mix(at)
        mean = hours * np.exp(log_rate)
        return float(total @ log_rate - mean.sum()), mean

    value, mean = height(estimate)
    for _ in range(MOST_STEPS):
        step = np.linalg.solve(design.crossed(mean), design.sums(total - mean))
        if not np.isfinite(step).all():
            raise NoFitError
        small = CLOSE_ENOUGH * (1 + np.abs(estimate))
        if (np.abs(step) <= small).all():
            return np.asarray(estimate + step)
        further, mean = height(estimate + step)
        while not further >= value and (np.abs(step) > small).any():
            step = step / 2
            further, mean = height(estimate + step)
        estimate, value = estimate + step, further
    raise NoFitError


def information(cells: Cells, estimate: NDArray[np.float64]) -> NDArray[np.float64]:
    """The information matrix at the estimate: terms × terms."""
    return cells.coded.crossed(cells.pattern_hours * np.exp(cells.coded.mix(estimate)))


def of_yes_or_no(
    cells: Cells, estimate: NDArray[np.float64], bread: NDArray[np.float64]
) -> NDArray[np.float64]:
    """The covariance that chance alone makes of hauls that had one or none, each by itself.

    A haul that can have no second one scatters less than a count: its variance is p(1 − p), with p
    the mean, so the sandwich's middle is Σ x xᵀ p(1 − p). `bread` is the inverse information. Of
    the hauls of a sum p is taken in their mean, which makes the variance no smaller, and for at
    most SUREST: a rate multiplied by long hours may be more than one.

    Source: Zou, American Journal of Epidemiology 159 (2004) 702 (a Poisson model of yes or no, with
    the sandwich's error, as the model's own is too wide).
    """
    mean = cells.hours * np.exp(cells.coded.mix(estimate))[cells.pattern]
    spread = mean * (1 - np.minimum(mean / cells.hauls, SUREST))
    of_patterns = np.bincount(cells.pattern, spread, len(cells.coded)).astype(float)
    middle = cells.coded.crossed(of_patterns)
    return np.asarray(bread @ middle @ bread)


def clustered(
    cells: Cells,
    estimate: NDArray[np.float64],
    correction: Correction = "HC1",
    bread: NDArray[np.float64] | None = None,
) -> NDArray[np.float64]:
    """The covariance clustered by trip.

    Both corrections carry G/(G − 1) for G trips; HC1 also (n − 1)/(n − k) for n hauls and k
    terms, as in R's sandwich::vcovCL. `bread` is the inverse information, where it is known.
    """
    trips, n, k = cells.trip_count, cells.haul_count, len(cells.terms)
    factor = trips / (trips - 1)
    if correction == "HC1":
        factor *= (n - 1) / (n - k)
    scores = scores_by_trip(cells, estimate)
    if bread is None:
        bread = np.asarray(np.linalg.inv(information(cells, estimate)))
    return np.asarray(factor * bread @ (scores.T @ scores) @ bread)


def moves_by_trip(cells: Cells, estimate: NDArray[np.float64]) -> NDArray[np.float64]:
    """How far each trip moves the estimate, to the first order: trips × terms.

    The inverse information times the trip's score (Liang & Zeger, Biometrika 73 (1986) 13).
    """
    return np.asarray(scores_by_trip(cells, estimate) @ np.linalg.inv(information(cells, estimate)))


def scores_by_trip(cells: Cells, estimate: NDArray[np.float64]) -> NDArray[np.float64]:
    """The slope of each trip's own likelihood at the estimate: trips × terms."""
    left_over = cells.total - cells.hours * np.exp(cells.coded.mix(estimate))[cells.pattern]
    return cells.coded.sums_by(left_over, cells.pattern, cells.trip)
