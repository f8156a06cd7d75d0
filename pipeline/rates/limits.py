"""A ratio and its limits: alone, and together with the other headline findings."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp
from typing import TYPE_CHECKING, Any

import numpy as np
from scipy.special import ndtr, stdtr

from pipeline.rates.exact import limits_without_events, p_without_events
from pipeline.rates.numbered import grouped
from pipeline.rates.poisson import interval

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pipeline.rates.looks import Judging
    from pipeline.rates.numbered import Sums

    Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Limits:
    """A ratio, its 95 % interval, and what it rests on; `freedom` is None for the normal.

    `p_value` is of no difference. The last three allow for all headline comparisons, and are
    None of a ratio that is none.
    """

    ratio: float | None = None
    low: float | None = None
    high: float | None = None
    log_ratio: float | None = None
    std_error: float | None = None
    freedom: float | None = None
    p_value: float | None = None
    p_adjusted: float | None = None
    low_together: float | None = None
    high_together: float | None = None

    @property
    def alone(self) -> dict[str, Any]:
        """The ratio and its own limits with what they rest on, named as in findings."""
        return {
            "ratio": self.ratio,
            "low": self.low,
            "high": self.high,
            "log_ratio": self.log_ratio,
            "std_error": self.std_error,
            "freedom": self.freedom,
        }


def limits_of_fit(
    log_ratio: float, std_error: float, freedom: float, together: Judging | None
) -> Limits:
    """The limits of a fitted ratio, by t; `together` is None where it is no headline finding.

    Without any freedom there is a ratio and no limits.
    """
    fitted = {
        "ratio": exp(log_ratio),
        "log_ratio": log_ratio,
        "std_error": std_error,
        "freedom": None if np.isinf(freedom) else float(freedom),
    }
    if freedom < 1:
        return Limits(**fitted)
    low, high = interval(log_ratio, std_error, freedom)
    p_value = two_sided(log_ratio / std_error, freedom)
    alone = {**fitted, "low": low, "high": high, "p_value": p_value}
    if together is None:
        return Limits(**alone)
    low, high = interval(log_ratio, std_error, freedom, together.confidence)
    adjusted = together.adjusted(p_value)
    return Limits(**alone, p_adjusted=adjusted, low_together=low, high_together=high)


def two_sided(t: float, freedom: float) -> float:
    """The p-value of no difference: of t, or of the normal where `freedom` is infinite."""
    tail = ndtr(-abs(t)) if np.isinf(freedom) else stdtr(freedom, -abs(t))
    return float(2 * tail)


def limits_of_none(
    sums: Sums,
    factors: Sequence[str],
    rig: str,
    together: Judging | None,
    *,
    trips_alike: bool,
) -> Limits | None:
    """Exact limits where one of the two has no event, within each pattern that both rigs met.

    `sums` are of the rig and the reference alone. Unless trips are taken to be alike, a trip that
    fished both in a pattern is held to itself there, as its luck is no rig's; elsewhere the events
    of a trip count once: it says that there was damage with that rig, and its luck how much. Own
    judgement; no source. None where both have some in those patterns.
    """
    of_rigs = sums.codes("rig_version")
    own = of_rigs.codes == of_rigs.words.index(rig)
    pattern = grouped([sums.codes(name) for name in factors])[0] if factors else 0 * of_rigs.codes
    total = sums.total
    if not trips_alike:
        pattern, total = _by_trip(sums, own, pattern)
    hours_of, total_of = (
        [np.bincount(pattern, amount * rows).astype(float) for rows in (own, ~own)]
        for amount in (sums.rows.hours, total)
    )
    both = (hours_of[0] > 0) & (hours_of[1] > 0)
    strata = (total_of[0][both], hours_of[0][both], total_of[1][both], hours_of[1][both])
    if strata[0].sum() > 0 and strata[2].sum() > 0:
        return None
    of_rig, of_reference = total[own].sum(), total[~own].sum()
    none_of_rig = strata[0].sum() <= 0 and (strata[2].sum() > 0 or of_rig <= 0 < of_reference)
    ratio = 0.0 if none_of_rig else None
    low, high = limits_without_events(*strata)
    p_value = p_without_events(*strata)
    if together is None:
        return Limits(ratio, low, high, p_value=p_value)
    low_together, high_together = limits_without_events(*strata, together.confidence)
    return Limits(
        ratio,
        low,
        high,
        p_value=p_value,
        p_adjusted=together.adjusted(p_value),
        low_together=low_together,
        high_together=high_together,
    )


def _by_trip(
    sums: Sums, own: NDArray[np.bool_], pattern: NDArray[np.int64]
) -> tuple[NDArray[np.int64], Floats]:
    """The patterns, those of a trip that fished both there apart, and the totals.

    Of what is left of a trip the total is shared out so that it comes to one event, or none.
    """
    trip = sums.rows.trips
    there = pattern * (int(trip.max(initial=0)) + 1) + trip
    cell = np.unique(there, return_inverse=True)[1]
    with_rig, with_other = (np.bincount(cell, each) > 0 for each in (own, ~own))
    of_both = (with_rig & with_other)[cell]
    left = np.bincount(trip, sums.total * ~of_both)[trip]
    once = sums.total / np.where(~of_both & (left > 1), left, 1.0)
    return np.where(of_both, int(pattern.max(initial=0)) + 1 + cell, pattern), once
