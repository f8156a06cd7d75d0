"""What a tear costs with each rig: mending, and the hours lost to it at what they are worth.

Each part is a mean over the tears of which it was written, on boats that keep it; so a tear of
which nobody wrote the hours is taken to have lost the mean, and not to have lost none.

Bills differ much, and the largest are rare: a rig with few tears seldom has one of them, and would
then be too sure of its mean. So no rig's mean is taken to be surer than the scatter of all rigs'
tears about their own means lets so many tears be. That is told from the logs as well: were they
normal with variance v, the scatter would be exp(v) − 1, of which the function 0F1 of the squares is
without bias (Finney, Supplement to the Journal of the Royal Statistical Society 7 (1941) 155; from
memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import polars as pl
from scipy.special import hyp0f1

from pipeline.damage.resampling import at_least_as_wide

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

RIG = "rig_version"
MENDING, LOST = "mending_cost", "hours_lost"

LEAST_TEARS = 5
"""Fewer tears of a rig that have the amount say too little of it: those of all rigs speak for it.

This project's own judgement, as for verdicts; no source.
"""


@dataclass(frozen=True)
class TearCost:
    """What a tear costs: the season's own mean first, then each draw's.

    `trips` is how many trips those tears are of, the fewest of its parts; `by_all_rigs` names
    the parts that other rigs' tears speak for.
    """

    each: NDArray[np.float64]
    by_all_rigs: tuple[str, ...]
    trips: int


@dataclass(frozen=True)
class TearAmounts:
    """What tears cost, as it was written: sums of damaged hauls, and what an hour is worth.

    `sums` has outcome, rig_version, ground, trip_number, events and total; `weights` are the trips'
    in each draw.
    """

    sums: pl.DataFrame
    hour_worth: float | None
    weights: NDArray[np.float64]

    @property
    def parts(self) -> dict[str, float]:
        """The parts that the season knows, and what one of each is worth."""
        worth = {MENDING: 1.0, LOST: self.hour_worth or 0.0}
        return {name: worth[name] for name in parts_known(self.sums, self.hour_worth)}

    def of(self, rig: str, ground: str | None) -> TearCost:
        """What a tear of the rig costs, on a ground or on all of them where that is None.

        Nothing where no part is known.
        """
        there = pl.lit(value=True) if ground is None else pl.col("ground") == ground
        each = np.zeros(1 + self.weights.shape[1])
        by_all_rigs, trips = [], []
        for part, worth in self.parts.items():
            written = self.sums.filter(pl.col("outcome") == part)
            own, *others = (written.filter(and_on) for and_on in _ever_wider(rig, there))
            told = next((tears for tears in (own, *others) if _enough(tears)), others[-1])
            if told is not own:
                by_all_rigs.append(part)
            trips.append(told["trip_number"].n_unique())
            unsure = float(np.sqrt(scatter(written) / float(told["events"].sum())))
            each += worth * at_least_as_wide(self._mean(told), unsure)
        return TearCost(each, tuple(by_all_rigs), min(trips, default=0))

    def _mean(self, tears: pl.DataFrame) -> NDArray[np.float64]:
        shape = len(self.weights)
        trip = tears["trip_number"].to_numpy()
        total, events = (np.bincount(trip, tears[name], shape) for name in ("total", "events"))
        own = total.sum() / events.sum()
        return np.concatenate([[own], (total @ self.weights) / (events @ self.weights)])


def parts_known(tear_amounts: pl.DataFrame, hour_worth: float | None) -> list[str]:
    """The parts of a tear's cost that anybody wrote, hours lost only where they have a worth."""
    written = set(tear_amounts["outcome"].to_list())
    return [name for name in (MENDING, LOST) if name in written and (name == MENDING or hour_worth)]


def scatter(tears: pl.DataFrame) -> float:
    """The variance of what one tear takes, over the square of the mean of its rig's tears.

    The larger of two: as it was about the means, and as the logs of what was written tell of large
    bills that have not come yet. `tears` are sums with rig_version, events and total. Sums that
    are nought say nothing; where no rig has two others it is nought.
    """
    some = tears.filter(pl.col("total") > 0).with_columns(
        log=(pl.col("total") / pl.col("events")).log(),
        mean=pl.col("total").sum().over(RIG) / pl.col("events").sum().over(RIG),
    )
    spare = some.height - some[RIG].n_unique()
    if not spare:
        return 0.0
    off = pl.col("total") / pl.col("mean") - pl.col("events")
    log_off = pl.col("log") - pl.col("log").mean().over(RIG)
    seen, in_logs = some.select(
        (off**2 / pl.col("events")).sum().alias("seen"), (log_off**2).sum().alias("in logs")
    ).row(0)
    return float(max(seen / spare, hyp0f1(spare / 2, in_logs / 2) - 1))


def _ever_wider(rig: str, there: pl.Expr) -> Iterator[pl.Expr]:
    """The rig's own tears on the ground, those of all rigs there, and all of the season's."""
    yield (pl.col(RIG) == rig) & there
    yield there
    yield pl.lit(value=True)


def _enough(tears: pl.DataFrame) -> bool:
    return bool(tears["events"].sum() >= LEAST_TEARS)
