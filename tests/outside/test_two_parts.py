"""Each part of what damage costs is the fit that statsmodels gives on single hauls."""

from __future__ import annotations

from dataclasses import astuple

import numpy as np
import polars as pl
import pytest
import statsmodels.api as sm
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from pipeline.damage.cumulative import Watched, mean_cumulative
from pipeline.damage.part_ratios import MUCH, find_part_ratios, per_event
from pipeline.damage.two_parts import (
    MOST_REACH,
    Estimate,
    Told,
    TwoParts,
    find_two_parts,
    mean_of_event,
    product,
)
from pipeline.rates.effects import find_effects
from pipeline.rates.exact import rate_limits
from pipeline.rates.fits import Question, fit_question
from pipeline.rates.poisson import half_width
from tests.outside.left_out import (
    left_out_errors,
    left_out_moves,
    normal_clusters,
    satterthwaite_freedom,
)
from tests.proofs.costs_of_tears import KINDS, Kind, share_held

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
    found = find_two_parts(sums_of(hauls), damage_sums_of(hauls), "trip", None)
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


def rate_without_each_trip(cell: pl.DataFrame) -> tuple[float, float]:
    """The limits of the rate of events, row by row, with each trip left out in turn."""
    events, hours = cell["events"].to_numpy(), cell["tow_hours"].to_numpy()
    trip = cell["trip"].cast(pl.Int64).to_numpy()
    mean, design = hours * events.sum() / hours.sum(), np.ones((len(events), 1))
    (error,) = left_out_errors(design, events, mean, trip)
    reach = half_width(satterthwaite_freedom(design, mean, trip, 0)) * error
    return tuple(float(events.sum() / hours.sum() * np.exp(side)) for side in (-reach, reach))


def long_tailed(cell: pl.DataFrame, amount: str, exposure: str) -> float:
    """By hand: the variance of a log-normal's log mean, by Cox, with trips of nothing apart."""
    trips = cell.group_by("trip").agg(pl.col(amount, exposure).sum())
    means = trips.select(pl.col(amount) / pl.col(exposure)).to_series()
    logs = means.filter(means > 0).log()
    if len(logs) < 3:
        return 0.0
    squared = logs.var() + logs.var() ** 2 / 2
    share = len(logs) / len(means)
    parts = trips[exposure] / trips[exposure].sum()
    return ((1 + squared) / share - 1) * (parts**2).sum()


def numbers(found: Estimate) -> list[float]:
    """The figure and its limits, NaN where there are none."""
    return [np.nan if each is None else each for each in astuple(found)]


def limits_of(value: float, variance: float, trips: int) -> tuple[float, float, float]:
    """The limits by t on trips − 1; none where they would tell nothing."""
    reach = float(np.exp(half_width(trips - 1) * variance**0.5)) if trips >= 3 else np.inf
    return (value, value / reach, value * reach) if reach <= MOST_REACH else (value, np.nan, np.nan)


def variance_of(fitted: tuple[float, float, float], trips: int) -> float:
    """The variance of statsmodels' log mean, back from its limits."""
    return (np.log(fitted[2] / fitted[1]) / 2 / half_width(trips - 1)) ** 2


@some
@given(seed=seeds)
def test_how_often_and_how_much_are_statsmodels_fits_of_single_hauls(seed: int) -> None:
    """How often leaves out trip by trip; how much has statsmodels' error, but for a long tail."""
    hauls = awkward_hauls(seed)
    held = 0
    for (amount, ground, rig), found in parts_of(hauls).items():
        if amount != "mending_hours":
            continue
        cell = of_cell(hauls, ground, rig)
        events, hours = cell["events"].sum(), cell["tow_hours"].sum()
        by_trip = cell.group_by("trip").agg(pl.col("events").sum())["events"]
        if (by_trip > 0).sum() >= 2 and len(by_trip) >= 3:
            ends = rate_without_each_trip(cell), rate_limits(events, hours)
            low, high = min(low for low, _ in ends), max(high for _, high in ends)
        else:
            clump = (by_trip**2).sum() / events if events else 1
            low, high = rate_limits(events / clump, hours / clump)
        assert astuple(found.often) == pytest.approx(
            (100 * events / hours, 100 * low, 100 * high), rel=1e-8, abs=1e-12
        )
        told = damaged(cell)
        trips = told["trip"].n_unique()
        if told.is_empty():
            assert astuple(found.each) == (None, None, None)
        elif trips >= 3:
            theirs = mean_by_statsmodels(told["mending_hours"], told["events"], told["trip"])
            tail = long_tailed(told, "mending_hours", "events")
            expected = limits_of(theirs[0], max(variance_of(theirs, trips), tail), trips)
            assert numbers(found.each) == pytest.approx(expected, rel=1e-7, nan_ok=True)
            held += not np.isnan(expected[1])
    assume(held)
    assert parts_of(hauls)["mending_hours", "all", "rig 3"].both.value == 0


