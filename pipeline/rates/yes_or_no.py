"""The rates behind hauls that were damaged or not, whatever number of times.

A rate model counts; where a log says of each haul only whether there was damage, long tows on bad
ground can't have more than one, and a ratio of hauls is nearer to 1 than that of tears. With a
chance of damage of 1 - exp(-mean), the mean being hours by a rate as in the rate model, the ratio
is of the same rates: a binomial law with complementary log-log link.

Trips differ in luck that nobody wrote down, which draws such ratios towards 1 once more. With luck
that is gamma by law, of mean 1 and variance v from trip to trip, the chance that a haul had none is
(1 + v mean)^(-1/v) in the mean over trips: a link of the family of Aranda-Ordaz, the log-log where
v is nought. Coefficients are those of hauls as if each stood alone, with that link; v is such that
whole trips scatter about them as much as they did, allowing for what the terms took of that (the
moments of pairs of hauls in a trip). That asks the law of luck only what two hauls share.

Sums are by trip and pattern: their hauls are taken to be of the same length, which logs of some
conditions make as good as true.

Sources, from memory: McCullagh & Nelder, Generalized Linear Models, 2nd ed. 1989, section 4.3
(log-log link); Aranda-Ordaz, Biometrika 68 (1981) 357 (the family); Neuhaus, Kalbfleisch & Hauck,
International Statistical Review 59 (1991) 25 (luck that is left out draws ratios towards 1);
Prentice, Biometrics 44 (1988) 1033 (moments of pairs).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from scipy.optimize import brentq
from scipy.special import roots_genlaguerre

from pipeline.rates.poisson import SUREST, NoFitError
from pipeline.rates.shared_scatter import LogRatioFit, inverse

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pipeline.rates.cells import Cells

    Floats = NDArray[np.float64]

MOST_STEPS = 100
CLOSE_ENOUGH, CLOSE_IN_SEARCH = 1e-9, 1e-5
LONGEST_STEP = 2.0
LUCK = (0.01, 0.1, 0.3, 0.8, 2.0)
"""Variances between which that of luck is sought, from below: beyond it means grow until they could
explain anything. Less than the first is none, more than the last is never told of so few trips."""
CLOSE_IN_LUCK = 0.01
NODES = 16
"""Kinds of luck by which its moments are summed up (Gauss and Laguerre)."""


def chance_of_some(mean: Floats) -> Floats:
    """The chance that a haul had some, by a fit of yes or no as if it counted."""
    return np.minimum(mean, SUREST)


def log_chance_of_none(mean: Floats, luck: float) -> Floats:
    """The log of the chance of none in the mean over trips whose luck has this variance."""
    return -np.log1p(luck * mean) / luck if luck else -mean


@dataclass(frozen=True)
class YesOrNoFit(LogRatioFit):
    """Estimates with their covariance by hauls each by itself, and the variance of trips' luck.

    `mean` is, for each sum of the cells, that of a haul of it.
    """

    luck: float
    mean: Floats


class _Hauls(NamedTuple):
    """The cells and, for each sum, how many of its hauls had some."""

    cells: Cells
    with_some: Floats

    @property
    def without(self) -> Floats:
        """How many of each sum's hauls had none."""
        return self.cells.hauls - self.with_some

    def at(self, estimate: Floats, luck: float) -> _At:
        """What a fit comes to at an estimate."""
        cells = self.cells
        mean = cells.hours / cells.hauls * np.exp(cells.coded.mix(estimate))[cells.pattern]
        log_none = log_chance_of_none(mean, luck)
        return _At(mean, -np.expm1(log_none), mean * np.exp(log_none) / (1 + luck * mean))


class _At(NamedTuple):
    """Of each sum the mean of a haul, the chance of some, and how that moves with the log rate."""

    mean: Floats
    chance: Floats
    moved: Floats


