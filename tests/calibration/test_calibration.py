"""A small share of the calibration, on fixed seeds; `run.py` beside it takes a thousand seasons.

Every bound is the count that a method which just keeps the promise would miss once in 100,000.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import polars as pl
import pytest
from scipy.stats import binom

from pipeline.rates.rate_table import rate_of
from tests.calibration.counting import (
    HALVING,
    NO_EFFECT,
    NOT_TOLD,
    OF_ONE_RIG,
    OVER_BOATS,
    SCHEMA,
    Count,
    Held,
    Told,
    count,
    count_kinds,
    ratios_of,
    tell,
)
from tests.calibration.page import Counts, WholeCount, false_against_goal, page
from tests.calibration.run import Setting as Line
from tests.calibration.run import run, seasons
from tests.calibration.seasons import DAMAGE, FISH, RIG, Setting, invented_seasons
from tests.calibration.settings import (
    LEAST,
    LEAST_OF_FEW,
    MOST_FALSE,
    SETTINGS,
    coverage_against_goal,
    outcomes_of,
)
from tests.calibration.whole_seasons import WholeSeason, alarms

if TYPE_CHECKING:
    from pathlib import Path

SEASONS = 40
TOO_RARE = 1e-5
SMALL = Setting(6, grounds=1)
MIDDLE = Setting(12, luck=1.2)
TRIED = Setting(30, tried=4)
PROMISED = {SMALL: LEAST_OF_FEW, MIDDLE: LEAST, TRIED: LEAST}


@pytest.fixture(scope="module")
def told() -> dict[Setting, pl.DataFrame]:
    """What was told of each setting."""
    return {
        setting: pl.concat(tell(setting, effect, range(SEASONS)) for effect in (NO_EFFECT, HALVING))
        for setting in PROMISED
    }


@pytest.mark.parametrize("outcome", [DAMAGE, FISH])
@pytest.mark.parametrize("setting", PROMISED, ids=lambda setting: setting.words)
def test_intervals_hold_the_truth_as_promised(
    told: dict[Setting, pl.DataFrame], setting: Setting, outcome: str
) -> None:
    given = ratios_of(told[setting]).filter(pl.col("outcome") == outcome)["held"].drop_nulls()
    assert len(given) > SEASONS
    assert given.sum() >= binom.ppf(TOO_RARE, len(given), PROMISED[setting])


@pytest.mark.parametrize("outcome", [DAMAGE, FISH])
@pytest.mark.parametrize("setting", PROMISED, ids=lambda setting: setting.words)
def test_without_an_effect_none_is_announced_oftener_than_promised(
    told: dict[Setting, pl.DataFrame], setting: Setting, outcome: str
) -> None:
    announced = ratios_of(told[setting]).filter(
        pl.col("outcome") == outcome,
        pl.col("effect") == NO_EFFECT,
        pl.col("verdict").is_in(["lower", "higher"]),
    )
    assert announced.height <= binom.ppf(1 - TOO_RARE, SEASONS, 1 - PROMISED[setting])


@pytest.mark.parametrize("setting", PROMISED, ids=lambda setting: setting.words)
def test_rates_of_single_rigs_hold_the_truth_as_promised(
    told: dict[Setting, pl.DataFrame], setting: Setting
) -> None:
    given = told[setting].filter(pl.col("kind") == OF_ONE_RIG)["held"].drop_nulls()
    assert len(given) == 2 * 2 * 2 * SEASONS / 4
    assert given.sum() >= binom.ppf(TOO_RARE, len(given), PROMISED[setting])


@pytest.mark.parametrize(("trips", "luck"), [(2, 0.7), (3, 0.7), (3, 1.2)])
def test_a_rate_over_very_few_trips_holds_the_truth_as_promised(trips: int, luck: float) -> None:
    chance, seasons, hours = np.random.default_rng(trips), 1000, 28.0
    lucks = chance.gamma(luck**-2, luck**2, (seasons, trips))
    events = chance.poisson(8 * lucks).astype(float)
    told = [rate_of(each, np.full(trips, hours), "trip", counted=True) for each in events]
    held = [(each["low"] or 0.0) <= 8 / hours <= (each["high"] or np.inf) for each in told]
    assert None not in {each["high"] for each in told}
    assert sum(held) >= binom.ppf(TOO_RARE, seasons, LEAST_OF_FEW)


def test_a_halving_is_seen_where_there_is_enough_to_see_it() -> None:
    verdicts = ratios_of(tell(Setting(120, change="haul"), HALVING, range(20)))["verdict"]
    assert len(verdicts) == 40
    assert set(verdicts) == {"lower"}


def test_six_trips_on_two_grounds_are_refused() -> None:
    found = ratios_of(tell(Setting(6), HALVING, range(5)))
    assert found["held"].to_list() == [None] * 10
    assert set(found["kind"]) == {NOT_TOLD}


def test_boats_that_fished_both_rigs_often_enough_have_a_mean() -> None:
    found = tell(Setting(30, boats=3), NO_EFFECT, [0]).filter(pl.col("kind") == OVER_BOATS)
    assert sorted(found["outcome"]) == sorted((DAMAGE, FISH))
    assert found["held"].null_count() == 0


def test_a_season_is_the_same_beside_others_as_by_itself() -> None:
    (alone,) = invented_seasons(MIDDLE, NO_EFFECT, [3])
    beside = invented_seasons(MIDDLE, NO_EFFECT, range(5))[3]
    assert beside.sums.equals(alone.sums)
    assert beside.rates == pytest.approx(alone.rates, rel=1e-12)


def test_the_true_rate_is_what_the_rig_has_in_the_mean_over_seasons() -> None:
    many = invented_seasons(Setting(6, luck=0.0), HALVING, range(200))
    sums = pl.concat(season.sums for season in many).filter(
        pl.col("outcome") == FISH, pl.col("rig_version") == RIG
    )
    true = float(np.mean([season.rates[FISH, RIG] for season in many]))
    assert sums["total"].sum() / sums["tow_hours"].sum() == pytest.approx(true, rel=0.05)


def test_fish_is_told_of_one_setting_where_settings_differ_in_damage_alone() -> None:
    told_of = {setting.plain for setting in SETTINGS if FISH in outcomes_of(setting)}
    assert told_of == {setting.plain for setting in SETTINGS}
    assert outcomes_of(Setting(12, events="rare")) == (DAMAGE,)


def test_counts_are_shares_of_what_was_told() -> None:
    by_trip, exact = "one trip left out at a time", "exact limits"
    rows = [
        Told(DAMAGE, by_trip, NO_EFFECT, held=True, off=0.1, verdict="too little", width=1.0),
        Told(DAMAGE, by_trip, NO_EFFECT, held=False, off=0.4, verdict="higher", width=1.0),
        Told(DAMAGE, exact, HALVING, held=True, off=-0.2, verdict="lower", width=2.0),
        Told(
            DAMAGE,
            NOT_TOLD,
            HALVING,
            held=None,
            off=None,
            verdict="too little to tell",
            width=None,
        ),
        Told(DAMAGE, OF_ONE_RIG, HALVING, held=True, off=9.0, verdict=None, width=9.0),
    ]
    table = pl.DataFrame(rows, schema=SCHEMA)
    found = count(ratios_of(table))
    assert (found.intervals, found.false_alarms, found.too_little) == (3, 0.5, 0.5)
    assert (found.coverage, found.not_told) == pytest.approx((2 / 3, 0.25))
    assert (found.bias, found.middle) == pytest.approx((0.1, 0.1))
    assert found.width == pytest.approx(np.e)
    assert count_kinds(table) == {by_trip: Held(2, 1), exact: Held(1, 1), OF_ONE_RIG: Held(1, 1)}


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


def test_of_few_events_intervals_may_be_wide_and_not_narrow() -> None:
    few = Setting(12, events="few")
    wide, narrow = (Count(100, held, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 2.0) for held in (0.99, 0.9))
    assert coverage_against_goal(few, wide) == "holds"
    assert coverage_against_goal(few, narrow) == "below"


def test_the_table_names_what_misses_its_goal() -> None:
    by_chance = Count(600, 0.925, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 2.0)
    surely = Count(600, 0.85, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 2.0)
    text = page(Counts({DAMAGE: {6: by_chance, 7: surely}, FISH: {}}), 300)
    assert "7 below (no more than chance might); 8 below." in text


@pytest.mark.parametrize(
    ("share", "expected"),
    [(0.05, "holds"), (0.06, "above (no more than chance might)"), (0.08, "above")],
)
def test_false_headlines_are_held_to_their_goal(share: float, expected: str) -> None:
    assert false_against_goal(WholeCount(1000, 12.0, share, 0.3, 0.6, 0.95)) == expected


def test_nothing_is_told_to_differ_in_whole_seasons_oftener_than_promised() -> None:
    found = alarms(WholeSeason(30, 1, "haul"), range(15))
    assert set(found["compared"]) == {12}
    assert found["headline"].sum() <= binom.ppf(1 - TOO_RARE, found.height, MOST_FALSE)
    assert found["headline"].sum() < found["any_alone"].sum()


def test_seasons_are_the_same_in_every_process() -> None:
    one, other = (seasons(Line("ratios", 1), range(2)) for _ in range(2))
    assert one.equals(other)


def test_a_run_that_was_broken_off_goes_on(tmp_path: Path) -> None:
    line = Line("ratios", 1)
    first = run([line], 2, tmp_path)
    (place,) = tmp_path.iterdir()
    assert place.name == "ratios-2-0-2.parquet"
    assert page(run([line], 2, tmp_path), 2) == page(first, 2)
    pl.read_parquet(place).with_columns(held=False).write_parquet(place)
    assert run([line], 2, tmp_path).ratios[DAMAGE][1].coverage == 0
