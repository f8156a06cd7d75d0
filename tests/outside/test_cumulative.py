"""How mending adds up, on the valve seats of 41 engines (Nelson 1995) and on generated lives."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.damage.cumulative import Watched, mean_cumulative

DATA = Path(__file__).parent / "data"
PRINTED = {61: 0.024390244, 76: 0.048780488, 404: 0.683536585, 586: 1.014264140, 653: 1.542687514}
"""Day, mean cumulative replacements: computed in R 4.2.2 from survival 3.5-3's `valveSeat`."""

some = settings(max_examples=60, deadline=None)
seeds = st.integers(0, 2**32 - 1)


def valve_seats() -> Watched:
    """Each engine a life and a trip, each of its days with replacements the end of a haul."""
    days = (
        pl.read_csv(DATA / "valve_seats.csv")
        .group_by("id", "time")
        .agg(pl.col("status").sum())
        .sort("id", "time")
        .with_columns(pl.col("time").shift(1, fill_value=0).over("id").alias("since"))
    )
    mended = days["status"].to_numpy().astype(float)
    return Watched(
        hours_from=days["since"].to_numpy().astype(float),
        hours_to=days["time"].to_numpy().astype(float),
        mended=mended,
        damaged=mended > 0,
        trip=days["id"].rank("dense").to_numpy().astype(np.int64) - 1,
    )


def as_lawless_and_nadeau_write_it(watched: Watched) -> np.ndarray:
    """The variance at each rise, term by term, of lives that are a trip each, with G/(G − 1)."""
    _, under, amount = by_rise_and_haul(watched)
    mean_amount = amount.sum(axis=1) / under.sum(axis=1)
    terms = under / under.sum(axis=1)[:, None] * (amount - mean_amount[:, None])
    by_life = summed_by_trip(np.cumsum(terms, axis=0), watched)
    lives = len(by_life)
    return (by_life**2).sum(axis=0) * lives / (lives - 1)


