"""What an interval says, in one of four verdicts."""

from __future__ import annotations

from typing import Literal

Verdict = Literal["lower", "higher", "no clear difference", "too little to tell"]

MATTERS = 2.0
"""An interval that excludes a halving and a doubling shows that there is no large difference."""


def verdict(low: float | None, high: float | None, *, side_by_side: bool) -> Verdict:
    """The verdict on a ratio whose 95 % interval is `low` to `high`."""
    if not side_by_side or low is None:
        return "too little to tell"
    if high is not None and high < 1:
        return "lower"
    if low > 1:
        return "higher"
    if high is not None and low > 1 / MATTERS and high < MATTERS:
        return "no clear difference"
    return "too little to tell"
