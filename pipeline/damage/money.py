"""What each rig is worth beside the reference: its catch, less what its damage costs, per hour.

Catch value and damage cost per tow hour each have a log-rate model with the same factors. Both are
told over the same mix of conditions, the season's own as far as both are known there, so that the
one may be taken from the other. The intervals come from resampling whole trips with the mix held
as it was. Two rigs are compared where they were fished side by side in both, by the bounds at the
head of `pipeline/rates/support.py`.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import polars as pl

from pipeline.damage.money_figures import COST, RIG, VALUE, Case, Money, figures, tally, untold
from pipeline.damage.money_fits import fit_money
from pipeline.damage.resampling import trip_weights
from pipeline.rates.effects import (
    NOT_SIDE_BY_SIDE,
    NOT_TOLD_APART,
    TOO_FEW_TRIPS,
    WHOLE_RECORD,
)
from pipeline.rates.rate_table import ALL_GROUNDS
from pipeline.rates.support import both_in_use, conditions_met, support

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    import numpy as np
    from numpy.typing import NDArray

    from pipeline.rates.support import Conditions, Support

    Backed = tuple[Case, list[Support]]


def find_money(
    sums: pl.DataFrame, fished: pl.DataFrame, reference: str, adjust: Sequence[str]
) -> list[Money]:
    """Every rig against the reference in money per tow hour, over all grounds and on each.

    `sums` has outcome, vessel, trip, hauls, hauls_with_some, tow_hours, total, rig_version, ground,
    stretch and the factors `adjust`; its outcomes `value` and `damage_cost` are used, as far as
    they are there. `fished` has rig_version and ground. Nothing where neither outcome is there.
    """
    numbered, weights = _drawn_by_trip(sums, adjust)
    grounds = fished["ground"].unique().sort().to_list()
    found: list[Money] = []
    for ground in (ALL_GROUNDS, *(grounds if len(grounds) > 1 else ())):
        everywhere = ground == ALL_GROUNDS
        there = numbered if everywhere else numbered.filter(pl.col("ground") == ground)
        used = fished if everywhere else fished.filter(pl.col("ground") == ground)
        rigs = sorted(set(used[RIG].to_list()) - {reference})
        factors = [name for name in adjust if everywhere or name != "ground"]
        of_outcome = {name: there.filter(pl.col("outcome") == name) for name in (VALUE, COST)}
        known = {name: part for name, part in of_outcome.items() if part.height}
        if known:
            tallies = tally(known)
            cases = [Case(rig, reference, ground, WHOLE_RECORD, known, tallies) for rig in rigs]
            found += sorted(_told_together(cases, factors, weights), key=lambda each: each.rig)
    return found


def _drawn_by_trip(
    sums: pl.DataFrame, adjust: Sequence[str]
) -> tuple[pl.DataFrame, NDArray[np.float64]]:
    """The sums of money in an order of their own, each with its trip's row in the weights."""
    keys = dict.fromkeys(["outcome", "vessel", "trip", RIG, "ground", "stretch", *adjust])
    money = sums.filter(pl.col("outcome").is_in([VALUE, COST])).sort(*keys, "tow_hours", "total")
    trips = money.select("vessel", "trip").unique().sort("vessel", "trip")
    numbered = money.join(
        trips.with_row_index("trip_number"),
        on=["vessel", "trip"],
        how="left",
        maintain_order="left",
    )
    return numbered, trip_weights(trips)


def _told_together(
    cases: list[Case], factors: list[str], weights: NDArray[np.float64]
) -> Iterator[Money]:
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
            yield from _compare([(part, of_part)], factors, weights)
        else:
            yield untold(case, NOT_SIDE_BY_SIDE)
    if whole:
        yield from _compare(whole, factors, weights)


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


def _compare(
    backed: list[Backed], factors: list[str], weights: NDArray[np.float64]
) -> Iterator[Money]:
    """The figures of every case that one fit of all its sums tells."""
    first = backed[0][0]
    fit = fit_money(first.sums, first.reference, factors)
    if fit is None:
        yield from (untold(case, TOO_FEW_TRIPS) for case, _ in backed)
        return
    rigs = [first.reference, *(case.rig for case, _ in backed)]
    drawn = {name: model.per_hour(fit.mix, rigs, weights) for name, model in fit.models.items()}
    for case, backing in backed:
        apart = not (fit.told(case.rig) and fit.told(case.reference))
        yield untold(case, NOT_TOLD_APART) if apart else figures(case, backing, fit, drawn)
