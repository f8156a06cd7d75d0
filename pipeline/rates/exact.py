"""Exact limits for rigs with few events, or none.

Sources: Garwood, Biometrika 28 (1936) 437, for one rate; Bohm & Zech, Nuclear Instruments and
Methods A 748 (2014) 1, for events that come in clumps (from memory); for the ratio of two the
conditional binomial (Clopper & Pearson, Biometrika 26 (1934) 404), as in R's poisson.test, over
strata.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import brentq
from scipy.special import betaincinv, gammaincinv

if TYPE_CHECKING:
    from numpy.typing import NDArray

TAIL = 0.025


def rate_limits(events: float, hours: float) -> tuple[float, float]:
    """The exact 95 % limits of a rate per hour."""
    low = float(gammaincinv(events, TAIL)) if events > 0 else 0.0
    return low / hours, float(gammaincinv(events + 1, 1 - TAIL)) / hours


def rate_limits_in_clumps(events: NDArray[np.float64], hours: float) -> tuple[float, float]:
    """The 95 % limits of a rate per hour whose events, by trip, came in clumps.

    A clump is as large as the trip's that an event fell in, in the mean, and so many clumps as
    make up the events come by chance alone: a scaled Poisson count, whose mean and variance are
    those of the trips' events. Events that came one a trip, or none, have the limits of Garwood.
    """
    whole = float(events.sum())
    clump = float((events**2).sum()) / whole if whole > 0 else 1.0
    return rate_limits(whole / clump, hours / clump)


def ratio_limits(
    own: tuple[float, float], other: tuple[float, float], confidence: float = 1 - 2 * TAIL
) -> tuple[float, float]:
    """The exact limits of the ratio of two rates, each of so many events in so many hours.

    Of all events each is one of the first with probability θa/(θa + b), for hours a and b and
    ratio θ; the limits of that share (Clopper & Pearson) are those of θ. As R's poisson.test.
    """
    (events, hours), (others, other_hours) = own, other
    tail = (1 - confidence) / 2
    low = float(betaincinv(events, others + 1, tail)) if events else 0.0
    high = float(betaincinv(events + 1, others, 1 - tail)) if others else 1.0
    least, most = (
        share / (1 - share) * other_hours / hours if share < 1 else np.inf for share in (low, high)
    )
    return least, most


def limits_without_events(
    events: NDArray[np.float64],
    hours: NDArray[np.float64],
    reference_events: NDArray[np.float64],
    reference_hours: NDArray[np.float64],
    confidence: float = 1 - 2 * TAIL,
) -> tuple[float | None, float | None]:
    """The exact limits of a ratio, 95 % if not told, where one of the two rigs has no event.

    All arrays are by stratum. Given the events of a stratum, each was the reference's with
    probability b/(b + θa), for hours a and b and ratio θ; the upper limit is the θ at which it
    is as unlikely as one tail (one in forty) that all of them were. With one stratum this is R's
    poisson.test. Where no stratum has both hours of the one and events of the other, there is no
    limit.
    """
    tail = (1 - confidence) / 2
    if events.sum() == 0:
        return 0.0, _limit(hours, reference_events, reference_hours, tail)
    high_of_inverse = _limit(reference_hours, events, hours, tail)
    return (None, None) if high_of_inverse is None else (1 / high_of_inverse, None)


def p_without_events(
    events: NDArray[np.float64],
    hours: NDArray[np.float64],
    reference_events: NDArray[np.float64],
    reference_hours: NDArray[np.float64],
) -> float:
    """The exact p-value of no difference where one of the two rigs has no event at all.

    Twice the chance that all events fell to the other, so that it agrees with the limits.
    """
    own = reference_events.sum() > 0
    others, other_hours = (reference_events, reference_hours) if own else (events, hours)
    share = other_hours / (hours + reference_hours)
    return min(1.0, 2 * float(np.exp((others * np.log(share))[others > 0].sum())))


def _limit(
    hours: NDArray[np.float64],
    others: NDArray[np.float64],
    other_hours: NDArray[np.float64],
    tail: float,
) -> float | None:
    """The ratio above which having none, beside so many of the other's, is too unlikely."""
    telling = (others > 0) & (hours > 0)
    if not telling.any():
        return None
    hours, others, other_hours = hours[telling], others[telling], other_hours[telling]

    def beyond(log_ratio: float) -> float:
        share = other_hours / (other_hours + np.exp(log_ratio) * hours)
        return float((others * np.log(share)).sum() - np.log(tail))

    return float(np.exp(brentq(beyond, -50.0, 50.0)))
