"""What can be said of two rigs where the plain likelihood has no end.

Either one of the two had no event, or all events under the conditions that tell them apart fell to
one. First the exact limits within each pattern of conditions that both met: given the events of
both there, how unlikely it is that all were the one's. Where no such pattern has an event, or both
had some in them, Firth's penalised likelihood with the conditions adjusted for one by one. Both
are for counted events: half a kilo is no event.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from pipeline.rates.cells import lay_out, term
from pipeline.rates.chosen_errors import NO_END, NOTHING_OF_ONE
from pipeline.rates.fits import levels_with_some
from pipeline.rates.limits import Limits, limits_of_none
from pipeline.rates.penalised import penalised_fit
from pipeline.rates.poisson import NoFitError
from schemas.codes import ErrorsBy

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.rates.looks import Judging
    from pipeline.rates.numbered import Sums
    from pipeline.rates.penalised import Penalised

EXACTLY = "exact limits, stratum by stratum"
ONCE_A_TRIP = ", each trip that fished both by itself, events of others counted once a trip"


class Separated(NamedTuple):
    """The limits of a ratio, how they were come by and why so, and what they are adjusted for."""

    limits: Limits
    method: str
    errors: ErrorsBy
    reason: str
    factors: tuple[str, ...]


def limits_of_separated(
    sums: Sums,
    factors: Sequence[str],
    rig: str,
    reference: str,
    together: Judging | None,
    *,
    trips_alike: bool,
) -> Separated | None:
    """One-sided limits where the one had none; None where both had some and nothing can be said.

    Exact limits count the events of a trip as `limits_of_none` says of `trips_alike`. Raises
    nothing: where one of the two had none and there is no limit to give, the limits say so. What
    is the same for all their hauls is not among what the limits are adjusted for.
    """
    pair = sums.only("rig_version", [rig, reference])
    of_rigs = pair.codes("rig_version")
    totals = dict(zip(of_rigs.words, np.bincount(of_rigs.codes, pair.total), strict=True))
    one_had_none = min(totals.values()) <= 0
    held = tuple(name for name in factors if len(pair.codes(name).words) > 1)
    exact = limits_of_none(pair, held, rig, together, trips_alike=trips_alike)
    exactly = EXACTLY if trips_alike else EXACTLY + ONCE_A_TRIP
    if exact is not None and (exact.high is not None or exact.low):
        return Separated(exact, exactly, ErrorsBy.EXACT_LIMITS, NOTHING_OF_ONE, held)
    found = _penalised(pair, factors, rig, reference, together)
    if found is not None:
        limits, telling = found
        if one_had_none:
            limits = _one_sided(limits, none_of_rig=totals[rig] <= 0)
        adjusted = f", adjusted for {', '.join(telling)}" if telling else ""
        method = f"penalised likelihood{adjusted}, profile limits"
        return Separated(limits, method, ErrorsBy.PENALTY, NO_END, telling)
    if one_had_none and exact is not None:
        return Separated(exact, exactly, ErrorsBy.EXACT_LIMITS, NOTHING_OF_ONE, held)
    return None


def _penalised(
    pair: Sums,
    factors: Sequence[str],
    rig: str,
    reference: str,
    together: Judging | None,
) -> tuple[Limits, tuple[str, ...]] | None:
    """The penalised limits of the two; a level with none of either tells nothing and is left."""
    seen = levels_with_some(pair, list(factors)) if factors else pair
    telling = tuple(name for name in factors if len(seen.codes(name).words) > 1)
    if set(seen.codes("rig_version").words) != {rig, reference}:
        return None
    cells = lay_out(seen, "rig_version", reference, telling, every_pattern=True)
    try:
        fit = penalised_fit(cells, term("rig_version", rig))
        return None if fit is None else (_limits(fit, together), telling)
    except (NoFitError, np.linalg.LinAlgError):
        return None


def _limits(fit: Penalised, together: Judging | None) -> Limits:
    """The ratio of a penalised fit, and its limits alone and with the other headline findings."""
    low, high = map(_ratio, fit.limits(0.95))
    p_value = fit.p_value()
    alone = Limits(ratio=_ratio(fit.log_ratio), low=low, high=high, p_value=p_value)
    if together is None:
        return alone
    low_together, high_together = map(_ratio, fit.limits(together.confidence))
    return replace(
        alone,
        p_adjusted=together.adjusted(p_value),
        low_together=low_together,
        high_together=high_together,
    )


def _one_sided(limits: Limits, *, none_of_rig: bool) -> Limits:
    """The limits where one had none: of a rig with none, from nought; else without an upper one."""
    if none_of_rig:
        together = None if limits.low_together is None else 0.0
        return replace(limits, ratio=0.0, low=0.0, low_together=together)
    return replace(limits, ratio=None, high=None, high_together=None)


def _ratio(log_ratio: float | None) -> float | None:
    return None if log_ratio is None else float(np.exp(log_ratio))
