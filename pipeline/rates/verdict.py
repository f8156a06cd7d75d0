"""What an interval says, in one of four verdicts."""

from __future__ import annotations

from math import inf, log1p

from schemas.codes import Verdict


def verdict(
    low: float | None,
    high: float | None,
    *,
    can_tell: bool,
    matters: float,
    share: float | None = None,
) -> Verdict:
    """The verdict on a ratio whose interval is `low` to `high`, its own or that with others.

    `can_tell` is whether the two rigs were fished side by side and the outcome seen often enough;
    `matters` the ratio beyond which, either way, a difference is worth knowing. Where no haul can
    have more than one, `share` of the reference's hauls had some: so many may have with either rig
    that rates which differ hardly show, and that they don't is said of the rates themselves.
    """
    if not can_tell or low is None:
        return Verdict.TOO_LITTLE
    if high is not None and high < 1:
        return Verdict.LOWER
    if low > 1:
        return Verdict.HIGHER
    if high is None:
        return Verdict.TOO_LITTLE
    if share is not None:
        low, high = as_rates(low, share), as_rates(high, share)
    alike = 1 / matters < low and high < matters
    return Verdict.NO_DIFFERENCE if alike else Verdict.TOO_LITTLE


def as_rates(ratio: float, share: float) -> float:
    """The ratio of rates of damage behind a ratio of hauls that had some.

    `share` of the reference's hauls had some. Rates are those of hauls alike, whose chance of
    damage is 1 - exp(-rate); beyond what hauls there are the ratio has no end.
    """
    if ratio * share >= 1:
        return inf
    return log1p(-ratio * share) / log1p(-share) if 0 < share < 1 else ratio


def as_hauls(ratio: float, share: float) -> float:
    """How a ratio of rates of damage reads as one of hauls that had some; `as_rates` undoes it."""
    return (1 - (1 - share) ** ratio) / share if share else ratio
