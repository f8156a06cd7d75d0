"""What each rig is worth beside the reference: its catch, less what its damage costs, per hour.

Catch value per tow hour has a log-rate model, and so has how often the net tore, with the same
factors; what damage costs per hour is how often it tore times what a tear of the rig costs
(`tear_costs.py`). Catch is that of all tows with a catch record, foul ones as well. Both are told
over one mix of conditions (`shared_mix.py`), so that the one may be taken from the other. The
intervals come from resampling whole trips with the mix held as it was. Two rigs are compared where
they were fished side by side in both, by the bounds at the head of `pipeline/rates/support.py`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import polars as pl

from pipeline.damage.money_figures import (
    COST,
    RIG,
    VALUE,
    Case,
    Drawn,
    Money,
    figures,
    tally,
    untold,
)
from pipeline.damage.money_fits import fit_money
from pipeline.damage.resampling import trip_weights
from pipeline.damage.shared_mix import shared_mix
from pipeline.damage.tear_costs import TearAmounts
from pipeline.rates.support import both_in_use, compared_rigs, conditions_met, support
from schemas.codes import Caution
from schemas.words import ALL_GROUNDS, WHOLE_RECORD

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from pipeline.rates.support import Conditions, Support

    Backed = tuple[Case, list[Support]]


@dataclass(frozen=True)
class MoneyRecord:
    """What the season has in money, as sums by trip and pattern with their conditions beside them.

    `landed` is the value of all tows and `tears` how often the net tore: each has vessel, trip,
    hauls, hauls_with_some, tow_hours, total, rig_version, ground, stretch and the factors.
    `tear_amounts` is what damaged hauls wrote of the cost: outcome (mending_cost, hours_lost),
    vessel, trip, rig_version, ground, events, total. `hour_worth` is what a lost hour is worth.
    """

    landed: pl.DataFrame
    tears: pl.DataFrame
    tear_amounts: pl.DataFrame
    hour_worth: float | None


def find_money(
    record: MoneyRecord, fished: pl.DataFrame, reference: str, adjust: Sequence[str]
) -> list[Money]:
    """Every rig against the reference in money per tow hour, over all grounds and on each.

    `fished` has rig_version and ground. Nothing where neither catch nor damage is known in money.
    """
    sums, amounts = _drawn_by_trip(record, adjust)
    grounds = fished["ground"].unique().sort().to_list()
    found: list[Money] = []
    for ground in (ALL_GROUNDS, *(grounds if len(grounds) > 1 else ())):
        everywhere = ground == ALL_GROUNDS
        here = pl.lit(value=True) if everywhere else pl.col("ground") == ground
        rigs = sorted(set(fished.filter(here)[RIG].to_list()) - {reference})
        factors = [name for name in adjust if everywhere or name != "ground"]
        known = {name: there for name, part in sums.items() if (there := part.filter(here)).height}
        if known:
            tallies = tally(known)
            cases = [Case(rig, reference, ground, WHOLE_RECORD, known, tallies) for rig in rigs]
            found += sorted(_told_together(cases, factors, amounts), key=lambda each: each.rig)
    return found


def _drawn_by_trip(
    record: MoneyRecord, adjust: Sequence[str]
) -> tuple[dict[str, pl.DataFrame], TearAmounts]:
    """The sums in an order of their own, each with its trip's row in the weights.

    Of catch where anything was worth money; of damage where anything was written of its cost, or
    there was none.
    """
    tables = (record.landed, record.tears, record.tear_amounts)
    trips = pl.concat(part.select("vessel", "trip") for part in tables).unique()
    trips = trips.sort("vessel", "trip")
    numbers = trips.with_row_index("trip_number")
    keys = list(dict.fromkeys(["vessel", "trip", RIG, "ground", "stretch", *adjust]))
    landed, tears = (
        part.sort(*keys, "tow_hours", "total").join(
            numbers, on=["vessel", "trip"], maintain_order="left"
        )
        for part in tables[:2]
    )
    in_order = record.tear_amounts.sort("outcome", "vessel", "trip", RIG, "ground", "total")
    written = in_order.join(numbers, on=["vessel", "trip"], maintain_order="left")
    amounts = TearAmounts(written, record.hour_worth, trip_weights(trips))
    sums = {}
    if landed["total"].sum() > 0:
        sums[VALUE] = landed
    if tears.height and (amounts.parts or tears["total"].sum() == 0):
        sums[COST] = tears
    return sums, amounts


def _told_together(cases: list[Case], factors: list[str], amounts: TearAmounts) -> Iterator[Money]:
    """All rigs of a ground, from one fit of them together; of a part of the record at need."""
    met = [conditions_met(part) for part in cases[0].sums.values()] if cases else []
    whole: list[Backed] = []
    for case in cases:
        backing = _backing(met, case)
        if all(each.side_by_side for each in backing):
            whole.append((case, backing))
            continue
        part, of_part = _both_in_use(met, case)
        if of_part and all(each.side_by_side for each in of_part):
            yield from _compare([(part, of_part)], factors, amounts)
        else:
            yield untold(case, Caution.NOT_SIDE_BY_SIDE)
    if whole:
        yield from _compare(whole, factors, amounts)


def _backing(
    met: list[Conditions], case: Case, stretches: list[str] | None = None
) -> list[Support]:
    return [support(each, case.rig, case.reference, stretches) for each in met]


def _both_in_use(met: list[Conditions], case: Case) -> tuple[Case, list[Support]]:
    """The case in the stretches in which both rigs were in use, with the two of them alone."""
    in_use = [set(both_in_use(each, case.rig, case.reference)) for each in met]
    stretches = sorted(set.intersection(*in_use))
    if not stretches:
        return case, []
    held = pl.col("stretch").is_in(stretches) & pl.col(RIG).is_in([case.rig, case.reference])
    sums = {name: of_outcome.filter(held) for name, of_outcome in case.sums.items()}
    span = " to ".join(dict.fromkeys((stretches[0], stretches[-1])))
    part = replace(case, part=span, sums=sums, tallies=tally(sums))
    return part, _backing(met, case, stretches)


def _compare(backed: list[Backed], factors: list[str], amounts: TearAmounts) -> Iterator[Money]:
    """The figures of every case that one fit of all its sums tells."""
    first = backed[0][0]
    enough = {name: compared_rigs(part, first.reference) for name, part in first.sums.items()}
    fit = fit_money(enough, first.reference, factors)
    if fit is None:
        yield from (untold(case, Caution.TOO_FEW_TRIPS) for case, _ in backed)
        return
    found = {name: model.drawn(amounts.weights) for name, model in fit.models.items()}
    drawn = Drawn(fit, found, amounts)
    for case, backing in backed:
        if not (fit.told(case.rig) and fit.told(case.reference)):
            yield untold(case, Caution.NOT_TOLD_APART)
        elif (mix := shared_mix(case.sums, fit, case.rig, case.reference)) is None:
            yield untold(case, Caution.TOO_LITTLE_SHARED)
        else:
            yield figures(case, backing, drawn, mix)
