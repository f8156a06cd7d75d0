"""A season's report of seven rigs and six outcomes in which nothing differs: what is said to.

Six rigs that do nothing are each held against a seventh, in six outcomes over all grounds. Which of
them are headlines, and among how many they are judged, is settled by the program's own steps.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl

from pipeline.rates.effects import find_effects
from pipeline.rates.standing import judge_by
from schemas.outcomes import HEADLINES
from schemas.settings import Model
from schemas.words import ALL_GROUNDS
from tests.calibration.seasons import (
    FACTORS,
    FISH_LUCK,
    HAULS_A_TRIP,
    KILOS_AN_HOUR,
    SECOND_GROUND,
    chance_of,
    luck,
    summed,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

RIGS = [f"rig {number}" for number in range(7)]
REFERENCE = RIGS[0]
OUTCOMES = (
    "damage_events",
    "mending_hours",
    "hours_lost",
    "debris_kg",
    "bottom_living_kg",
    "other_kg",
)
MENDED, LOST = 2.0, 1.0
"""Hours that an event takes to mend, and that it costs, in the mean."""
CLEAR = ("lower", "higher")


@dataclass(frozen=True)
class WholeSeason:
    """What a season of seven rigs is like, two grounds and one event a haul in the mean.

    From trip to trip a boat's rigs take turns; from haul to haul they come by chance.
    """

    trips: int
    boats: int
    change: Literal["trip", "haul"]
    luck: float = 0.7

    @property
    def words(self) -> str:
        """The setting in words, but for trips and boats."""
        unlike = {0.7: "", 1.2: ", trips very unlike"}[self.luck]
        return f"rigs change from {self.change} to {self.change}{unlike}"


WHOLE_SEASONS = (
    WholeSeason(12, 1, "haul"),
    WholeSeason(12, 3, "haul"),
    WholeSeason(12, 10, "haul"),
    WholeSeason(30, 1, "trip"),
    WholeSeason(30, 1, "haul"),
    WholeSeason(30, 3, "haul"),
    WholeSeason(30, 10, "haul"),
    WholeSeason(120, 1, "trip"),
    WholeSeason(120, 1, "trip", luck=1.2),
    WholeSeason(120, 3, "trip"),
    WholeSeason(120, 10, "haul"),
)


@dataclass(frozen=True)
class Alarms:
    """What was falsely said to differ in one season, where nothing did.

    `compared` is how many headline comparisons the season bore, `headline` whether any of them was
    called lower or higher; `headline_alone` whether any would have been, judged by itself, and
    `any_alone` whether any of all outcomes' would. `intervals` were given in all, and `held` of
    them held 1.
    """

    compared: int
    headline: bool
    headline_alone: bool
    any_alone: bool
    intervals: int
    held: int


def alarms(setting: WholeSeason, seeds: Sequence[int]) -> pl.DataFrame:
    """The alarms of the seasons of these seeds, one row each; the columns are those of `Alarms`."""
    hauls = pl.concat(
        _hauls(setting, seed).with_columns(season=pl.lit(at)) for at, seed in enumerate(seeds)
    )
    return pl.DataFrame([_alarms(sums) for sums in summed(hauls, OUTCOMES)])


def _alarms(sums: pl.DataFrame) -> Alarms:
    """What the program says of one season, with its headlines judged as the report's are."""
    fished = sums.select("rig_version", "ground").unique()
    judging = judge_by(sums, fished, REFERENCE, Model())
    effects = find_effects(sums, fished, REFERENCE, FACTORS, "trip", [ALL_GROUNDS], judging)
    assert len(effects) == len(OUTCOMES) * (len(RIGS) - 1)
    headlines = [effect for effect in effects if effect.outcome in HEADLINES]
    given = [(effect.low, effect.high) for effect in effects if effect.low is not None]
    return Alarms(
        judging.comparisons,
        any(effect.verdict in CLEAR for effect in headlines),
        any(effect.verdict_alone in CLEAR for effect in headlines),
        any(effect.verdict_alone in CLEAR for effect in effects),
        len(given),
        sum(low <= 1 and (high is None or high >= 1) for low, high in given),
    )


def _hauls(setting: WholeSeason, seed: int) -> pl.DataFrame:
    """The hauls of one season; what damage costs follows from its events."""
    chance = chance_of(seed, 1.0, setting)
    trip = np.repeat(np.arange(setting.trips), HAULS_A_TRIP)
    turn = (trip // setting.boats + trip % setting.boats) % len(RIGS)
    rig = turn if setting.change == "trip" else chance.integers(0, len(RIGS), len(trip))
    ground = chance.integers(0, 2, len(trip))
    hours = chance.uniform(1, 5, len(trip))
    wanted = np.where(ground == 1, SECOND_GROUND, 1.0) * hours
    damage_luck = luck(setting.trips, setting.luck, chance)[trip]
    events = chance.poisson(wanted * len(trip) / wanted.sum() * damage_luck).astype(float)
    torn = np.maximum(events, np.finfo(float).tiny)
    kilos = wanted * KILOS_AN_HOUR
    return pl.DataFrame(
        {
            "vessel": trip % setting.boats,
            "trip": trip,
            "rig_version": np.array(RIGS)[rig],
            "ground": ground,
            "quarter": 0,
            "stretch": 0,
            "tow_hours": hours,
            "damage_events": events,
            "mending_hours": np.where(events > 0, chance.gamma(torn, MENDED), 0.0),
            "hours_lost": np.where(events > 0, chance.gamma(torn, LOST), 0.0),
            "debris_kg": chance.gamma(1.0, wanted) * damage_luck,
            "bottom_living_kg": chance.gamma(1.0, kilos)
            * luck(setting.trips, FISH_LUCK, chance)[trip],
            "other_kg": chance.gamma(1.0, kilos) * luck(setting.trips, FISH_LUCK, chance)[trip],
        }
    )
