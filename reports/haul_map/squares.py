"""Hauls counted in squares, for a season of more hauls than a map can show one by one."""

from __future__ import annotations

from math import ceil, sqrt
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reports.haul_map.hauls import Shown
    from reports.parts import Row

SQUARES_ACROSS = 20
LEAST_ROOM = 6.5
"""A rig's place in a square is at least so wide, in units of the drawing."""
FILLED, SMALLEST_MARK = 0.85, 12.0
"""How much of its place the largest mark fills each way, and the area of the smallest."""


class Squares(NamedTuple):
    """Squares with all their hauls, and in them each rig's hauls that damaged the net.

    `across` and `up` are the sides of a square in degrees.
    """

    squares: list[Row]
    torn: list[Row]
    across: float
    up: float


def in_squares(shown: Shown, rigs: Sequence[str], width: float) -> Squares:
    """The hauls of a map so wide, counted in squares; each rig has its own place in a square.

    A square's sides are whole numbers of the cells that the hauls come counted in. Its row says
    its edges in degrees, its `hauls` and how many are `damaged`; a row of `torn` is one
    of hauls, which says where the rig's mark stands and its `size`, the area of the mark.
    """
    a_side = ceil(sqrt(len(rigs)))
    across, up = _sides(shown, max(width / SQUARES_ACROSS, LEAST_ROOM * a_side), width)
    squares: dict[tuple[float, float], Row] = {}
    torn: dict[tuple[str, float, float], Row] = {}
    for row in shown.hauls:
        west, south = row["longitude"] // across * across, row["latitude"] // up * up
        edges = {"west": west, "east": west + across, "south": south, "north": south + up}
        square = squares.setdefault((west, south), edges | {"hauls": 0, "damaged": 0})
        square["hauls"] += row["hauls"]
        if row["damaged"]:
            square["damaged"] += row["hauls"]
            mark = torn.setdefault((row["rig"], west, south), row | {"hauls": 0})
            mark["hauls"] += row["hauls"]
    most = max((mark["hauls"] for mark in torn.values()), default=1)
    largest = (FILLED * width * across / (shown.extent.east - shown.extent.west) / a_side) ** 2
    lines = ceil(len(rigs) / a_side)
    for (rig, west, south), mark in torn.items():
        line, column = divmod(rigs.index(rig), a_side)
        east, north = (column + 0.5) / a_side * across, (lines - line - 0.5) / lines * up
        mark["longitude"] = min(max(west + east, shown.extent.west), shown.extent.east)
        mark["latitude"] = min(max(south + north, shown.extent.south), shown.extent.north)
        mark["size"] = max(SMALLEST_MARK, largest * mark["hauls"] / most)
    return Squares(list(squares.values()), list(torn.values()), across, up)


def _sides(shown: Shown, least: float, width: float) -> tuple[float, float]:
    """The sides of a square in degrees, across and up: at least so many units of the drawing."""
    extent = shown.extent
    cell = max(row["cell_degrees"] for row in shown.hauls)
    across = least / width * (extent.east - extent.west)
    up = least / (width * extent.tall) * (extent.north - extent.south)
    return ceil(across / cell) * cell, ceil(up / cell) * cell
