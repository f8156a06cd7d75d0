"""Which positions lie on land, by the world's land outline.

The outline is Natural Earth's land at 1:50 million (public domain), as the npm package
world-atlas 2.0.2 packs it (land-50m.json, ISC licence), unsimplified and cut at 180°.
It is good to a kilometre or two and lacks the smallest islands and inlets. So a position
counts as on land only when it also lies more than `MARGIN` degrees inside the coast: one
in a harbour passes as at sea, and one at sea passes as on land only up an inlet that the
outline does not draw.
"""

from __future__ import annotations

import gzip
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

MARGIN = 0.05
"""Degrees that a position must lie inside the coast: 5.6 km northward, less eastward."""


@cache
def outline() -> Any:
    """The land as one shapely multipolygon, longitude before latitude, in degrees."""
    import shapely

    packed = (files("pipeline.checking") / "land-50m.wkb.gz").read_bytes()
    return shapely.from_wkb(gzip.decompress(packed))


@cache
def _coast() -> Any:
    """The edge of the land, as lines."""
    return outline().boundary


def on_land(latitude: ArrayLike, longitude: ArrayLike) -> NDArray[np.bool_]:
    """Whether each position lies on land, well inside the coast; an unknown one does not."""
    import shapely

    y, x = np.broadcast_arrays(np.asarray(latitude, float), np.asarray(longitude, float))
    land: NDArray[np.bool_] = np.isfinite(x) & np.isfinite(y)
    shapely.prepare([outline(), _coast()])
    land[land] = shapely.contains_xy(outline(), x[land], y[land])
    land[land] = ~shapely.dwithin(_coast(), shapely.points(x[land], y[land]), MARGIN)
    return land
