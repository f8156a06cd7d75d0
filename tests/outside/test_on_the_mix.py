"""Ratios on a mix of grounds: by hand on a published table, and by statsmodels on single hauls."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl
import pytest
import statsmodels.api as sm

from pipeline.rates.effects import find_effects
from pipeline.rates.looks import Judging
from pipeline.rates.on_the_mix import NAMED, OF_THE_SEASON, OnTheMix, find_on_the_mix, mixes_of
from tests.properties.test_rates_equal_statsmodels import design_of_hauls

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

DATA = Path(__file__).parent / "data"
TRIPS = 5
"""Each row of the published table is cut into so many equal trips, that there be trips enough."""


def on_the_mix(
    sums: pl.DataFrame,
    adjust: Sequence[str],
    errors: Literal["trip", "model"],
    named: Mapping[str, float] | None = None,
) -> dict[str, OnTheMix]:
    """What is said of the one rig against "no", by mix."""
    fished = sums.select("rig_version", "ground", "tow_hours")
    effects = find_effects(sums, fished, "no", adjust, errors)
    mixes = mixes_of(fished, named or {})
    found = find_on_the_mix(sums, effects, adjust, errors, mixes, Judging())
    return {each.mix: each for each in found}


def doctors() -> pl.DataFrame:
    """Deaths and years of British doctors who smoked or not, by age: Breslow 1985.

    International Statistical Review 53 (1985); here as in R's package boot.
    """
    table = pl.read_csv(DATA / "breslow.csv")
    cut = table.join(pl.DataFrame({"trip": [str(at) for at in range(TRIPS)]}), how="cross")
    return cut.select(
        outcome=pl.lit("damage_events"),
        vessel=pl.lit("one"),
        stretch=pl.lit("all of it"),
        trip="trip",
        rig_version=pl.when(pl.col("smoke") == 1).then(pl.lit("smoked")).otherwise(pl.lit("no")),
        ground=pl.col("age").cast(pl.String),
        hauls=pl.lit(1),
        hauls_with_some=pl.lit(1),
        tow_hours=pl.col("n") / TRIPS,
        total=pl.col("y") / TRIPS,
    )


def by_hand(weight: NDArray[np.float64]) -> tuple[float, float, float]:
    """The two standardised rates and the error of the log of their ratio.

    A standardised rate is the weighted sum of the rates by age, its variance that of the weighted
    deaths; the formulae are in Breslow & Day, Statistical Methods in Cancer Research II, 1987,
    ch. 2 (from memory).
    """
    table = pl.read_csv(DATA / "breslow.csv").sort("smoke", "age")
    years, deaths = (table[name].to_numpy().reshape(2, 5).astype(float) for name in ("n", "y"))
    weight = weight / weight.sum()
    rate = (weight * deaths / years).sum(axis=1)
    variance = (np.square(weight / years) * deaths).sum(axis=1)
    return float(rate[1]), float(rate[0]), float(np.sqrt((variance / rate**2).sum()))


def test_doctors_who_smoked_by_hand_on_the_ages_of_all() -> None:
    table = pl.read_csv(DATA / "breslow.csv").group_by("age").agg(pl.col("n").sum()).sort("age")
    told = on_the_mix(doctors(), ["ground"], "model")[OF_THE_SEASON]
    rate, reference, error = by_hand(table["n"].to_numpy().astype(float))
    assert told.rate == pytest.approx(rate, rel=1e-8)
    assert told.reference_rate == pytest.approx(reference, rel=1e-8)
    assert told.ratio == pytest.approx(rate / reference, rel=1e-8)
    assert told.std_error == pytest.approx(error, rel=1e-8)
    assert told.ratio == pytest.approx(1.4196, abs=5e-5)  # worked out apart from both


def test_doctors_who_smoked_by_hand_on_ages_that_are_named() -> None:
    named = {"40": 2.0, "50": 0.0, "60": 1.0, "70": 1.0, "80": 4.0}
    told = on_the_mix(doctors(), ["ground"], "model", named)[NAMED]
    rate, reference, error = by_hand(np.array(list(named.values())))
    assert told.grounds == ["40", "60", "70", "80"]
    assert (told.rate, told.reference_rate) == pytest.approx((rate, reference), rel=1e-8)
    assert told.std_error == pytest.approx(error, rel=1e-8)


def hauls_of(seed: int, *, counted: bool) -> pl.DataFrame:
    """Single hauls of two rigs on three grounds by two boats; the rigs differ by ground."""
    chance, size = np.random.default_rng(seed), 300
    trip = chance.integers(0, 30, size)
    rig, ground = chance.integers(0, 2, size), chance.integers(0, 3, size)
    hours = chance.uniform(0.5, 6, size)
    mean = hours * (1 + ground) * np.array([[1, 1, 1], [0.4, 1, 2]])[rig, ground]
    total = chance.poisson(mean * chance.gamma(2, 0.5, 30)[trip]).astype(float)
    if not counted:
        total = (total * chance.lognormal(2, 1, size)).round(3)
    return pl.DataFrame(
        {
            "outcome": "damage_events" if counted else "debris_kg",
            "vessel": [f"boat {number % 2}" for number in trip],
            "trip": trip.astype(str),
            "stretch": "all of it",
            "rig_version": [("no", "discs")[number] for number in rig],
            "ground": [("mud", "sand", "stones")[number] for number in ground],
            "hauls": 1,
            "hauls_with_some": total > 0,
            "tow_hours": hours,
            "total": total,
        }
    )


@pytest.mark.parametrize("counted", [True, False])
@pytest.mark.parametrize("seed", range(5))
def test_it_is_what_statsmodels_foretells_of_single_hauls(seed: int, *, counted: bool) -> None:
    hauls = hauls_of(seed, counted=counted)
    keys = ["outcome", "vessel", "trip", "stretch", "rig_version", "ground"]
    sums = hauls.group_by(keys).agg(pl.exclude(keys).sum())
    named = {"mud": 3.0, "sand": 1.0, "stones": 6.0}
    told = on_the_mix(sums, ["ground", "vessel"], "trip", named)[NAMED]

    rigs, grounds = ("no", "discs"), ("mud", "sand", "stones")
    cell = pl.concat_str("rig_version", "ground", separator=" ")
    cells = [f"cell: {rig} {ground}" for rig in rigs for ground in grounds]
    terms = ("intercept", *cells[1:], "vessel: boat 1")
    model = sm.GLM(
        hauls["total"].to_numpy(),
        design_of_hauls(hauls.with_columns(cell=cell), terms),
        family=sm.families.Poisson(),
        offset=np.log(hauls["tow_hours"].to_numpy()),
    )
    fit = model.fit(tol=1e-11, tol_criterion="params", maxiter=200)
    hours = hauls["tow_hours"].to_numpy()
    rates = []
    for rig in rigs:
        rate = 0.0
        for ground in grounds:
            supposed = hauls.with_columns(cell=pl.lit(f"{rig} {ground}"))
            foretold = fit.predict(design_of_hauls(supposed, terms), offset=np.log(hours))
            rate += named[ground] / 10 * foretold.sum() / hours.sum()
        rates.append(rate)
    assert (told.reference_rate, told.rate) == pytest.approx(tuple(rates), rel=1e-8)
    assert told.ratio == pytest.approx(rates[1] / rates[0], rel=1e-8)


@pytest.mark.parametrize("seed", range(5))
def test_its_error_is_that_of_the_fit_without_each_trip(seed: int) -> None:
    # The jackknife with a fit for each trip left out; one step from the full fit comes near it,
    # where no haul is most of what was seen. As kilos, that the trips alone tell the error.
    hauls = hauls_of(seed, counted=True).with_columns(outcome=pl.lit("debris_kg"))
    named = {"mud": 3.0, "sand": 1.0, "stones": 6.0}

    def log_ratio(part: pl.DataFrame) -> float:
        rate = dict(
            part.group_by("rig_version", "ground")
            .agg(rate=pl.col("total").sum() / pl.col("tow_hours").sum())
            .group_by("rig_version")
            .agg((pl.col("rate") * pl.col("ground").replace_strict(named)).sum())
            .iter_rows()
        )
        return float(np.log(rate["discs"] / rate["no"]))

    told = on_the_mix(hauls, ["ground"], "trip", named)[NAMED]
    assert told.log_ratio == pytest.approx(log_ratio(hauls), rel=1e-8)
    trips = hauls["trip"].unique().to_list()
    moved = [log_ratio(hauls.filter(pl.col("trip") != trip)) - log_ratio(hauls) for trip in trips]
    jackknife = np.sqrt((len(trips) - 1) / len(trips) * np.square(moved).sum())
    assert told.std_error == pytest.approx(jackknife, rel=0.1)
    assert told.freedom is not None
    assert 2 < told.freedom < len(trips)