@some
@given(seed=seeds)
def test_with_nothing_missing_the_product_is_the_fit_of_all_hauls(seed: int) -> None:
    """An identity: the product is then the plain amount per hour, with chance allowed for."""
    hauls = awkward_hauls(seed, missing=0.0)
    held = 0
    for (amount, ground, rig), found in parts_of(hauls).items():
        cell = of_cell(hauls, ground, rig)
        if amount == "debris_kg":
            cell = cell.with_columns(events=(pl.col("debris_kg") > 0).cast(pl.Float64))
        told = cell.filter(pl.col("events") > 0)
        trips, of_cell_trips = told["trip"].n_unique(), cell["trip"].n_unique()
        if trips < 3:
            continue
        theirs = mean_by_statsmodels(cell[amount], cell["tow_hours"], cell["trip"])
        each = mean_by_statsmodels(told[amount], told["events"], told["trip"])
        of_mean = max(variance_of(each, trips), long_tailed(told, amount, "events"))
        variance = max(variance_of(theirs, of_cell_trips), 1 / found.events + of_mean)
        expected = limits_of(100 * theirs[0], variance, trips)
        assert numbers(found.both) == pytest.approx(expected, rel=1e-7, nan_ok=True)
        held += not np.isnan(expected[1])
    assert held >= 8


@some
@given(seed=seeds, worth=st.floats(0.01, 100))
def test_the_sum_of_two_amounts_has_the_error_of_all_means_together(
    seed: int, worth: float
) -> None:
    """Against small steps in the weight of each trip, of events told by some tears alone."""
    chance = np.random.default_rng(seed)
    trips = 30
    hours, events = chance.uniform(10, 50, trips), chance.poisson(2, trips).astype(float)
    told = []
    for unit in (1.0, worth):
        tell = chance.binomial(events.astype(int), 0.6).astype(float)
        told.append(Told(tell, unit * tell * chance.gamma(4, 0.25, trips)))

    def logs(weight: np.ndarray) -> tuple[float, float]:
        each = sum((weight @ part.total) / (weight @ part.events) for part in told)
        return np.log(each), np.log((weight @ events) / (weight @ hours) * each)

    step, ones = 1e-5, np.ones(trips)
    moves = np.array(
        [
            np.subtract(logs(ones + step * one), logs(ones - step * one)) / (2 * step)
            for one in np.eye(trips)
        ]
    )
    tell = sum(part.events for part in told) > 0
    fewest = min(int((part.events > 0).sum()) for part in told)
    each_error, both_error = (
        (moves[rows, at] ** 2).sum() * rows.sum() / (rows.sum() - 1)
        for at, rows in enumerate((tell, ones > 0))
    )
    means = [part.total.sum() / part.events.sum() for part in told]
    tails = [
        long_tailed(
            pl.DataFrame({"trip": range(trips), "of": part.total, "events": part.events}).filter(
                pl.col("events") > 0
            ),
            "of",
            "events",
        )
        for part in told
    ]
    tail = sum((mean / sum(means)) ** 2 * each for mean, each in zip(means, tails, strict=True))
    each_error = max(each_error, tail)
    both_error = max(both_error, 1 / events.sum() + each_error)
    value = float(np.exp(logs(ones)[0]))
    assert numbers(mean_of_event(told)) == pytest.approx(
        limits_of(value, each_error, fewest), rel=1e-5, nan_ok=True
    )
    assert numbers(product(events, hours, told)) == pytest.approx(
        limits_of(value * events.sum() / hours.sum(), both_error, fewest), rel=1e-5, nan_ok=True
    )


