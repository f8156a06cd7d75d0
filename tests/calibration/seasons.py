"""Invented seasons as sums by trip and pattern, with the ratio of two rigs put in.

Nothing in them is of a real boat. Every trip has a luck of its own, a gamma with mean one, for
damage and for fish each; hauls of a trip share it. That is what intervals have to reckon with.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl

if TYPE_CHECKING:
    from numpy.random import Generator
    from numpy.typing import NDArray

    Numbers = NDArray[np.int64]
    Floats = NDArray[np.float64]

RIG, REFERENCE = "discs", "bobbins"
DAMAGE, FISH = "damage_events", "bottom_living_kg"
OUTCOMES = (DAMAGE, FISH)
FACTORS = ("ground", "vessel", "quarter")
KEYS = ["outcome", "vessel", "trip", "rig_version", "ground", "quarter", "stretch"]

HAULS_A_TRIP = 8
RARE = 30.0
SECOND_GROUND = 3.0
"""How much more is torn, and caught, an hour on the second ground."""
CHOSEN_SHARE = 0.8
"""The share of hauls on its own ground, where a rig is chosen by the ground."""
BOAT_SPREAD = 0.5
HOURS_OFF = 0.1
"""Standard deviations of the log: of boats that differ, and of hours that are misstated."""
FISH_LUCK = 0.5
"""Of a trip's luck with fish, where trips have one: its standard deviation."""


@dataclass(frozen=True)
class Setting:
    """What a season is like.

    `rare` is 30 events in all, else there is one a haul. `luck` is the standard deviation of a
    trip's luck. Rigs change from `trip` to trip or from `haul` to haul; `tried` is on how many
    trips the rig was tried at all, None where both were fished alike.
    """

    trips: int
    boats: int = 1
    grounds: int = 2
    quarters: int = 1
    rare: bool = False
    luck: float = 0.7
    change: Literal["trip", "haul"] = "trip"
    chosen: bool = False
    boats_differ: bool = False
    hours_off: bool = False
    tried: int | None = None

    @property
    def words(self) -> str:
        """The setting in words, but for trips and boats."""
        lucks = {0.0: "trips alike", 0.7: "", 1.2: "trips very unlike"}
        told = [
            "rare" if self.rare else "common",
            f"rigs change from {self.change} to {self.change}",
            lucks[self.luck],
            "" if self.tried is None else f"rig tried on {self.tried} trips",
            "" if self.grounds == 2 else "one ground",
            "" if self.quarters == 1 else f"{self.quarters} quarters",
            "rigs chosen by ground" if self.chosen else "",
            "boats differ" if self.boats_differ else "",
            "hours misstated by 10 %" if self.hours_off else "",
        ]
        return ", ".join(filter(None, told))


def invented_sums(
    setting: Setting, ratio: float, chance: Generator, on_second: float | None = None
) -> pl.DataFrame:
    """The sums of both outcomes; an hour with the rig has `ratio` times the reference's.

    On the second ground it has `on_second` times as much, where that is told.
    """
    trip = np.repeat(np.arange(setting.trips), HAULS_A_TRIP)
    boat = trip % setting.boats
    rig, ground = _rig_and_ground(setting, trip, chance)
    hours = chance.uniform(1, 5, len(trip))
    there = ratio if on_second is None else on_second
    rate = np.where(ground == 1, SECOND_GROUND * there**rig, ratio**rig)
    if setting.boats_differ:
        rate = rate * np.exp(chance.normal(0, BOAT_SPREAD, setting.boats))[boat]
    wanted = rate * hours
    events_in_all = RARE if setting.rare else len(trip)
    events = chance.poisson(
        wanted * events_in_all / wanted.sum() * _luck(setting, setting.luck, chance)[trip]
    )
    fish_luck = FISH_LUCK if setting.luck else 0.0
    kilos = chance.gamma(1.0, 100 * wanted) * _luck(setting, fish_luck, chance)[trip]
    if setting.hours_off:
        hours = hours * np.exp(chance.normal(0, HOURS_OFF, len(trip)))
    quarter = trip * setting.quarters // setting.trips
    hauls = pl.DataFrame(
        {
            "vessel": boat,
            "trip": trip,
            "rig_version": np.where(rig == 1, RIG, REFERENCE),
            "ground": ground,
            "quarter": quarter,
            "stretch": quarter,
            "tow_hours": hours,
            DAMAGE: events.astype(float),
            FISH: kilos,
        }
    )
    return (
        hauls.with_columns(pl.col("vessel", "trip", "ground", "quarter", "stretch").cast(pl.String))
        .unpivot(
            OUTCOMES,
            index=[*KEYS[1:], "tow_hours"],
            variable_name="outcome",
            value_name="total",
        )
        .group_by(KEYS)
        .agg(
            pl.len().alias("hauls"),
            (pl.col("total") > 0).sum().alias("hauls_with_some"),
            pl.col("tow_hours", "total").sum(),
        )
        .sort(KEYS)
    )


def _rig_and_ground(setting: Setting, trip: Numbers, chance: Generator) -> tuple[Numbers, Numbers]:
    """The rig (1) or the reference (0) of each haul, and its ground; the one by the other."""
    turn = (trip // setting.boats + trip % setting.boats) % 2
    rig = turn if setting.change == "trip" else chance.integers(0, 2, len(trip))
    if setting.tried is not None:
        on = np.linspace(0, setting.trips - 1, setting.tried).round().astype(int)
        rig = np.isin(trip, on) if setting.change == "trip" else rig * np.isin(trip, on)
    rig = rig.astype(np.int64)
    own = chance.random(len(trip)) < (CHOSEN_SHARE if setting.chosen else 1 / setting.grounds)
    second = np.where(rig == 1, own, ~own) if setting.chosen else ~own
    return rig, second.astype(np.int64)


def _luck(setting: Setting, spread: float, chance: Generator) -> Floats:
    """The luck of each trip: a gamma with mean one and this standard deviation."""
    if spread == 0:
        return np.ones(setting.trips)
    return chance.gamma(1 / spread**2, spread**2, setting.trips)
