"""Whatever was fished and torn, an effect is a number that can be believed, or is not given."""

from __future__ import annotations

from dataclasses import asdict
from math import isfinite
from typing import Literal

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import binom

from pipeline.rates.effects import Effect, find_effects

Errors = Literal["trip", "model"]
BEYOND_BELIEF = 1e6
some = settings(max_examples=80, deadline=None)
seeds = st.integers(0, 2**32 - 1)
both_errors = st.sampled_from(["trip", "model"])


def random_hauls(size: int, seed: int) -> pl.DataFrame:
    """Hauls of a few rigs, grounds, boats and quarters; some never met, some had no event."""
    chance = np.random.default_rng(seed)
    rig, ground = chance.integers(0, 4, size), chance.integers(0, 3, size)
    hours = chance.uniform(0.02, 12, size).round(3)
    quiet = chance.random((4, 3)) < chance.choice([0.1, 0.4, 0.8])
    met = chance.random((4, 3)) < chance.choice([0.5, 1.0])
    met[0, 0] = met[1, 0] = True
    events = chance.poisson(0.3 * hours * chance.gamma(1, 1, size)) * ~quiet[rig, ground]
    kilos = (events * chance.lognormal(3, 2, size)).round(2)
    trip = chance.integers(0, max(2, size // 4), size)
    hauls = pl.DataFrame(
        {
            "vessel": [f"boat {number % 2}" for number in trip],
            "trip": trip.astype(str),
            "rig_version": [f"rig {number}" for number in rig],
            "ground": [f"ground {number}" for number in ground],
            "stretch": [f"2031 Q{1 + number % 3}" for number in trip],
            "tow_hours": hours,
            "damage_events": events.astype(float),
            "debris_kg": kilos,
        }
    )
    fished = pl.Series(met[rig, ground])
    return hauls.filter(fished)


def effects_of(hauls: pl.DataFrame, errors: Errors) -> list[Effect]:
    """The effects, from sums and conditions made as the program makes them."""
    long = hauls.unpivot(
        ["damage_events", "debris_kg"],
        index=["vessel", "trip", "rig_version", "ground", "stretch", "tow_hours"],
        variable_name="outcome",
        value_name="total",
    )
    sums = (
        long.group_by("outcome", "vessel", "trip", "rig_version", "ground", "stretch")
        .agg(
            pl.len().alias("hauls"),
            (pl.col("total") > 0).sum().alias("hauls_with_some"),
            pl.col("tow_hours", "total").sum(),
        )
        .sort("outcome", "vessel", "trip", "rig_version", "ground", "stretch")
    )
    fished = hauls.select("rig_version", "ground").unique()
    return find_effects(sums, fished, "rig 0", ["ground", "vessel"], errors)


def check_every_number_is_finite(effect: Effect) -> None:
    numbers = [value for value in asdict(effect).values() if isinstance(value, float)]
    assert all(isfinite(number) for number in numbers), effect


def check_the_ratio_lies_within_its_limits(effect: Effect) -> None:
    if effect.ratio is not None:
        assert effect.low is not None or effect.ratio == 0
        assert effect.low is None or effect.low <= effect.ratio
        assert effect.high is None or effect.ratio <= effect.high


def check_the_ratio_is_not_beyond_belief(effect: Effect) -> None:
    if effect.ratio:
        assert 1 / BEYOND_BELIEF < effect.ratio < BEYOND_BELIEF, effect


def check_the_interval_tells_how_its_error_was_come_by(
    effect: Effect, errors: Errors, trips: int
) -> None:
    told = effect.low is not None or effect.high is not None
    assert (effect.errors is None) == (effect.errors_reason is None), effect
    assert effect.errors is not None or not told, effect
    # By t where the trips tell, by the normal where the model does.
    assert (effect.freedom is not None) == (effect.errors == "one trip left out at a time")
    if effect.errors == "one trip left out at a time":
        assert effect.freedom is not None
        assert 1 <= effect.freedom <= trips
    if effect.std_error is not None and effect.outcome == "debris_kg":
        assert effect.errors != "model"
    if errors == "model" and effect.std_error is not None and effect.outcome != "debris_kg":
        assert effect.errors_reason == "the season asks for the model's errors"


@some
@given(size=st.integers(40, 250), seed=seeds, errors=both_errors)
def test_every_effect_can_be_believed_and_tells_how_its_error_was_come_by(
    size: int, seed: int, errors: Errors
) -> None:
    hauls = random_hauls(size, seed)
    for effect in effects_of(hauls, errors):
        check_every_number_is_finite(effect)
        check_the_ratio_lies_within_its_limits(effect)
        check_the_ratio_is_not_beyond_belief(effect)
        check_the_interval_tells_how_its_error_was_come_by(effect, errors, hauls["trip"].n_unique())


def chance_that_all_fell_to_rig_0(hauls: pl.DataFrame, ratio: float) -> float:
    """By binomials, each trip by itself, were rig 3's rate that ratio of rig 0's."""
    chance = 1.0
    for _, rows in hauls.group_by("trip"):
        sums = dict.fromkeys(("rig 0", "rig 3"), 0.0) | dict(
            rows.group_by("rig_version").agg(pl.col("tow_hours").sum()).iter_rows()
        )
        share = sums["rig 0"] / (sums["rig 0"] + ratio * sums["rig 3"])
        chance *= binom.pmf(*[rows["damage_events"].sum()] * 2, share)
    return chance


@some
@given(size=st.integers(40, 250), seed=seeds, errors=both_errors)
def test_a_rig_with_no_event_has_exact_limits(size: int, seed: int, errors: Errors) -> None:
    chance = np.random.default_rng(seed)
    quiet = random_hauls(size, seed).filter(pl.col("rig_version") != "rig 3")
    # A rig fished beside the reference for twenty hauls of four trips, without one event.
    beside = pl.DataFrame(
        {
            "vessel": "boat 0",
            "trip": [f"beside {number // 2 % 4}" for number in range(40)],
            "rig_version": ["rig 0", "rig 3"] * 20,
            "ground": "ground 0",
            "stretch": "2031 Q1",
            "tow_hours": chance.uniform(0.02, 12, 40),
            "damage_events": [1.0, 0.0] * 20,
            "debris_kg": [2.5, 0.0] * 20,
        }
    )
    hauls = pl.concat([quiet, beside])
    (effect,) = [
        each
        for each in effects_of(hauls, errors)
        if (each.outcome, each.rig, each.ground) == ("damage_events", "rig 3", "all")
    ]
    there = hauls.filter(pl.col("ground") == "ground 0", pl.col("vessel") == "boat 0")
    there = there.filter(pl.col("rig_version").is_in(["rig 0", "rig 3"]))
    if errors == "model":  # trips are alike, so that there is one stratum
        there = there.with_columns(trip=pl.lit("all"))
    assert (effect.ratio, effect.low) == (0.0, 0.0)
    assert effect.high is not None
    assert 0 < effect.high < float("inf")
    assert chance_that_all_fell_to_rig_0(there, effect.high) == pytest.approx(0.025)
    assert "none seen" in effect.cautions
    assert effect.method.startswith("exact limits, stratum by stratum")


@pytest.mark.parametrize("errors", ["trip", "model"])
def test_rigs_joined_only_by_a_ground_without_events_get_no_adjusted_ratio(errors: Errors) -> None:
    # Rig 0 tore on sand and never on mud, rig 1 was on mud alone: the model's ratio is infinite.
    hauls = pl.DataFrame(
        {
            "vessel": "boat 0",
            "trip": [str(number % 30) for number in range(120)],
            "rig_version": ["rig 0", "rig 0", "rig 1"] * 40,
            "ground": ["mud", "sand", "mud"] * 40,
            "stretch": "2031 Q1",
            "tow_hours": [3.1, 2.3, 4.7] * 40,
            "damage_events": [0.0, *[1.0, 0.0], 0.0, *[0.0, 1.0]] * 20,
            "debris_kg": [0.0, *[12.5, 0.0], 0.0, *[3.0, 7.5]] * 20,
        }
    )
    for effect in effects_of(hauls, errors):
        if effect.ground == "all":
            assert effect.ratio is None, effect
