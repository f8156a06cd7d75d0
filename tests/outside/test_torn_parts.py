"""Limits and comparisons of torn parts, against scipy and statsmodels."""

from __future__ import annotations

from itertools import combinations, product

import numpy as np
import polars as pl
import pytest
import statsmodels.api as sm
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import fisher_exact, hypergeom, t, ttest_ind
from statsmodels.stats.contingency_tables import StratifiedTable
from statsmodels.stats.multitest import multipletests
from statsmodels.stats.rates import confint_poisson

from pipeline.damage.against_reference import (
    TearsByTrip,
    against_reference,
    chance_by_trip,
    exact_chance,
    hypergeometric,
)
from pipeline.damage.compared_parts import raised_for_many
from tests.proofs.torn_parts_over_seasons import SHARES, false_alarms
from tests.spec.torn_nets import found_in

TABLES = [(9, 14, 4, 20), (38, 60, 19, 70), (3, 5, 40, 90), (1, 9, 1, 8), (0, 12, 9, 31)]
"""Tears that name the part and tears, of the rig and of the reference."""


def of(named: list[list[float]], told: list[list[float]]) -> TearsByTrip:
    """By condition and trip."""
    return TearsByTrip(np.array(named, dtype=float), np.array(told, dtype=float))


def random_tears(
    seed: int, strata: int = 3, trips: int = 30, most: int = 6
) -> tuple[TearsByTrip, TearsByTrip]:
    """Trips with some tears of either rig, more alike than chance would make them."""
    chance = np.random.default_rng(seed)
    share = chance.beta(1, 1, trips)
    told = chance.integers(0, most, (2, strata, trips)).astype(float)
    own, other = (TearsByTrip(chance.binomial(n.astype(int), share).astype(float), n) for n in told)
    return own, other


@pytest.mark.parametrize("seed", range(5))
def test_the_ratio_of_shares_is_that_of_mantel_and_haenszel_in_statsmodels(seed: int) -> None:
    rig, reference = random_tears(seed)
    tables = [
        [
            [named, told - named]
            for named, told in ((side.named[at].sum(), side.told[at].sum()) for side in pair)
        ]
        for pair in [(rig, reference)]
        for at in range(3)
    ]
    found = against_reference(rig, reference, "trip")
    pooled = StratifiedTable([np.array(table) for table in tables]).riskratio_pooled
    assert found.ratio == pytest.approx(pooled, rel=1e-12)
    assert found.ratio == pytest.approx(found.share / found.reference_share, rel=1e-12)


@pytest.mark.parametrize("table", TABLES)
def test_on_one_ground_the_exact_chance_is_twice_fishers_smaller_tail(
    table: tuple[int, int, int, int],
) -> None:
    named, told, other, others = table
    rig, reference = of([[named]], [[told]]), of([[other]], [[others]])
    four = [[named, told - named], [other, others - other]]
    tails = [fisher_exact(four, alternative=way).pvalue for way in ("less", "greater")]
    assert exact_chance(rig, reference) == pytest.approx(min(1.0, 2 * min(tails)), rel=1e-9)


@given(tears=st.integers(1, 400), others=st.integers(0, 400), part=st.floats(0, 1, allow_nan=False))
def test_how_tears_are_dealt_out_is_hypergeometric_as_in_scipy(
    tears: int, others: int, part: float
) -> None:
    named = round(part * (tears + others))
    own = np.arange(max(0, named - others), min(named, tears) + 1)
    expected = hypergeom.pmf(own, tears + others, named, tears)
    assert hypergeometric(own, named, tears, others) == pytest.approx(expected, rel=1e-9, abs=1e-12)


@settings(max_examples=20)  # statsmodels collects all garbage at each call
@given(st.lists(st.floats(0, 1, allow_nan=False), min_size=1, max_size=12))
def test_chances_of_many_are_raised_as_by_holm_in_statsmodels(chances: list[float]) -> None:
    _, expected, *_ = multipletests(chances, method="holm")
    assert raised_for_many(chances) == pytest.approx(expected.tolist(), rel=1e-12)


def test_on_two_grounds_the_exact_chance_is_that_of_every_way_to_deal_the_tears_out() -> None:
    # Ground one: 3 of 4 tears with the rig, 1 of 4 beside it; ground two: 2 of 3, 0 of 4.
    rig, reference = of([[3], [2]], [[4], [3]]), of([[1], [0]], [[4], [4]])
    grounds = [([1, 1, 1, 0, 1, 0, 0, 0], 4), ([1, 1, 0, 0, 0, 0, 0], 3)]
    dealt = [
        [sum(tears[at] for at in own) for own in combinations(range(len(tears)), many)]
        for tears, many in grounds
    ]
    sums = [one + two for one, two in product(*dealt)]
    tails = np.mean([s >= 5 for s in sums]), np.mean([s <= 5 for s in sums])
    assert exact_chance(rig, reference) == pytest.approx(2 * min(tails), rel=1e-12)


