"""The rates that a chart has by rig and ground, where its axis ends, and what its edges say."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import per_hours
from reports.language import say
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

BEYOND_EDGE = saying("A bar with an arrow at the edge is wider than shown.")
NO_INTERVAL = saying("A mark without a bar has no interval.")


def rates_drawn(findings: Findings, outcome: Row) -> list[Row]:
    """The outcome's rates on each ground, per as many hours as it is told in."""
    hours = per_hours(outcome)
    return [
        {**rate, **{name: _times(rate[name], hours) for name in ("rate", "low", "high")}}
        for rate in findings["rates"]
        if rate["outcome"] == outcome["name"] and rate["ground"] in findings["season"]["grounds"]
    ]


def _times(amount: float | None, hours: int) -> float | None:
    return None if amount is None else amount * hours


WILD = 3.0
"""An interval is cut off at so many times the largest rate, beside which marks are still told
apart; own judgement."""


def axis_end(rates: list[Row]) -> float:
    """Where the axis ends: past every rate, and past most intervals; a wild one is cut off."""
    most_rate = max(rate["rate"] for rate in rates)
    highs = sorted(rate["high"] for rate in rates if rate["high"] is not None)
    most = highs[int(len(highs) * 0.85)] if highs else most_rate
    reach = min(most * 1.1, most_rate * WILD) if most_rate else most * 1.1
    return float(max(most_rate * 1.15, reach)) or 1.0


def of_edges(rates: list[Row]) -> list[str]:
    """What must be known of bars that run off the edge, and of marks without one, if there are."""
    highs = [rate["high"] for rate in rates]
    beyond = any(high is not None and high > axis_end(rates) for high in highs)
    return [
        *([say(BEYOND_EDGE)] if beyond else []),
        *([say(NO_INTERVAL)] if None in highs else []),
    ]
