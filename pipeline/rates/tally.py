"""What hauls come to, beside what a fit says of them."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pipeline.rates.numbered import Rows, Sums

    Marks = NDArray[np.bool_]


def _none_marked() -> Marks:
    return np.zeros(1, dtype=bool)


@dataclass(frozen=True)
class Tally:
    """What one rig's hauls come to; `marked_trips` and `marked_boats` mark those that fished it."""

    hauls: int = 0
    with_some: int = 0
    hours: float = 0.0
    total: float = 0.0
    marked_trips: Marks = field(default_factory=_none_marked)
    marked_boats: Marks = field(default_factory=_none_marked)

    def __or__(self, other: Tally) -> Tally:
        return Tally(
            self.hauls + other.hauls,
            self.with_some + other.with_some,
            self.hours + other.hours,
            self.total + other.total,
            self.marked_trips | other.marked_trips,
            self.marked_boats | other.marked_boats,
        )

    @property
    def trips(self) -> int:
        """How many trips fished it."""
        return int(self.marked_trips.sum())

    @property
    def without(self) -> int:
        """How many hauls had none."""
        return self.hauls - self.with_some

    @property
    def vessels(self) -> int:
        """How many boats fished it."""
        return int(self.marked_boats.sum())


def raw_ratio(own: Tally, other: Tally) -> float | None:
    """The ratio of the two rates as they were."""
    if not own.hours or not other.hours or other.total <= 0:
        return None
    return (own.total / own.hours) / (other.total / other.hours)


def tally_by_rig(sums: Sums) -> dict[str, Tally]:
    """What the hauls of each rig come to."""
    rig = sums.codes("rig_version")
    marked_trips, marked_boats = sums.rows.once("marked by rig", lambda: _marked_by_rig(sums.rows))
    hauls, some, hours, total = (
        np.bincount(rig.codes, amount, len(rig.words))
        for amount in (sums.rows.hauls, sums.with_some, sums.rows.hours, sums.total)
    )
    return {
        name: Tally(
            int(hauls[at]),
            int(some[at]),
            float(hours[at]),
            float(total[at]),
            marked_trips[at],
            marked_boats[at],
        )
        for at, name in enumerate(rig.words)
    }


def _marked_by_rig(rows: Rows) -> tuple[Marks, Marks]:
    """Which trips and which boats fished each rig: rigs × trips, rigs × boats."""
    rig = rows.codes("rig_version").codes
    return _marked(rig, rows.trips), _marked(rig, rows.codes("vessel").codes)


def _marked(group: NDArray[np.int64], number: NDArray[np.int64]) -> Marks:
    """Which numbers each group has: groups × numbers."""
    marks = np.zeros((int(group.max(initial=-1)) + 1, int(number.max(initial=-1)) + 1), dtype=bool)
    marks[group, number] = True
    return marks
