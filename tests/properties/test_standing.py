"""What is found of whether a headline stands has no unit, no order, and is a number or a reason."""

from __future__ import annotations

from dataclasses import asdict
from math import isfinite
from typing import Any

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.rates.cells import lay_out, term
from pipeline.rates.diagnostics import find_diagnostics
from pipeline.rates.effects import find_effects
from pipeline.rates.headline_fits import headline_fits
from pipeline.rates.influence import changes_without
from pipeline.rates.poisson import fit_rates
from pipeline.rates.sensitivity import OtherSums, find_sensitivity, without_the_most
from tests.properties.test_effects_are_always_numbers import random_hauls
from tests.properties.test_rates_equal_statsmodels import random_hauls as events_of
from tests.properties.test_rates_equal_statsmodels import sums_of as sums_of_events

ADJUST = ["ground", "vessel"]
CONDITIONS = ["rig_version", "ground", "vessel", "stretch"]
KEYS = ["outcome", "vessel", "trip", "pattern"]
some = settings(max_examples=15, deadline=None)
Row = dict[str, Any]


def hauls_of(size: int, seed: int, unit: float = 1.0) -> pl.DataFrame:
    """Single hauls of both headlines, with their patterns."""
    hauls = random_hauls(size, seed).rename({"debris_kg": "bottom_living_kg"})
    patterns = hauls.select(CONDITIONS).unique().sort(CONDITIONS).with_row_index("pattern")
    return (
        hauls.with_row_index("haul")
        .with_columns(
            haul=pl.col("haul").cast(pl.String),
            catch_kg=pl.col("bottom_living_kg") * unit,
            bottom_living_kg=pl.col("bottom_living_kg") * unit,
            shot_at=pl.datetime(2031, 1, 1) + pl.duration(hours=pl.col("haul") * 7),
        )
        .join(patterns, on=CONDITIONS, maintain_order="left")
        .unpivot(
            ["damage_events", "bottom_living_kg"],
            index=["haul", "trip", "shot_at", "tow_hours", "catch_kg", "pattern", *CONDITIONS],
            variable_name="outcome",
            value_name="amount",
        )
    )


def sums_of(hauls: pl.DataFrame) -> pl.DataFrame:
    return (
        hauls.group_by(*KEYS)
        .agg(
            pl.col("rig_version", "ground", "stretch").first(),
            pl.len().cast(pl.Int64).alias("hauls"),
            (pl.col("amount") > 0).sum().cast(pl.Int64).alias("hauls_with_some"),
            pl.col("tow_hours").sum(),
            pl.col("amount").sum().alias("total"),
        )
        .sort(KEYS)
    )


def found_of(hauls: pl.DataFrame) -> tuple[list[Row], Row]:
    """The sensitivity and the diagnostics, a tenth of the hauls being of unknown damage."""
    sums = sums_of(hauls)
    fished = hauls.select("rig_version", "ground").unique()
    effects = find_effects(sums, fished, "rig 0", ADJUST, "trip")
    headlines = headline_fits(effects, sums, ADJUST, "trip")
    trimmed = without_the_most(hauls)
    unknown = sums.filter(
        (pl.col("outcome") == "damage_events") & (pl.col("pattern") % 10 == 0)
    ).drop("outcome", "total", "hauls_with_some")
    conditions = hauls.select("pattern", "rig_version", "ground", "stretch").unique()
    if trimmed is not None:
        trimmed = trimmed.join(conditions, on="pattern")
    other = OtherSums(hauls, trimmed, unknown)
    rows = find_sensitivity(headlines, sums, other, fished)
    checks = find_diagnostics(headlines, sums, hauls, "rig 0", ADJUST, "trip")
    return [asdict(row) for row in rows], asdict(checks)


def numbers_in(found: object) -> list[float]:
    if isinstance(found, dict):
        return [number for value in found.values() for number in numbers_in(value)]
    if isinstance(found, list):
        return [number for value in found for number in numbers_in(value)]
    return [found] if isinstance(found, float) else []


