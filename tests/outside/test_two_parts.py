"""Each part of what damage costs is the fit that statsmodels gives on single hauls."""

from __future__ import annotations

from dataclasses import astuple

import numpy as np
import polars as pl
import pytest
import statsmodels.api as sm
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.damage.cumulative import Watched, mean_cumulative
from pipeline.damage.part_ratios import MUCH, find_part_ratios, per_event
from pipeline.damage.two_parts import TwoParts, find_two_parts, product
from pipeline.rates.effects import find_effects
from pipeline.rates.exact import rate_limits
from pipeline.rates.fits import Question, fit_question
from pipeline.rates.poisson import half_width

PATTERN = ["rig_version", "ground", "stretch"]
TO_THE_END = {"tol": 1e-11, "tol_criterion": "params", "maxiter": 200}
some = settings(max_examples=12, deadline=None)
seeds = st.integers(0, 2**32 - 1)


def awkward_hauls(seed: int, *, missing: float = 0.3) -> pl.DataFrame:
    """Single hauls: rig 3 is never damaged, one trip is a single haul, some hours are missing.

    A haul may be damaged twice, and damage may take no mending at all.
    """
    chance = np.random.default_rng(seed)
    trips = int(chance.integers(25, 40))
    trip = np.concatenate([np.repeat(np.arange(trips), chance.integers(2, 9, trips)), [trips]])
    size = len(trip)
    rig, ground = chance.integers(0, 4, size), chance.integers(0, 2, size)
    events = np.where(rig == 3, 0, chance.poisson(0.3 + 0.3 * ground, size))
    pace = chance.gamma(4, 0.25, trips + 1)[trip]
    hours = np.where(events > 0, (chance.gamma(1, 2, size) * (1 + rig) * pace).round(1), 0.0)
    known = (events == 0) | (chance.random(size) > missing)
    return pl.DataFrame(
        {
            "vessel": [f"boat {number % 3}" for number in trip],
            "trip": trip.astype(str),
            "rig_version": [f"rig {number}" for number in rig],
            "ground": [f"ground {number}" for number in ground],
            "stretch": "2031-1",
            "tow_hours": chance.uniform(0.5, 6, size).round(2),
            "events": events.astype(float),
            "mending_hours": hours,
            "debris_kg": np.where(chance.random(size) < 0.4, chance.lognormal(3, 1, size), 0.0),
            "known": known,
        }
    )


def summed(hauls: pl.DataFrame, outcome: str, amount: str) -> pl.DataFrame:
    return (
        hauls.group_by("vessel", "trip", *PATTERN, maintain_order=True)
        .agg(
            pl.len().alias("hauls"),
            (pl.col(amount) > 0).sum().cast(pl.Float64).alias("hauls_with_some"),
            pl.col("tow_hours", "events").sum(),
            pl.col(amount).sum().alias("total"),
        )
        .with_columns(outcome=pl.lit(outcome))
    )


def sums_of(hauls: pl.DataFrame) -> pl.DataFrame:
    """The sums that a season makes of its hauls: of damage and of debris."""
    tables = [summed(hauls, "damage_events", "events"), summed(hauls, "debris_kg", "debris_kg")]
    return pl.concat([table.drop("events") for table in tables])


def damaged(hauls: pl.DataFrame) -> pl.DataFrame:
    return hauls.filter((pl.col("events") > 0) & pl.col("known"))


def damage_sums_of(hauls: pl.DataFrame) -> pl.DataFrame:
    return summed(damaged(hauls), "mending_hours", "mending_hours")


def parts_of(hauls: pl.DataFrame) -> dict[tuple[str, str, str], TwoParts]:
    found = find_two_parts(sums_of(hauls), damage_sums_of(hauls), "trip")
    return {(each.amount, each.ground, each.rig): each for each in found}


def of_cell(hauls: pl.DataFrame, ground: str, rig: str) -> pl.DataFrame:
    on = pl.lit(value=True) if ground == "all" else pl.col("ground") == ground
    return hauls.filter(on & (pl.col("rig_version") == rig))


def mean_by_statsmodels(
    amount: pl.Series, exposure: pl.Series, trip: pl.Series
) -> tuple[float, float, float]:
    """The rate of single hauls and its limits: log link, offset, clustered, t on trips − 1."""
    fit = sm.GLM(
        amount.to_numpy(),
        np.ones(len(amount)),
        family=sm.families.Poisson(),
        offset=np.log(exposure.to_numpy()),
    ).fit(
        **TO_THE_END,
        cov_type="cluster",
        cov_kwds={"groups": trip.cast(pl.Int64).to_numpy(), "use_correction": True},
    )
    reach = half_width(trip.n_unique() - 1) * fit.bse[0]
    return tuple(float(np.exp(fit.params[0] + side)) for side in (0.0, -reach, reach))


@some
@given(seed=seeds)
def test_how_often_and_how_much_are_statsmodels_fits_of_single_hauls(seed: int) -> None:
    hauls = awkward_hauls(seed)
    held = 0
    for (amount, ground, rig), found in parts_of(hauls).items():
        if amount != "mending_hours":
            continue
        cell = of_cell(hauls, ground, rig)
        often = astuple(found.often)
        events, hours = cell["events"].sum(), cell["tow_hours"].sum()
        low, high = rate_limits(events, hours)
        if events >= 10:
            _, near, far = mean_by_statsmodels(cell["events"], cell["tow_hours"], cell["trip"])
            low, high = min(low, near), max(high, far)
        assert often == pytest.approx(
            (100 * events / hours, 100 * low, 100 * high), rel=1e-8, abs=1e-12
        )
        told = damaged(cell)
        much = astuple(found.each)
        if told.is_empty():
            assert much == (None, None, None)
        elif found.each.low is not None:
            expected = mean_by_statsmodels(told["mending_hours"], told["events"], told["trip"])
            assert much == pytest.approx(expected, rel=1e-8)
            held += 1
    assert held >= 3
    assert parts_of(hauls)["mending_hours", "all", "rig 3"].both.value == 0


