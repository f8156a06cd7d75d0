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

    `shared_hours` and `hours` are those of the rig and of the reference; `stretches` are the
    parts of the record that were looked at.
    """

    hours: tuple[float, float]
    shared_hours: tuple[float, float]
    shared_hauls: tuple[int, int]
    shared_trips: tuple[int, int]
    stretches: tuple[str, ...]

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

    `conditions` has rig_version, ground, vessel, stretch, hauls, trips, tow_hours.
    """
    pair = conditions.filter(pl.col("rig_version").is_in([rig, reference]))
    if stretches is not None:
        pair = pair.filter(pl.col("stretch").is_in(list(stretches)))
    shared = pair.filter(pl.col("rig_version").n_unique().over(CONDITIONS) == 2)

    def of(frame: pl.DataFrame, name: str, column: str) -> float:
        return float(frame.filter(pl.col("rig_version") == name)[column].sum())

    both = (rig, reference)
    return Support(
        hours=(of(pair, rig, "tow_hours"), of(pair, reference, "tow_hours")),
        shared_hours=(of(shared, rig, "tow_hours"), of(shared, reference, "tow_hours")),
        shared_hauls=(int(of(shared, rig, "hauls")), int(of(shared, reference, "hauls"))),
        shared_trips=(int(of(shared, rig, "trips")), int(of(shared, reference, "trips"))),
        stretches=tuple(
            pair.filter(pl.col("rig_version").is_in(both))["stretch"].unique().sort().to_list()
        ),
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
