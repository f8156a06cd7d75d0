"""What damage costs, in two parts: how often, and how much when; and both together.

By rig and ground, as recorded: the events per 100 tow hours, the mean amount of an event, and their
product, the amount per 100 tow hours. How often comes from all hauls of which the damage is known,
how much from the damaged hauls that have the amount; so a haul that was damaged and says nothing of
its hours is taken to have had the mean, and not to have had none.

The cost of damage is what a tear costs to mend and the hours lost to it at their worth, each with a
mean of its own: few boats write both. Where no tear of a rig tells one of the two, the cost is the
other alone, and the row says so.

The error is that of all means together, by the delta method over trips: the log product moves by
what the trip has of events beyond its share, and of each amount beyond its share. It is never less
than chance lets the events vary, with the error of the amounts beside it. Of amounts that is never
less than a log-normal's with the trips' spread of logs: what a tear takes has a long tail, and few
tears seldom show it. And t is on the trips that have an event with its amount, less one, for those
without tell nothing of how much. `tests/proofs/costs_of_tears.py` says how often it held.

Sources, from memory: Duan et al., Journal of Business & Economic Statistics 1 (1983) 115 (two
parts); Cochran, Sampling Techniques, 3rd ed. 1977, ch. 6 (the error of a ratio); Zhou & Gao,
Statistics in Medicine 16 (1997) 783 (the error of a log-normal's mean, by Cox).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl

from pipeline.rates.poisson import NARROWEST, half_width
from pipeline.rates.rate_table import rate_of
from pipeline.rates.support import LEAST_TRIPS
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

COSTS = ("mending_hours", "hours_lost", "mending_cost")
"""What tears took, in the order in which it is told; each has its sums of damaged hauls."""
DAMAGE_COST = "damage_cost"
DEBRIS = "debris_kg"
PER_HOURS = 100
MOST_REACH = 10.0
"""Limits that lie further off, so many times, tell nothing that a reader could go by."""

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
class Told:
    """Of each trip, how many events have an amount, and what they had together."""

    events: NDArray[np.float64]
    total: NDArray[np.float64]


@dataclass(frozen=True)
class TwoParts:
    """One amount with one rig on one ground, as it goes into `findings.json`.

    `often` is the events per 100 hours towed; `told` of them have the amount, `total` together, a
    mean of `each`; `both` is the product, the amount per 100 hours towed. An event is one time that
    the net was damaged, or for stones and mud one haul that had any. `components` are the recorded
    amounts that it is the sum of: of the cost of damage as far as they are known, with `told` the
    fewest that have either; `total` is then what the tears that tell have of each.
    """

    amount: str
    ground: str
    rig: str
    components: list[str]
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
    sums: pl.DataFrame,
    damage_sums: pl.DataFrame,
    errors: Literal["trip", "model"],
    hour_worth: float | None,
) -> list[TwoParts]:
    """Every amount with every rig, over all grounds and on each.

    `sums` has outcome, vessel, trip, rig_version, ground, hauls, hauls_with_some, tow_hours, total;
    `damage_sums`, of damaged hauls with the amount, has outcome, vessel, trip, rig_version, ground,
    events, total. An amount that was never recorded is not given; the cost of damage has the hours
    lost in it where an hour's worth is known.
    """
    damage = sums.filter(pl.col("outcome") == "damage_events").with_columns(events="total")
    debris = sums.filter(pl.col("outcome") == DEBRIS).with_columns(events="hauls_with_some")
    recorded = {
        name: of_amount
        for name in COSTS
        if (of_amount := damage_sums.filter(pl.col("outcome") == name)).height
    }
    asked = {name: {name: of_amount} for name, of_amount in recorded.items()}
    in_money = _in_money(recorded, hour_worth)
    if in_money:
        asked[DAMAGE_COST] = in_money
    found = [row for name, parts in asked.items() for row in _cells(name, damage, parts, errors)]
    return found + _cells(DEBRIS, debris, {DEBRIS: debris}, errors)


def _in_money(
    recorded: dict[str, pl.DataFrame], hour_worth: float | None
) -> dict[str, pl.DataFrame]:
    """What goes into the cost of damage, each in the season's currency."""
    worth = {"mending_cost": 1.0, "hours_lost": hour_worth}
    return {
        name: recorded[name].with_columns(total=pl.col("total") * each)
        for name, each in worth.items()
        if name in recorded and each is not None
    }


def _cells(
    amount: str,
    happened: pl.DataFrame,
    recorded: dict[str, pl.DataFrame],
    errors: Literal["trip", "model"],
) -> list[TwoParts]:
    together = _by_trip(happened, "hauls", "tow_hours", "events")
    for name, of_amount in recorded.items():
        much = _by_trip(of_amount, "events", "total")
        told = much.rename({"events": _told(name), "total": _total(name)})
        together = together.join(told, on=CELL, how="left")
    cells = together.fill_null(0.0).sort(CELL).group_by(*CELL[:2], maintain_order=True)
    return [_of_cell(amount, list(recorded), key, cell, errors) for key, cell in cells]


