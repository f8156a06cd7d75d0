"""One rig against the reference in money: what the season and its draws tell of the two."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Literal

import polars as pl

from pipeline.damage.break_even import break_even, hours_to_earn_back, money_verdict
from pipeline.damage.resampling import Interval, interval_of, stretched
from pipeline.rates.answers import FEW
from pipeline.rates.evidence import LEAST_WITH_SOME
from pipeline.rates.support import LEAST_TRIPS
from schemas.codes import Caution, MoneyVerdict
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from pipeline.damage.money_fits import MoneyFit
    from pipeline.damage.shared_mix import Mix
    from pipeline.damage.tear_costs import TearAmounts, TearCost
    from pipeline.rates.support import Support

    Row = NDArray[np.float64]

RIG = "rig_version"
VALUE, COST = "value", "damage_cost"
PRICE_TO_EARN_BACK = 1000.0


@dataclass(frozen=True)
class MoneyTerms:
    """What an hour is reckoned at; `hour_lost_from` is where its worth is from.

    The setting is `[costs] hour_lost`, the catch is the season's value per tow hour. `parts` names
    what a tear's cost is made of, as far as anybody wrote it.
    """

    mending_hour: float | None
    hour_lost: float | None
    hour_lost_from: Literal["setting", "catch"] | None
    parts: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class PerHour:
    """Money per tow hour of one rig; a figure is None where it is not known."""

    value: Interval | None = None
    cost: Interval | None = None
    net: Interval | None = None


@dataclass(frozen=True)
class Money:
    """One rig against the reference in money, as it goes into `findings.json`.

    `known` names what the season has: value, damage_cost. `catch_change` and `break_even` are
    shares of the reference's catch value. `saved` is per tow hour: what damage costs with the
    reference less what it costs with the rig. Everything is told over `mix_hours` of the
    reference's `reference_hours`: those under conditions that both rigs met; `over_season` is the
    net change over these. `by_all_rigs` names the rigs with damage of which too few tears have some
    part of the cost, so that the mean of all rigs' stands for it. `hours_to_earn_back` a price of
    1,000 is there only for a rig that pays.
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
    by_all_rigs: list[str] = field(default_factory=list)
    hours_to_earn_back: float | None = None
    adjusted_for: list[str] = field(default_factory=list)
    verdict: MoneyVerdict = MoneyVerdict.NOT_TOLD
    cautions: list[Caution] = field(default_factory=list)


@dataclass(frozen=True)
class Pair:
    """One outcome per hour with the rig and with the reference: the season's own, then draws.

    `sure` is whether the draws can tell its limits.
    """

    rig: Row
    reference: Row
    sure: bool = True


@dataclass(frozen=True)
class Drawn:
    """The models, the coefficients of each with those of the draws, and what tears cost."""

    fit: MoneyFit
    found: dict[str, Row]
    amounts: TearAmounts

    def per_hour(self, name: str, rig: str, mix: Mix) -> Row:
        """An outcome per hour with the rig over the mix."""
        return self.fit.models[name].per_hour(mix.shares, rig, self.found[name])


@dataclass(frozen=True)
class Tally:
    """What one rig's record comes to: hauls and trips of the outcome of which it has the fewest.

    `damaged` are its hauls with damage, whatever was written of them.
    """

    hauls: int = 0
    trips: int = 0
    damaged: int = 0


