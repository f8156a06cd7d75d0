"""What damage costs, in two parts: how often, and how much when; and both together.

By rig and ground, as recorded: the events per 100 tow hours, the mean amount of an event, and their
product, the amount per 100 tow hours. How often comes from all hauls of which the damage is known,
how much from the damaged hauls that have the amount; so a haul that was damaged and says nothing of
its hours is taken to have had the mean, and not to have had none.

The product's error is that of both parts together, by the delta method over trips: the log product
moves by what the trip has of events beyond its share, and of the amount beyond its share. Where no
damaged haul lacks its amount this is the error of the plain ratio of amount to hours, so that
nothing is lost by going the long way. It is never less than chance lets the events vary.

Sources, from memory: Duan et al., Journal of Business & Economic Statistics 1 (1983) 115 (two
parts); Cochran, Sampling Techniques, 3rd ed. 1977, ch. 6 (the error of a ratio).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl

from pipeline.rates.poisson import NARROWEST, half_width
from pipeline.rates.rate_table import ALL_GROUNDS, rate_of
from pipeline.rates.support import LEAST_TRIPS

if TYPE_CHECKING:
    from numpy.typing import NDArray

COSTS = ("mending_hours", "hours_lost", "mending_cost", "damage_cost")
"""What damage costs, in the order in which it is told; each has its sums of damaged hauls."""
DEBRIS = "debris_kg"
PER_HOURS = 100

CELL = ["ground", "rig_version", "vessel", "trip"]


@dataclass(frozen=True)
class Estimate:
    """A figure and its 95 % limits, each as far as it can be given."""

    value: float | None = None
    low: float | None = None
    high: float | None = None

    def times(self, factor: float) -> Estimate:
        """The figure and its limits so many times."""
        value, low, high = (
            None if each is None else each * factor for each in (self.value, self.low, self.high)
        )
        return Estimate(value, low, high)


@dataclass(frozen=True)
class TwoParts:
    """One amount with one rig on one ground, as it goes into `findings.json`.

    `often` is the events per 100 hours towed; `told` of them have the amount, `total` together, a
    mean of `each`; `both` is the product, the amount per 100 hours towed. An event is one time that
    the net was damaged, or for stones and mud one haul that had any.
    """

    amount: str
    ground: str
    rig: str
    hauls: int
    trips: int
    tow_hours: float
    events: float
    told: float
    total: float
    often: Estimate
    each: Estimate
    both: Estimate


def find_two_parts(
    sums: pl.DataFrame, damage_sums: pl.DataFrame, errors: Literal["trip", "model"]
) -> list[TwoParts]:
    """Every amount with every rig, over all grounds and on each.

    `sums` has outcome, vessel, trip, rig_version, ground, hauls, hauls_with_some, tow_hours, total;
    `damage_sums`, of damaged hauls with the amount, has outcome, vessel, trip, rig_version, ground,
    events, total. An amount that was never recorded is not given.
    """
    damage = sums.filter(pl.col("outcome") == "damage_events").with_columns(events="total")
    debris = sums.filter(pl.col("outcome") == DEBRIS).with_columns(events="hauls_with_some")
    found = []
    for amount in COSTS:
        recorded = damage_sums.filter(pl.col("outcome") == amount)
        if not recorded.is_empty():
            found += _cells(amount, damage, recorded, errors)
    return found + _cells(DEBRIS, debris, debris, errors)


def _cells(
    amount: str, happened: pl.DataFrame, recorded: pl.DataFrame, errors: Literal["trip", "model"]
) -> list[TwoParts]:
    often = _by_trip(happened, "hauls", "tow_hours", "events")
    much = _by_trip(recorded, "events", "total").rename({"events": "told"})
    together = often.join(much, on=CELL, how="left").with_columns(
        pl.col("told", "total").fill_null(0.0)
    )
    return [
        _of_cell(amount, str(ground), str(rig), cell.sort(CELL), errors)
        for (ground, rig), cell in together.sort(CELL).group_by(
            "ground", "rig_version", maintain_order=True
        )
    ]


def _by_trip(sums: pl.DataFrame, *amounts: str) -> pl.DataFrame:
    """The amounts by rig and trip, over all grounds and on each."""
    over_all = sums.with_columns(ground=pl.lit(ALL_GROUNDS))
    return pl.concat([over_all, sums]).group_by(CELL).agg(pl.col(amounts).sum().cast(pl.Float64))


def _of_cell(
    amount: str, ground: str, rig: str, cell: pl.DataFrame, errors: Literal["trip", "model"]
) -> TwoParts:
    """The two parts and their product for one rig on one ground; `cell` has a row a trip."""
    hours, events, told, total = (
        cell[name].to_numpy() for name in ("tow_hours", "events", "told", "total")
    )
    some = told > 0
    often = _rate(events, hours, errors, counted=True)
    each = _rate(total[some], told[some], "trip", counted=False) if some.any() else Estimate()
    both = product(events, hours, told, total)
    return TwoParts(
        amount,
        ground,
        rig,
        int(cell["hauls"].sum()),
        cell.height,
        float(hours.sum()),
        float(events.sum()),
        float(told.sum()),
        float(total.sum()),
        often.times(PER_HOURS),
        each,
        both.times(PER_HOURS),
    )


def _rate(
    total: NDArray[np.float64],
    hours: NDArray[np.float64],
    errors: Literal["trip", "model"],
    *,
    counted: bool,
) -> Estimate:
    found = rate_of(total, hours, errors, counted=counted)
    return Estimate(found["rate"], found["low"], found["high"])


def product(
    events: NDArray[np.float64],
    hours: NDArray[np.float64],
    told: NDArray[np.float64],
    total: NDArray[np.float64],
) -> Estimate:
    """Events per hour times the amount of an event, with its 95 % limits; arrays are by trip.

    `told` are the events that have the amount, `total` together. Limits are those of the log, by t
    on trips − 1; there are none where fewer than three trips had any event with its amount.
    """
    happened, known = float(events.sum()), float(told.sum())
    if happened == 0:
        return Estimate(0.0)
    if known == 0:
        return Estimate()
    often, much, trips = happened / float(hours.sum()), float(total.sum()) / known, len(hours)
    value = often * much
    if value == 0 or int((told > 0).sum()) < LEAST_TRIPS:
        return Estimate(value)
    moves = (events - often * hours) / happened + (total - much * told) / (much * known)
    by_trip = float((moves**2).sum()) * trips / (trips - 1)
    std_error = float(np.sqrt(max(by_trip, 1 / happened)))
    if std_error <= NARROWEST:
        return Estimate(value)
    reach = float(np.exp(half_width(trips - 1) * std_error))
    return Estimate(value, value / reach, value * reach)
