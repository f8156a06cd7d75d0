"""An invented season in which damage and catch follow a rig's measures, by a known law.

Eight versions of one rig differ in diameter, weight and gap, which do not go together. The rate of
damage and of bottom-living fish is multiplied by a known number for every 100 mm of diameter, and
by another for every 1 % that the ground chain is longer than the traveller when the haul is made.
The chains stretch as they are fished, are measured now and then, and evened when they are long.
"""

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path

import numpy as np
import polars as pl

START = datetime(2031, 1, 2)
SECTIONS = {"wing": (11.0, 2), "bunt": (4.4, 2), "bosom": (3.3, 1)}
WHOLE_M = sum(length * sides for length, sides in SECTIONS.values())

DIAMETERS_MM = (200, 250, 300, 350, 400, 450, 500, 550)
KG_PER_M_IN_WATER = (10.0, 5.0, 15.0, 7.0, 4.0, 13.0, 6.0, 11.0)
GAPS_MM = (60, 90, 100, 40, 130, 110, 50, 70)
RIGS = tuple(f"bobbins-{diameter}" for diameter in DIAMETERS_MM)
REFERENCE = RIGS[3]
_SHARE_KEPT = 0.87

BOATS = ("Grey Linnet", "Bright Tansy", "Fair Plover", "Bold Thistle")
GROUNDS = ("sand", "mixed", "hard")
GROUND_DAMAGE = (1.0, 1.8, 4.0)
GROUND_KG = (1.0, 0.9, 0.6)
_BOAT_SPREAD = 0.2
_TRIP_SHAPE = 20.0
_DAMAGE_PER_HOUR = 0.015
_KG_PER_HOUR = 22.0
_HAUL_SHAPE = 2.5

_HOURS_BETWEEN_CHECKS = 45.0
_EVENED_ABOVE_PERCENT = 1.2
_STRETCH_PERCENT_PER_HOUR = (0.004, 0.010)


@dataclass(frozen=True)
class Law:
    """What the season is drawn from: ratios for a step of each measure, and the rigs' own spread.

    `rig_spread` is the standard deviation of what a rig does beside its measures, as a log ratio;
    `tape_error_m` that of one length measured on one side.
    """

    damage_per_100_mm: float = 0.8
    damage_per_percent: float = 1.6
    kg_per_100_mm: float = 0.93
    kg_per_percent: float = 0.9
    rig_spread: float = 0.0
    tape_error_m: float = 0.008


@dataclass
class _Chain:
    """One boat's ground chain on one rig: how long it was fished, and since when it is even."""

    percent_per_hour: float
    hours: float = 0.0
    even_at: float = 0.0
    checked_at: float = 0.0

    @property
    def percent(self) -> float:
        """How much longer than the traveller it is now."""
        return self.percent_per_hour * (self.hours - self.even_at)


@dataclass
class _Log:
    """The season's rows as they are written."""

    hauls: list[dict[str, object]] = field(default_factory=list)
    catches: list[dict[str, object]] = field(default_factory=list)
    fittings: list[dict[str, object]] = field(default_factory=list)
    length_checks: list[dict[str, object]] = field(default_factory=list)


