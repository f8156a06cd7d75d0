"""Invented seasons as sums by trip and pattern, with the ratio of two rigs put in.

Nothing in them is of a real boat. Every trip has a luck of its own, a gamma with mean one, for
damage and for fish each; hauls of a trip share it. That is what intervals have to reckon with.

Many seasons are summed at once, as to sum each by itself takes longer than to invent it.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.random import Generator
    from numpy.typing import NDArray

    Numbers = NDArray[np.int64]
    Floats = NDArray[np.float64]

RIG, REFERENCE = "discs", "bobbins"
DAMAGE, FISH = "damage_events", "bottom_living_kg"
OUTCOMES = (DAMAGE, FISH)
NOW = "as fished"
FACTORS = ("ground", "vessel", "quarter")
PATTERN = ["vessel", "trip", "rig_version", "ground", "quarter", "stretch"]

HAULS_A_TRIP = 8
EVENTS = {"few": 8.0, "rare": 30.0}
"""Of a season, in all."""
KILOS_AN_HOUR = 100.0
SECOND_GROUND = 3.0
"""How much more is torn, and caught, an hour on the second ground."""
CHOSEN_SHARE = 0.8
"""The share of hauls on its own ground, where a rig is chosen by the ground."""
BOAT_SPREAD = 0.5
HOURS_OFF = 0.1
"""Standard deviations of the log: of boats that differ, and of hours that are misstated."""
FISH_LUCK = 0.5
"""Of a trip's luck with fish, where trips have one: its standard deviation."""
PATCHY_SHARE, PATCHY_SPREAD = 0.2, 1.5
"""Of patchy fish: the share of hauls that have any, and the standard deviation of its log there."""


