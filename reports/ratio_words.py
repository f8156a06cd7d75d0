"""A ratio and its interval in words: 40 % less often, 2.3 times as much."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.language import number, say

if TYPE_CHECKING:
    from reports.parts import Row

HARDLY_OTHER = 0.05
ALL_PERCENT = 100
TWICE, MANY_TIMES = 2.0, 10.0
"""From twice as much on a ratio is said as so many times; from ten times on in whole numbers."""


def in_times(ratio: float, high: float | None = None) -> bool:
    """Whether a ratio is said in times, as where the upper end of its interval is."""
    return ratio >= TWICE or (ratio > 1 and high is not None and high >= TWICE)


def amount(ratio: float, outcome: Row, high: float | None = None) -> str:
    """A ratio in words: 40 % less, 30 % more, 2.3 times as much.

    `high` is the upper end of its interval, where that stands beside it.
    """
    if is_hardly_other(ratio):
        return say("neither {less} nor {more}", less=_less(outcome), more=_more(outcome))
    if in_times(ratio, high):
        return _so_many_times(ratio, outcome)
    return _by_so_much(ratio, _less(outcome) if ratio < 1 else _more(outcome))


def is_hardly_other(ratio: float) -> bool:
    """Whether a ratio is told as neither less nor more."""
    return round(abs(1 - ratio) * 100) == 0


def times(ratio: float) -> str:
    """How many times, to two figures or whole; so close that it can be told from once."""
    if abs(ratio - 1) < HARDLY_OTHER:
        return number(ratio, ".2f")
    return number(ratio, ".1f" if ratio < MANY_TIMES else ",.0f")


def span(low: float | None, high: float | None, outcome: Row) -> str:
    """The 95 % interval in the same words."""
    if low is None:
        return say("no interval can be given")
    if high is None:
        return say("at least {low:.2g} times as much", low=low)
    if _is_nearly_none(high):
        return _by_so_much(high, _less(outcome))
    if high <= 1:
        return say(
            "between {nearer} and {farther} % {less}",
            nearer=percent_off(high),
            farther=percent_off(low),
            less=_less(outcome),
        )
    many = high >= TWICE
    most = _so_many_times(high, outcome) if many else _by_so_much(high, _more(outcome))
    if low >= 1:
        return say(
            "between {low} and {most}", low=times(low) if many else percent_off(low), most=most
        )
    least = _by_so_much(low, _less(outcome))
    return say("anything from {least} to {most}", least=least, most=most)


def _so_many_times(ratio: float, outcome: Row) -> str:
    if _is_of_how_often(outcome):
        return say("{times} times as often", times=times(ratio))
    return say("{times} times as much", times=times(ratio))


def _is_of_how_often(outcome: Row) -> bool:
    """Whether the outcome is more or less often, and not just more or less."""
    return str(outcome["more"]).endswith("often")


def _by_so_much(ratio: float, less_or_more: str) -> str:
    return say("{percent} % {less_or_more}", percent=percent_off(ratio), less_or_more=less_or_more)


def _less(outcome: Row) -> str:
    return say(outcome["less"])


def _more(outcome: Row) -> str:
    return say(outcome["more"])


def percent_off(ratio: float) -> str:
    """How far a ratio is from 1, in percent; of one near 0 not 100, which reads as never."""
    return say("more than 99") if _is_nearly_none(ratio) else str(round(abs(1 - ratio) * 100))


def _is_nearly_none(ratio: float) -> bool:
    return round((1 - ratio) * 100) >= ALL_PERCENT