def invent_measured_season(
    seed: int, law: Law | None = None, hauls: int = 2000
) -> dict[str, pl.DataFrame]:
    """The season's tables under the program's own headings; the same seed gives the same season."""
    law = law or Law()
    rng = np.random.default_rng(seed)
    own_damage, own_kg = np.exp(rng.normal(0.0, law.rig_spread, (2, len(RIGS))))
    steps = (np.array(DIAMETERS_MM) - DIAMETERS_MM[3]) / 100
    damage = dict(zip(RIGS, own_damage * law.damage_per_100_mm**steps, strict=True))
    kg = dict(zip(RIGS, own_kg * law.kg_per_100_mm**steps, strict=True))
    log = _Log()
    for boat in BOATS:
        _fish(boat, hauls // len(BOATS), law, (damage, kg), rng, log)
    return {
        "hauls": pl.DataFrame(log.hauls),
        "catches": pl.DataFrame(log.catches),
        "fittings": pl.DataFrame(log.fittings),
        "length_checks": pl.DataFrame(log.length_checks),
        "rig_versions": _rig_versions(),
        "rig_parts": _rig_parts(),
    }


def _fish(
    boat: str,
    hauls: int,
    law: Law,
    of_rig: tuple[dict[str, float], dict[str, float]],
    rng: np.random.Generator,
    log: _Log,
) -> None:
    """One boat's year: trips of a few hauls, a rig and a ground or two to each."""
    own_damage, own_kg = np.exp(rng.normal(0.0, _BOAT_SPREAD, 2))
    chains = {rig: _Chain(rng.uniform(*_STRETCH_PERCENT_PER_HOUR)) for rig in RIGS}
    carried = [REFERENCE, *rng.choice([r for r in RIGS if r != REFERENCE], 5, replace=False)]
    chances = np.array([0.35, *[0.13] * 5])
    trips = -(-hauls // 8)
    left = hauls
    for trip in range(trips):
        count = min(8, left)
        left -= count
        rig = str(rng.choice(carried, p=chances))
        at = START + timedelta(days=363 * trip / trips)
        log.fittings.append({"vessel": boat, "fitted_from": at, "rig_version": rig})
        trip_damage, trip_kg = rng.gamma(_TRIP_SHAPE, 1 / _TRIP_SHAPE, 2)
        for haul in range(count):
            at += timedelta(hours=1)
            hours = float(rng.uniform(2.0, 4.5))
            ground = int(rng.integers(len(GROUNDS)))
            percent = chains[rig].percent + chains[rig].percent_per_hour * hours / 2
            events = rng.poisson(
                _DAMAGE_PER_HOUR * hours * GROUND_DAMAGE[ground] * of_rig[0][rig]
                * law.damage_per_percent**percent * own_damage * trip_damage
            )  # fmt: skip
            caught_kg = (
                _KG_PER_HOUR * hours * GROUND_KG[ground] * of_rig[1][rig]
                * law.kg_per_percent**percent * own_kg * trip_kg
                * rng.gamma(_HAUL_SHAPE, 1 / _HAUL_SHAPE)
            )  # fmt: skip
            key = {"vessel": boat, "trip": str(trip + 1), "haul": str(haul + 1)}
            log.hauls.append(
                {
                    **key,
                    "shot_at": at,
                    "tow_hours": round(hours, 3),
                    "rig_version": rig,
                    "ground": GROUNDS[ground],
                    "damage_events": int(events),
                }
            )
            log.catches.append({**key, "species": "PLE", "kept_kg": round(caught_kg, 1)})
            chains[rig].hours += hours
            at += timedelta(hours=hours)
        _check(boat, rig, chains[rig], at + timedelta(hours=6), law.tape_error_m, rng, log)


def _check(
    boat: str,
    rig: str,
    chain: _Chain,
    at: datetime,
    tape_error_m: float,
    rng: np.random.Generator,
    log: _Log,
) -> None:
    """Ground chain and traveller pulled tight and measured, where it is time for it."""
    if chain.hours - chain.checked_at < _HOURS_BETWEEN_CHECKS:
        return
    chain.checked_at = chain.hours
    evened = chain.percent > _EVENED_ABOVE_PERCENT
    for section, (length_m, _) in SECTIONS.items():
        errors_m = rng.normal(0.0, tape_error_m, 2)
        log.length_checks.append(
            {
                "vessel": boat,
                "checked_on": at,
                "section": section,
                "rig_version": rig,
                "ground_chain_m": round(length_m * (1 + chain.percent / 100) + errors_m[0], 3),
                "traveller_m": round(length_m + errors_m[1], 3),
                "evened": "yes" if evened else "no",
            }
        )
    if evened:
        chain.even_at = chain.hours


def _rig_versions() -> pl.DataFrame:
    return pl.DataFrame(
        {
            "rig_version": RIGS,
            "rig": "bobbins",
            "ground_gear": "bobbins",
            "ground_gear_m": WHOLE_M,
            "gap_mm": GAPS_MM,
        }
    )


def _rig_parts() -> pl.DataFrame:
    """Two bobbins a metre, of such a mass that the rig weighs what it should."""
    rows = []
    for rig, diameter_mm, kg_per_m in zip(RIGS, DIAMETERS_MM, KG_PER_M_IN_WATER, strict=True):
        for section, (length_m, _) in SECTIONS.items():
            count = round(2 * length_m)
            rows.append(
                {
                    "rig_version": rig,
                    "section": section,
                    "part": "bobbins",
                    "line": "ground gear",
                    "material": "steel",
                    "count": count,
                    "diameter_mm": diameter_mm,
                    "each_kg": round(kg_per_m * length_m / count / _SHARE_KEPT, 3),
                    "weight_kept_in_water": _SHARE_KEPT,
                }
            )
    return pl.DataFrame(rows)


def write_measured_season(folder: Path, seed: int, law: Law | None = None) -> None:
    """Write the season's folder, marked as invented."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, table in invent_measured_season(seed, law).items():
        table.write_csv(folder / f"{name}.csv", datetime_format="%Y-%m-%d %H:%M")
    (folder / "season.toml").write_text(
        "# An invented season: no boat, person or ground in it exists.\n"
        f'[season]\ntitle = "A measured season (invented)"\nreference_rig = "{REFERENCE}"\n',
        encoding="utf-8",
    )
