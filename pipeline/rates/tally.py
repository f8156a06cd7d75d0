"""What hauls come to, beside what a fit says of them."""

from __future__ import annotations

from dataclasses import dataclass

import polars as pl


@dataclass(frozen=True)
class Tally:
    """What one rig's hauls come to."""

    hauls: int = 0
    with_some: int = 0
    hours: float = 0.0
    total: float = 0.0
    trips: frozenset[tuple[str, str]] = frozenset()

    def __or__(self, other: Tally) -> Tally:
        return Tally(
            self.hauls + other.hauls,
            self.with_some + other.with_some,
            self.hours + other.hours,
            self.total + other.total,
            self.trips | other.trips,
        )

    @property
    def vessels(self) -> int:
        """How many boats fished it."""
        return len({vessel for vessel, _ in self.trips})


def tally_by_rig(sums: pl.DataFrame) -> dict[str, Tally]:
    """What the hauls of each rig come to; `sums` has its rig_version."""
    by_rig = sums.group_by("rig_version").agg(
        pl.col("hauls", "hauls_with_some", "tow_hours", "total").sum(),
        pl.struct("vessel", "trip").unique(),
    )
    return {
        rig: Tally(int(hauls), int(some), hours, total, frozenset(map(_name_of, trips)))
        for rig, hauls, some, hours, total, trips in by_rig.iter_rows()
    }


def _name_of(trip: dict[str, str]) -> tuple[str, str]:
    return trip["vessel"], trip["trip"]
