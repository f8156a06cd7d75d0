"""What each haul brings: damage, mending, stones, and the kg of each species.

A haul is damaged once or not at all, with a chance in proportion to its tow hours, so the
log's plain yes or no carries the true ratio between rigs. Fish and stones vary by trip and
by haul about their mean. Nothing drawn here depends on the rig except by its true ratio.
"""

from collections.abc import Iterator

import numpy as np
import polars as pl
from numpy.typing import NDArray

from synthetic_data import scene
from synthetic_data.fleet import Boat
from synthetic_data.scene import BOTTOM_LIVING, GROUNDS, OTHER_FISH, RIG_VERSIONS, Species

Floats = NDArray[np.float64]

_HIGHEST_CHANCE = 0.9
_METRES_PER_FATHOM = 1.8288
_TRIP_SHAPE_DAMAGE = 20.0
_TRIP_SHAPE_DEBRIS = 20.0
_TRIP_SHAPE_CATCH = 40.0
_HAUL_SHAPE_DEBRIS = 1.2
_HAUL_SHAPE_CATCH = 2.5
_FOUL_IF_DAMAGED = 0.25
_FOUL_OTHERWISE = 0.01
_FOUL_CATCH = 0.3
_KG_EACH_MONKFISH = 2.2
_REPAIR_COST = (40.0, 25.0)


def add_damage(hauls: pl.DataFrame, fleet: list[Boat], rng: np.random.Generator) -> pl.DataFrame:
    """Add damaged, mending hours, hours lost, repair cost and whether the tow was valid."""
    count = hauls.height
    tow_hours = hauls["tow_minutes"].to_numpy() / 60
    rate = (
        scene.DAMAGED_HAULS_PER_HOUR
        * _by(hauls, "ground", [ground.damage for ground in GROUNDS])
        * _by(hauls, "rig", [rig.damage for rig in RIG_VERSIONS])
        * _by(hauls, "boat", [boat.damage for boat in fleet])
        * _by(hauls, "quarter", scene.QUARTER_DAMAGE)
        * np.where(hauls["springs"].to_numpy(), scene.SPRINGS_DAMAGE, 1.0)
        * _of_trip(hauls, _TRIP_SHAPE_DAMAGE, rng)
    )
    damaged = rng.random(count) < np.minimum(rate * tow_hours, _HIGHEST_CHANCE)
    mending = np.clip(np.round(2 * np.exp(rng.normal(0.7, 0.7, count))) / 2, 0.5, 14.0)
    mending_hours = np.where(damaged, mending, 0.0)
    # Some mending is done while steaming or by those off watch, so less fishing is lost.
    lost = np.round(mending * rng.uniform(0.3, 1.0, count) * 2) / 2
    fixed, by_hour = _REPAIR_COST
    cost = np.round((fixed + by_hour * mending) * np.exp(rng.normal(0, 0.4, count)) / 5) * 5
    foul = rng.random(count) < np.where(damaged, _FOUL_IF_DAMAGED, _FOUL_OTHERWISE)
    return hauls.with_columns(
        damaged=damaged,
        mending_hours=mending_hours,
        hours_lost=np.where(damaged, lost, 0.0),
        repair_cost=np.where(damaged, cost, 0.0),
        valid=~foul,
    )


def add_debris(hauls: pl.DataFrame, fleet: list[Boat], rng: np.random.Generator) -> pl.DataFrame:
    """Add the kg of stones and mud brought aboard."""
    mean_kg = (
        scene.DEBRIS_KG_PER_HOUR
        * hauls["tow_minutes"].to_numpy()
        / 60
        * _by(hauls, "ground", [ground.debris for ground in GROUNDS])
        * _by(hauls, "rig", [rig.debris for rig in RIG_VERSIONS])
        * _by(hauls, "boat", [boat.debris for boat in fleet])
        * _by(hauls, "quarter", scene.QUARTER_DEBRIS)
        * _of_trip(hauls, _TRIP_SHAPE_DEBRIS, rng)
    )
    debris_kg = _gamma(mean_kg, _HAUL_SHAPE_DEBRIS, rng)
    return hauls.with_columns(debris_kg=np.round(debris_kg, 1))


