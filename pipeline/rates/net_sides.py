"""On which side of the other a net of a twin rig was towed, and whether that can be held alike.

One side may tow otherwise than the other, by its warp, its doors or the boat's turns. Where a rig
was on either side often enough, the side has a term of its own within each tow, and is out of the
rig's ratio; where it was as good as always on one, nothing in the record tells the two apart.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import polars as pl

from pipeline.rates.within_trips import LEAST_OF_BOTH
from schemas.codes import NetSides
from schemas.words import NET_SIDES

if TYPE_CHECKING:
    from numpy.typing import NDArray

LEAST_A_SIDE = 3
"""Of fewer tows with the rig on either side the side can't be told from it. Own judgement."""
LEAST_TRIPS_A_SIDE = 2
"""On fewer trips than this no trip can be left out; asked where trips are."""

FROM_PORT = {side: at for at, side in enumerate(NET_SIDES)}


def place_from_port() -> pl.Expr:
    """The place of some nets, from port on; blank where it is not the same for all of them."""
    place = pl.col("net_side").replace_strict(FROM_PORT, return_dtype=pl.Int64)
    known = place.null_count() == 0
    return pl.when(known & (place.min() == place.max())).then(place.min())


def is_nearer_port(tow: list[str]) -> pl.Expr:
    """Whether the one of two nets of a tow was nearer port; blank where that is not known.

    `place` is that of `place_from_port`.
    """
    place = pl.col("place")
    differ = (place.null_count().over(tow) == 0) & (place.min().over(tow) < place.max().over(tow))
    return pl.when(differ).then(place == place.min().over(tow))


def sides_of(shared: pl.DataFrame, rig: str) -> NetSides:
    """Whether the sides of a rig's nets can be held alike: a row a tow and rig, `nearer_port`."""
    own = shared.filter(rig_version=rig)
    if own.is_empty() or own["nearer_port"].null_count():
        return NetSides.NOT_WRITTEN
    by_side = own.group_by("nearer_port").agg(
        pl.len().alias("tows"), pl.struct("vessel", "trip").n_unique().alias("trips")
    )
    fewest_tows, fewest_trips = (min(by_side[name].to_list()) for name in ("tows", "trips"))
    by_trips = own.select("vessel", "trip").n_unique() >= LEAST_OF_BOTH
    changed = by_side.height > 1 and fewest_tows >= LEAST_A_SIDE
    if changed and (fewest_trips >= LEAST_TRIPS_A_SIDE or not by_trips):
        return NetSides.HELD
    return NetSides.ONE_SIDE


def side_terms(shared: pl.DataFrame, sides: NetSides) -> NDArray[np.float64]:
    """The term of the side, rows × 1; none where sides are not held alike, rows × 0."""
    if sides != NetSides.HELD:
        return np.empty((shared.height, 0))
    return shared["nearer_port"].to_numpy().astype(np.float64)[:, None]
