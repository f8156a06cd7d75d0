"""How mending adds up over a rig's life: the mean cumulative mending hours by its fishing hours.

A boat's set of a rig version is one life. At each fishing hour at which something was mended, the
mean goes up by the hours mended there, divided by the lives that were watched at that hour. A life
is watched in every haul of which the damage is known; a haul of which it is not, and a boat that
writes no mending hours, are not watched, rather than watched and clean.

Where nobody is watched the clock of fishing hours goes on all the same, as checks and changes are
told by it. So the mean goes on there at the rig version's own pace, that of all hours at which any
life is watched, and rises by it where the gap ends, or where the longest life does; of one boat its
end is its rate times the hours.

A damaged haul of which nobody wrote the mending must not be left out like that: only damage can
lack its mending, so the mean would come out too low. It takes the mean of the rig version's damaged
hauls that have it, as `two_parts` does, and the error of that mean is carried along.

The variance is summed by trip, which is what is taken to be independent throughout. A trip's
share of the mean is what its hauls mended, each divided by the lives watched then, with its part in
the gaps; what it is beyond a steady pace over the hours that it watched is squared and summed, with
G/(G − 1) for G trips. Lawless & Nadeau sum by life, and take the rise itself at each hour for the
pace: with one trip a life, and lives of one length, that is the same. Of one boat theirs is always
nothing, as the rise is its own; this one is then that of the boat's rate per hour towed. Limits are
those of the log mean, by t on the trips that had mended by that hour, less one, and never nearer
than if each mending had come by chance alone.

Sources, pages from memory: Nelson, Technometrics 37 (1995) 147 (mean cumulative function); Lawless
& Nadeau, Technometrics 37 (1995) 158 (robust variance).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import count
from typing import TYPE_CHECKING, Any

import numpy as np
import polars as pl

from pipeline.damage.two_parts import MOST_REACH
from pipeline.rates.poisson import NARROWEST, half_width
from pipeline.rates.support import LEAST_TRIPS

if TYPE_CHECKING:
    from numpy.typing import NDArray

MOST_STEPS = 60
NICE = (1, 2, 5)
ROUNDING_HOURS = 1e-6
"""Hauls that lie no further apart follow each other."""


@dataclass(frozen=True)
class Step:
    """The mean cumulative hours from this fishing hour on, and the lives watched at it."""

    hours: float
    mean: float
    low: float | None
    high: float | None
    units: int


@dataclass(frozen=True)
class CumulativeMending:
    """One rig version's mean cumulative mending hours, as they go into `findings.json`.

    `hours` is how far the longest life goes, `lives` each boat's, `moments` their checks and
    changes. `steps` has the last step of every `every_hours`, so that the mean is exact at their
    multiples. It has none where nothing was mended, or where all of the `damaged` hauls are
    `without_hours`: `told` says which. In `unwatched_hours` no life was watched.
    `mean_when_damaged`, of the damaged hauls that tell it, is for programs; no page tells it.
    """

    rig: str
    hours: float
    unwatched_hours: float
    every_hours: float
    hauls: int
    trips: int
    damaged: int
    without_hours: int
    mean_when_damaged: float | None
    told: bool
    lives: list[dict[str, Any]]
    steps: list[Step]
    moments: list[dict[str, Any]]


@dataclass(frozen=True)
class Watched:
    """Watched hauls as arrays: from and to which fishing hour of its life, in which trip.

    `mended` is the hours mended, at the end of the haul; NaN where the haul is `damaged` and they
    are not known. `trip` is an index. `longest` is how far the longest life goes, where that is
    beyond the last haul that was watched.
    """

    hours_from: NDArray[np.float64]
    hours_to: NDArray[np.float64]
    mended: NDArray[np.float64]
    damaged: NDArray[np.bool_]
    trip: NDArray[np.int64]
    longest: float = 0.0


@dataclass(frozen=True)
class MeanCumulative:
    """The mean at each time at which it rises, with its standard error.

    `by_chance` is the error if each rise had come by chance alone, as of a Poisson process; `units`
    is the lives watched then, `trips` those that had mended. Errors not asked for are NaN.
    """

    hours: NDArray[np.float64]
    mean: NDArray[np.float64]
    std_error: NDArray[np.float64]
    by_chance: NDArray[np.float64]
    units: NDArray[np.int64]
    trips: NDArray[np.int64]


def find_cumulative_mending(
    watched_hauls: pl.DataFrame, rig_moments: pl.DataFrame
) -> list[CumulativeMending]:
    """The mean cumulative mending hours of every rig version, with its checks and changes.

    `watched_hauls` has vessel, trip, rig_version, hours_from, hours_to, life_hours, damaged and
    mending_hours; `rig_moments` has vessel, rig_version, moment, kind, hours and changed_to.
    """
    if watched_hauls.is_empty():
        return []
    every = _every_hours(float(watched_hauls.select(pl.col("life_hours").max()).item()))
    ordered = watched_hauls.sort("rig_version", "vessel", "hours_to")
    return [
        _of_rig(str(rig), hauls, rig_moments.filter(pl.col("rig_version") == rig), every)
        for (rig,), hauls in ordered.group_by("rig_version", maintain_order=True)
    ]


def _of_rig(
    rig: str, hauls: pl.DataFrame, moments: pl.DataFrame, every: float
) -> CumulativeMending:
    lives = hauls.group_by("vessel", maintain_order=True).agg(hours=pl.col("life_hours").max())
    watched = _arrays(hauls)
    unknown = np.isnan(watched.mended)
    known = watched.damaged & ~unknown
    told = bool(known.any() or not watched.damaged.any())
    return CumulativeMending(
        rig=rig,
        hours=watched.longest,
        unwatched_hours=float(_Lives.of(watched).idle[-1]),
        every_hours=every,
        hauls=hauls.height,
        trips=len(np.unique(watched.trip)),
        damaged=int(watched.damaged.sum()),
        without_hours=int(unknown.sum()),
        mean_when_damaged=float(watched.mended[known].mean()) if known.any() else None,
        told=told,
        lives=lives.to_dicts(),
        steps=_steps(watched, every) if told else [],
        moments=[
            {**moment, "moment": str(moment["moment"])[:10]}
            for moment in moments.drop("rig_version").sort("hours", "vessel", "kind").to_dicts()
        ],
    )


def _arrays(hauls: pl.DataFrame) -> Watched:
    trips = hauls.select(pl.struct("vessel", "trip").rank("dense").alias("trip"))["trip"]
    return Watched(
        hours_from=hauls["hours_from"].to_numpy().astype(float),
        hours_to=hauls["hours_to"].to_numpy().astype(float),
        mended=hauls["mending_hours"].cast(pl.Float64).fill_null(np.nan).to_numpy(),
        damaged=hauls["damaged"].to_numpy().astype(bool),
        trip=trips.to_numpy().astype(np.int64) - 1,
        longest=float(hauls.select(pl.col("life_hours").max()).item()),
    )


def _every_hours(longest: float) -> float:
    """The shortest of 1, 2, 5, 10, 20, … hours of which `MOST_STEPS` reach the longest life."""
    return next(
        float(nice * 10**power)
        for power in count()
        for nice in NICE
        if nice * 10**power * MOST_STEPS >= longest
    )


def _steps(watched: Watched, every: float) -> list[Step]:
    """The last step of every so many hours, with its limits."""
    rises = mean_cumulative(watched, every)
    last = np.flatnonzero(~np.isnan(rises.std_error))
    return [
        Step(
            float(rises.hours[at]),
            float(rises.mean[at]),
            *_limits(
                float(rises.mean[at]),
                float(max(rises.std_error[at], rises.by_chance[at])),
                int(rises.trips[at]),
            ),
            int(rises.units[at]),
        )
        for at in last
    ]


def _limits(mean: float, std_error: float, trips: int) -> tuple[float | None, float | None]:
    """The 95 % limits of the log mean; none from fewer than three trips, or that tell nothing."""
    if trips < LEAST_TRIPS or std_error <= NARROWEST * mean:
        return None, None
    log_reach = half_width(trips - 1) * std_error / mean
    if log_reach > np.log(MOST_REACH):
        return None, None
    reach = float(np.exp(log_reach))
    return mean / reach, mean * reach


def mean_cumulative(watched: Watched, every: float | None = None) -> MeanCumulative:
    """The mean cumulative amount, and its error at the last rise of `every` so many hours.

    Without `every` the error is given at every rise.
    """
    unknown = np.isnan(watched.mended)
    known = watched.damaged & ~unknown
    stand_in = float(watched.mended[known].mean()) if known.any() else 0.0
    amounts = np.where(unknown, stand_in, watched.mended)
    some = amounts > 0
    lives = _Lives.of(watched)
    hours = np.union1d(watched.hours_to[some], lives.gap_ends if some.any() else [])
    units = lives.watched_at(hours)
    at = np.searchsorted(hours, watched.hours_to[some])
    part = np.zeros(len(amounts))
    part[some] = 1 / units[at]
    seen = np.cumsum(np.bincount(at, (part * amounts)[some], len(hours))).astype(float)
    whole_pace = lives.pace(lives.ends[-1])
    in_gaps = lives.unwatched(hours) / whole_pace.sum()
    whole = float((part * amounts).sum())
    mean = seen + whole * in_gaps
    begun = np.searchsorted(_first(watched.hours_from, watched.trip), hours)
    trips = np.searchsorted(_first(watched.hours_to[some], watched.trip[some]), hours, side="right")
    off = np.where(known, amounts - stand_in, 0.0) / max(int(known.sum()), 1)
    std_error, by_chance = np.full((2, len(hours)), np.nan)
    for rank in _last_of_every(hours, every):
        weight = np.where(watched.hours_to <= hours[rank], part, 0.0) + in_gaps[rank] * part
        pace = lives.pace(hours[rank])
        steady = seen[rank] * pace / max(float(pace.sum()), ROUNDING_HOURS)
        steady += whole * in_gaps[rank] * whole_pace / whole_pace.sum()
        beyond = weight * amounts - steady + weight[unknown].sum() * off
        by_trip = np.bincount(watched.trip, beyond)
        factor = begun[rank] / max(int(begun[rank]) - 1, 1)
        std_error[rank] = np.sqrt(factor * (by_trip**2).sum())
        by_chance[rank] = np.sqrt(((weight * amounts) ** 2).sum())
    return MeanCumulative(hours, mean, std_error, by_chance, units, trips)


def _first(hours: NDArray[np.float64], trip: NDArray[np.int64]) -> NDArray[np.float64]:
    """The least hours of each trip that has any, in order."""
    first = np.full(int(trip.max(initial=-1)) + 1, np.inf)
    np.minimum.at(first, trip, hours)
    return np.sort(first)


def _last_of_every(hours: NDArray[np.float64], every: float | None) -> NDArray[np.int64]:
    if every is None or len(hours) == 0:
        return np.arange(len(hours))
    span = np.ceil(hours / every)
    return np.flatnonzero(np.append(span[1:] != span[:-1], values=True))


@dataclass(frozen=True)
class _Lives:
    """How many lives are watched at each hour, and each haul's share of the hours.

    `before` and `after` are the hours gone at a haul's two ends, each divided by the lives that
    were watched in it; `ends` and `gone` are the same at nought, at every hour at which any haul
    begins or ends, and where the longest life does, and `idle` the hours until then at which no
    life was watched. `gap_ends` are where such hours end.
    """

    starts: NDArray[np.float64]
    stops: NDArray[np.float64]
    ends: NDArray[np.float64]
    gone: NDArray[np.float64]
    idle: NDArray[np.float64]
    gap_ends: NDArray[np.float64]
    before: NDArray[np.float64]
    after: NDArray[np.float64]

    @classmethod
    def of(cls, watched: Watched) -> _Lives:
        starts, stops = np.sort(watched.hours_from), np.sort(watched.hours_to)
        ends = np.unique(np.concatenate([[0.0, watched.longest], starts, stops]))
        lives = np.searchsorted(starts, ends[1:]) - np.searchsorted(stops, ends[1:])
        lasted = np.diff(ends)
        gap = (lives == 0) & (lasted > ROUNDING_HOURS)
        gone, idle = (
            np.concatenate([[0.0], np.cumsum(each)])
            for each in ((lives > 0) * lasted / np.maximum(lives, 1), gap * lasted)
        )
        return cls(
            starts,
            stops,
            ends,
            gone,
            idle,
            gap_ends=ends[1:][gap],
            before=gone[np.searchsorted(ends, watched.hours_from)],
            after=gone[np.searchsorted(ends, watched.hours_to)],
        )

    def unwatched(self, until: NDArray[np.float64]) -> NDArray[np.float64]:
        """The hours until then at which no life was watched; each is the end of a haul or gap."""
        return self.idle[np.searchsorted(self.ends, until)]

    def watched_at(self, hours: NDArray[np.float64]) -> NDArray[np.int64]:
        """The lives watched at each of the hours: begun before, and not ended before."""
        begun, ended = (np.searchsorted(ends, hours) for ends in (self.starts, self.stops))
        return np.asarray(begun - ended, dtype=np.int64)

    def pace(self, until: float) -> NDArray[np.float64]:
        """Each haul's share of the hours until then, which is the end of some haul."""
        gone = self.gone[np.searchsorted(self.ends, until)]
        return np.asarray(np.minimum(self.after, gone) - np.minimum(self.before, gone))
