"""Money against an example worked by hand, and its two models against statsmodels."""

from __future__ import annotations

from itertools import product

import numpy as np
import polars as pl
import pytest
import statsmodels.api as sm

from pipeline.damage.break_even import break_even, hours_to_earn_back
from pipeline.damage.money import MoneyRecord, find_money
from pipeline.damage.money_figures import COST, VALUE, Interval, Money
from pipeline.damage.money_fits import fit_money
from pipeline.damage.shared_mix import shared_mix

# The example: 400 EUR of catch an hour, damage falls from 0.06 to 0.03 times an hour, a repair
# costs 350 EUR and 2.5 hours of fishing. Worked out by hand: 0.03 × (350 + 2.5 × 400) = 40.50 EUR
# an hour are saved, and it pays while the catch falls by less than 40.50 / 400 = 10.125 %.
CATCH, BEFORE, AFTER = 400.0, 0.06, 0.03
MENDING, LOST = 350.0, 2.5
ONE_REPAIR = MENDING + LOST * CATCH
SAVED = 40.50
SHARE = 0.10125
HOURS_A_TRIP = 100.0


def test_the_worked_example() -> None:
    saved = BEFORE * ONE_REPAIR - AFTER * ONE_REPAIR
    assert saved == pytest.approx(SAVED, rel=1e-12)
    assert break_even(CATCH, BEFORE * ONE_REPAIR, AFTER * ONE_REPAIR) == pytest.approx(SHARE)
    assert f"{break_even(CATCH, BEFORE * ONE_REPAIR, AFTER * ONE_REPAIR):.1%}" == "10.1%"
    assert hours_to_earn_back(1000, SAVED) == pytest.approx(1000 / 40.5, rel=1e-12)
    assert hours_to_earn_back(1000, 0.0) is None


def season_of_the_example(catch_falls_by: float) -> Money:
    """The example as a season: trips that differ, with the example's sums over all of them."""
    caught, torn = [], []
    for rig, often in (("bobbins", BEFORE), ("rockhopper", AFTER)):
        falls = catch_falls_by if rig == "rockhopper" else 0.0
        for trip in range(20):
            swing = 1 + (0.2 if trip % 2 else -0.2)
            of_trip = {"trip": f"{rig} {trip}", "rig_version": rig}
            value = CATCH * (1 - falls) * (2 - swing) * HOURS_A_TRIP
            caught.append(of_trip | {"total": value})
            torn.append(of_trip | {"total": often * swing * HOURS_A_TRIP})
    landed, tears = (
        pl.DataFrame(rows).with_columns(
            vessel=pl.lit("Skua"),
            ground=pl.lit("stones"),
            stretch=pl.lit("2031 Q1"),
            hauls=pl.lit(30),
            hauls_with_some=pl.lit(10),
            tow_hours=pl.lit(HOURS_A_TRIP),
        )
        for rows in (caught, torn)
    )
    # Every second trip wrote what its tears cost; those stand for the others.
    written = tears.filter(pl.col("trip").str.slice(-1).is_in(["0", "2", "4", "6", "8"]))
    amounts = pl.concat(
        written.with_columns(
            outcome=pl.lit(name), events=pl.col("total"), total=pl.col("total") * each
        )
        for name, each in (("mending_cost", MENDING), ("hours_lost", LOST))
    )
    fished = pl.DataFrame({"rig_version": ["bobbins", "rockhopper"], "ground": ["stones"] * 2})
    record = MoneyRecord(landed, tears, amounts, hour_worth=CATCH)
    (found,) = find_money(record, fished, "bobbins", ["ground"])
    return found


def estimate(figure: Interval | None) -> float:
    assert figure is not None
    return figure.estimate


def test_the_worked_example_as_a_season() -> None:
    found = season_of_the_example(catch_falls_by=0.0)
    assert estimate(found.of_reference.value) == pytest.approx(CATCH, rel=1e-9)
    assert estimate(found.of_reference.cost) == pytest.approx(BEFORE * ONE_REPAIR, rel=1e-9)
    assert estimate(found.of_rig.cost) == pytest.approx(AFTER * ONE_REPAIR, rel=1e-9)
    assert estimate(found.saved) == pytest.approx(SAVED, rel=1e-9)
    assert estimate(found.net_change) == pytest.approx(SAVED, rel=1e-9)
    assert estimate(found.over_season) == pytest.approx(SAVED * 20 * HOURS_A_TRIP, rel=1e-9)
    assert estimate(found.break_even) == pytest.approx(SHARE, rel=1e-9)


