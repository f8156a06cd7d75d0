"""A line, or a mean, through estimates that each have an error and may differ beyond it.

A random-effects meta-regression: y = Xβ + u + e, where e has the known covariance V of the
estimates and u the spread τ² that they have of their own. τ² by restricted maximum likelihood;
errors of β by Hartung and Knapp, which let the scatter about the line say how sure it is. A few
estimates that happen to lie on a line do not make it surer than their own errors allow: the
half-width of an interval is never less than that of the normal with those errors.

Sources: Raudenbush in Cooper, Hedges & Valentine, The Handbook of Research Synthesis, 2nd ed. 2009,
ch. 16 (the model); Knapp & Hartung, Statistics in Medicine 22 (2003) 2693 (the errors).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import brentq

from pipeline.rates.poisson import half_width

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

CLOSE_ENOUGH = 1e-12


@dataclass(frozen=True)
class Pooled:
    """Coefficients with their covariance, by the scatter and by the estimates' own errors.

    `spread` is τ². `freedom` is that of t, for the covariance by the scatter.
    """

    estimate: Floats
    covariance: Floats
    by_errors: Floats
    spread: float
    freedom: int

    def std_error(self, at: int) -> float:
        """The error of one coefficient, such that t times it is the half-width of its interval."""
        by_scatter = np.sqrt(self.covariance[at, at])
        by_errors = np.sqrt(self.by_errors[at, at])
        least = half_width(np.inf) / half_width(self.freedom) * by_errors
        return float(max(by_scatter, least))


def pool(y: Floats, covariance: Floats, design: Floats, alike: Floats | None = None) -> Pooled:
    """The coefficients of `design` that best give `y`.

    `y` is n, `covariance` n × n, `design` n × p with n > p. `alike` is n × n and says how the
    spread enters: the identity if left out, which is one of its own for each estimate.
    """
    shape = np.eye(len(y)) if alike is None else alike
    spread = _spread(y, covariance, design, shape)
    weight = np.linalg.inv(covariance + spread * shape)
    bread = np.linalg.inv(design.T @ weight @ design)
    estimate = bread @ design.T @ weight @ y
    left_over = y - design @ estimate
    freedom = len(y) - design.shape[1]
    scatter = float(left_over @ weight @ left_over) / freedom
    return Pooled(estimate, np.asarray(scatter * bread), np.asarray(bread), spread, freedom)


def _spread(y: Floats, covariance: Floats, design: Floats, shape: Floats) -> float:
    """τ² at which the slope of the restricted likelihood is nothing; 0 where it falls from 0 on."""

    def slope(spread: float) -> float:
        weight = np.linalg.inv(covariance + spread * shape)
        projected = weight @ design
        rest = weight - projected @ np.linalg.inv(design.T @ projected) @ projected.T
        return float(y @ rest @ shape @ rest @ y - np.trace(rest @ shape))

    if slope(0.0) <= 0:
        return 0.0
    highest = float(np.diag(covariance).max())
    while slope(highest) > 0:
        highest *= 2
    return float(brentq(slope, 0.0, highest, xtol=CLOSE_ENOUGH))
