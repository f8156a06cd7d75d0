"""Limits and comparisons of torn parts, against scipy, statsmodels and R."""

from __future__ import annotations

import numpy as np
import polars as pl
import pytest
import statsmodels.api as sm
from scipy.stats import binom, binomtest
from statsmodels.stats.rates import confint_poisson

from pipeline.damage.against_reference import ByTrip, against_reference, clustering
from tests.spec.torn_nets import found_in

PAIRS = [(9, 310.0, 4, 240.0), (38, 1400.4, 19, 1605.6), (3, 12.5, 40, 900.0), (1, 80.0, 1, 90.0)]


def of(torn: float, hours: float) -> ByTrip:
    """One trip."""
    return ByTrip(np.array([torn]), np.array([hours]))


@pytest.mark.parametrize("pair", PAIRS)
def test_the_ratio_of_two_has_the_limits_of_clopper_and_pearson(
    pair: tuple[int, float, int, float],
) -> None:
    torn, hours, other, other_hours = pair
    found = against_reference(of(torn, hours), of(other, other_hours), "model")
    limits = binomtest(torn, torn + other).proportion_ci(method="exact")
    odds = [end / (1 - end) * other_hours / hours for end in (limits.low, limits.high)]
    assert (found.low, found.high) == pytest.approx(tuple(odds), rel=1e-9)
    assert found.ratio == pytest.approx(torn / hours / (other / other_hours), rel=1e-12)


@pytest.mark.parametrize("pair", [*PAIRS, (0, 240.0, 9, 310.0), (9, 310.0, 0, 240.0)])
def test_the_chance_is_twice_the_smaller_tail_of_the_binomial(
    pair: tuple[int, float, int, float],
) -> None:
    torn, hours, other, other_hours = pair
    found = against_reference(of(torn, hours), of(other, other_hours), "model")
    share, both = hours / (hours + other_hours), torn + other
    tails = binom.cdf(torn, both, share), binom.sf(torn - 1, both, share)
    assert found.chance == pytest.approx(min(1.0, 2 * min(tails)), rel=1e-9)


def test_a_rig_without_a_tear_has_the_limits_that_r_gives() -> None:
    # R 4.2.2, poisson.test(c(0, 9), c(240, 310)).
    found = against_reference(of(0, 240), of(9, 310), "model")
    assert (found.ratio, found.low) == (0.0, 0.0)
    assert found.high == pytest.approx(0.65439733, rel=1e-7)


def test_a_reference_without_a_tear_has_no_upper_limit() -> None:
    found = against_reference(of(9, 310), of(0, 240), "model")
    assert (found.ratio, found.high) == (None, None)
    assert found.low == pytest.approx(1 / 0.65439733, rel=1e-7)


def random_trips(seed: int) -> tuple[ByTrip, ByTrip]:
    """Thirty trips, some with both rigs, on which tears come in bunches."""
    chance = np.random.default_rng(seed)
    hours, other_hours = chance.uniform(5, 60, (2, 30))
    hours[:8], other_hours[-9:] = 0.0, 0.0
    bunch = chance.gamma(0.7, 1 / 0.7, 30)
    return (
        ByTrip(chance.poisson(0.1 * hours * bunch).astype(float), hours),
        ByTrip(chance.poisson(0.05 * other_hours * bunch).astype(float), other_hours),
    )


@pytest.mark.parametrize("seed", range(5))
def test_clustering_is_that_of_errors_by_trip_in_statsmodels(seed: int) -> None:
    rig, reference = random_trips(seed)
    rows = [
        (trip, is_rig, torn, hours)
        for is_rig, side in ((1.0, rig), (0.0, reference))
        for trip, (torn, hours) in enumerate(zip(side.torn, side.hours, strict=True))
        if hours
    ]
    trip, is_rig, torn, hours = map(np.array, zip(*rows, strict=True))
    model = sm.GLM(
        torn, sm.add_constant(is_rig), family=sm.families.Poisson(), offset=np.log(hours)
    )
    by_law = model.fit(tol=1e-12).cov_params()[1, 1]
    clustered = model.fit(
        tol=1e-12, cov_type="cluster", cov_kwds={"groups": trip, "use_correction": False}
    ).cov_params()[1, 1]
    wider = clustered * 30 / 29 / by_law
    assert clustering(rig, reference) == pytest.approx(max(1.0, wider), rel=1e-6)


def test_clustered_tears_widen_the_limits_and_make_chance_likelier() -> None:
    rig, reference = random_trips(1)
    by_trip = against_reference(rig, reference, "trip")
    by_law = against_reference(rig, reference, "model")
    assert clustering(rig, reference) > 1
    assert by_trip.low < by_law.low
    assert by_trip.high is not None
    assert by_law.high is not None
    assert by_trip.high > by_law.high
    assert by_trip.chance > by_law.chance
    assert by_trip.ratio == by_law.ratio


@pytest.mark.parametrize("torn", [0, 1, 4, 9])
def test_few_tears_have_the_exact_limits_of_statsmodels(torn: int) -> None:
    hauls = pl.DataFrame(
        {
            "row": range(20),
            "vessel": "Skua",
            "trip": [str(row // 2) for row in range(20)],
            "haul": [str(row) for row in range(20)],
            "rig_version": "rope",
            "ground": "sand",
            "tow_hours": 3.7,
            "damage_events": [int(row < torn) for row in range(20)],
            "parts": "wing",
        }
    )
    wing = next(p for p in found_in(hauls).parts if p.rig == "rope" and p.part == "wing")
    low, high = confint_poisson(torn, 20 * 3.7, method="exact-c")
    assert wing.hauls == torn
    assert wing.high == pytest.approx(100 * high, rel=1e-9)
    assert wing.low == pytest.approx(100 * (low if torn else 0.0), rel=1e-9)
