"""Which trips are drawn together: one boat's, in their order, as many as fit."""

from __future__ import annotations

from itertools import chain, groupby
from typing import TYPE_CHECKING, NamedTuple

from reports.rig_drawing.svg import identity

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

MOST_SIDE_BY_SIDE = 60
MOST_STRIPS = 8
"""So many strips are drawn: the latest of each boat first, those that changed their rig before the
others."""
MOST_MARKS = 12
"""So many damaged hauls of a trip are drawn one on the other; of more, one bar for all."""


class Strip(NamedTuple):
    """Trips of one boat that stand side by side; `part` counts a boat's strips, the first is 1."""

    name: str
    vessel: str
    part: int
    parts: int
    trips: list[Row]


def all_strips(findings: Findings) -> list[Strip]:
    """Every boat's trips, cut at a new year or between trips where too many stand side by side.

    Boats that changed their rig come first, as they are what a reader looks for; then by name.
    """
    strips = []
    for vessel, trips in _by_boat(findings):
        parts = _cut(trips)
        strips += [
            Strip(f"strip-{identity(vessel)}-{part}", vessel, part, len(parts), together)
            for part, together in enumerate(parts, start=1)
        ]
    return strips


def _cut(trips: list[Row]) -> list[list[Row]]:
    """A boat's columns in as few parts as fit, about as long as each other.

    Every year is whole; where a year does not fit, every trip.
    """
    whole_trips = [list(columns) for _, columns in groupby(trips, key=lambda trip: trip["trip"])]
    years = [list(chain(*begun)) for _, begun in groupby(whole_trips, key=_year_of)]
    most = max(MOST_SIDE_BY_SIDE, *map(len, whole_trips))
    whole = years if max(map(len, years)) <= most else whole_trips
    cuts = (_parts_of_about(len(trips) / many, whole) for many in range(1, len(trips) + 1))
    return next(parts for parts in cuts if max(map(len, parts)) <= most)


def _year_of(columns: list[Row]) -> str:
    """The year in which a trip began, where it is known."""
    return (columns[0]["first_day"] or "")[:4]


def _parts_of_about(each: float, whole: list[list[Row]]) -> list[list[Row]]:
    """The columns in parts of about so many: a year, or trip, is in that in which it starts."""
    parts: dict[int, list[Row]] = {}
    before = 0
    for columns in whole:
        parts.setdefault(int(before / each), []).extend(columns)
        before += len(columns)
    return list(parts.values())


def drawn_strips(findings: Findings) -> list[Strip]:
    """Those that are drawn, in the order of all: of each boat the latest first, until it is enough.

    Of boats alike in that, those that changed their rig go before those that fished last.
    """
    strips = all_strips(findings)
    changed = {vessel for vessel, trips in _by_boat(findings) if _rigs_of(trips) > 1}
    by_day = sorted(strips, key=lambda strip: _last_day(strip.trips), reverse=True)
    ranked = sorted(by_day, key=lambda s: (s.parts - s.part, s.vessel not in changed))
    latest = {strip.name for strip in ranked[:MOST_STRIPS]}
    return [strip for strip in strips if strip.name in latest]


def have_many_damaged(strips: list[Strip]) -> bool:
    """Whether a trip has so many damaged hauls that marks of one haul each would melt together.

    All that stand together are drawn alike, so that a bar means the same for every boat.
    """
    return any(trip["damaged_hauls"] > MOST_MARKS for strip in strips for trip in strip.trips)


def tells_damage(strip: Strip) -> bool:
    """Whether of any haul of a strip it is known if the net was damaged."""
    return any(trip["damage_known_hauls"] for trip in strip.trips)


def tells_fish(strip: Strip) -> bool:
    """Whether on any trip of a strip it is known how much fish an hour was caught."""
    return any(trip["bottom_living_kg_per_hour"] is not None for trip in strip.trips)


def _by_boat(findings: Findings) -> list[tuple[str, list[Row]]]:
    """Each boat's trips; where all boats are called by numbers, in the order of the numbers."""
    grouped = groupby(findings["trips"], key=lambda trip: trip["vessel"])
    boats = [(vessel, list(trips)) for vessel, trips in grouped]
    numbered = all(vessel.isdecimal() for vessel, _ in boats)
    return sorted(
        boats,
        key=lambda boat: (_rigs_of(boat[1]) == 1, int(boat[0]) if numbered else 0, boat[0]),
    )


def _rigs_of(trips: list[Row]) -> int:
    return len({trip["rig"] for trip in trips})


def _last_day(trips: list[Row]) -> str:
    return max(trip["first_day"] or "" for trip in trips)
