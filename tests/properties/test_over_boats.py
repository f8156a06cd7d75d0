"""Whatever boats fished and tore, their mean is a number that can be believed, or is not given."""

from __future__ import annotations

from dataclasses import asdict
from math import isfinite
from typing import Literal

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.rates.over_boats import OverBoats, find_over_boats

Errors = Literal["trip", "model"]
some = settings(max_examples=40, deadline=None)
seeds = st.integers(0, 2**32 - 1)
boat_counts = st.integers(2, 7)
both_errors = st.sampled_from(["trip", "model"])
UNEQUAL = 3.0


def random_sums(boats: int, seed: int, unit: float = 1.0) -> pl.DataFrame:
    """Sums of two outcomes over boats, of which some fished one rig, few trips, or never tore."""
    chance = np.random.default_rng(seed)
    rows = []
    for boat in range(boats):
        quiet = chance.random(3) < chance.choice([0.0, 0.0, 0.4])
        fished = chance.random(3) < chance.choice([0.6, 1.0, 1.0])
        for trip in range(int(chance.choice([2, 10, 25]))):
            for rig in np.flatnonzero(fished):
                hours = float(chance.uniform(0.02, 80))
                torn = int(chance.poisson(0.05 * hours * chance.gamma(2, 0.5))) * int(~quiet[rig])
                kilos = float(torn * chance.lognormal(3, chance.choice([0.1, UNEQUAL]))) * unit
                for outcome, total in (("damage_events", torn), ("bottom_living_kg", kilos)):
                    rows.append(
                        {
                            "outcome": outcome,
                            "vessel": f"boat {boat}",
                            "trip": str(trip),
                            "rig_version": f"rig {rig}",
                            "ground": f"ground {trip % 2}",
                            "stretch": f"2031 Q{1 + trip % 2}",
                            "hauls": 8,
                            "hauls_with_some": min(torn, 8),
                            "tow_hours": hours,
                            "total": float(total),
                        }
                    )
    return pl.DataFrame(rows)


def over_boats(sums: pl.DataFrame, errors: Errors = "trip") -> list[OverBoats]:
    if sums.is_empty():
        return []
    fished = sums.select("rig_version", "ground").unique()
    return find_over_boats(sums, fished, "rig 0", ["ground", "vessel"], errors)


def numbers_in(found: object) -> list[float]:
    if isinstance(found, dict):
        found = list(found.values())
    if isinstance(found, list):
        return [number for each in found for number in numbers_in(each)]
    return [found] if isinstance(found, float) else []


@some
@given(boats=boat_counts, seed=seeds, errors=both_errors)
def test_every_figure_is_a_number_and_every_boat_gives_a_ratio_or_a_reason(
    boats: int, seed: int, errors: Errors
) -> None:
    sums = random_sums(boats, seed)
    for found in over_boats(sums, errors):
        assert all(isfinite(number) for number in numbers_in(asdict(found))), found
        assert [boat.vessel for boat in found.boats] == sorted(set(sums["vessel"]))
        assert all((b.log_ratio is None) == (b.why_none is not None) for b in found.boats)
        told = [boat for boat in found.boats if boat.log_ratio is not None]
        assert (found.mean is None) == (len(told) < 3) == (found.why_no_mean is not None)


@some
@given(boats=st.integers(4, 7), seed=seeds)
def test_the_mean_lies_among_the_boats_and_within_its_limits(boats: int, seed: int) -> None:
    for found in over_boats(random_sums(boats, seed)):
        mean = found.mean
        if mean is None:
            continue
        own = [boat.ratio for boat in found.boats if boat.ratio and boat.log_ratio is not None]
        assert min(own) * (1 - 1e-9) <= mean.ratio <= max(own) * (1 + 1e-9)
        assert mean.further_low <= mean.low <= mean.ratio <= mean.high <= mean.further_high
        assert mean.without_low <= mean.without_high
        for boat in found.boats:
            if boat.log_ratio is not None and boat.shrunken_ratio is not None:
                ends = sorted([boat.log_ratio, mean.log_ratio])
                assert ends[0] - 1e-9 <= np.log(boat.shrunken_ratio) <= ends[1] + 1e-9


@some
@given(boats=st.integers(3, 6), seed=seeds)
def test_the_order_of_rows_and_the_unit_do_not_matter(boats: int, seed: int) -> None:
    found = over_boats(random_sums(boats, seed))
    shuffled = random_sums(boats, seed, unit=1000.0).sample(fraction=1.0, shuffle=True, seed=1)
    for one, other in zip(found, over_boats(shuffled), strict=True):
        assert [b.why_none for b in one.boats] == [b.why_none for b in other.boats]
        assert numbers_in([asdict(b) for b in one.boats]) == pytest.approx(
            numbers_in([asdict(b) for b in other.boats]), rel=1e-6, abs=1e-7
        )