def fit_yes_or_no(cells: Cells, with_some: Floats, start: Floats) -> YesOrNoFit:
    """The fit of hauls with the terms of a rate fit, from its estimates on.

    `with_some` has for each sum of the cells how many hauls had some. Raises `NoFitError` where
    there is no finite solution.
    """
    hauls = _Hauls(cells, with_some)
    alike = found = _climb(hauls, start, 0.0)

    def beyond(luck: float) -> float:
        nonlocal found
        found = _climb(hauls, found.estimate, luck, CLOSE_IN_SEARCH)
        return _seen_alike(hauls, found) - _alike_by_luck(hauls, found)

    nothing = CLOSE_ENOUGH * cells.haul_count
    if _seen_alike(hauls, alike) <= nothing or beyond(LUCK[0]) <= 0:
        return alike
    least = LUCK[0]
    for luck in LUCK[1:]:
        if beyond(luck) <= 0:
            root = brentq(beyond, least, luck, xtol=CLOSE_IN_LUCK, rtol=CLOSE_IN_LUCK)
            return _climb(hauls, found.estimate, root)
        least = luck
    return _climb(hauls, found.estimate, LUCK[-1])


def _climb(hauls: _Hauls, start: Floats, luck: float, close: float = CLOSE_ENOUGH) -> YesOrNoFit:
    """The coefficients with this luck, by scoring; raises `NoFitError` where it has no end."""
    cells, estimate = hauls.cells, start
    patterns = len(cells.coded)
    for _ in range(MOST_STEPS):
        at = hauls.at(estimate, luck)
        per_chance = at.mean / ((1 + luck * at.mean) * at.chance)
        score, weight = (
            np.bincount(cells.pattern, of_sum, patterns).astype(float)
            for of_sum in (
                (hauls.with_some - cells.hauls * at.chance) * per_chance,
                cells.hauls * at.moved * per_chance,
            )
        )
        covariance = inverse(cells.coded.crossed(weight))
        step = covariance @ cells.coded.sums(score)
        size = float(np.abs(step).max())
        if size < close:
            return YesOrNoFit(cells.terms, estimate, covariance, luck, at.mean)
        estimate = estimate + step * min(1.0, LONGEST_STEP / max(size, LONGEST_STEP))
    raise NoFitError


def _seen_alike(hauls: _Hauls, fit: YesOrNoFit) -> float:
    """How far hauls of one trip went together about the fit, over all pairs of them.

    That is the square of what trips as a whole are off, less that of each haul alone; with what the
    terms took of it, as hauls lie the nearer to a fit the more they move it.
    """
    cells, at = hauls.cells, hauls.at(fit.estimate, fit.luck)
    of_trips = np.bincount(cells.trip, hauls.with_some - cells.hauls * at.chance)
    alone = hauls.with_some * (1 - at.chance) ** 2 + hauls.without * at.chance**2
    moved = cells.coded.sums_by(cells.hauls * at.moved, cells.pattern, cells.trip)
    taken = ((moved @ fit.covariance) * moved).sum()
    of_pattern = (cells.coded.mix(fit.covariance) * cells.design).sum(axis=1)[cells.pattern]
    taken_alone = (cells.hauls * at.moved**2 * of_pattern).sum()
    return float((of_trips**2).sum() - alone.sum() + taken - taken_alone)


def _alike_by_luck(hauls: _Hauls, fit: YesOrNoFit) -> float:
    """The same as luck of this variance would make it: how sound hauls vary with it, trip by trip.

    Of a trip's hauls the variance of how many are sound, less that of each of them alone.
    """
    cells = hauls.cells
    lucks, weights = roots_genlaguerre(NODES, 1 / fit.luck - 1)
    sound = np.exp(-np.outer(lucks * fit.luck, fit.mean))
    of_trips = np.array([np.bincount(cells.trip, cells.hauls * each) for each in sound])
    together, alone = (
        weights @ each**2 / weights.sum() - (weights @ each / weights.sum()) ** 2
        for each in (of_trips, sound)
    )
    return float(together.sum() - (cells.hauls * alone).sum())
