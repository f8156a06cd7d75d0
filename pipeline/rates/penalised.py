"""A ratio where the plain likelihood has no end: Firth's penalised likelihood, profile limits.

Where events under some conditions fell all to one of two rigs, the likelihood of the Poisson model
grows for ever as its ratio goes to nought or beyond all numbers. With half the log determinant of
the information added to it (Firth, Biometrika 80 (1993) 27; Jeffreys' prior) there is always a most
likely ratio; where the model is saturated, that is half an event added to each cell. The limits
are where twice the fall of the penalised likelihood from its top, the others fitted anew, reaches
the quantile of chi-squared (Heinze & Schemper, Statistics in Medicine 21 (2002) 2409). Pages from
memory. Events are taken to come by chance alone, as exact limits take them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import brentq
from scipy.special import chdtrc, chdtri

from pipeline.rates.poisson import CLOSE_ENOUGH, MOST_STEPS, NoFitError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pipeline.rates.cells import Cells

    Floats = NDArray[np.float64]

NEAR = 0.1
"""The size of a step near enough to the top for Newton's."""
LONGEST_STEP = 5.0
"""Of any coefficient at once, so that no mean overflows on the way."""
FARTHEST = 60.0
"""A limit farther from the most likely log ratio than this is none: e⁶⁰ is beyond all sense."""


@dataclass(frozen=True)
class Penalised:
    """The penalised fit of a model, and the coefficient of it that is asked for.

    `design` is patterns × terms, `hours` and `total` are sums by pattern; `at` is the term's place.
    """

    design: Floats
    hours: Floats
    total: Floats
    at: int
    estimate: Floats
    top: float

    @property
    def log_ratio(self) -> float:
        """The most likely log ratio."""
        return float(self.estimate[self.at])

    def p_value(self) -> float:
        """Of no difference, by the fall of the likelihood from its top."""
        return float(chdtrc(1, max(self._fall(0.0), 0.0)))

    def limits(self, confidence: float) -> tuple[float | None, float | None]:
        """The profile limits of the log ratio; None for one that is beyond all sense."""
        enough = float(chdtri(1, 1 - confidence))
        return self._limit(-1.0, enough), self._limit(1.0, enough)

    def _limit(self, side: float, enough: float) -> float | None:
        reach = 1.0
        while self._fall(self.log_ratio + side * reach) < enough:
            reach *= 2
            if reach > FARTHEST:
                return None
        return (
            float(
                brentq(
                    lambda step: self._fall(self.log_ratio + side * step) - enough,
                    0.0,
                    reach,
                    xtol=1e-9,
                )
            )
            * side
            + self.log_ratio
        )

    def _fall(self, log_ratio: float) -> float:
        """Twice how far the likelihood falls from its top where the log ratio is this."""
        start = self.estimate.copy()
        start[self.at] = log_ratio
        free = np.arange(len(start)) != self.at
        _, value = maximise(self.design, self.hours, self.total, start, free)
        return 2 * (self.top - value)


def penalised_fit(cells: Cells, term: str) -> Penalised | None:
    """The fit with every pattern; None where the patterns do not tell the term from others.

    `cells` are those of `lay_out` with `every_pattern`. Raises `NoFitError` where there is no event
    at all.
    """
    if term not in cells.terms or not cells.estimable[cells.terms.index(term)]:
        return None
    hours, total = cells.pattern_hours, cells.pattern_total
    if total.sum() <= 0:
        raise NoFitError
    start = np.zeros(len(cells.terms))
    start[0] = np.log(total.sum() / hours.sum())
    free = np.ones(len(start), dtype=bool)
    estimate, top = maximise(cells.design, hours, total, start, free)
    return Penalised(cells.design, hours, total, cells.terms.index(term), estimate, top)


def maximise(
    design: Floats, hours: Floats, total: Floats, start: Floats, free: NDArray[np.bool_]
) -> tuple[Floats, float]:
    """The coefficients at the top of the penalised likelihood, and its height there.

    Only the `free` coefficients move; the penalty is of all of them. The first steps are by the
    information, which pays no heed to how the penalty bends; near the top Newton's are taken. Each
    is halved until it climbs. Raises `NoFitError` where the top is not reached.
    """
    estimate = start.copy()
    value = _height(design, hours, total, estimate)
    near = False
    for _ in range(MOST_STEPS):
        slope, information, bent = _slope(design, hours, total, estimate)
        bend = bent if near else information
        step = np.zeros(len(estimate))
        step[free] = np.linalg.solve(bend[np.ix_(free, free)], slope[free])
        size = float(np.abs(step).max(initial=0.0))
        if size < CLOSE_ENOUGH:
            return estimate, value
        step *= min(1.0, LONGEST_STEP / size)
        further = _height(design, hours, total, estimate + step)
        while further < value and np.abs(step).max() > CLOSE_ENOUGH:
            step /= 2
            further = _height(design, hours, total, estimate + step)
        if further < value:  # no step climbs any more
            if size < NEAR:
                return estimate, value
            near = not near
            continue
        estimate, value = estimate + step, further
        near = size < NEAR
    raise NoFitError


def _slope(
    design: Floats, hours: Floats, total: Floats, estimate: Floats
) -> tuple[Floats, Floats, Floats]:
    """The slope of the penalised log likelihood, the information, and how it bends in all.

    With M = XA⁻¹Xᵀ and leverages h = μ diag M, that is A − ½Xᵀ(diag h − diag μ (M∘M) diag μ)X.
    """
    mean = hours * np.exp(design @ estimate)
    information = design.T @ (design * mean[:, None])
    shared = design @ np.linalg.solve(information, design.T)
    leverage = mean * np.diag(shared)
    moved = leverage[:, None] * design - mean[:, None] * (shared**2 @ (design * mean[:, None]))
    slope = design.T @ (total - mean + leverage / 2)
    return slope, information, information - design.T @ moved / 2


def _height(design: Floats, hours: Floats, total: Floats, estimate: Floats) -> float:
    """The penalised log likelihood, but for what does not move with the coefficients."""
    log_rate = design @ estimate
    mean = hours * np.exp(log_rate)
    _, log_determinant = np.linalg.slogdet(design.T @ (design * mean[:, None]))
    return float(total @ log_rate - mean.sum() + log_determinant / 2)
