"""Which trips are drawn together: one boat's, in their order, as many as fit."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

from reports.rig_drawing.svg import identity

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

MOST_SIDE_BY_SIDE = 60
MOST_STRIPS = 8
"""So many strips are drawn, the latest trips of each boat first."""


class Strip(NamedTuple):
    """Trips of one boat that stand side by side; `part` counts a boat's strips, the first is 1."""

    name: str
    vessel: str
    part: int
    parts: int
    trips: list[Row]


def all_strips(findings: Findings) -> list[Strip]:
    """Every boat's trips, cut where there are too many to stand side by side."""
    strips = []
    for vessel, of_boat in groupby(findings["trips"], key=lambda trip: trip["vessel"]):
        trips = list(of_boat)
        parts = -(-len(trips) // MOST_SIDE_BY_SIDE)
        each = -(-len(trips) // parts)
        strips += [
            Strip(
                f"strip-{identity(vessel)}-{part + 1}",
                vessel,
                part + 1,
                parts,
                trips[part * each : (part + 1) * each],
            )
            for part in range(parts)
        ]
    return strips


def drawn_strips(findings: Findings) -> list[Strip]:
    """Those that are drawn, boat by boat: of each boat the latest first, until there are enough."""
    strips = all_strips(findings)
    latest = sorted(strips, key=lambda strip: strip.parts - strip.part)[:MOST_STRIPS]
    return [strip for strip in strips if strip in latest]
