"""Two rigs in one tow, against statsmodels, scipy and laws put in.

References: `statsmodels.discrete.conditional_models.ConditionalPoisson`, with each tow a group;
`scipy.stats.binomtest(...).proportion_ci("exact")` (Clopper and Pearson) for few tears.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import binomtest
from statsmodels.discrete.conditional_models import ConditionalPoisson

from pipeline.rates.looks import Judging
from pipeline.rates.twin_tows import TwinTows, find_twin_tows
from schemas.codes import InTurn, NetSides, TowsWithout, Verdict

if TYPE_CHECKING:
    from collections.abc import Sequence

DAMAGE, FISH = "damage_events", "bottom_living_kg"
TRUTH = 0.6
FIRST_SHOT = datetime(2031, 4, 2, 5, 40)


def trial(seed: int, trips: int, tows: int, rate: float = 0.1, spread: float = 0.0) -> pl.DataFrame:
    """Tows that differ much among themselves, each with both rigs; `hoppers` truly have TRUTH.

    `spread` is how far that differs from trip to trip, in logarithms.
    """
    chance = np.random.default_rng(seed)
    of_trip = TRUTH * np.exp(chance.normal(0, spread, trips))
    rows = []
    for tow in range(trips * tows):
        rough, rich = np.exp(chance.normal(0, 0.7, 2))
        for rig, times in (("discs", 1.0), ("hoppers", of_trip[tow // tows])):
            hours = chance.uniform(3, 5)
            torn = float(chance.random() < 1 - np.exp(-rate * hours * rough * times))
            fish = chance.gamma(2, 5 * hours * rich * times)
            shot = FIRST_SHOT + timedelta(hours=5 * tow)
            rows.append(("Fulmar", str(tow // tows), shot, rig, hours, torn, fish))
    columns = ["vessel", "trip", "shot_at", "rig_version", "tow_hours", DAMAGE, FISH]
    not_written = pl.lit(None, pl.String).alias("net_side")
    return pl.DataFrame(rows, columns, orient="row").with_columns(not_written)


def with_sides(hauls: pl.DataFrame, to_port: int, times: float = 1.0) -> pl.DataFrame:
    """With the hoppers to port in the first so many tows of ten, where a net has so much more."""
    number = pl.col("shot_at").rank("dense") - 1
    is_hoppers = pl.col("rig_version") == "hoppers"
    at_port = is_hoppers == (number % 10 < to_port)
    return hauls.with_columns(
        pl.when(at_port).then(pl.lit("port")).otherwise(pl.lit("starboard")).alias("net_side"),
        pl.col(FISH) * pl.when(at_port).then(times).otherwise(1.0),
    )


def found_in(hauls: pl.DataFrame, name: str) -> TwinTows:
    (found,) = (row for row in find_twin_tows(hauls, "discs", Judging()) if row.outcome == name)
    return found


@pytest.mark.parametrize("seed", range(3))
def test_a_ratio_is_that_of_the_conditional_likelihood_of_statsmodels(seed: int) -> None:
    caught = trial(seed, 3, 20)
    theirs = ConditionalPoisson(
        caught[FISH].to_numpy(),
        (caught["rig_version"] == "hoppers").to_numpy().astype(float)[:, None],
        groups=caught["shot_at"].rank("dense").to_numpy(),
        offset=np.log(caught["tow_hours"].to_numpy()),
    ).fit()
    found = found_in(caught, FISH)
    assert found.ratio is not None
    assert np.log(found.ratio) == pytest.approx(theirs.params[0], abs=1e-4)
    assert (found.tows, found.trips, found.left_out) == (60, 3, InTurn.TOWS)


@pytest.mark.parametrize("seed", range(3))
def test_sides_that_changed_have_a_term_of_their_own_as_in_statsmodels(seed: int) -> None:
    caught = with_sides(trial(seed, 3, 20), 7, times=1.6)
    terms = [caught["net_side"] == "port", caught["rig_version"] == "hoppers"]
    theirs = ConditionalPoisson(
        caught[FISH].to_numpy(),
        np.column_stack([term.to_numpy().astype(float) for term in terms]),
        groups=caught["shot_at"].rank("dense").to_numpy(),
        offset=np.log(caught["tow_hours"].to_numpy()),
    ).fit()
    found = found_in(caught, FISH)
    assert found.ratio is not None
    assert np.log(found.ratio) == pytest.approx(theirs.params[1], abs=1e-4)
    assert (found.sides, found.nearer_port, found.tows) == (NetSides.HELD, 42, 60)


def test_the_side_is_out_of_the_ratio_where_it_changed_and_in_it_where_it_did_not() -> None:
    """A net to port catches twice as much: over many tows that is all the error there is."""
    hauls = trial(2, 12, 200)
    changed, always = (found_in(with_sides(hauls, port, 2.0), FISH) for port in (6, 10))
    assert changed.ratio == pytest.approx(TRUTH, rel=0.05)
    assert always.ratio == pytest.approx(2 * TRUTH, rel=0.05)
    assert (changed.sides, always.sides) == (NetSides.HELD, NetSides.ONE_SIDE)


@pytest.mark.parametrize(
    ("to_starboard", "sides"),
    [([], NetSides.ONE_SIDE), ([0, 1], NetSides.ONE_SIDE), ([0, 1, 2], NetSides.HELD)],
)
def test_a_rig_that_was_nearly_always_on_one_side_is_not_told_from_it(
    to_starboard: list[int], sides: NetSides
) -> None:
    hauls = trial(3, 1, 30)
    number = pl.col("shot_at").rank("dense").cast(pl.Int64) - 1
    at_port = (pl.col("rig_version") == "hoppers") != number.is_in(to_starboard)
    side = pl.when(at_port).then(pl.lit("port")).otherwise(pl.lit("starboard"))
    found = found_in(hauls.with_columns(side.alias("net_side")), FISH)
    assert (found.sides, found.nearer_port) == (sides, 30 - len(to_starboard))


def test_sides_want_two_trips_each_where_trips_are_left_out() -> None:
    hauls = trial(3, 8, 10)
    first = (pl.col("trip") == "0") == (pl.col("rig_version") == "hoppers")
    side = pl.when(first).then(pl.lit("port")).otherwise(pl.lit("starboard"))
    found = found_in(hauls.with_columns(side.alias("net_side")), FISH)
    assert (found.sides, found.left_out) == (NetSides.ONE_SIDE, InTurn.TRIPS)


def test_a_side_that_is_not_written_once_or_is_the_same_for_both_is_not_held_alike() -> None:
    hauls = with_sides(trial(3, 1, 30), 5)
    first = pl.col("shot_at") == pl.col("shot_at").min()
    blank = pl.when(~first).then("net_side").alias("net_side")
    same = pl.when(first).then(pl.lit("middle")).otherwise("net_side").alias("net_side")
    for told in (blank, same):
        assert found_in(hauls.with_columns(told), FISH).sides == NetSides.NOT_WRITTEN


def test_of_few_tears_sides_are_not_held_alike() -> None:
    hauls = with_sides(trial(1, 1, 30), 5)
    torn = (pl.col("shot_at").rank("dense") <= 3) & (pl.col("rig_version") == "discs")
    found = found_in(hauls.with_columns(torn.cast(pl.Float64).alias(DAMAGE)), DAMAGE)
    assert (found.sides, found.left_out) == (NetSides.CHANGED, None)


def test_the_error_is_near_that_of_finding_it_anew_without_each_tow() -> None:
    hauls = trial(5, 1, 40)
    found = found_in(hauls, FISH)
    without = [
        np.log(found_in(hauls.filter(pl.col("shot_at") != shot), FISH).ratio or np.nan)
        for shot in hauls["shot_at"].unique()
    ]
    error = np.sqrt(39 / 40 * np.square(without - np.log(found.ratio or np.nan)).sum())
    reach = np.log(width_of(found)) / 2
    assert reach == pytest.approx(2.0227 * error, rel=0.03)  # t of 39, by a printed table


@pytest.mark.parametrize(("with_rig", "with_other"), [(1, 9), (0, 7), (4, 6), (3, 0)])
def test_few_tears_have_the_limits_of_clopper_and_pearson(with_rig: int, with_other: int) -> None:
    hauls = trial(1, 1, 30).with_columns(tow_hours=pl.lit(4.0))
    tow = pl.col("shot_at").rank("dense")
    torn = pl.when(pl.col("rig_version") == "hoppers")
    torn_tows = torn.then(tow <= with_rig).otherwise(tow > 30 - with_other)
    found = found_in(hauls.with_columns(torn_tows.cast(pl.Float64).alias(DAMAGE)), DAMAGE)
    share = binomtest(with_rig, with_rig + with_other).proportion_ci(method="exact")
    assert found.low == pytest.approx(share.low / (1 - share.low), rel=1e-9)
    if with_other:
        assert found.high == pytest.approx(share.high / (1 - share.high), rel=1e-9)
        assert found.ratio == pytest.approx(with_rig / with_other)
    else:
        assert (found.ratio, found.high) == (None, None)
    assert (found.alone, found.reference_alone, found.both) == (with_rig, with_other, 0)
    assert found.left_out is None


@pytest.mark.parametrize(
    ("trips", "tows", "name", "least"),
    [(1, 30, FISH, 0.9), (1, 30, DAMAGE, 0.93), (8, 10, FISH, 0.92), (4, 15, DAMAGE, 0.93)],
)
def test_the_interval_holds_what_was_put_in_as_often_as_it_says(
    trips: int, tows: int, name: str, least: float
) -> None:
    """With a trip alone too. Tears yes or no draw a ratio towards 1: at a rate of 3 % hardly."""
    held = []
    for seed in range(80):
        found = found_in(trial(seed, trips, tows, rate=0.03), name)
        if found.why_none is None and found.low is not None:
            held.append(found.low <= TRUTH and (found.high is None or found.high >= TRUTH))
    assert len(held) > 60
    assert np.mean(held) >= least


@settings(max_examples=10, deadline=None)
@given(st.lists(st.floats(0.01, 100), min_size=24, max_size=24), st.randoms())
def test_what_sets_whole_tows_apart_falls_out_as_does_the_order_of_rows(
    factors: Sequence[float], chance: np.random.RandomState
) -> None:
    hauls = trial(2, 2, 12)
    of_tow = pl.Series(factors).gather(hauls["shot_at"].rank("dense") - 1)
    apart = hauls.with_columns(tow_hours=hauls["tow_hours"] * of_tow)
    order = list(range(hauls.height))
    chance.shuffle(order)
    as_it_is = found_in(hauls, FISH)
    assert found_in(apart[order], FISH).ratio == pytest.approx(as_it_is.ratio)
    assert found_in(hauls[order], FISH) == as_it_is


def width_of(found: TwinTows) -> float:
    """How many times the lower limit the upper one is."""
    assert found.low
    assert found.high
    return found.high / found.low


def test_trips_are_left_out_where_there_are_six_and_never_make_the_range_narrower() -> None:
    hauls = trial(4, 6, 10)
    of_six = found_in(hauls, FISH)
    as_one = found_in(hauls.with_columns(trip=pl.lit("1")), FISH)
    assert (of_six.left_out, as_one.left_out) == (InTurn.TRIPS, InTurn.TOWS)
    assert of_six.ratio == pytest.approx(as_one.ratio)
    assert width_of(of_six) >= width_of(as_one)


def test_a_rig_held_to_itself_over_ninety_tows_shows_no_difference_that_matters() -> None:
    hauls = trial(9, 3, 30)
    alike = pl.col(FISH).mean().over("shot_at")
    found = found_in(hauls.with_columns(alike.alias(FISH), tow_hours=pl.lit(4.0)), FISH)
    assert found.ratio == pytest.approx(1.0)
    assert found.verdict == Verdict.NO_DIFFERENCE


@pytest.mark.parametrize(
    ("change", "why"),
    [
        (pl.col(FISH).head(10), TowsWithout.FEW_TOWS),
        (pl.col(FISH) * 0, TowsWithout.NONE_SEEN),
        (pl.col(FISH) * (pl.int_range(pl.len()) < 8), TowsWithout.FEW_WITH_SOME),
    ],
)
def test_where_there_is_too_little_it_says_why(change: pl.Expr, why: TowsWithout) -> None:
    hauls = trial(3, 1, 20)
    few = hauls.head(10) if why == TowsWithout.FEW_TOWS else hauls.with_columns(change.alias(FISH))
    assert found_in(few, FISH).why_none == why


def test_one_rig_on_both_sides_and_days_without_a_time_are_no_twin_tows() -> None:
    hauls = trial(3, 1, 20)
    assert find_twin_tows(hauls.with_columns(rig_version=pl.lit("discs")), "discs", Judging()) == []
    days = pl.col("shot_at").dt.truncate("1d")
    assert find_twin_tows(hauls.with_columns(days), "discs", Judging()) == []


def test_of_two_others_the_second_by_name_is_held_to_the_first() -> None:
    found = find_twin_tows(trial(3, 1, 20), "chain", Judging())
    assert {(row.rig, row.reference) for row in found} == {("hoppers", "discs")}
