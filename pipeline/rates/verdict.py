"""What an interval says, in one of four verdicts."""

from __future__ import annotations

from typing import Literal

Verdict = Literal["lower", "higher", "no clear difference", "too little to tell"]


def verdict(low: float | None, high: float | None, *, can_tell: bool, matters: float) -> Verdict:
    """The verdict on a ratio whose interval is `low` to `high`, its own or that with others.

    `can_tell` is whether the two rigs were fished side by side and the outcome seen often enough;
    `matters` the ratio beyond which, either way, a difference is worth knowing.
    """
    if not can_tell or low is None:
        return "too little to tell"
    if high is not None and high < 1:
        return "lower"
    if low > 1:
        return "higher"
    if high is not None and low > 1 / matters and high < matters:
        return "no clear difference"
    return "too little to tell"