def catches_by_species(
    hauls: pl.DataFrame, fleet: list[Boat], rng: np.random.Generator
) -> Iterator[pl.DataFrame]:
    """Yield each species' catches, where there were any: haul row, kept and discarded kg."""
    number = 0
    for group in (BOTTOM_LIVING, OTHER_FISH):
        group_kg = _group_kg(hauls, fleet, bottom_living=group is BOTTOM_LIVING, rng=rng)
        for species in group:
            mean_kg = group_kg * _by(hauls, "ground", _share_of_group(species, group))
            mean_kg *= _of_trip(hauls, _TRIP_SHAPE_CATCH, rng) / species.seen
            caught_kg = _gamma(mean_kg, _HAUL_SHAPE_CATCH, rng)
            caught_kg *= rng.random(hauls.height) < species.seen
            kept_share = rng.beta(20 * species.kept, 20 * (1 - species.kept), hauls.height)
            yield _catch_rows(species, number, caught_kg, kept_share)
            number += 1


def _group_kg(
    hauls: pl.DataFrame, fleet: list[Boat], *, bottom_living: bool, rng: np.random.Generator
) -> Floats:
    """Mean kg per haul of the group; only bottom-living fish are lost under the gear."""
    if bottom_living:
        per_hour = scene.BOTTOM_LIVING_KG_PER_HOUR * _by(
            hauls, "rig", [rig.bottom_living for rig in RIG_VERSIONS]
        )
        ground = [ground.bottom_living for ground in GROUNDS]
        boat = [boat.bottom_living for boat in fleet]
        quarter = scene.QUARTER_BOTTOM_LIVING
    else:
        per_hour = np.full(hauls.height, scene.OTHER_KG_PER_HOUR)
        ground = [ground.other for ground in GROUNDS]
        boat = [boat.other for boat in fleet]
        quarter = scene.QUARTER_OTHER
    depth_m = hauls["depth_fathom"].to_numpy() * _METRES_PER_FATHOM
    mean_kg: Floats = (
        per_hour
        * hauls["tow_minutes"].to_numpy()
        / 60
        * _by(hauls, "ground", ground)
        * _by(hauls, "boat", boat)
        * _by(hauls, "quarter", quarter)
        * (depth_m / 100) ** scene.DEPTH_POWER
        * np.where(hauls["valid"].to_numpy(), 1.0, _FOUL_CATCH)
        * _of_trip(hauls, _TRIP_SHAPE_CATCH, rng)
    )
    return mean_kg


def _share_of_group(species: Species, group: tuple[Species, ...]) -> list[float]:
    """Share of its group's kg that a species makes up on each ground."""
    totals = [sum(shares) for shares in zip(*(s.share for s in group), strict=True)]
    return [own / total for own, total in zip(species.share, totals, strict=True)]


def _catch_rows(
    species: Species, number: int, caught_kg: Floats, kept_share: Floats
) -> pl.DataFrame:
    """Keep the hauls with some catch; a large fish is counted too."""
    caught_kg = np.round(caught_kg, 1)
    row = np.flatnonzero(caught_kg > 0)
    caught_kg = caught_kg[row]
    kept_kg = np.round(caught_kg * kept_share[row], 1)
    counted = species.code == "MON"
    fish = np.maximum(1, np.round(caught_kg / _KG_EACH_MONKFISH)).astype(np.int64)
    return pl.DataFrame(
        {
            "haul_row": row,
            "species": pl.repeat(species.code, len(row), eager=True),
            "species_row": pl.repeat(number, len(row), eager=True, dtype=pl.Int8),
            "kept_kg": kept_kg,
            "discarded_kg": np.round(caught_kg - kept_kg, 1),
            "count": pl.Series(fish if counted else [None] * len(row), dtype=pl.Int64),
        }
    )


def _by(hauls: pl.DataFrame, column: str, effects: list[float] | tuple[float, ...]) -> Floats:
    """Effect of each haul's own ground, rig, boat or quarter."""
    by_haul: Floats = np.asarray(effects, dtype=np.float64)[hauls[column].to_numpy()]
    return by_haul


def _of_trip(hauls: pl.DataFrame, shape: float, rng: np.random.Generator) -> Floats:
    """Good and bad trips: one gamma draw of mean one for each trip."""
    trip = hauls["trip_row"].to_numpy()
    of_trip: Floats = rng.gamma(shape, 1 / shape, int(trip[-1]) + 1)[trip]
    return of_trip


def _gamma(mean: Floats, shape: float, rng: np.random.Generator) -> Floats:
    """Draw about the mean with the gamma distribution of this shape."""
    drawn: Floats = rng.gamma(shape, 1.0, len(mean)) * mean / shape
    return drawn
