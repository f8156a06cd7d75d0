"""Is a part torn more often with one rig than with the reference? Counts and hours only.

Given how many of the two rigs' tears there were, each was the rig's with a chance that follows
from the hours and the ratio of the rates: the conditional exact test (Przyborowski & Wilenski,
Biometrika 31 (1940) 313; limits of Clopper & Pearson, Biometrika 26 (1934) 404). Where tears come
in clusters, several on one trip, the counts say less than they seem to: they are divided by how
much wider than Poisson's the error is that respects trips (Korn & Graubard, Survey Methodology 24
(1998) 193). Nothing is adjusted for.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np
from scipy.special import betainc, betaincinv

from pipeline.rates.exact import TAIL
from pipeline.rates.support import LEAST_TRIPS

if TYPE_CHECKING:
    from numpy.typing import NDArray


@dataclass(frozen=True)
class AgainstReference:
    """One rig's rate as a multiple of the reference's, with its 95 % limits; null is no limit.

    `chance` is how often chance alone would set the two so far apart, one comparison by itself.
    """

    ratio: float | None
    low: float
    high: float | None
    chance: float


@dataclass(frozen=True)
class ByTrip:
    """Hauls that tore a part, and hours towed, of one rig by trip; all trips of the season."""

    torn: NDArray[np.float64]
    hours: NDArray[np.float64]


def against_reference(
    rig: ByTrip, reference: ByTrip, errors: Literal["trip", "model"]
) -> AgainstReference:
    """The ratio of the two rates, its exact limits, and the chance of no difference.

    Trips stand in the same order for both. At least one of the two has a tear.
    """
    torn, other = float(rig.torn.sum()), float(reference.torn.sum())
    hours, other_hours = float(rig.hours.sum()), float(reference.hours.sum())
    if errors == "trip":
        wider = clustering(rig, reference)
        own, others = torn / wider, other / wider
    else:
        own, others = torn, other
    odds_of_hours = hours / other_hours
    share = hours / (hours + other_hours)
    low = float(betaincinv(own, others + 1, TAIL)) if own else 0.0
    high = float(betaincinv(own + 1, others, 1 - TAIL)) if others else None
    as_many = float(betainc(own, others + 1, share)) if own else 1.0
    as_few = 1 - float(betainc(own + 1, others, share)) if others else 1.0
    return AgainstReference(
        ratio=torn / hours / (other / other_hours) if other else None,
        low=low / (1 - low) / odds_of_hours,
        high=None if high is None else high / (1 - high) / odds_of_hours,
        chance=min(1.0, 2 * min(as_many, as_few)),
    )


def clustering(rig: ByTrip, reference: ByTrip) -> float:
    """How much larger the variance of the log ratio is by trip than by Poisson's law; at least 1.

    A rig without a tear adds nothing to either; with fewer than three trips nothing is known.
    """
    sways, by_law = np.zeros_like(rig.hours), 0.0
    for side, sign in ((rig, 1.0), (reference, -1.0)):
        torn = float(side.torn.sum())
        if torn:
            expected = side.hours * (torn / float(side.hours.sum()))
            sways += sign * (side.torn - expected) / torn
            by_law += 1 / torn
    trips = int(((rig.hours > 0) | (reference.hours > 0)).sum())
    if trips < LEAST_TRIPS or not by_law:
        return 1.0
    by_trip = float((sways**2).sum()) * trips / (trips - 1)
    return max(1.0, by_trip / by_law)