@some
@given(seed=seeds)
def test_the_ratio_of_how_much_when_is_statsmodels_fit_of_damaged_hauls(seed: int) -> None:
    hauls = awkward_hauls(seed)
    told = damaged(hauls)
    question = Question("mending_hours", "all", "rig 0", ("ground",), "trip")
    fitted = fit_question(question, per_event(damage_sums_of(hauls)))
    assume(fitted is not None)  # now and then no two rigs were damaged with hours told
    assert fitted is not None
    columns = [np.ones(told.height)]
    for term in fitted.fit.terms[1:]:
        column, level = term.split(": ")
        columns.append((told[column] == level).to_numpy().astype(float))
    total, design = told["mending_hours"].to_numpy(), np.column_stack(columns)
    theirs = sm.GLM(
        total, design, family=sm.families.Poisson(), offset=np.log(told["events"].to_numpy())
    ).fit(**TO_THE_END)
    assert fitted.fit.estimate == pytest.approx(theirs.params, rel=1e-8, abs=1e-8)
    trip = told["trip"].cast(pl.Int64).to_numpy()
    moves = left_out_moves(design, total, theirs.mu, trip)
    errors = np.sqrt(np.square(moves).sum(axis=0))
    assert fitted.fit.left_out is not None
    shared = ~fitted.fit.left_out.alone
    found_errors = np.sqrt(np.diag(fitted.fit.covariance))
    assert found_errors[shared] == pytest.approx(errors[shared], rel=1e-6)

    ratios = find_part_ratios(sums_of(hauls), damage_sums_of(hauls), hauls, "rig 0", ("ground",))
    of_rig = {
        each.rig: each for each in ratios if (each.amount, each.part) == ("mending_hours", MUCH)
    }
    assert sorted(of_rig) == ["rig 1", "rig 2", "rig 3"]
    assert of_rig["rig 3"].ratio is None
    assert of_rig["rig 3"].cautions == ["none seen"]
    for rig in ("rig 1", "rig 2"):
        found = of_rig[rig]
        if min(found.rig_trips, found.reference_trips) < 3:
            assert found.ratio is None
            continue
        at = fitted.fit.terms.index(f"rig_version: {rig}")
        if not shared[at]:
            assert found.ratio is None
            continue
        by_law = satterthwaite_freedom(design, theirs.mu, trip, at)
        freedom = max(min(by_law, normal_clusters(moves[:, at])), 1.0)
        reach = half_width(freedom) * errors[at]
        expected = [np.exp(theirs.params[at] + side) for side in (0.0, -reach, reach)]
        assert [found.ratio, found.low, found.high] == pytest.approx(expected, rel=1e-6)


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
    events, towed, told, total = (
        np.bincount(trip, each) for each in (damage, hours, known, np.where(known, mended, 0))
    )
    value = product(events.astype(float), towed, [Told(told.astype(float), total)]).value
    assert value is not None
    assert rises.mean[-1] == pytest.approx(value * to[-1], rel=1e-10)
    often = (events - events.sum() / towed.sum() * towed) / events.sum()
    much = (total - total.sum() / told.sum() * told) / total.sum()
    error = (((often + much) ** 2).sum() * 12 / 11) ** 0.5
    assert rises.std_error[-1] / rises.mean[-1] == pytest.approx(error, rel=1e-9)


@pytest.mark.parametrize(
    "kind", [KINDS[0], KINDS[2], KINDS[-2]], ids=["long tail", "some told", "two amounts"]
)
def test_the_limits_of_what_damage_costs_hold_as_often_as_they_say(kind: Kind) -> None:
    share, told = share_held(kind, 400)
    assert told > 390
    assert share > 0.93
