"""Exact limits of a rate and of a ratio of two, against published tables and R."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import binomtest

from pipeline.rates.exact import (
    limits_without_events,
    rate_limits,
    rate_limits_in_clumps,
    ratio_limits,
)

# Garwood, Biometrika 28 (1936) 437; digits from poisson.test of R 4.2.2.
GARWOOD = {
    0: (0.0, 3.6888795),
    1: (0.025317808, 5.5716434),
    2: (0.242209279, 7.2246877),
    3: (0.618672123, 8.7672731),
    5: (1.623486390, 11.6683321),
    10: (4.795388696, 18.3903560),
    100: (81.363991251, 121.6267938),
}


@pytest.mark.parametrize("events", GARWOOD)
def test_limits_of_a_count_are_those_of_garwood(events: int) -> None:
    assert rate_limits(events, 1.0) == pytest.approx(GARWOOD[events], rel=1e-7)


@pytest.mark.parametrize("hours", [0.02, 12.0, 9489.0])
def test_limits_of_a_rate_are_those_of_the_count_over_the_hours(hours: float) -> None:
    low, high = rate_limits(5, hours)
    assert (low * hours, high * hours) == pytest.approx(GARWOOD[5], rel=1e-7)


def test_rate_of_ships_of_type_a() -> None:
    # McCullagh & Nelder 1989, section 6.3.2, the table; limits of Garwood 1936 by R 4.2.2
    # poisson.test(42, 9.489): per thousand months of service.
    assert rate_limits(42, 9.489) == pytest.approx((3.1899996, 5.9829064), rel=1e-7)


@pytest.mark.parametrize("clumps", GARWOOD)
@pytest.mark.parametrize("clump", [1, 2, 7])
def test_clumps_of_one_size_have_the_limits_of_garwood_so_many_times(
    clumps: int, clump: int
) -> None:
    by_trip = np.array([clump] * clumps + [0.0] * 3, dtype=float)
    per_clump = 1 if clumps == 0 else clump
    expected = tuple(per_clump * limit / 50.0 for limit in GARWOOD[clumps])
    assert rate_limits_in_clumps(by_trip, 50.0) == pytest.approx(expected, rel=1e-7)


def limits(
    events: float, hours: float, reference_events: float, reference_hours: float
) -> tuple[float | None, float | None]:
    """Return the limits of one stratum."""
    one_stratum = [np.array([v]) for v in (events, hours, reference_events, reference_hours)]
    return limits_without_events(*one_stratum)


def test_ratio_of_two_rates_has_the_limits_of_r() -> None:
    # poisson.test(c(11, 6 + 8 + 7), c(800, 1083 + 1050 + 878)), the example on R's own help page of
    # poisson.test: 95 percent confidence interval 0.8584264 4.2772659 (digits from memory).
    found = ratio_limits((11, 800), (6 + 8 + 7, 1083 + 1050 + 878))
    assert found == pytest.approx((0.8584264, 4.2772659), rel=1e-7)


@pytest.mark.parametrize("confidence", [0.95, 0.9958])
def test_the_ratio_of_two_rates_has_the_limits_of_scipys_binomial(confidence: float) -> None:
    # Clopper & Pearson, Biometrika 26 (1934) 404, by scipy.stats.binomtest.
    share = binomtest(3, 3 + 17).proportion_ci(confidence, method="exact")
    expected = [each / (1 - each) * 126 / 140 for each in (share.low, share.high)]
    assert ratio_limits((3, 140), (17, 126), confidence) == pytest.approx(expected, rel=1e-9)


def test_ratio_with_no_event_of_the_one_has_an_upper_limit() -> None:
    # R 4.2.2, poisson.test(c(0, 9), c(240, 310)).
    assert limits(0, 240, 9, 310) == pytest.approx((0.0, 0.65439733), rel=1e-7)
    assert ratio_limits((0, 240), (9, 310)) == pytest.approx((0.0, 0.65439733), rel=1e-7)


def test_ratio_with_no_event_of_the_reference_has_no_upper_limit() -> None:
    # The same turned round: the lower limit is one over the upper limit above.
    low, high = limits(9, 310, 0, 240)
    assert low == pytest.approx(1 / 0.65439733, rel=1e-7)
    assert high is None
    assert ratio_limits((9, 310), (0, 240)) == pytest.approx((1 / 0.65439733, np.inf), rel=1e-7)


def test_ratio_without_any_event_says_nothing() -> None:
    # Of nothing at all every ratio is possible; no source needed.
    assert limits(0, 240, 0, 310) == (0.0, None)


def test_strata_that_are_alike_count_as_one_and_those_of_one_rig_as_none() -> None:
    # Two strata with the hours in the same proportion are one stratum of their sums.
    zero = np.zeros(3)
    hours, other_events = np.array([100.0, 140.0, 500.0]), np.array([4.0, 5.0, 0.0])
    other_hours = np.array([310 * 100 / 240, 310 * 140 / 240, 0.0])
    assert limits_without_events(zero, hours, other_events, other_hours) == pytest.approx(
        limits(0, 240, 9, 310), rel=1e-9
    )