@dataclass(frozen=True)
class Setting:
    """What a season is like.

    `events` of damage are 8 or 30 in all (few, rare), or one a haul. `luck` is the standard
    deviation of a trip's luck. Rigs change from `trip` to trip or from `haul` to haul; `tried` is
    on how many trips the rig was tried at all, None where both were fished alike. With `yes_or_no`
    nobody wrote how often a haul tore the net, only whether it did; else they are the same seasons.
    Fish that is `patchy` is in one haul of five, and there seldom and many at once.
    """

    trips: int
    boats: int = 1
    grounds: int = 2
    quarters: int = 1
    events: Literal["few", "rare", "common"] = "common"
    luck: float = 0.7
    change: Literal["trip", "haul"] = "trip"
    chosen: bool = False
    boats_differ: bool = False
    hours_off: bool = False
    tried: int | None = None
    yes_or_no: bool = field(default=False, repr=False)
    patchy: bool = field(default=False, repr=False)

    @property
    def plain(self) -> Setting:
        """The setting that has the same fish, with damage as it mostly is."""
        luck = 0.7 if self.luck else 0.0
        return replace(self, events="common", luck=luck, yes_or_no=False)

    @property
    def words(self) -> str:
        """The setting in words, but for trips and boats."""
        lucks = {0.0: "trips alike", 0.7: "", 1.2: "trips very unlike"}
        told = [
            "fish in one haul of five" if self.patchy else self.events,
            "damage as yes or no" if self.yes_or_no else "",
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


@dataclass(frozen=True)
class Season:
    """The sums of a season as `find_effects` takes them, and what was true.

    `rates` has, by outcome and rig, how much an hour its hauls have in the mean over trips' luck.
    `ratios` has, by outcome, how much all hauls of the season would have with the rig for each that
    they would have with the reference: what was put in, but of damage as yes or no less.
    """

    sums: pl.DataFrame
    rates: dict[tuple[str, str], float]
    ratios: dict[str, float]


def invented_seasons(
    setting: Setting,
    ratio: float,
    seeds: Sequence[int],
    outcomes: Sequence[str] = OUTCOMES,
    on_second: float | None = None,
) -> list[Season]:
    """One season a seed, and its sums of `outcomes`.

    An hour with the rig has `ratio` times the reference's; on the second ground `on_second` times
    as much, where that is told.
    """
    there = ratio if on_second is None else on_second
    hauls = pl.concat(
        _hauls(setting, (ratio, there), chance_of(seed, ratio, setting)).with_columns(
            season=pl.lit(at)
        )
        for at, seed in enumerate(seeds)
    ).with_columns(
        pl.when(pl.col("rig") == 1).then(pl.lit(RIG)).otherwise(pl.lit(REFERENCE)).alias(PATTERN[2])
    )
    rates = hauls.group_by("season", "rig_version").agg(
        pl.col(f"{name} {NOW}").sum() / pl.col("hours").sum() for name in OUTCOMES
    )
    true: list[dict[tuple[str, str], float]] = [{} for _ in seeds]
    for at, rig, *by_outcome in rates.iter_rows():
        true[at] |= {(name, rig): each for name, each in zip(OUTCOMES, by_outcome, strict=True)}
    ratios = hauls.group_by("season", maintain_order=True).agg(
        (pl.col(f"{name} {RIG}").sum() / pl.col(f"{name} {REFERENCE}").sum()).alias(name)
        for name in OUTCOMES
    )
    sums = summed(hauls, outcomes)
    return list(map(Season, sums, true, ratios.drop("season").to_dicts()))


def chance_of(seed: int, ratio: float, setting: object) -> Generator:
    """Chance that is the same whenever this season of this setting is invented."""
    return np.random.default_rng([seed, round(10 * ratio), *repr(setting).encode()])


def summed(hauls: pl.DataFrame, outcomes: Sequence[str]) -> list[pl.DataFrame]:
    """The sums of each season in turn, from hauls with `season`, the pattern and the outcomes."""
    keys = ["season", "outcome", *PATTERN]
    numbered = pl.col("vessel", "trip", "ground", "quarter", "stretch")
    sums = (
        hauls.with_columns(numbered.cast(pl.String))
        .unpivot(
            outcomes,
            index=["season", *PATTERN, "tow_hours"],
            variable_name="outcome",
            value_name="total",
        )
        .group_by(keys)
        .agg(
            pl.len().alias("hauls"),
            (pl.col("total") > 0).sum().alias("hauls_with_some"),
            pl.col("tow_hours", "total").sum(),
        )
        .sort(keys)
    )
    return sums.partition_by("season", include_key=False, maintain_order=True)


def _hauls(setting: Setting, ratios: tuple[float, float], chance: Generator) -> pl.DataFrame:
    """The hauls of one season, by the ratio on either ground.

    `hours` are those towed, `tow_hours` those written down.
    """
    trip = np.repeat(np.arange(setting.trips), HAULS_A_TRIP)
    boat = trip % setting.boats
    rig, ground = _rig_and_ground(setting, trip, chance)
    hours = chance.uniform(1, 5, len(trip))
    on_first, on_second = ratios
    reference_rate = np.where(ground == 1, SECOND_GROUND, 1.0)
    if setting.boats_differ:
        reference_rate *= np.exp(chance.normal(0, BOAT_SPREAD, setting.boats))[boat]
    ratio = np.where(ground == 1, on_second, on_first)
    wanted = reference_rate * ratio**rig * hours
    by_rig = {NOW: wanted, RIG: reference_rate * ratio * hours, REFERENCE: reference_rate * hours}
    scale = EVENTS.get(setting.events, len(trip)) / wanted.sum()
    events = wanted * scale
    kilos = wanted * KILOS_AN_HOUR
    drawn = chance.poisson(events * luck(setting.trips, setting.luck, chance)[trip]) * 1.0
    fish_luck = FISH_LUCK if setting.luck else 0.0
    quarter = trip * setting.quarters // setting.trips
    return pl.DataFrame(
        {
            "vessel": boat,
            "trip": trip,
            "rig": rig,
            "ground": ground,
            "quarter": quarter,
            "stretch": quarter,
            "hours": hours,
            **{f"{DAMAGE} {now}": _recorded(setting, m * scale) for now, m in by_rig.items()},
            **{f"{FISH} {now}": m * KILOS_AN_HOUR for now, m in by_rig.items()},
            DAMAGE: np.minimum(drawn, 1.0) if setting.yes_or_no else drawn,
            FISH: _caught(setting, kilos, chance) * luck(setting.trips, fish_luck, chance)[trip],
            "tow_hours": hours * np.exp(chance.normal(0, HOURS_OFF, len(trip)))
            if setting.hours_off
            else hours,
        }
    )


def _caught(setting: Setting, kilos: Floats, chance: Generator) -> Floats:
    """The fish of each haul that has so much of it in the mean."""
    if not setting.patchy:
        return chance.gamma(1.0, kilos)
    some = chance.random(len(kilos)) < PATCHY_SHARE
    much = chance.lognormal(-(PATCHY_SPREAD**2) / 2, PATCHY_SPREAD, len(kilos))
    return some * much * kilos / PATCHY_SHARE


def _recorded(setting: Setting, events: Floats) -> Floats:
    """What is written down of so many events a haul, in the mean over trips' luck.

    As yes or no it is the chance of one or more: events of a gamma's luck are negative binomial.
    """
    if not setting.yes_or_no:
        return events
    of_luck = setting.luck**2
    none = (1 + of_luck * events) ** (-1 / of_luck) if of_luck else np.exp(-events)
    return np.asarray(1 - none)


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


def luck(trips: int, spread: float, chance: Generator) -> Floats:
    """The luck of each trip: a gamma with mean one and this standard deviation."""
    if spread == 0:
        return np.ones(trips)
    return chance.gamma(1 / spread**2, spread**2, trips)
