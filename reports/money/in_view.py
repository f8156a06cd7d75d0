"""How far the axis of the money chart reaches, and what of it runs off the edge."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.language import say
from reports.money.sentences import is_clear, is_wide
from reports.rates_drawn import NO_INTERVAL
from reports.sentences import listed

if TYPE_CHECKING:
    from reports.parts import Row

MOST_IN_VIEW = 4.0
"""The axis reaches at most so many times as far as the middle one of the rigs that set it."""
BEYOND_BARS, BEYOND_MARKS = 1.1, 1.2


def reach(rows: list[Row]) -> float:
    """How far the axis goes either way from nought, of rows that have a net change.

    The rigs that are known well enough set it: a wild interval would leave their bars too short to
    be seen. Of a rig that clearly pays or costs the mark is always in view.
    """
    marks = [BEYOND_MARKS * _mark(row) for row in rows]
    bars = sorted(map(_bar, _well_known(rows)))
    if not bars:
        return max(marks) or 1.0
    most = MOST_IN_VIEW * bars[(len(bars) - 1) // 2]
    clear = [BEYOND_MARKS * _mark(row) for row in rows if is_clear(row)]
    near = [mark for mark in marks if mark <= most]
    return max([min(BEYOND_BARS * bars[-1], most), *near, *clear]) or 1.0


def off_the_edge(rows: list[Row]) -> str:
    """What the reader must know of bars and marks that are not, or not wholly, in view."""
    edge = reach(rows)
    with_bars = [row for row in rows if _has_bar(row)]
    said = []
    if any(_bar(row) > edge for row in with_bars):
        said.append(say("A bar that runs off the edge is wider than shown."))
    if beyond := [row["rig"] for row in rows if _mark(row) > edge]:
        said.append(
            say("The mark of {rigs} lies beyond the edge: see the table.", rigs=listed(beyond))
        )
    if len(with_bars) < len(rows):
        said.append(say(NO_INTERVAL))
    return " ".join(said)


def _well_known(rows: list[Row]) -> list[Row]:
    """The rows whose interval tells something; where none does, the narrowest alone."""
    with_bars = [row for row in rows if _has_bar(row)]
    well = [row for row in with_bars if is_clear(row) or not is_wide(row)]
    return well or sorted(with_bars, key=_bar)[:1]


def _has_bar(row: Row) -> bool:
    return row["net_change"]["low"] is not None


def _mark(row: Row) -> float:
    return abs(float(row["net_change"]["estimate"]))


def _bar(row: Row) -> float:
    """How far from nought the interval goes."""
    change = row["net_change"]
    return max(abs(float(change["low"])), abs(float(change["high"])))
