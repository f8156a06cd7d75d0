"""One rig against the reference in money: what the season and its draws tell of the two."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Literal

import polars as pl

from pipeline.damage.break_even import MoneyVerdict, break_even, hours_to_earn_back, money_verdict
from pipeline.damage.resampling import Interval, interval_of, stretched
from pipeline.rates.effects import (
    FEW,
    FEW_HAULS,
    FEW_TRIPS,
    FEW_WITH_SOME,
    LEAST_WITH_SOME,
    NONE_SEEN,
    NOT_FISHED_BOTH,
)

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from pipeline.damage.money_fits import MoneyFit
    from pipeline.rates.support import Support

    Row = NDArray[np.float64]
    PerRig = dict[str, Row]

RIG = "rig_version"
VALUE, COST = "value", "damage_cost"
PRICE_TO_EARN_BACK = 1000.0


@dataclass(frozen=True)
class MoneyTerms:
    """What an hour is reckoned at; `hour_lost_from` is where its worth is from.

    The setting is `[costs] hour_lost`, the catch is the season's value per tow hour.
    """

    mending_hour: float | None
    hour_lost: float | None
    hour_lost_from: Literal["setting", "catch"] | None


@dataclass(frozen=True)
class PerHour:
    """Money per tow hour of one rig; a figure is None where it is not known."""

    value: Interval | None = None
    cost: Interval | None = None
    net: Interval | None = None


@dataclass(frozen=True)
class Money:
    """One rig against the reference in money, as it goes into `findings.json`.

    `known` names the outcomes that the season has. `catch_change` and `break_even` are shares of
    the reference's catch value. `saved` is per tow hour: what damage costs with the reference less
    what it costs with the rig. `over_season` is the net change over `reference_hours`. The figures
    are over the conditions known of both outcomes, which make up `mix_hours`.
    `hours_to_earn_back` a price of 1,000 is there only for a rig that pays.
    """

    rig: str
    reference: str
    ground: str
    part: str
    known: list[str]
    rig_hauls: int
    rig_trips: int
    reference_hauls: int
    reference_trips: int
    of_reference: PerHour = PerHour()
    of_rig: PerHour = PerHour()
    catch_change: Interval | None = None
    saved: Interval | None = None
    break_even: Interval | None = None
    net_change: Interval | None = None
    over_season: Interval | None = None
    reference_hours: float = 0.0
    mix_hours: float = 0.0
    hours_to_earn_back: float | None = None
    adjusted_for: list[str] = field(default_factory=list)
    verdict: MoneyVerdict = "can't be told"
    cautions: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Pair:
    """One outcome per hour with the rig and with the reference: the season's own, then draws."""

    rig: Row
    reference: Row


@dataclass(frozen=True)
class Tally:
    """What one rig's record comes to: hauls and trips of the outcome of which it has the fewest.

    `hours` are those of the outcome of which it has the most; `damaged` are hauls whose damage cost
    something.
    """

    hauls: int = 0
    trips: int = 0
    hours: float = 0.0
    damaged: int = 0


def tally(sums: dict[str, pl.DataFrame]) -> dict[str, Tally]:
    """Each rig's record, from the sums of each outcome."""
    counts = pl.concat(
        part.group_by(RIG).agg(
            pl.col("hauls", "tow_hours").sum(),
            pl.col("trip_number").n_unique().alias("trips"),
            (pl.col("hauls_with_some").sum() * int(name == COST)).alias("damaged"),
        )
        for name, part in sums.items()
    )
    fewest = [
        pl.when(pl.len() == len(sums)).then(pl.col(each).min()) for each in ("hauls", "trips")
    ]
    of_rigs = counts.group_by(RIG).agg(
        *(column.fill_null(0).cast(pl.Int64) for column in fewest),
        pl.col("tow_hours").max(),
        pl.col("damaged").sum().cast(pl.Int64),
    )
    return {rig: Tally(*own) for rig, *own in of_rigs.iter_rows()}


@dataclass(frozen=True)
class Case:
    """Two rigs on a ground in a part of the record, the sums of each outcome and their tallies."""

    rig: str
    reference: str
    ground: str
    part: str
    sums: dict[str, pl.DataFrame]
    tallies: dict[str, Tally]

    @property
    def pair(self) -> tuple[Tally, Tally]:
        """The rig's and the reference's."""
        none = Tally()
        return self.tallies.get(self.rig, none), self.tallies.get(self.reference, none)


