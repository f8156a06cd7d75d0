"""Exact limits for rigs with few events, or none.

Sources: Garwood, Biometrika 28 (1936) 437, for one rate; the ratio of two by the conditional
binomial (Clopper & Pearson, Biometrika 26 (1934) 404), as in R's poisson.test.
"""

from __future__ import annotations

from scipy.special import betaincinv, gammaincinv

TAIL = 0.025


def rate_limits(events: float, hours: float) -> tuple[float, float]:
    """The exact 95 % limits of a rate per hour."""
    low = float(gammaincinv(events, TAIL)) if events > 0 else 0.0
    return low / hours, float(gammaincinv(events + 1, 1 - TAIL)) / hours


def ratio_limits(
    events: float, hours: float, reference_events: float, reference_hours: float
) -> tuple[float, float | None]:
    """The exact 95 % limits of a rate over the reference's; None where there is no upper one.

    Given the events of both together, those of the one are binomial.
    """
    low_share = float(betaincinv(events, reference_events + 1, TAIL)) if events > 0 else 0.0
    low = low_share / (1 - low_share) * reference_hours / hours
    if reference_events == 0:
        return low, None
    high_share = float(betaincinv(events + 1, reference_events, 1 - TAIL))
    return low, high_share / (1 - high_share) * reference_hours / hours
