"""Trips and hauls: where each boat goes, which rig it fits, when it shoots and hauls.

A skipper fits the rig for the trip's main ground and keeps it on for the trip, so hauls
of one trip share a rig. On some trips two rigs are fished side by side, a spell of each.
"""

from datetime import datetime
from typing import NamedTuple

import numpy as np
import polars as pl
from numpy.typing import NDArray

from synthetic_data.fleet import Boat
from synthetic_data.scene import CHANGED_RIG, GROUNDS, REFERENCE_RIG, RIG_VERSIONS, ROUGH_RIG

Ints = NDArray[np.int64]

SEASON_START = datetime(2031, 1, 2)
_DAY_MINUTES = 24 * 60
_YEAR_MINUTES = 363 * _DAY_MINUTES
_LEAST_HARBOUR_MINUTES = 16 * 60
_TRIP_HAULS = (5, 14)
_SHARE_ON_MAIN_GROUND = 0.7
_SHARE_SIDE_BY_SIDE = 0.12
_SPELL_HAULS = 4
_RIG_CHANGE_MINUTES = 150
_SHARE_CUT_SHORT = 0.02
_RIG_CHANGED_AFTER = 0.4
_SHARE_RESTED = 0.5
_NAMES = [rig.name for rig in RIG_VERSIONS]
_REFERENCE, _CHANGED, _ROUGH = (_NAMES.index(n) for n in (REFERENCE_RIG, CHANGED_RIG, ROUGH_RIG))
_SYNODIC_DAYS = 29.53


class Trips(NamedTuple):
    """One value per trip: boat, number within the boat, hauls, main ground, two rigs."""

    boat: Ints
    number: Ints
    hauls: Ints
    ground: Ints
    rig: Ints
    second_rig: Ints


def plan_trips(fleet: list[Boat], rng: np.random.Generator) -> Trips:
    """Return the trips of the fleet, each with its main ground and the rigs fitted for it."""
    sizes = [_trip_sizes(boat.hauls, rng) for boat in fleet]
    counts = [len(size) for size in sizes]
    boat = np.repeat(np.arange(len(fleet)), counts)
    shares = np.array([ground.share_of_trips for ground in GROUNDS])
    ground = rng.choice(len(GROUNDS), size=len(boat), p=shares / shares.sum())
    rig = _choose_rig(fleet, boat, ground, rng)
    other = np.where(rig == _REFERENCE, _ROUGH, _REFERENCE)
    second_rig = np.where(rng.random(len(boat)) < _SHARE_SIDE_BY_SIDE, other, rig)
    number = np.concatenate([np.arange(1, count + 1) for count in counts])
    return Trips(boat, number, np.concatenate(sizes), ground, rig, second_rig)