def test_trips_of_as_many_tears_each_are_compared_as_by_welch() -> None:
    # Six trips with either rig, ten tears in each.
    own, other = [9.0, 4, 7, 8, 3, 9], [2.0, 1, 6, 3, 2, 4]
    none = [0.0] * 6
    rig = of([own + none], [[10.0] * 6 + none])
    reference = of([none + other], [none + [10.0] * 6])
    welch = abs(ttest_ind(own, other, equal_var=False).statistic)
    assert chance_by_trip(rig, reference) == pytest.approx(2 * t.sf(welch, 5), rel=1e-9)


def test_errors_by_trip_are_those_of_statsmodels_where_all_trips_have_both_rigs() -> None:
    # Thirty trips with four tears of either rig: each trip is a cluster of a line on single tears.
    chance = np.random.default_rng(3)
    share = chance.beta(1, 1, 30)
    named = chance.binomial(4, [share, share]).astype(float)
    rig, reference = (of([side.tolist()], [[4.0] * 30]) for side in named)
    rows = [
        (trip, is_rig, float(at < named[1 - is_rig, trip]))
        for trip in range(30)
        for is_rig in (0, 1)
        for at in range(4)
    ]
    trip, is_rig, tore = map(np.array, zip(*rows, strict=True))
    line = sm.OLS(tore, sm.add_constant(is_rig)).fit(
        cov_type="cluster", cov_kwds={"groups": trip, "use_correction": False}
    )
    statistic = abs(line.params[1]) / np.sqrt(line.cov_params()[1, 1] * 30 / 29)
    assert chance_by_trip(rig, reference) == pytest.approx(2 * t.sf(statistic, 29), rel=1e-9)


def test_few_trips_that_happen_to_agree_are_not_believed_to_scatter_less() -> None:
    # Four trips with none of five; 30 with all of five or none by turns.
    none, many = [0.0] * 4, [5.0, 0.0] * 15
    rig = of([none + [0.0] * 30], [[5.0] * 4 + [0.0] * 30])
    reference = of([none + many], [none + [5.0] * 30])
    # By itself the rig's share has no error, and the reference's 30 trips make 0.5 ± 0.0928.
    believed = 2 * t.sf(0.5 / 0.0928, 3)
    assert believed < 0.05 < chance_by_trip(rig, reference)


def test_tears_on_a_ground_that_the_other_rig_did_not_tear_on_count_for_nothing() -> None:
    rig, reference = random_tears(7)
    alone = np.full((1, 30), 2.0)
    more = TearsByTrip(np.vstack([rig.named, alone]), np.vstack([rig.told, alone]))
    none = np.zeros((1, 30))
    beside = TearsByTrip(np.vstack([reference.named, none]), np.vstack([reference.told, none]))
    assert against_reference(more, beside, "trip") == against_reference(rig, reference, "trip")


def test_a_reference_that_never_tore_the_part_leaves_no_ratio() -> None:
    found = against_reference(of([[2, 1]], [[3, 3]]), of([[0, 0]], [[4, 4]]), "model")
    assert (found.share, found.reference_share, found.ratio) == (0.5, 0.0, None)
    assert (found.tears, found.reference_tears) == (6, 8)


@pytest.mark.parametrize("trips", [(3, 3), (6, 6), (10, 10), (10, 60), (60, 60)])
def test_without_a_difference_one_is_told_in_no_more_than_one_season_in_twenty(
    trips: tuple[int, int],
) -> None:
    # A share of tests/proofs/torn_parts_over_seasons.py, with trips very much alike in themselves.
    seasons, told, by_tear = false_alarms(trips, SHARES[0], 0.5, 150)
    error = np.sqrt(0.05 * 0.95 / seasons)
    assert told / seasons <= 0.05 + 2 * error
    assert by_tear / seasons > 0.15  # so strong is the clustering


@pytest.mark.parametrize("torn", [0, 1, 4, 9])
def test_few_tears_have_the_exact_limits_of_statsmodels_or_the_wider_ones_by_trip(
    torn: int,
) -> None:
    hauls = pl.DataFrame(
        {
            "row": range(20),
            "vessel": "Skua",
            "trip": [str(row // 2) for row in range(20)],
            "haul": [str(row) for row in range(20)],
            "rig_version": "rope",
            "ground": "sand",
            "tow_hours": 3.7,
            "damage_events": [int(row % 2 == 0 and row < 2 * torn) for row in range(20)],
            "parts": "wing",
        }
    )
    wing = next(p for p in found_in(hauls).parts if p.rig == "rope" and p.part == "wing")
    low, high = confint_poisson(torn, 20 * 3.7, method="exact-c")
    assert wing.hauls == torn
    exact = (pytest.approx(100 * (low if torn else 0.0), rel=1e-9), pytest.approx(100 * high))
    if torn in {0, 1, 9}:  # trips agree, or one of them had all
        assert (wing.low, wing.high) == exact
    else:
        assert wing.low <= exact[0].expected
        assert wing.high >= exact[1].expected