@some
@given(size=st.integers(20, 300), seed=st.integers(0, 2**32 - 1))
def test_everything_is_a_number_or_a_reason(size: int, seed: int) -> None:
    rows, checks = found_of(hauls_of(size, seed))
    assert all(isfinite(number) for number in numbers_in([rows, checks]))
    for row in rows:
        for way in row["ways"]:
            assert (way["verdict"] is None) <= (way["note"] is not None)
            if way["ratio"] and way["low"] is not None and way["high"] is not None:
                assert way["low"] <= way["ratio"] <= way["high"]


SEASON = (300, 11)


def told(rows: list[Row]) -> list[tuple[object, ...]]:
    """The ratios in every way, to nine figures, and what is said of them."""
    numbers = ("ratio", "low", "high", "shape")
    return [
        (
            row["rig"],
            way["way"],
            way["verdict"],
            way["note"],
            *(None if way[name] is None else float(f"{way[name]:.7g}") for name in numbers),
        )
        for row in rows
        for way in row["ways"]
    ]


def test_the_order_of_hauls_does_not_matter() -> None:
    hauls = hauls_of(*SEASON)
    rows, checks = found_of(hauls)
    again, checks_again = found_of(hauls.sample(fraction=1.0, shuffle=True, seed=2))
    assert told(rows)
    assert told(again) == told(rows)
    assert numbers_in(checks_again) == pytest.approx(numbers_in(checks), rel=1e-7, abs=1e-9)


@pytest.mark.parametrize("unit", [1e-3, 1e3])
def test_kilos_grams_and_tonnes_say_the_same(unit: float) -> None:
    rows, checks = found_of(hauls_of(*SEASON))
    again, checks_again = found_of(hauls_of(*SEASON, unit))
    assert any(way["lot"] for row in rows for way in row["ways"])
    assert told(again) == told(rows)
    for one, other in zip(checks["models"], checks_again["models"], strict=True):
        assert numbers_in(other["groups"]) == pytest.approx(numbers_in(one["groups"]), abs=1e-7)


@pytest.mark.parametrize("seed", range(4))
def test_one_step_comes_near_the_fit_without_the_trip(seed: int) -> None:
    """What one step misses is of the second order in what the means move by."""
    sums = sums_of_events(events_of((2, 2, 30, 300), seed, "events"))
    cells = lay_out(sums, "rig_version", "rig 0", ["ground"])
    fit = fit_rates(cells, "model")
    at = cells.terms.index(term("rig_version", "rig 1"))
    steps = changes_without(cells, fit.estimate)[:, at]
    names = sums[cells.row].select("vessel", "trip").with_columns(at=pl.Series(cells.trip)).unique()
    checked = 0
    for vessel, trip, number in names.iter_rows():
        rest = sums.filter((pl.col("vessel") != vessel) | (pl.col("trip") != trip))
        again = fit_rates(lay_out(rest, "rig_version", "rig 0", ["ground"]), "model")
        moved = again.estimate - fit.estimate
        # Taylor: a step misses half the square of what a log mean moves by, a ratio has two means.
        misses = np.abs(cells.design @ moved).max() ** 2
        assert steps[number] == pytest.approx(moved[at], abs=misses)
        checked += misses < abs(moved[at]) / 2
    assert checked > 5  # trips of which the bound says more than the sign


def test_a_ratio_that_rests_on_one_trip_is_lost_without_it() -> None:
    rows = [
        {"vessel": "Skua", "trip": str(trip), "rig_version": rig, "hauls": 3, "tow_hours": 9.0}
        for rig, trips in (("rig 0", range(8)), ("rig 1", range(8, 9)))
        for trip in trips
    ]
    sums = pl.DataFrame(rows).with_columns(total=pl.Series(np.arange(1.0, 10.0)))
    cells = lay_out(sums, "rig_version", "rig 0", [])
    lost = np.isnan(changes_without(cells, fit_rates(cells, "model").estimate))
    assert lost[:, 1].sum() == 1
    assert not lost[:, 0].any()