def tally(sums: dict[str, pl.DataFrame]) -> dict[str, Tally]:
    """Each rig's record, from the sums of each outcome."""
    counts = pl.concat(
        part.group_by(RIG).agg(
            pl.col("hauls").sum(),
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


def untold(case: Case, why: Caution) -> Money:
    """The two rigs without a figure, and why."""
    known = _counted(case)
    both = known.rig_hauls and known.reference_hauls
    return replace(known, cautions=[why if both else Caution.NOT_FISHED_BOTH])


def figures(case: Case, backing: list[Support], drawn: Drawn, mix: Mix) -> Money:
    """The figures of two rigs over a mix of conditions that both met."""
    money = _counted(case)
    trips = min(money.rig_trips, money.reference_trips)
    money = replace(
        money,
        reference_hours=mix.reference_hours,
        mix_hours=mix.hours,
        adjusted_for=list(drawn.fit.factors),
        cautions=_cautions(case, backing, trips),
    )
    value = cost = None
    if VALUE in case.sums:
        value = _value_pair(case, drawn, mix, trips)
        money = _with_value(money, value)
    if COST in case.sums:
        tears = [_tear_cost(name, case, drawn) for name in (case.rig, case.reference)]
        cost = _cost_pair(case, drawn, mix, tears, trips)
        money = _with_cost(replace(money, by_all_rigs=_stood_for(case, tears)), cost)
    return _with_net(money, value, cost) if value and cost else money


def _value_pair(case: Case, drawn: Drawn, mix: Mix, trips: int) -> Pair:
    own, other = (
        stretched(drawn.per_hour(VALUE, rig, mix), trips) for rig in (case.rig, case.reference)
    )
    return Pair(own, other)


def _tear_cost(rig: str, case: Case, drawn: Drawn) -> TearCost:
    return drawn.amounts.of(rig, None if case.ground == ALL_GROUNDS else case.ground)


def _cost_pair(case: Case, drawn: Drawn, mix: Mix, tears: list[TearCost], trips: int) -> Pair:
    """How often it tore times what a tear costs, for the rig and the reference.

    It rests on the trips that tore. Where those are too few, or one of the two had no damage at
    all, no draw tells how much it might have had.
    """
    rigs = zip((case.rig, case.reference), tears, strict=True)
    own, other = (
        stretched(
            drawn.per_hour(COST, rig, mix) * tear.each, max(min(trips, tear.trips), LEAST_TRIPS)
        )
        for rig, tear in rigs
    )
    seen = all(each.damaged for each in case.pair)
    return Pair(own, other, seen and min(tear.trips for tear in tears) >= LEAST_TRIPS)


def _stood_for(case: Case, tears: list[TearCost]) -> list[str]:
    """The rigs with damage of which other rigs' tears speak."""
    rigs = zip((case.rig, case.reference), case.pair, tears, strict=True)
    return [rig for rig, own, tear in rigs if own.damaged and tear.by_all_rigs]


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
    rig, reference = (interval_of(row, sure=cost.sure) for row in (cost.rig, cost.reference))
    return replace(
        money,
        of_rig=replace(money.of_rig, cost=rig),
        of_reference=replace(money.of_reference, cost=reference),
        saved=interval_of(cost.reference - cost.rig, sure=cost.sure),
    )


def _with_net(money: Money, value: Pair, cost: Pair) -> Money:
    """With what is left of the catch, and what follows from it."""
    sure = cost.sure
    left, other_left = value.rig - cost.rig, value.reference - cost.reference
    change = left - other_left
    net_change = interval_of(change, sure=sure)
    can_tell = Caution.FEW_WITH_SOME not in money.cautions
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
        over_season=interval_of(money.mix_hours * change, sure=sure),
        hours_to_earn_back=hours_to_earn_back(PRICE_TO_EARN_BACK, net_change.estimate)
        if verdict is MoneyVerdict.PAYS
        else None,
        verdict=verdict,
    )


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
    )


def _cautions(case: Case, backing: list[Support], trips: int) -> list[Caution]:
    damaged = [own.damaged for own in case.pair]
    found = {
        Caution.FEW_TRIPS: trips < FEW,
        Caution.FEW_HAULS: min(min(each.shared_hauls) for each in backing) < FEW,
        Caution.FEW_WITH_SOME: min(damaged) < LEAST_WITH_SOME,
        Caution.NONE_SEEN: min(damaged) == 0,
    }
    known = COST in case.sums
    return [
        name
        for name, holds in found.items()
        if holds and (known or name not in {Caution.FEW_WITH_SOME, Caution.NONE_SEEN})
    ]
