"""What an interval says, in one of four verdicts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from schemas.codes import Verdict

if TYPE_CHECKING:
    from collections.abc import Callable


def verdict(
    low: float | None,
    high: float | None,
    *,
    can_tell: bool,
    matters: float,
    behind: Callable[[], tuple[float, float] | None] | None = None,
) -> Verdict:
    """The verdict on a ratio whose interval is `low` to `high`, its own or that with others.

    `can_tell` is whether the two rigs were fished side by side and the outcome seen often enough;
    `matters` the ratio beyond which, either way, a difference is worth knowing. Where no haul can
    have more than one, `behind` gives the limits of the ratio of rates behind that of hauls which
    had some: so many may have with either rig that rates which differ hardly show, and that they
    don't is said of the rates as well. It is asked only where that is all that is left to ask.
    """
    if not can_tell or low is None:
        return Verdict.TOO_LITTLE
    if high is not None and high < 1:
        return Verdict.LOWER
    if low > 1:
        return Verdict.HIGHER
    if _is_within(matters, (low, high)) and (behind is None or _is_within(matters, behind())):
        return Verdict.NO_DIFFERENCE
    return Verdict.TOO_LITTLE


def _is_within(matters: float, limits: tuple[float, float | None] | None) -> bool:
    """Whether limits leave out every difference that matters."""
    if limits is None or limits[1] is None:
        return False
    return 1 / matters < limits[0] and limits[1] < matters