def _by_trip(sums: pl.DataFrame, *amounts: str) -> pl.DataFrame:
    """The amounts by rig and trip, over all grounds and on each."""
    over_all = sums.with_columns(ground=pl.lit(ALL_GROUNDS))
    return pl.concat([over_all, sums]).group_by(CELL).agg(pl.col(amounts).sum().cast(pl.Float64))


def _of_cell(
    amount: str,
    names: list[str],
    key: tuple[object, ...],
    cell: pl.DataFrame,
    errors: Literal["trip", "model"],
) -> TwoParts:
    """The two parts and their product for one rig on one ground; `cell` has a row a trip."""
    hours, events = (cell[name].to_numpy() for name in ("tow_hours", "events"))
    parts = {
        name: Told(cell[_told(name)].to_numpy(), cell[_total(name)].to_numpy()) for name in names
    }
    known = {name: part for name, part in parts.items() if part.events.sum() > 0}
    told = list(known.values())
    ground, rig = map(str, key)
    often = rate_of(events, hours, errors, counted=True)
    return TwoParts(
        amount,
        ground,
        rig,
        list(known) or names,
        int(cell["hauls"].sum()),
        cell.height,
        float(hours.sum()),
        float(events.sum()),
        min((float(part.events.sum()) for part in told), default=0.0),
        sum(float(part.total.sum()) for part in told),
        Estimate(often["rate"], often["low"], often["high"]).times(PER_HOURS),
        mean_of_event(told),
        product(events, hours, told).times(PER_HOURS),
    )


def _told(name: str) -> str:
    return f"{name}: told"


def _total(name: str) -> str:
    return f"{name}: total"


def mean_of_event(told: Sequence[Told]) -> Estimate:
    """What an event takes: the sum of each amount's mean, with its 95 % limits.

    There are none where fewer than three trips tell of any of the amounts, or where they would lie
    further off than `MOST_REACH`.
    """
    if not told:
        return Estimate()
    value = sum(map(_mean, told))
    if value == 0 or _fewest_trips(told) < LEAST_TRIPS:
        return Estimate(value)
    return _within(value, _variance_of_mean(told), told)


def product(
    events: NDArray[np.float64], hours: NDArray[np.float64], told: Sequence[Told]
) -> Estimate:
    """Events per hour times what an event takes, with its 95 % limits; arrays are by trip.

    Limits are given as for `mean_of_event`; without any event there are none.
    """
    happened = float(events.sum())
    if happened == 0:
        return Estimate(0.0)
    if not told:
        return Estimate()
    often = happened / float(hours.sum())
    value = often * sum(map(_mean, told))
    if value == 0 or _fewest_trips(told) < LEAST_TRIPS:
        return Estimate(value)
    by_trip = _variance((events - often * hours) / happened + _moves(told))
    return _within(value, max(by_trip, 1 / happened + _variance_of_mean(told)), told)


def _mean(part: Told) -> float:
    return float(part.total.sum() / part.events.sum())


def _moves(told: Sequence[Told]) -> NDArray[np.float64]:
    """How far each trip moves the log of what an event takes."""
    beyond = [(part.total - _mean(part) * part.events) / part.events.sum() for part in told]
    return np.asarray(sum(beyond) / sum(map(_mean, told)))


def _variance(moves: NDArray[np.float64]) -> float:
    """The variance of a log that independent trips move by so much."""
    trips = len(moves)
    return float((moves**2).sum() * trips / (trips - 1))


def _variance_of_mean(told: Sequence[Told]) -> float:
    """The variance of the log of what an event takes."""
    tell = sum(part.events for part in told) > 0
    long_tailed = sum(_mean(part) ** 2 * _long_tailed(part) for part in told)
    return max(_variance(_moves(told)[tell]), long_tailed / sum(map(_mean, told)) ** 2)


def _long_tailed(part: Told) -> float:
    """The variance of the log mean were the trips' means log-normal, but for those of nothing."""
    weight = part.events / part.events.sum()
    means = part.total[weight > 0] / part.events[weight > 0]
    some = means > 0
    if some.sum() < LEAST_TRIPS:
        return 0.0
    spread = float(np.log(means[some]).var(ddof=1))
    relative = (1 + spread + spread**2 / 2) / float(some.mean()) - 1
    return relative * float((weight**2).sum())


def _fewest_trips(told: Sequence[Told]) -> int:
    """The trips that have an event with its amount, of the amount that fewest tell."""
    return min(int((part.events > 0).sum()) for part in told)


def _within(value: float, variance: float, told: Sequence[Told]) -> Estimate:
    """The estimate with the limits of its log; none where trips happen to agree, or hardly tell."""
    std_error = float(np.sqrt(variance))
    log_reach = half_width(_fewest_trips(told) - 1) * std_error
    if std_error <= NARROWEST or log_reach > np.log(MOST_REACH):
        return Estimate(value)
    reach = float(np.exp(log_reach))
    return Estimate(value, value / reach, value * reach)
