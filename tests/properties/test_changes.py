"""Before and after a change of rig: a known truth is found, and nothing is found where none is."""

from __future__ import annotations

from dataclasses import asdict
from datetime import datetime, timedelta
from math import isfinite

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.rates.changes import Changes, find_changes
from pipeline.rates.spells import IN_TIME, looks_without_change, spells_of

some = settings(max_examples=6, deadline=None)
seeds = st.integers(0, 2**32 - 1)
GROUNDS = ("sand", "stones")
FIRST = datetime(2031, 1, 2)
DAMAGE, FISH = "damage_events", "bottom_living_kg"


def season(
    seed: int,
    boats: int,
    plan: tuple[tuple[str, int], ...],
    *,
    per_haul: float = 0.3,
    halved: str = "",
    trips_differ: float = 0.0,
) -> pl.DataFrame:
    """Hauls of boats that follow a plan of rigs and hauls; rig `halved` tears and catches half."""
    chance = np.random.default_rng(seed)
    rows = []
    for boat in range(boats):
        rigs = [rig for rig, many in plan for _ in range(many)]
        trip, level = 0, 1.0
        for haul, rig in enumerate(rigs):
            if haul % 8 == 0:
                trip += 1
                level = float(np.exp(chance.normal(0, trips_differ)))
            hours = float(chance.uniform(2, 4))
            mean = level * hours / 3 * (0.5 if rig == halved else 1.0)
            ground = GROUNDS[int(chance.random() < 0.5)]
            harder = 1.5 if ground == "stones" else 1.0
            rows.append(
                {
                    "vessel": f"boat {boat}",
                    "trip": str(trip),
                    "haul": str(haul),
                    "shot_at": FIRST + timedelta(hours=5 * haul + 40 * trip),
                    "rig_version": rig,
                    "ground": ground,
                    "depth_m": float(chance.uniform(50, 70)),
                    "tow_hours": hours,
                    DAMAGE: float(chance.poisson(per_haul * mean * harder)),
                    FISH: float(mean * chance.lognormal(3, 0.5)),
                }
            )
    return pl.DataFrame(rows)


PLAN = (("bobbins", 60), ("discs", 60))
MIXED = (
    ("bobbins", 45),
    ("discs", 3),
    ("bobbins", 20),
    ("discs", 25),
    ("chain", 50),
    ("discs", 90),
)


def found_in(hauls: pl.DataFrame) -> Changes:
    return find_changes(hauls, "bobbins", "trip")


def numbers_in(found: object) -> list[float]:
    if isinstance(found, dict):
        found = list(found.values())
    if isinstance(found, list | tuple):
        return [number for each in found for number in numbers_in(each)]
    return [float(found)] if isinstance(found, int | float) else []


def words_in(found: object) -> list[str]:
    if isinstance(found, dict):
        found = list(found.values())
    if isinstance(found, list | tuple):
        return [word for each in found for word in words_in(each)]
    return [found] if isinstance(found, str) else []


@some
@given(seed=seeds)
def test_the_order_of_rows_does_not_matter(seed: int) -> None:
    hauls = season(seed, 2, MIXED)
    one = asdict(found_in(hauls))
    other = asdict(found_in(hauls.sample(fraction=1.0, shuffle=True, seed=seed % 1000)))
    assert words_in(one) == words_in(other)
    assert numbers_in(one) == pytest.approx(numbers_in(other), rel=1e-9)


@some
@given(seed=seeds, days=st.integers(-400, 400))
def test_a_calendar_that_runs_ahead_changes_nothing_but_the_days(seed: int, days: int) -> None:
    hauls = season(seed, 1, MIXED)
    later = hauls.with_columns(pl.col("shot_at") + timedelta(days=days))
    one, other = asdict(found_in(hauls)), asdict(found_in(later))
    assert numbers_in(one) == pytest.approx(numbers_in(other), rel=1e-9)


