"""A chain that stretches evenly is known again, and its intervals hold the truth as they say."""

from __future__ import annotations

from datetime import datetime, timedelta

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from polars.testing import assert_frame_equal

from pipeline.rigs.stretching.length_checks import length_differences
from pipeline.rigs.stretching.stretch import stretch
from pipeline.rigs.stretching.stretch_line import Estimate, Spell, fit_line

FIRST_DAY = datetime(2031, 1, 1)
LENGTHS_M = {"wing": 11.0, "bunt": 4.4, "bosom": 3.3}
gaps = st.lists(st.floats(5, 200), min_size=2, max_size=8)
some = settings(max_examples=60, deadline=None)


def checks_of(
    between: list[float], evened: list[bool], rate: float, level: float, errors: np.ndarray
) -> pl.DataFrame:
    """Checks of all sections of a chain that stretches by `rate` percent an hour, from `level`."""
    rows, hours, percent = [], 0.0, level
    for place, (gap, evens) in enumerate(zip(between, evened, strict=True)):
        hours += gap
        percent += rate * gap
        for number, (section, length_m) in enumerate(LENGTHS_M.items()):
            found = percent + errors[place, number]
            rows.append(
                {
                    "vessel": "Skua",
                    "rig_version": "chain-13",
                    "checked_on": FIRST_DAY + timedelta(days=place),
                    "section": section,
                    "hours": hours,
                    "ground_chain_m": length_m * (1 + found / 100),
                    "traveller_m": length_m,
                    "evened": evens,
                    "from_fitting": level == 0,
                }
            )
        percent = 0.0 if evens else percent
    return pl.DataFrame(rows)


def fished(hours: float) -> pl.DataFrame:
    return pl.DataFrame(
        {
            "vessel": ["Skua"],
            "rig_version": ["chain-13"],
            "hours": [hours],
            "record_ends": [FIRST_DAY],
            "hours_per_day": [10.0],
        }
    )


@some
@given(gaps, st.data(), st.floats(-0.02, 0.02), st.sampled_from([0.0, 0.4, -0.7]))
def test_a_chain_that_stretches_evenly_is_known_again(
    between: list[float], data: st.DataObject, rate: float, level: float
) -> None:
    evened = data.draw(st.lists(st.booleans(), min_size=len(between), max_size=len(between)))
    checks = checks_of(between, evened, rate, level, np.zeros((len(between), 3)))
    now = sum(between) + 10
    found = stretch(length_differences(checks), fished(now), 1.0, 200.0)
    told = found.filter(pl.col("percent_per_100_hours").is_not_null())
    assert told.height == 4
    for row in told.to_dicts():
        assert row["percent_per_100_hours"] == pytest.approx(100 * rate, abs=1e-8)
        if row["low"] is not None:
            assert row["low"] == pytest.approx(100 * rate, abs=1e-5)
            assert row["high"] == pytest.approx(100 * rate, abs=1e-5)


@some
@given(gaps, st.integers(0, 2**32 - 1))
def test_the_order_of_rows_does_not_matter(between: list[float], seed: int) -> None:
    chance = np.random.default_rng(seed)
    evened = (chance.random(len(between)) < 0.3).tolist()
    checks = checks_of(between, evened, 0.006, 0.3, chance.normal(0, 0.1, (len(between), 3)))
    mixed = checks.sample(fraction=1.0, shuffle=True, seed=seed)
    plain, other = (length_differences(frame) for frame in (checks, mixed))
    assert_frame_equal(plain, other, rel_tol=1e-12)
    hours = fished(sum(between))
    assert_frame_equal(
        stretch(plain, hours, 1.0, 200.0),
        stretch(other.sample(fraction=1.0, shuffle=True, seed=seed), hours, 1.0, 200.0),
        rel_tol=1e-6,
    )


def holds(estimate: Estimate, truth: float) -> bool:
    """Whether the limits hold the truth; one that is not there is no limit."""
    above = estimate.low is None or estimate.low <= truth
    return above and (estimate.high is None or truth <= estimate.high)


@pytest.mark.parametrize("even", [True, False])
def test_the_intervals_hold_the_truth_nineteen_times_in_twenty(*, even: bool) -> None:
    chance = np.random.default_rng(1)
    runs, rate, level = 600, 0.006, 0.0 if even else 0.3
    hours = np.array([40.0, 90.0, 120.0, 180.0, 210.0])
    held = np.zeros(3)
    for _ in range(runs):
        percent = level + rate * hours + chance.normal(0, 0.06, hours.size)
        spell = Spell(0.0 if even else None, tuple(hours), tuple(percent))
        line, pivot = fit_line([spell]), spell.pivot
        assert line is not None
        assert pivot is not None
        held += [
            holds(line.slope(), rate),
            holds(line.at(pivot, 230), level + rate * 230),
            holds(line.until(2.0, pivot, 230), (2.0 - level) / rate - 230),
        ]
    # 570 of 600 are 95 %; 15 more or fewer is one seed in 200.
    assert (abs(held - 0.95 * runs) <= 15).all(), held
