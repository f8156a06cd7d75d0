"""A ratio and its interval in words: 40 % less often, 2.3 times as much."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reports.parts import Row

TWICE, MANY_TIMES = 2.0, 10.0
"""From twice as much on a ratio is said as so many times; from ten times on in whole numbers."""


def amount(ratio: float, outcome: Row) -> str:
    """A ratio in words: 40 % less, 30 % more, 2.3 times as much."""
    percent = _percent(ratio)
    if percent == 0:
        return f"neither {outcome['less']} nor {outcome['more']}"
    if ratio >= TWICE:
        return f"{times(ratio)} times as {_as_much(outcome)}"
    return f"{percent:,} % {outcome['less'] if ratio < 1 else outcome['more']}"


def times(ratio: float) -> str:
    """How many times, to two figures or whole."""
    return f"{ratio:.1f}" if ratio < MANY_TIMES else f"{ratio:,.0f}"


def _as_much(outcome: Row) -> str:
    """Much, or often where the outcome is more or less often."""
    return str(outcome["more"]).removeprefix("more").strip() or "much"


def span(low: float | None, high: float | None, outcome: Row) -> str:
    """The 95 % interval in the same words."""
    less, more = outcome["less"], outcome["more"]
    if low is None:
        return "no interval can be given"
    if high is None:
        return f"at least {low:.2g} times as much"
    if high <= 1:
        return f"between {_percent(high)} and {_percent(low)} % {less}"
    many = high >= TWICE
    most = f"{times(high)} times as {_as_much(outcome)}" if many else f"{_percent(high)} % {more}"
    if low >= 1:
        return f"between {times(low) if many else _percent(low)} and {most}"
    return f"anything from {_percent(low)} % {less} to {most}"


def _percent(ratio: float) -> int:
    return round(abs(1 - ratio) * 100)
