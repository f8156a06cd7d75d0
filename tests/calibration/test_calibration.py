"""A small share of the calibration, on fixed seeds; `run.py` beside it takes hundreds of seasons.

Every bound is the count that a method which just keeps the promise would miss once in 100,000.
"""

from __future__ import annotations

from collections import defaultdict

import numpy as np
import pytest
from scipy.stats import binom

from tests.calibration.counting import HALVING, NO_EFFECT, Count, Told, count, tell
from tests.calibration.run import page, seasons
from tests.calibration.seasons import DAMAGE, FISH, Setting
from tests.calibration.settings import LEAST, LEAST_OF_FEW, coverage_against_goal

SEASONS = 60
TOO_RARE = 1e-5
SMALL = Setting(6, grounds=1)
MIDDLE = Setting(12, luck=1.2)
TRIED = Setting(30, tried=4)
PROMISED = {SMALL: LEAST_OF_FEW, MIDDLE: LEAST, TRIED: LEAST}


@pytest.fixture(scope="module")
def told() -> dict[tuple[Setting, str], list[Told]]:
    """What was told of each setting and outcome."""
    found = defaultdict(list)
    for setting in PROMISED:
        for seed in range(SEASONS):
            for ratio in (NO_EFFECT, HALVING):
                for each in tell(setting, ratio, seed):
                    found[setting, each.outcome].append(each)
    return found


@pytest.mark.parametrize("outcome", [DAMAGE, FISH])
@pytest.mark.parametrize("setting", PROMISED, ids=lambda setting: setting.words)
def test_intervals_hold_the_truth_as_promised(
    told: dict[tuple[Setting, str], list[Told]], setting: Setting, outcome: str
) -> None:
    held = [each.held for each in told[setting, outcome] if each.held is not None]
    assert len(held) > SEASONS
    assert sum(held) >= binom.ppf(TOO_RARE, len(held), PROMISED[setting])


@pytest.mark.parametrize("outcome", [DAMAGE, FISH])
@pytest.mark.parametrize("setting", PROMISED, ids=lambda setting: setting.words)
def test_without_an_effect_none_is_announced_oftener_than_promised(
    told: dict[tuple[Setting, str], list[Told]], setting: Setting, outcome: str
) -> None:
    alarms = [
        each.verdict in {"lower", "higher"}
        for each in told[setting, outcome]
        if each.ratio == NO_EFFECT
    ]
    assert sum(alarms) <= binom.ppf(1 - TOO_RARE, SEASONS, 1 - PROMISED[setting])


def test_a_halving_is_seen_where_there_is_enough_to_see_it() -> None:
    verdicts = [
        each.verdict
        for seed in range(20)
        for each in tell(Setting(120, change="haul"), HALVING, seed)
    ]
    assert len(verdicts) == 40
    assert set(verdicts) == {"lower"}


def test_six_trips_on_two_grounds_are_refused() -> None:
    told = [each for seed in range(5) for each in tell(Setting(6), HALVING, seed)]
    assert [each.held for each in told] == [None] * 10


def test_counts_are_shares_of_what_was_told() -> None:
    told = [
        Told(DAMAGE, NO_EFFECT, held=True, off=0.1, verdict="too little to tell", width=1.0),
        Told(DAMAGE, NO_EFFECT, held=False, off=0.4, verdict="higher", width=1.0),
        Told(DAMAGE, HALVING, held=True, off=-0.2, verdict="lower", width=2.0),
        Told(DAMAGE, HALVING, held=None, off=None, verdict="too little to tell", width=None),
    ]
    found = count(told)
    assert (found.intervals, found.false_alarms, found.too_little) == (3, 0.5, 0.5)
    assert (found.coverage, found.not_told) == pytest.approx((2 / 3, 0.25))
    assert (found.bias, found.middle) == pytest.approx((0.1, 0.1))
    assert found.width == pytest.approx(np.e)


@pytest.mark.parametrize(
    ("trips", "coverage", "expected"),
    [
        (6, 0.91, "below"),
        (6, 0.99, "holds"),
        (12, 0.92, "below"),
        (12, 0.95, "holds"),
        (12, 0.98, "above"),
    ],
)
def test_a_missed_goal_is_named(trips: int, coverage: float, expected: str) -> None:
    counted = Count(100, coverage, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 2.0)
    assert coverage_against_goal(Setting(trips), counted) == expected


def test_the_table_names_what_misses_its_goal() -> None:
    by_chance = Count(600, 0.925, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 2.0)
    surely = Count(600, 0.85, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 2.0)
    text = page({DAMAGE: {6: by_chance, 7: surely}, FISH: {}}, 300)
    assert "7 below (no more than chance might); 8 below." in text


def test_seasons_are_the_same_in_every_process() -> None:
    one, other = (seasons(1, 2) for _ in range(2))
    assert one == other
