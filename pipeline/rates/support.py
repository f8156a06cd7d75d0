"""Were two rigs fished side by side? Same ground, same boat, same stretch of the record.

An adjusted ratio of two rigs that hardly met the same conditions rests on the model alone. So it
is given only where at least half the hours of one of the two were fished under conditions that
the other met as well, and each has five hauls and two trips there. Where that fails for the whole
record, the stretches during which both were in use are looked at alone.
The bounds are this project's own judgement; no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import polars as pl

if TYPE_CHECKING:
    from collections.abc import Sequence

CONDITIONS = ["ground", "vessel", "stretch"]
LEAST_SHARE = 0.5
LEAST_HAULS = 5
LEAST_TRIPS = 2


@dataclass(frozen=True)
class Support:
    """How much of two rigs' fishing was under the same conditions.

    Each pair of numbers is the rig's and the reference's.
    """

    hours: tuple[float, float]
    shared_hours: tuple[float, float]
    shared_hauls: tuple[int, int]
    shared_trips: tuple[int, int]

    @property
    def side_by_side(self) -> bool:
        """Whether the two can be compared."""
        shares = [
            shared / hours if hours else 0.0
            for shared, hours in zip(self.shared_hours, self.hours, strict=True)
        ]
        return (
            max(shares) >= LEAST_SHARE
            and min(self.shared_hauls) >= LEAST_HAULS
            and min(self.shared_trips) >= LEAST_TRIPS
        )


def support(
    conditions: pl.DataFrame, rig: str, reference: str, stretches: Sequence[str] | None = None
) -> Support:
    """The support of two rigs in the given stretches, or in the whole record.

    `conditions` has rig_version, ground, vessel, stretch, trip, hauls, tow_hours.
    """
    pair = conditions.filter(pl.col("rig_version").is_in([rig, reference]))
    if stretches is not None:
        pair = pair.filter(pl.col("stretch").is_in(list(stretches)))
    both_there = (pl.col("rig_version").n_unique().over(CONDITIONS) == 2).alias("shared")
    sums = {
        (row["rig_version"], row["shared"]): row
        for row in pair.with_columns(both_there)
        .group_by("rig_version", "shared")
        .agg(
            pl.col("hauls", "tow_hours").sum(),
            pl.struct("vessel", "trip").n_unique().alias("trips"),
        )
        .iter_rows(named=True)
    }
    none = {"hauls": 0, "trips": 0, "tow_hours": 0.0}
    own, other = (sums.get((name, True), none) for name in (rig, reference))
    apart = [sums.get((name, False), none) for name in (rig, reference)]
    return Support(
        hours=(
            own["tow_hours"] + apart[0]["tow_hours"],
            other["tow_hours"] + apart[1]["tow_hours"],
        ),
        shared_hours=(own["tow_hours"], other["tow_hours"]),
        shared_hauls=(own["hauls"], other["hauls"]),
        shared_trips=(own["trips"], other["trips"]),
    )


def both_in_use(conditions: pl.DataFrame, rig: str, reference: str) -> tuple[str, ...]:
    """The stretches of the record from the first to the last in which both rigs were in use.

    That is from the later of their first stretches to the earlier of their last.
    """
    in_use = [
        conditions.filter(pl.col("rig_version") == name)["stretch"] for name in (rig, reference)
    ]
    if any(stretches.is_empty() for stretches in in_use):
        return ()
    first = max(str(stretches.min()) for stretches in in_use)
    last = min(str(stretches.max()) for stretches in in_use)
    within = pl.concat(in_use).unique().sort()
    return tuple(stretch for stretch in within.to_list() if first <= stretch <= last)