@some
@given(seed=seeds)
def test_with_nothing_missing_the_product_is_the_fit_of_all_hauls(seed: int) -> None:
    """An identity: the product is then the plain amount per hour, error and all."""
    hauls = awkward_hauls(seed, missing=0.0)
    held = 0
    for (amount, ground, rig), found in parts_of(hauls).items():
        cell = of_cell(hauls, ground, rig)
        both = astuple(found.both)
        if both[1] is None or both[2] is None:
            continue
        rate, low, high = mean_by_statsmodels(cell[amount], cell["tow_hours"], cell["trip"])
        by_chance = np.exp(half_width(cell["trip"].n_unique() - 1) / np.sqrt(found.events))
        assert both == pytest.approx(
            (100 * rate, 100 * min(low, rate / by_chance), 100 * max(high, rate * by_chance)),
            rel=1e-8,
        )
        held += 1
    assert held >= 12


@some
@given(seed=seeds)
def test_the_ratio_of_how_much_when_is_statsmodels_fit_of_damaged_hauls(seed: int) -> None:
    hauls = awkward_hauls(seed)
    told = damaged(hauls)
    question = Question("mending_hours", "all", "rig 0", ("ground",), "trip")
    fitted = fit_question(question, per_event(damage_sums_of(hauls)))
    assert fitted is not None
    columns = [np.ones(told.height)]
    for term in fitted.fit.terms[1:]:
        column, level = term.split(": ")
        columns.append((told[column] == level).to_numpy().astype(float))
    theirs = sm.GLM(
        told["mending_hours"].to_numpy(),
        np.column_stack(columns),
        family=sm.families.Poisson(),
        offset=np.log(told["events"].to_numpy()),
    ).fit(
        **TO_THE_END,
        cov_type="cluster",
        cov_kwds={"groups": told["trip"].cast(pl.Int64).to_numpy(), "use_correction": True},
    )
    assert fitted.fit.estimate == pytest.approx(theirs.params, rel=1e-8, abs=1e-8)
    error = np.sqrt(np.diag(fitted.fit.covariance))
    assert error == pytest.approx(theirs.bse, rel=1e-8)

    ratios = find_part_ratios(sums_of(hauls), damage_sums_of(hauls), hauls, "rig 0", ("ground",))
    of_rig = {
        each.rig: each for each in ratios if (each.amount, each.part) == ("mending_hours", MUCH)
    }
    assert sorted(of_rig) == ["rig 1", "rig 2", "rig 3"]
    assert of_rig["rig 3"].ratio is None
    assert of_rig["rig 3"].cautions == ["none seen"]
    for rig in ("rig 1", "rig 2"):
        found = of_rig[rig]
        at = fitted.fit.terms.index(f"rig_version: {rig}")
        reach = half_width(min(found.rig_trips, found.reference_trips) - 1) * theirs.bse[at]
        expected = [np.exp(theirs.params[at] + side) for side in (0.0, -reach, reach)]
        assert [found.ratio, found.low, found.high] == pytest.approx(expected, rel=1e-7)


@some
@given(seed=seeds)
def test_how_often_of_debris_is_the_effect_of_counted_events(seed: int) -> None:
    hauls = awkward_hauls(seed).with_columns(events=(pl.col("debris_kg") > 0).cast(pl.Float64))
    sums = sums_of(hauls)
    effects = {
        each.rig: each
        for each in find_effects(sums, hauls, "rig 0", ("ground",), "trip")
        if (each.outcome, each.ground) == ("damage_events", "all")
    }
    ratios = find_part_ratios(sums, damage_sums_of(hauls), hauls, "rig 0", ("ground",))
    often = [each for each in ratios if (each.amount, each.part) == ("debris_kg", "how often")]
    assert len(often) == 3
    for found in often:
        effect = effects[found.rig]
        assert (found.ratio, found.low, found.high, found.verdict) == (
            effect.ratio,
            effect.low,
            effect.high,
            effect.verdict,
        )


@some
@given(seed=seeds, blank=st.floats(0.05, 0.9))
def test_of_one_boat_mending_adds_up_to_the_product_of_the_two_parts(
    seed: int, blank: float
) -> None:
    """The mean cumulative hours and the two parts take unknown mending for the same."""
    chance = np.random.default_rng(seed)
    hauls = 60
    hours, damage = chance.uniform(0.5, 5, hauls), chance.random(hauls) < 0.5
    damage[[0, -1]] = True
    unknown = damage & (chance.random(hauls) < blank)
    unknown[0] = False
    mended = np.where(damage, chance.gamma(2, 1, hauls) + 0.1, 0.0)
    to, trip = np.cumsum(hours), np.arange(hauls) // 5
    start = np.concatenate([[0.0], to[:-1]])
    rises = mean_cumulative(Watched(start, to, np.where(unknown, np.nan, mended), damage, trip))
    known = damage & ~unknown
    by_trip = [
        np.bincount(trip, each) for each in (damage, hours, known, np.where(known, mended, 0))
    ]
    value, low, high = astuple(product(*by_trip))
    assert value is not None
    assert rises.mean[-1] == pytest.approx(value * to[-1], rel=1e-10)
    if low is not None and high is not None:
        error = np.log(high / low) / 2 / half_width(11)
        assert max(rises.std_error[-1] / rises.mean[-1], damage.sum() ** -0.5) == pytest.approx(
            error, rel=1e-9
        )
