"""Each haul as damaged or not, and hauls side by side alone, against statsmodels."""

from __future__ import annotations

import numpy as np
import polars as pl
import pytest
import statsmodels.api as sm
from scipy.stats import gamma

from pipeline.rates.cells import term
from pipeline.rates.fits import Question, fit_question
from pipeline.rates.support import where_both_were
from pipeline.rates.yes_or_no import log_chance_of_none

PATTERN = ["rig_version", "ground", "vessel", "stretch"]
QUESTION = Question("damage_events", "all", "rope", ("ground",), "trip")


def hauls_damaged_or_not(seed: int, ratio: float) -> pl.DataFrame:
    """Hauls of two rigs, damaged by a rate an hour; one boat fished one of them alone at first."""
    chance = np.random.default_rng(seed)
    trip = chance.integers(0, 60, 900)
    rig = (trip + trip // 7) % 2
    ground, hours = chance.integers(0, 3, 900), chance.uniform(0.5, 6, 900)
    mean = hours * 0.12 * np.array([0.4, 1.0, 2.5])[ground] * ratio**rig
    hauls = pl.DataFrame(
        {
            "vessel": [f"boat {number % 3}" for number in trip],
            "trip": trip.astype(str),
            "stretch": [f"half {number // 30}" for number in trip],
            "rig_version": [("rope", "discs")[number] for number in rig],
            "ground": [f"ground {number}" for number in ground],
            "tow_hours": hours,
            "amount": (chance.random(900) < -np.expm1(-mean)).astype(float),
        }
    )
    first_alone = (pl.col("vessel") == "boat 0") & (pl.col("stretch") == "half 0")
    hauls = hauls.filter(~(first_alone & (pl.col("rig_version") == "rope")))
    numbers = hauls.select(PATTERN).unique().sort(PATTERN).with_row_index("pattern")
    return hauls.join(numbers, on=PATTERN, maintain_order="left")


def sums_of(hauls: pl.DataFrame) -> pl.DataFrame:
    return (
        hauls.group_by("pattern", "trip", *PATTERN)
        .agg(
            pl.len().cast(pl.Int64).alias("hauls"),
            (pl.col("amount") > 0).sum().cast(pl.Int64).alias("hauls_with_some"),
            pl.col("tow_hours").sum(),
            pl.col("amount").sum().alias("total"),
        )
        .sort("pattern", "trip")
    )


def each_haul(hauls: pl.DataFrame) -> pl.DataFrame:
    """A row a haul, so that hauls of a trip and pattern need not be as long as each other."""
    return hauls.with_columns(
        hauls=pl.lit(1), hauls_with_some=pl.col("amount").cast(pl.Int64), total="amount"
    )


def without_luck(hauls: pl.DataFrame) -> pl.DataFrame:
    """The same hauls, each a trip of its own: such trips can't go together."""
    return hauls.with_columns(trip=pl.int_range(pl.len()).cast(pl.String))


def by_statsmodels(hauls: pl.DataFrame, factors: list[str], family: sm.families.Family) -> object:
    names = [f"{name}={word}" for name in factors for word in sorted(set(hauls[name]))[1:]]
    columns = [np.ones(len(hauls)), (hauls["rig_version"] == "discs").to_numpy().astype(float)]
    columns += [
        (hauls[name.split("=")[0]] == name.split("=")[1]).to_numpy().astype(float) for name in names
    ]
    return sm.GLM(
        hauls["amount"].to_numpy(),
        np.column_stack(columns),
        family=family,
        offset=np.log(hauls["tow_hours"].to_numpy()),
    ).fit(tol=1e-13, maxiter=200)


@pytest.mark.parametrize("seed", range(3))
def test_each_haul_as_damaged_or_not_is_a_binomial_with_a_log_log_link(seed: int) -> None:
    hauls = without_luck(hauls_damaged_or_not(seed, 0.6))
    fitted = fit_question(QUESTION, each_haul(hauls))
    assert fitted is not None
    assert fitted.as_yes_or_no is not None
    assert fitted.as_yes_or_no.luck == 0
    found = fitted.as_yes_or_no.effect(term("rig_version", "discs"))
    link = sm.families.links.CLogLog()
    theirs = by_statsmodels(hauls, ["ground"], sm.families.Binomial(link=link))
    assert found == pytest.approx((theirs.params[1], theirs.bse[1]), rel=1e-6)


def test_a_rate_model_draws_such_ratios_towards_one_and_this_does_not() -> None:
    poisson, once = [], []
    for seed in range(40):
        hauls = hauls_damaged_or_not(seed, 0.4)
        fitted = fit_question(QUESTION, sums_of(hauls))
        assert fitted is not None
        name = term("rig_version", "discs")
        poisson.append(fitted.fit.effect(name)[0])
        once.append(fitted.as_yes_or_no.effect(name)[0])
    put_in, error = np.log(0.4), float(np.std(once)) / np.sqrt(len(once))
    assert abs(np.mean(once) - put_in) < 3 * error
    assert np.mean(poisson) > put_in + 3 * error


@pytest.mark.parametrize("spread", [0.0, 0.25, 1.0])
def test_luck_of_trips_is_found_and_draws_nothing_towards_one(spread: float) -> None:
    chance = np.random.default_rng([25, int(100 * spread)])
    rows, trips = 6000, 600
    trip, rig = np.arange(rows) % trips, np.arange(rows) // trips % 2
    ground = chance.integers(0, 2, rows)
    luck = chance.gamma(1 / spread, spread, trips) if spread else np.ones(trips)
    mean = np.where(ground, 2.0, 0.4) * luck[trip] * np.where(rig, 0.5, 1.0)
    hauls = pl.DataFrame(
        {
            "vessel": "Skua",
            "trip": trip.astype(str),
            "stretch": "all",
            "rig_version": np.where(rig, "discs", "rope"),
            "ground": ground.astype(str),
            "tow_hours": 1.0,
            "amount": (chance.random(rows) < -np.expm1(-mean)).astype(float),
        }
    )
    fitted = fit_question(QUESTION, each_haul(hauls))
    assert fitted is not None
    found = fitted.as_yes_or_no
    assert found is not None
    assert found.luck == pytest.approx(spread, abs=0.05 + 0.15 * spread)
    ratio, error = found.effect(term("rig_version", "discs"))
    assert abs(ratio - np.log(0.5)) < 3 * error


def test_the_chance_of_none_is_the_mean_over_gamma_luck() -> None:
    # scipy's gamma law by quadrature, and at luck 1 the logit's own: 1 / (1 + mean).
    for mean, luck in ((0.3, 0.2), (1.7, 0.6), (3.0, 1.5)):
        by_scipy = gamma(1 / luck, scale=luck).expect(lambda u, mean=mean: np.exp(-u * mean))
        assert np.exp(log_chance_of_none(np.array(mean), luck)) == pytest.approx(by_scipy, rel=1e-6)
    assert np.exp(log_chance_of_none(np.array(1.7), 1.0)) == pytest.approx(1 / 2.7)


@pytest.mark.parametrize("seed", range(3))
def test_side_by_side_only_are_hauls_under_conditions_that_both_rigs_met(seed: int) -> None:
    hauls = hauls_damaged_or_not(seed, 0.6)
    conditions = ["ground", "vessel", "stretch"]
    both = hauls.filter(pl.col("rig_version").n_unique().over(conditions) == 2)
    assert 0 < both.height < hauls.height
    kept = where_both_were(sums_of(hauls), "discs", "rope")
    assert int(kept.rows.hauls.sum()) == both.height
    question = Question("damage_events", "all", "rope", tuple(conditions), "trip")
    fitted = fit_question(question, kept)
    assert fitted is not None
    found = fitted.fit.effect(term("rig_version", "discs"))
    theirs = by_statsmodels(both, conditions, sm.families.Poisson())
    assert found[0] == pytest.approx(theirs.params[1], rel=1e-6)
