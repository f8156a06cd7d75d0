"""Whether a comparison of two rigs rests on enough boats to be shown.

A ratio that is like for like is made on boats that fished both rigs, and leans on one of them the
more, the more of both it fished. So enough boats must have fished both; of these none may have more
than `max_share` of the hours of either rig, nor of what the comparison weighs: of a boat with hours
a of the one and b of the other a·b/(a + b), as Mantel and Haenszel weigh rates (Rothman, Greenland
& Lash, Modern Epidemiology, from memory).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import polars as pl

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

    from schemas.settings import Sharing


def boats_with_both(hours: pl.DataFrame, rig: str, reference: str) -> pl.DataFrame:
    """The boats that fished both, with their hours of either: `vessel`, `of_rig`, `of_reference`.

    `hours` has vessel, rig_version, tow_hours, any number of rows for a boat and rig.
    """
    of_rig, of_reference = (
        hours.filter(pl.col("rig_version") == name)
        .group_by("vessel")
        .agg(pl.col("tow_hours").sum().alias(called))
        for name, called in ((rig, "of_rig"), (reference, "of_reference"))
    )
    return of_rig.join(of_reference, on="vessel").sort("vessel")


def rests_on_enough(boats: pl.DataFrame, sharing: Sharing) -> bool:
    """Whether these boats, with their hours of either rig, are enough and none is most of them."""
    if len(boats) < sharing.min_vessels:
        return False
    of_rig, of_reference = boats["of_rig"].to_numpy(), boats["of_reference"].to_numpy()
    weight = of_rig * of_reference / (of_rig + of_reference)
    return all(no_boat_is_most(part, sharing) for part in (of_rig, of_reference, weight))


def no_boat_is_most(parts: ArrayLike, sharing: Sharing) -> bool:
    """Whether no boat's part is more than `max_share` of all."""
    each = np.asarray(parts, dtype=float)
    return bool(each.max() <= sharing.max_share * each.sum())