def fish(fleet: list[Boat], trips: Trips, rng: np.random.Generator) -> pl.DataFrame:
    """Return one row per haul: its trip, ground, rig, times, tow, tide, place and depth."""
    trip = np.repeat(np.arange(len(trips.hauls)), trips.hauls)
    first = np.cumsum(trips.hauls) - trips.hauls
    haul = np.arange(len(trip)) - first[trip]
    ground = _ground_of_haul(trips.ground[trip], rng)
    second_spell = (haul // _SPELL_HAULS) % 2 == 1
    rig = np.where(second_spell, trips.second_rig[trip], trips.rig[trip])
    tow_minutes = _tow_minutes(ground, rng)
    changes_rig = (haul > 0) & (rig != np.roll(rig, 1))
    idle_minutes = _idle_minutes(changes_rig, rng)
    shot_minute, season_minutes = _shot_minutes(trips, trip, tow_minutes, idle_minutes, rng)
    # One boat cuts its toggles in mid season: from then on its bobbins are the new version.
    trip_start = shot_minute[first][trip]
    changed = np.array([boat.changes_rig for boat in fleet])[trips.boat[trip]]
    rig = np.where(
        changed & (rig == _REFERENCE) & (trip_start > _RIG_CHANGED_AFTER * season_minutes),
        _CHANGED,
        rig,
    )
    return _with_places(
        pl.DataFrame(
            {
                "boat": trips.boat[trip],
                "trip_row": trip,
                "trip": trips.number[trip],
                "haul": haul + 1,
                "ground": ground,
                "rig": rig,
                "tow_minutes": tow_minutes,
                "shot_at": np.datetime64(SEASON_START, "ms") + shot_minute.astype("timedelta64[m]"),
            }
        ),
        rng,
    )


def _trip_sizes(hauls: int, rng: np.random.Generator) -> Ints:
    """Draw hauls per trip until the boat's hauls are used up; the last trip is cut short."""
    fewest, most = _TRIP_HAULS
    ends = np.cumsum(rng.integers(fewest, most, hauls // fewest + 1, endpoint=True))
    ends = np.minimum(ends[: int(np.searchsorted(ends, hauls)) + 1], hauls)
    sizes: Ints = np.diff(ends, prepend=0).astype(np.int64)
    return sizes


def _choose_rig(fleet: list[Boat], boat: Ints, ground: Ints, rng: np.random.Generator) -> Ints:
    """Draw a rig for each trip among those the boat carries, by their pull on its ground."""
    pull = np.array([rig.pull for rig in RIG_VERSIONS]).T
    carried = np.array([[name in b.rigs for name in _NAMES] for b in fleet])
    weights = pull[np.newaxis, :, :] * carried[:, np.newaxis, :]
    upto = np.cumsum(weights / weights.sum(axis=2, keepdims=True), axis=2)
    upto[:, :, -1] = 1.0
    draw = rng.random(len(boat))
    rig: Ints = np.argmax(draw[:, np.newaxis] < upto[boat, ground], axis=1).astype(np.int64)
    return rig


def _ground_of_haul(main: Ints, rng: np.random.Generator) -> Ints:
    """Keep most hauls on the trip's main ground and put the others on its neighbours."""
    words = [ground.word for ground in GROUNDS]
    neighbours = np.array([[words.index(w) for w in ground.neighbours] for ground in GROUNDS])
    away: Ints = neighbours[main, rng.integers(0, neighbours.shape[1], len(main))]
    return np.where(rng.random(len(main)) < _SHARE_ON_MAIN_GROUND, main, away)


def _tow_minutes(ground: Ints, rng: np.random.Generator) -> Ints:
    """Draw tow times to five minutes: shorter on rough ground, a few cut short."""
    usual_hours = np.array([g.tow_hours for g in GROUNDS])[ground]
    hours = usual_hours * np.exp(rng.normal(0.0, 0.22, len(ground)))
    hours = np.where(rng.random(len(ground)) < _SHARE_CUT_SHORT, hours * 0.3, hours)
    minutes: Ints = (np.round(np.clip(hours, 0.5, 7.0) * 12) * 5).astype(np.int64)
    return minutes


def _idle_minutes(changes_rig: NDArray[np.bool_], rng: np.random.Generator) -> Ints:
    """Draw the time from hauling to shooting again: at times a rest, a steam or a rig change."""
    rest = rng.random(len(changes_rig)) < _SHARE_RESTED
    hours = rng.uniform(0.5, 1.2, len(changes_rig)) + rest * rng.uniform(5, 11, len(changes_rig))
    idle = np.round(hours * 12) * 5 + changes_rig * _RIG_CHANGE_MINUTES
    return idle.astype(np.int64)


def _shot_minutes(
    trips: Trips, trip: Ints, tow: Ints, idle: Ints, rng: np.random.Generator
) -> tuple[Ints, int]:
    """Lay each boat's trips end to end with harbour days between; return minutes and season.

    The season is one year, or as many as the busiest boat needs for its hauls.
    """
    at_sea = np.bincount(trip, weights=tow + idle).astype(np.int64)
    busy = np.bincount(trips.boat, weights=at_sea + 2.0 * _LEAST_HARBOUR_MINUTES)
    season_minutes = int(np.ceil(busy.max() / _YEAR_MINUTES)) * _YEAR_MINUTES
    # Harbour time left over is shared among a boat's trips, with one share after the last.
    share = rng.gamma(4.0, 1.0, len(at_sea))
    spare = season_minutes - np.bincount(trips.boat, at_sea + _LEAST_HARBOUR_MINUTES)
    shares = np.bincount(trips.boat, share) + 4.0
    harbour = _LEAST_HARBOUR_MINUTES + (share * (spare / shares)[trips.boat] // 5 * 5)
    ends = np.cumsum(at_sea + harbour.astype(np.int64))
    boat_first = np.searchsorted(trips.boat, np.arange(trips.boat[-1] + 1))
    before_boat = np.concatenate([[0], ends[boat_first[1:] - 1]])
    trip_start = ends - at_sea - before_boat[trips.boat]
    upto = np.cumsum(tow + idle)
    first = np.searchsorted(trip, np.arange(len(at_sea)))
    before_trip = np.concatenate([[0], upto[first[1:] - 1]])
    return (trip_start[trip] + upto - tow - before_trip[trip]).astype(np.int64), season_minutes


def _with_places(hauls: pl.DataFrame, rng: np.random.Generator) -> pl.DataFrame:
    """Add depth, position, speed, tide, quarter and sea state."""
    count = hauls.height
    ground = hauls["ground"].to_numpy()
    usual = np.array([(g.depth_fathom, g.latitude, g.longitude) for g in GROUNDS])[ground]
    quarter = hauls["shot_at"].dt.quarter().to_numpy().astype(np.int64) - 1
    days = hauls["shot_at"].dt.epoch("s").to_numpy() / 86_400.0
    # Spring tides come about new and full moon: half of each half month.
    springs = np.cos(4 * np.pi * days / _SYNODIC_DAYS) > 0
    rough = np.array([4.2, 3.0, 2.6, 3.9])[quarter]
    return hauls.with_columns(
        depth_fathom=np.round(usual[:, 0] * np.exp(rng.normal(0, 0.15, count)) * 2) / 2,
        latitude=np.round(usual[:, 1] + rng.normal(0, 0.06, count), 3),
        longitude=np.round(usual[:, 2] + rng.normal(0, 0.1, count), 3),
        speed_kn=np.round(np.clip(rng.normal(2.9, 0.25, count), 2.0, 4.0), 1),
        sea_state=np.clip(np.round(rng.normal(rough, 1.2)), 0, 8).astype(np.int64),
        quarter=quarter,
        springs=springs,
    )