@some
@given(seed=seeds)
def test_the_unit_of_weight_does_not_matter(seed: int) -> None:
    hauls = season(seed, 1, MIXED)
    in_tons = found_in(hauls.with_columns(pl.col(FISH) / 1000))
    for one, other in zip(found_in(hauls).changes, in_tons.changes, strict=True):
        for name in ("ratio", "low", "high"):
            of_fish = [getattr(each.ratios[1].about, name) for each in (one, other)]
            assert of_fish[0] == pytest.approx(of_fish[1], rel=1e-6)


@some
@given(seed=seeds)
def test_what_one_boat_did_moves_no_change_on_another(seed: int) -> None:
    hauls = season(seed, 2, MIXED)
    alone = found_in(hauls.filter(pl.col("vessel") == "boat 0"))
    both = [change for change in found_in(hauls).changes if change.vessel == "boat 0"]
    told = [[held.about for held in change.ratios] for change in both]
    assert told == [[held.about for held in change.ratios] for change in alone.changes]


@some
@given(seed=seeds, per_haul=st.sampled_from([0.0, 0.01, 0.3]))
def test_every_day_has_a_finite_ratio_or_a_reason(seed: int, per_haul: float) -> None:
    found = found_in(season(seed, 2, MIXED, per_haul=per_haul, trips_differ=1.0))
    assert all(isfinite(number) for number in numbers_in(asdict(found)))
    ratios = [held.about for change in found.changes for held in change.ratios]
    ratios += [ratio for day in found.without for ratio in day.ratios]
    assert ratios
    for ratio in ratios:
        told = ratio.ratio is not None or ratio.low is not None
        assert told == (ratio.why_none is None)


@some
@given(seed=seeds, many=st.integers(15, 40), between=st.booleans())
def test_days_without_a_change_lie_within_a_spell_and_share_no_haul(
    seed: int, many: int, *, between: bool
) -> None:
    hauls = season(seed, 3, MIXED).sort(IN_TIME)
    looks = looks_without_change(hauls, spells_of(hauls), many, between_trips=between)
    assert looks
    used = [int(row) for look in looks for row in (*look.before, *look.after)]
    assert len(used) == len(set(used)) == 2 * many * len(looks)
    for look in looks:
        rows = [*look.before, *look.after]
        assert set(hauls["rig_version"][rows]) == {look.rig_after}
        assert set(hauls["vessel"][rows]) == {look.vessel}
        assert rows == sorted(rows)
        trips = [hauls["trip"][int(row)] for row in (look.before[-1], look.after[0])]
        assert (trips[0] != trips[1]) == between


def test_a_rig_that_halves_tears_and_fish_is_found_to() -> None:
    found = found_in(season(5, 12, PLAN, halved="discs"))
    (pair,) = found.pairs
    assert (pair.rig, pair.reference, pair.changes_to) == ("discs", "bobbins", 12)
    for pooled in pair.ratios:
        low, high = pooled.ratio.low, pooled.ratio.high
        assert low is not None
        assert high is not None
        assert low < 0.5 < high < 0.8


def test_a_rig_that_changes_nothing_moves_no_farther_than_days_without_a_change() -> None:
    # Of changes that are none, a half lie among the nearer half of days without a change.
    plan = (("bobbins", 240), ("discs", 240))
    found = [found_in(season(seed, 4, plan, trips_differ=0.4)) for seed in range(6)]
    shares = [
        held.as_far / held.days_without
        for each in found
        for change in each.changes
        for held in change.ratios
    ]
    assert len(shares) == 48
    assert np.mean(shares) == pytest.approx(0.5, abs=0.12)
    assert np.mean(np.array(shares) < 0.1) < 0.2


def test_days_without_a_change_seldom_show_one_where_trips_are_alike() -> None:
    found = [found_in(season(seed, 4, (("bobbins", 300), ("discs", 40)))) for seed in range(8)]
    for name in (DAMAGE, FISH):
        placebos = [p for each in found for p in each.placebos if p.outcome == name]
        days = sum(p.days for p in placebos)
        shown = sum(p.show_change for p in placebos)
        assert days > 80
        # One in twenty by chance; beyond one in ten of so many is hardly chance.
        assert shown / days < 0.1