def by_rise_and_haul(watched: Watched) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The hours of the rises; at each which hauls are under way, and what they mended there."""
    hours = np.unique(watched.hours_to[watched.mended > 0])
    under = (watched.hours_from < hours[:, None]) & (hours[:, None] <= watched.hours_to)
    return hours, under, np.where(watched.hours_to == hours[:, None], watched.mended, 0.0)


def summed_by_trip(terms: np.ndarray, watched: Watched) -> np.ndarray:
    return np.array(
        [terms[:, watched.trip == trip].sum(axis=1) for trip in np.unique(watched.trip)]
    )


def random_lives(seed: int, *, same_end: bool = False) -> Watched:
    """Boats of unequal lives with hauls of unequal hours, some of them not watched."""
    chance = np.random.default_rng(seed)
    rows = []
    for boat in range(int(chance.integers(1, 6))):
        hauls = 40 if same_end else int(chance.integers(1, 40))
        hours = np.full(hauls, 2.0) if same_end else chance.uniform(0.2, 6, hauls).round(2)
        to = np.cumsum(hours)
        mended = np.where(chance.random(hauls) < 0.3, chance.gamma(1.5, 2, hauls).round(1), 0.0)
        seen = np.ones(hauls, bool) if same_end else chance.random(hauls) < 0.9
        trip = 100 * boat if same_end else 100 * boat + np.arange(hauls) // 5
        rows.append(np.column_stack([to - hours, to, mended, np.broadcast_to(trip, hauls)])[seen])
    table = np.vstack(rows)
    start, end, mended, trip = table.T
    _, trip_at = np.unique(trip, return_inverse=True)
    return Watched(start, end, mended, mended > 0, trip_at)


def test_the_mean_of_replaced_valve_seats_is_the_published_one() -> None:
    rises = mean_cumulative(valve_seats())
    found = dict(zip(rises.hours.tolist(), rises.mean.tolist(), strict=True))
    assert {day: found[day] for day in PRINTED} == pytest.approx(PRINTED, abs=1e-6)
    # 41 engines were watched on the first day, 13 had been seen for the last time by the 653rd.
    assert rises.units[0] == 41
    assert len(PRINTED) == 5


def test_until_an_engine_drops_out_the_variance_is_that_of_lawless_and_nadeau() -> None:
    watched = valve_seats()
    rises = mean_cumulative(watched)
    all_there = rises.units == 41
    assert all_there.sum() > 20
    expected = np.sqrt(as_lawless_and_nadeau_write_it(watched))
    assert rises.std_error[all_there] == pytest.approx(expected[all_there], rel=1e-9)
    # Thereafter a steady pace is taken for the rises, and theirs for what they were.
    assert rises.std_error == pytest.approx(expected, rel=0.01)
    # The first replacement on 41 engines: the error of a mean of one 1 and forty 0.
    assert rises.std_error[0] == pytest.approx(1 / 41, rel=1e-12)


@some
@given(seed=seeds)
def test_the_mean_rises_by_what_was_mended_over_the_lives_under_way(seed: int) -> None:
    """And, where no life was watched, by the pace of the hours at which any was."""
    watched = random_lives(seed)
    rises = mean_cumulative(watched)
    hours, under, amount = by_rise_and_haul(watched)
    mended = np.cumsum(amount.sum(axis=1) / under.sum(axis=1))
    end = float(watched.hours_to.max(initial=0.0))
    seen, idle = hours_seen(watched, end), [h - hours_seen(watched, h) for h in hours]
    at = np.searchsorted(rises.hours, hours)
    assert rises.hours[at].tolist() == hours.tolist()
    assert rises.units[at].tolist() == under.sum(axis=1).tolist()
    assert not rises.units[np.setdiff1d(np.arange(len(rises.hours)), at)].any()
    expected = mended + (mended[-1] / seen if len(mended) else 0.0) * np.array(idle)
    assert rises.mean[at] == pytest.approx(expected, rel=1e-9)


def hours_seen(watched: Watched, until: float) -> float:
    """The fishing hours until then at which any life was watched, haul by haul."""
    seen = reached = 0.0
    for start, stop in sorted(zip(watched.hours_from, watched.hours_to, strict=True)):
        seen += max(min(stop, until) - max(min(start, until), reached), 0.0)
        reached = max(reached, min(stop, until))
    return seen


@some
@given(seed=seeds)
def test_lives_of_one_length_have_the_mean_and_the_error_of_their_totals(seed: int) -> None:
    """An identity: with all lives watched to the end the last mean is that of plain totals."""
    watched = random_lives(seed, same_end=True)
    rises = mean_cumulative(watched)
    totals = np.bincount(watched.trip, watched.mended)
    boats = len(totals)
    assert rises.mean[-1] == pytest.approx(totals.mean(), rel=1e-12)
    error = totals.std(ddof=1) / np.sqrt(boats) if boats > 1 else 0.0
    assert rises.std_error[-1] == pytest.approx(error, rel=1e-9, abs=1e-12)
    assert rises.by_chance[-1] == pytest.approx(np.sqrt((watched.mended**2).sum()) / boats)


@some
@given(seed=seeds)
def test_of_one_boat_the_limits_are_those_of_its_rate_per_hour(seed: int) -> None:
    chance = np.random.default_rng(seed)
    hauls = 60
    hours = chance.uniform(0.5, 5, hauls)
    mended = np.where(chance.random(hauls) < 0.4, chance.gamma(2, 1, hauls), 0.0)
    mended[-1] = 1.0
    to, trip = np.cumsum(hours), np.arange(hauls) // 5
    watched = Watched(np.concatenate([[0.0], to[:-1]]), to, mended, mended > 0, trip)
    rises = mean_cumulative(watched)
    by_trip = [np.bincount(trip, amount) for amount in (mended, hours)]
    left_over = by_trip[0] - mended.sum() / hours.sum() * by_trip[1]
    error = np.sqrt((left_over**2).sum() * 12 / 11)
    assert rises.std_error[-1] == pytest.approx(error, rel=1e-9)
