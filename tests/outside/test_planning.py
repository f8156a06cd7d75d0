"""What a season could have shown, against R's power row and statsmodels' power of a t-test."""

from __future__ import annotations

from itertools import pairwise
from math import exp, inf, log, log1p

import numpy as np
import pytest
from scipy.stats import norm
from statsmodels.stats.power import TTestPower

from pipeline.rates.behind import RigHauls
from pipeline.rates.planning import Conditions, hauls_wanted, power_to_show, smallest_shown

# R 4.2.2: events needed to see a halved rate, equal hours, two-sided 5 %, 80 %:
# z <- (qnorm(.975) + qnorm(.8))^2; z * (1 + 1/.5) / log(.5)^2 and half of that.
CONTROL, CHANGED = 49.009244, 24.504622
BY_CHANCE = 1.0


@pytest.mark.parametrize("per_haul", [0.00013, 0.0017, 0.0061])
def test_hauls_for_a_halving_hold_the_events_of_the_power_row(per_haul: float) -> None:
    # Rare events, so that the hauls, which are whole, tell the events to five figures.
    seen = Conditions(BY_CHANCE, per_haul, trips_per_haul=0.1, by_trips=False)
    hauls = hauls_wanted(0.5, seen, 0.95)
    assert hauls is not None
    assert (hauls - 1) * per_haul < CONTROL <= hauls * per_haul
    assert hauls * per_haul / 2 == pytest.approx(CHANGED, abs=per_haul)


@pytest.mark.parametrize("share", [0.05, 0.3, 0.6])
def test_of_hauls_damaged_or_not_a_halving_is_one_of_damage(share: float) -> None:
    # The sum for two proportions, by the logarithm of their ratio (Katz 1978, the variance of a log
    # risk ratio): halved damage leaves 1 - (1 - share)^(1/2) of the hauls with some, not half.
    alike = RigHauls(mean=np.array([-log1p(-share)]), hauls=np.array([1.0]), luck=0.0)
    seen = Conditions(BY_CHANCE, share, trips_per_haul=0.1, by_trips=False, law=alike)
    less = 1 - (1 - share) ** 0.5
    z = norm.ppf(0.975) + norm.ppf(0.8)
    wanted = z**2 * ((1 - less) / less + (1 - share) / share) / log(less / share) ** 2
    hauls = hauls_wanted(0.5, seen, 0.95)
    assert hauls is not None
    assert hauls - 1 < wanted <= hauls


def test_twice_the_spread_wants_twice_the_hauls() -> None:
    # The variance of the log ratio is in proportion to the spread and to one over the hauls.
    once, twice = (
        hauls_wanted(0.5, Conditions(excess, 0.0017, 0.1, by_trips=False), 0.95)
        for excess in (1.0, 2.0)
    )
    assert once is not None
    assert twice is not None
    assert twice == pytest.approx(2 * once, abs=2)


def test_the_season_that_had_just_so_many_hauls_could_have_shown_just_that() -> None:
    # 49.009 and 24.505 events: the smallest ratio shown is the halving they were wanted for.
    std_error = (1 / CONTROL + 1 / CHANGED) ** 0.5
    assert exp(-smallest_shown(std_error, inf, 0.95)) == pytest.approx(0.5, abs=1e-7)


@pytest.mark.parametrize("freedom", [2, 5, 11, 57, 1000])
@pytest.mark.parametrize("comparisons", [1, 12])
def test_the_smallest_shown_is_that_of_the_noncentral_t(freedom: int, comparisons: int) -> None:
    # statsmodels 0.15, TTestPower: effect size d of n = freedom + 1, noncentrality d √n.
    alpha = 0.05 / comparisons
    away = smallest_shown(1.0, freedom, 1 - alpha)
    power = TTestPower().power(
        away / (freedom + 1) ** 0.5, nobs=freedom + 1, alpha=alpha / 2, alternative="larger"
    )
    assert power == pytest.approx(0.8, abs=1e-9)


def test_with_many_trips_it_is_that_of_the_normal() -> None:
    assert smallest_shown(0.3, 1e7, 0.95) == pytest.approx(smallest_shown(0.3, inf, 0.95), rel=1e-5)


def test_more_is_wanted_of_one_among_many() -> None:
    seen = Conditions(1.4, 0.17, trips_per_haul=0.12, by_trips=True)
    wanted = [hauls_wanted(0.5, seen, 1 - 0.05 / many) for many in (1, 2, 12, 100)]
    assert all(fewer < more for fewer, more in pairwise(h for h in wanted if h is not None))
    assert None not in wanted


@pytest.mark.parametrize(
    ("excess", "per_haul", "trips_per_haul"),
    [(1e-9, 1e6, 1.0), (1e-9, 20.0, 0.001), (1e4, 1e-6, 0.1), (1.0, 1.0, 1.0)],
)
def test_odd_seasons_get_a_number_or_none(
    excess: float, per_haul: float, trips_per_haul: float
) -> None:
    wanted = hauls_wanted(0.5, Conditions(excess, per_haul, trips_per_haul, by_trips=True), 0.95)
    if excess > 1:
        assert wanted is None
    else:
        assert wanted is not None
        assert wanted >= max(5, 3 / trips_per_haul)


def test_what_is_far_off_is_shown_for_certain_and_what_is_at_1_hardly_ever() -> None:
    for freedom in (2.0, 30.0, inf):
        assert power_to_show(1e9, freedom, 0.95) == pytest.approx(1.0, abs=1e-3)
        assert power_to_show(0.0, freedom, 0.95) == pytest.approx(0.025, abs=1e-9)
