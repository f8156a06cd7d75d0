"""The shape of a two-panel bottom trawl, as half of it from its middle line.

Each place is how far out from the middle line and how far down the drawing. It is a common shape,
not to scale and of no one net: two wings, square or bunts, tapering bellies, lengthener, codend,
the two panels laced together along the selvedges.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING

from reports.rig_drawing.svg import WIDTH, Point, number

if TYPE_CHECKING:
    from collections.abc import Sequence

MIDDLE_PX = WIDTH / 2

Half = tuple[tuple[float, float], ...]

SELVEDGE: Half = (
    (124, 126), (109, 164), (94, 204), (79, 252), (60, 300), (28, 376), (24, 426), (30, 452),
    (28, 478), (18, 494),
)  # fmt: skip
WING_END, WING_BACK, SQUARE_BACK, BOSOM_BACK, BELLY_BACK, LENGTHENER_BACK, CODEND_BACK = (
    0, 2, 3, 4, 5, 6, 9,
)  # fmt: skip
"""Places along the selvedge where one part ends and the next begins."""

HEADLINE: Half = ((106, 117), (88, 158), (71, 184), (49, 204), (26, 214), (0, 217))
HEADLINE_WING_BACK = 3
FISHING_LINE: Half = ((104, 119), (80, 162), (60, 204), (44, 240), (25, 266), (0, 275))
FISHING_LINE_WING_BACK, FISHING_LINE_BUNT_BACK = 2, 4
GROUND_GEAR: Half = ((92, 115), (67, 158), (47, 199), (33, 231), (18, 252), (0, 260))

BRIDLE_JOINT, SWEEP_END = (143, 92), (169, 56)


@dataclass(frozen=True)
class Edge:
    """A smooth line through places on the drawing, cut at any of them into pieces that fit."""

    places: tuple[Point, ...]

    def steps(self, start: int, end: int) -> str:
        """From one place to another, forward or backward, as steps of a path after its `M`.

        The line is a Catmull–Rom spline, each span a cubic Bézier curve.
        """
        way = 1 if end >= start else -1
        return "".join(self._span(at, at + way) for at in range(start, end, way))

    def _span(self, start: int, end: int) -> str:
        first, last = self.places[start], self.places[end]
        one, two = self._slope(start), self._slope(end)
        way = (end - start) / 3
        bends = (
            Point(first.x + one.x * way, first.y + one.y * way),
            Point(last.x - two.x * way, last.y - two.y * way),
            last,
        )
        return "C" + " ".join(map(pair, bends))

    def _slope(self, at: int) -> Point:
        before, after = self.places[max(at - 1, 0)], self.places[min(at + 1, len(self.places) - 1)]
        return Point((after.x - before.x) / 2, (after.y - before.y) / 2)

    def along(self, apart_px: float) -> list[Point]:
        """Places on straight lines between the edge's own, so far apart, the ends among them."""
        found, wanted = [self.places[0]], apart_px
        for first, last in zip(self.places, self.places[1:], strict=False):
            length = hypot(last.x - first.x, last.y - first.y)
            while wanted <= length:
                share = wanted / length
                found.append(
                    Point(
                        first.x + (last.x - first.x) * share, first.y + (last.y - first.y) * share
                    )
                )
                wanted += apart_px
            wanted -= length
        return found


def pair(place: Point) -> str:
    """The place as a pair of coordinates."""
    return f"{number(place.x)} {number(place.y)}"


def at(out: float, down: float, side: int) -> Point:
    """A place of the half on one side, −1 for the left and +1 for the right."""
    return Point(MIDDLE_PX + side * out, down)


def half(places: Half, side: int, inward: float = 0.0) -> Edge:
    """The half line on one side, moved so far towards the middle."""
    return Edge(tuple(at(max(0.0, out - inward), down, side) for out, down in places))


def across(places: Half) -> Edge:
    """The whole line from the left end to the right; its last place is on the middle line."""
    left: Sequence[Point] = half(places, -1).places
    right: Sequence[Point] = half(places, 1).places[::-1]
    return Edge((*left, *right[1:]))