@pytest.mark.parametrize("falls_by", [0.0, 0.05, 0.10125, 0.2])
def test_it_pays_while_the_catch_falls_by_less_than_the_bound(falls_by: float) -> None:
    found = season_of_the_example(falls_by)
    assert estimate(found.net_change) == pytest.approx(SAVED - falls_by * CATCH, abs=1e-6)
    assert estimate(found.break_even) == pytest.approx(SHARE, rel=1e-9)


def hauls_of_many_kinds(seed: int) -> pl.DataFrame:
    """Single hauls of three rigs, four grounds and two boats; catch and damage by any law."""
    chance = np.random.default_rng(seed)
    kinds = list(product(("bobbins", "discs", "grass"), ("hard", "mud", "sand", "stones"), "AB"))
    rows = [
        {
            "vessel": boat,
            "trip": str(chance.integers(0, 25)),
            "rig_version": rig,
            "ground": ground,
            "stretch": "2031 Q1",
            "tow_hours": float(chance.uniform(0.5, 6)),
            VALUE: float(chance.lognormal(6, 0.6)),
            COST: float(chance.lognormal(6, 1) * (chance.random() < 0.3)),
        }
        for rig, ground, boat in kinds
        for _ in range(int(chance.integers(3, 12)))
    ]
    return pl.DataFrame(rows)


def sums_of(hauls: pl.DataFrame, outcome: str) -> pl.DataFrame:
    keys = ["vessel", "trip", "rig_version", "ground", "stretch"]
    return (
        hauls.group_by(keys)
        .agg(
            pl.len().alias("hauls"),
            (pl.col(outcome) > 0).sum().alias("hauls_with_some"),
            pl.col("tow_hours").sum(),
            pl.col(outcome).sum().alias("total"),
        )
        .sort(keys)
        .with_columns(trip_number=(pl.struct("vessel", "trip").rank("dense") - 1).cast(pl.Int64))
    )


@pytest.mark.parametrize("seed", range(5))
def test_both_models_are_those_of_single_hauls_over_the_reference_s_mix(seed: int) -> None:
    """Each haul of bobbins is told with each rig, and the hours weigh it: statsmodels' own."""
    hauls = hauls_of_many_kinds(seed)
    sums = {name: sums_of(hauls, name) for name in (VALUE, COST)}
    fit = fit_money(sums, "bobbins", ["ground", "vessel"])
    assert fit is not None
    mix = shared_mix(sums, fit, "discs", "bobbins")
    assert mix is not None
    hours = hauls["tow_hours"].to_numpy()
    of_bobbins = hours * (hauls["rig_version"] == "bobbins").to_numpy()

    def design(rig: pl.Expr) -> np.ndarray:
        columns = hauls.select(
            one=pl.lit(1.0),
            discs=rig == "discs",
            grass=rig == "grass",
            mud=pl.col("ground") == "mud",
            sand=pl.col("ground") == "sand",
            stones=pl.col("ground") == "stones",
            boat=pl.col("vessel") == "B",
        )
        return columns.cast(pl.Float64).to_numpy()

    for name in (VALUE, COST):
        model = sm.GLM(
            hauls[name].to_numpy(),
            design(pl.col("rig_version")),
            family=sm.families.Poisson(),
            offset=np.log(hours),
        )
        theirs = model.fit(tol=1e-12, tol_criterion="params", maxiter=200)
        drawn = fit.models[name].drawn(np.ones((50, 1)))
        for rig in ("bobbins", "discs", "grass"):
            rate = np.average(np.exp(design(pl.lit(rig)) @ theirs.params), weights=of_bobbins)
            assert fit.models[name].per_hour(mix.shares, rig, drawn)[0] == pytest.approx(rate)
