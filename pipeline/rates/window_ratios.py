"""The ratio of what came after a day to what came before it, like for like in ground.

It is found as rigs are compared (`effects`), with the hauls before and after in place of all
hauls; of several days, within each of them. Trips are left out one at a time where there are
enough of them on either side; else days at sea are, and the ratio says so. How one trip differs
from the next is not in such an interval: days without a change, looked at alike, show it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

import polars as pl

from pipeline.rates.effects import find_effects
from pipeline.rates.support import LEAST_TRIPS
from schemas.codes import Caution, ChangeWithout
from schemas.outcomes import outcome
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.rates.effects import Effect
    from pipeline.rates.spells import Look

BEFORE, AFTER = "before", "after"
TRIPS, DAYS = "trips", "days"
PLACE = "look_and_ground"
"""One look and one ground: what is held to itself."""

UNTOLD = (
    Caution.NOT_FISHED_BOTH,
    Caution.NOT_SIDE_BY_SIDE,
    Caution.TOO_FEW_TRIPS,
    Caution.NOT_TOLD_APART,
)
UNTOLD_OF_WEIGHTS = (Caution.FEW_WITH_SOME, Caution.NONE_SEEN)
"""With these there is no ratio; the first that holds is told."""

Errors = Literal["trip", "model"]


@dataclass(frozen=True)
class WindowRatio:
    """A ratio of two sides of a day, or of several, or why there is none.

    `left_out` says what was left out in turn for the interval: trips, or days. A side that had
    none of the outcome gives a ratio of 0, or none and the least that it can be, and no log ratio.
    `hauls_before` and `hauls_after` are for programs; no page tells them.
    """

    outcome: str
    ratio: float | None = None
    low: float | None = None
    high: float | None = None
    log_ratio: float | None = None
    left_out: str | None = None
    hauls_before: int = 0
    hauls_after: int = 0
    total_before: float = 0.0
    total_after: float = 0.0
    why_none: Caution | ChangeWithout | None = None

    @property
    def is_told(self) -> bool:
        """Whether there is a ratio, or the least that it can be."""
        return self.why_none is None

    @property
    def shows_change(self) -> bool:
        """Whether its 95 % interval leaves out no difference."""
        return (self.low is not None and self.low > 1) or (self.high is not None and self.high < 1)

    @property
    def distance(self) -> float:
        """How far the ratio is from no difference, either way; endless where one side had none."""
        return float("inf") if self.log_ratio is None else abs(self.log_ratio)


def window_hauls(
    hauls: pl.DataFrame, looks: Sequence[Look], *, by_rig: bool = False
) -> pl.DataFrame:
    """The hauls of the looks, each look a `stretch`; as `rig_version` stands the haul's side.

    `by_rig` leaves the rig's name there, so that rigs are held to one another whichever came first.
    """
    parts = [
        hauls[rows].with_columns(
            pl.lit(rig if by_rig else side).alias("rig_version"),
            pl.lit(f"{number:05d}").alias("stretch"),
        )
        for number, look in enumerate(looks)
        for side, rig, rows in (
            (BEFORE, look.rig_before, look.before),
            (AFTER, look.rig_after, look.after),
        )
    ]
    return pl.concat(parts)


def window_ratio(
    windows: pl.DataFrame, name: str, errors: Errors, side: str = AFTER, reference: str = BEFORE
) -> WindowRatio:
    """The ratio of an outcome on `side` to that on `reference`, within each look and ground.

    `windows` is of `window_hauls`. Trips are left out in turn where there are enough of them; else
    days.
    """
    known = windows.filter(pl.col(name).is_not_null())
    if _fewest_trips(known, side, reference) >= LEAST_TRIPS:
        by_trips = _ratio(known, name, errors, side, reference, TRIPS)
        if by_trips.is_told:
            return by_trips
    return _ratio(known, name, errors, side, reference, DAYS)


def _fewest_trips(windows: pl.DataFrame, side: str, reference: str) -> int:
    """The trips of the side that has fewer."""
    trips = windows.select("rig_version", "vessel", "trip").unique()["rig_version"].to_list()
    return min(trips.count(side), trips.count(reference))


def _ratio(
    windows: pl.DataFrame, name: str, errors: Errors, side: str, reference: str, left_out: str
) -> WindowRatio:
    sums = _sums(windows, name, left_out)
    sides = pl.DataFrame({"rig_version": [reference, side], "ground": [ALL_GROUNDS] * 2})
    effects = find_effects(sums, sides, reference, (PLACE,), errors, (ALL_GROUNDS,))
    if not effects:
        return WindowRatio(name, why_none=Caution.NOT_FISHED_BOTH)
    return _told(effects[0], left_out)


def _told(effect: Effect, left_out: str) -> WindowRatio:
    why = _why_none(effect)
    ratio = WindowRatio(
        effect.outcome,
        hauls_before=effect.reference_hauls,
        hauls_after=effect.rig_hauls,
        total_before=effect.reference_total,
        total_after=effect.rig_total,
        why_none=why,
    )
    if why is not None:
        return ratio
    return replace(
        ratio,
        ratio=effect.ratio,
        low=effect.low,
        high=effect.high,
        log_ratio=effect.log_ratio,
        left_out=left_out,
    )


def _why_none(effect: Effect) -> Caution | None:
    """Why there is no ratio; of weights a few hauls tell no error, of events one side may be 0."""
    of_weights: tuple[Caution, ...] = () if outcome(effect.outcome).counted else UNTOLD_OF_WEIGHTS
    for why in (*UNTOLD, *of_weights):
        if why in effect.cautions:
            return why
    return Caution.NONE_SEEN if effect.ratio is None and not effect.low else None


def _sums(windows: pl.DataFrame, name: str, left_out: str) -> pl.DataFrame:
    """The windows summed as `find_effects` takes them, by trip or by day at sea."""
    day = pl.concat_str("trip", pl.lit(" of "), pl.col("shot_at").dt.date().cast(pl.String))
    return (
        windows.with_columns(day.alias("trip") if left_out == DAYS else pl.col("trip"))
        .group_by("stretch", "rig_version", "vessel", "trip", "ground", maintain_order=True)
        .agg(
            pl.len().cast(pl.Int64).alias("hauls"),
            (pl.col(name) > 0).sum().cast(pl.Int64).alias("hauls_with_some"),
            pl.col("tow_hours").sum(),
            pl.col(name).cast(pl.Float64).sum().alias("total"),
        )
        .with_columns(
            pl.lit(name).alias("outcome"),
            pl.concat_str("stretch", pl.lit(" "), "ground").alias(PLACE),
        )
    )
