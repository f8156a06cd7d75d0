"""What a map of hauls shows: from where to where, and which positions lie too far off to be right.

Equirectangular: a degree of longitude is drawn as long as cos(latitude) degrees of latitude at
the map's middle, which over the few degrees of a season's grounds is as good as any projection.
"""

from __future__ import annotations

from math import ceil, cos, floor, radians
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import shapely

from reports.language import say
from schemas.words import saying

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from reports.parts import Row

WIDTH = 300
"""How wide a map is, in units of its drawing."""
APART_DEGREES = 3.0
"""Hauls nearer to each other than this lie on the same grounds."""
FAR_OFF_SHARE = 0.01
FEWEST_TO_TELL = 10
"""Of fewer hauls than this none is called far off."""
LEAST_DEGREES = 0.2
MARGIN = 0.08
FLATTEST, TALLEST = 0.6, 1.2
"""Height of the map by its width, at least and at most."""
STEPS = (1 / 60, 1 / 30, 1 / 12, 1 / 6, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 60.0)
MOST_LINES = 5
LEAST_COSINE = 0.05
HALF_TURN, WHOLE_TURN = 180.0, 360.0
POINTS_OF_THE_COMPASS = {"N": saying("N"), "E": saying("E"), "S": saying("S"), "W": saying("W")}


class Extent(NamedTuple):
    """The edges of a map in degrees; east of 180° longitudes go on beyond it."""

    west: float
    east: float
    south: float
    north: float

    @property
    def tall(self) -> float:
        """The map's height by its width."""
        return (self.north - self.south) / self._wide

    @property
    def _wide(self) -> float:
        """Its width in degrees of latitude."""
        return (self.east - self.west) * _cosine((self.south + self.north) / 2)

    @property
    def step(self) -> float:
        """Degrees from one line of the grid to the next."""
        longest = max(self._wide, self.north - self.south)
        return next((each for each in STEPS if longest / each <= MOST_LINES), STEPS[-1])


def round_the_globe(longitude: NDArray[np.float64]) -> NDArray[np.float64]:
    """The longitudes without a jump at 180°: they go on beyond it where hauls lie on both sides."""
    around = np.unique(np.mod(longitude, WHOLE_TURN))
    gaps = np.diff(around, append=around[0] + WHOLE_TURN)
    start = around[(int(np.argmax(gaps)) + 1) % len(around)]
    shifted = np.mod(longitude - start, WHOLE_TURN) + start
    middle = (shifted.min() + shifted.max()) / 2
    turns = np.floor((middle + HALF_TURN) / WHOLE_TURN)
    return np.asarray(shifted - WHOLE_TURN * turns, float)


def far_off(positions: list[Row]) -> list[bool]:
    """Of each position whether it lies by itself, far from all grounds that were fished.

    That is so of one haul in a hundred or fewer, more than `APART_DEGREES` from the others: as
    a rule latitude and longitude in each other's place, or a slip of the pen.
    """
    hauls = np.array([row["hauls"] for row in positions], float)
    if hauls.sum() < FEWEST_TO_TELL:
        return [False] * len(positions)
    longitude = round_the_globe(np.array([row["longitude"] for row in positions], float))
    points = shapely.points(longitude, [row["latitude"] for row in positions])
    around = shapely.buffer(points, APART_DEGREES / 2, quad_segs=4)
    grounds = shapely.get_parts(shapely.union_all(around))
    on = np.array([shapely.intersects(ground, points) for ground in grounds])
    most = max(1.0, FAR_OFF_SHARE * hauls.sum())
    few = (on @ hauls) <= most
    alone = on[few].any(axis=0) if not few.all() else np.zeros(len(positions), bool)
    return [bool(each) for each in alone]


def extent_of(latitude: NDArray[np.float64], longitude: NDArray[np.float64]) -> Extent:
    """The least map that holds these positions with a margin; longitudes without a jump."""
    south, north = float(latitude.min()), float(latitude.max())
    west, east = float(longitude.min()), float(longitude.max())
    cosine = _cosine((south + north) / 2)
    high = max((north - south) * (1 + 2 * MARGIN), LEAST_DEGREES)
    wide = max((east - west) * cosine * (1 + 2 * MARGIN), LEAST_DEGREES)
    high, wide = max(high, wide * FLATTEST), max(wide, high / TALLEST)
    across, up = wide / cosine / 2, high / 2
    middle_x, middle_y = (west + east) / 2, (south + north) / 2
    return Extent(middle_x - across, middle_x + across, middle_y - up, middle_y + up)


def grid(start: float, end: float, step: float) -> list[float]:
    """The lines of the grid between two edges, in degrees."""
    return [at * step for at in range(ceil(start / step), floor(end / step) + 1)]


def degree_words(value: float, positive: str, negative: str) -> str:
    """`57°30′ N`, to the minute; longitudes beyond 180° are told on the other side."""
    turned = (value + HALF_TURN) % WHOLE_TURN - HALF_TURN if positive == "E" else value
    minutes = round(abs(turned) * 60)
    sided = minutes % (HALF_TURN * 60) or positive == "N"
    point = POINTS_OF_THE_COMPASS[positive if turned > 0 else negative]
    side = f" {say(point)}" if minutes and sided else ""
    rest = f"{minutes % 60:02d}′" if minutes % 60 else ""
    return f"{minutes // 60}°{rest}{side}"


def place_words(latitude: float, longitude: float) -> str:
    """`57°30′ N 1°15′ E`."""
    return f"{degree_words(latitude, 'N', 'S')} {degree_words(longitude, 'E', 'W')}"


def _cosine(latitude: float) -> float:
    return max(cos(radians(latitude)), LEAST_COSINE)