def untold(case: Case, why: str) -> Money:
    """The two rigs without a figure, and why."""
    known = _counted(case)
    both = known.rig_hauls and known.reference_hauls
    return replace(known, cautions=[why if both else NOT_FISHED_BOTH])


def figures(case: Case, backing: list[Support], fit: MoneyFit, drawn: dict[str, PerRig]) -> Money:
    """The figures of two rigs.

    `drawn` has, for each outcome and rig, its money per hour: the season's own, then each draw's.
    """
    money = _counted(case)
    trips = min(money.rig_trips, money.reference_trips)
    money = replace(
        money,
        mix_hours=fit.mix_hours,
        adjusted_for=list(fit.factors),
        cautions=_cautions(case, backing, trips),
    )
    value, cost = _pair(drawn.get(VALUE), case, trips), _pair(drawn.get(COST), case, trips)
    if value:
        money = _with_value(money, value)
    if cost:
        money = _with_cost(money, cost)
    return _with_net(money, value, cost) if value and cost else money


def _pair(of_rigs: PerRig | None, case: Case, trips: int) -> Pair | None:
    if of_rigs is None:
        return None
    return Pair(*(stretched(of_rigs[rig], trips) for rig in (case.rig, case.reference)))


def _with_value(money: Money, value: Pair) -> Money:
    """With what was caught; a share only where the reference caught anything of worth."""
    change = interval_of(value.rig / value.reference - 1) if value.reference[0] > 0 else None
    return replace(
        money,
        of_rig=replace(money.of_rig, value=interval_of(value.rig)),
        of_reference=replace(money.of_reference, value=interval_of(value.reference)),
        catch_change=change,
    )


def _with_cost(money: Money, cost: Pair) -> Money:
    """With what damage cost."""
    sure = _sure_of_damage(money)
    return replace(
        money,
        of_rig=replace(money.of_rig, cost=interval_of(cost.rig, sure=sure)),
        of_reference=replace(money.of_reference, cost=interval_of(cost.reference, sure=sure)),
        saved=interval_of(cost.reference - cost.rig, sure=sure),
    )


def _with_net(money: Money, value: Pair, cost: Pair) -> Money:
    """With what is left of the catch, and what follows from it."""
    sure = _sure_of_damage(money)
    left, other_left = value.rig - cost.rig, value.reference - cost.reference
    change = left - other_left
    net_change = interval_of(change, sure=sure)
    can_tell = FEW_WITH_SOME not in money.cautions
    verdict = money_verdict(net_change.low, net_change.high, can_tell=can_tell)
    share = (
        interval_of(break_even(value.reference, cost.reference, cost.rig), sure=sure)
        if value.reference[0] > 0
        else None
    )
    return replace(
        money,
        of_rig=replace(money.of_rig, net=interval_of(left, sure=sure)),
        of_reference=replace(money.of_reference, net=interval_of(other_left, sure=sure)),
        break_even=share,
        net_change=net_change,
        over_season=interval_of(money.reference_hours * change, sure=sure),
        hours_to_earn_back=hours_to_earn_back(PRICE_TO_EARN_BACK, net_change.estimate)
        if verdict == "pays"
        else None,
        verdict=verdict,
    )


def _sure_of_damage(money: Money) -> bool:
    """Where one of them had no damage at all, no draw tells how much it might have had."""
    return NONE_SEEN not in money.cautions


def _counted(case: Case) -> Money:
    """What the two rigs' record comes to, before anything is told of them."""
    rig, reference = case.pair
    return Money(
        case.rig,
        case.reference,
        case.ground,
        case.part,
        list(case.sums),
        rig.hauls,
        rig.trips,
        reference.hauls,
        reference.trips,
        reference_hours=reference.hours,
    )


def _cautions(case: Case, backing: list[Support], trips: int) -> list[str]:
    damaged = [own.damaged for own in case.pair]
    found = {
        FEW_TRIPS: trips < FEW,
        FEW_HAULS: min(min(each.shared_hauls) for each in backing) < FEW,
        FEW_WITH_SOME: min(damaged) < LEAST_WITH_SOME,
        NONE_SEEN: min(damaged) == 0,
    }
    known = COST in case.sums
    return [
        name
        for name, holds in found.items()
        if holds and (known or name not in {FEW_WITH_SOME, NONE_SEEN})
    ]
