"""How often a rig that truly halves tears is called no different, where a log says only yes or no.

`python -m tests.proofs.yes_or_no_over_seasons 200` draws so many trials of two rigs in turn, ten
hauls a trip, on two grounds, and prints how often the verdict was each. A rig that halves tears
makes just the difference that matters, so that of the trials at most 1 in 40 may call it no
different; beside it a rig that makes none. Then how often the slope of log hours was called that of
neither hours nor hauls where tears went by the hour.
"""

from __future__ import annotations

import sys
from collections import Counter
from typing import NamedTuple

import numpy as np
import polars as pl

from pipeline.rates.effects import find_effects
from pipeline.rates.hours_slope import hours_slope

DAMAGE = "damage_events"
HAULS = 10


class Trial(NamedTuple):
    """What is drawn: the shares of the reference's hauls damaged on either ground, the trips, how
    much their luck spreads (as a share of its mean), and what the other rig does to tears."""

    shares: tuple[float, float]
    trips: int
    luck: float
    ratio: float
    spread_of_hours: float = 0.0


def hauls_of(trial: Trial, seed: int) -> pl.DataFrame:
    """A row a haul, damaged by a rate an hour."""
    chance = np.random.default_rng([seed, trial.trips, *(int(100 * each) for each in trial.shares)])
    many = trial.trips * HAULS
    trip, is_other = np.arange(many) // HAULS, np.arange(many) % 2
    ground = chance.integers(0, 2, many)
    shape = 1 / trial.luck**2 if trial.luck else np.inf
    luck = chance.gamma(shape, 1 / shape, trial.trips) if trial.luck else np.ones(trial.trips)
    hours = np.exp(chance.normal(0, trial.spread_of_hours, many))
    mean = -np.log1p(-np.array(trial.shares))[ground] * luck[trip] * hours
    damaged = chance.random(many) < -np.expm1(-mean * np.where(is_other, trial.ratio, 1.0))
    return pl.DataFrame(
        {
            "outcome": DAMAGE,
            "vessel": "Skua",
            "trip": trip.astype(str),
            "stretch": "all",
            "rig_version": np.where(is_other, "discs", "rope"),
            "ground": np.where(ground, "stones", "sand"),
            "tow_hours": hours,
            "amount": damaged.astype(float),
        }
    )


def verdict_of(trial: Trial, seed: int) -> str:
    """What is said of the other rig, by itself."""
    sums = summed(hauls_of(trial, seed))
    fished = sums.select("rig_version", "ground").unique()
    return str(find_effects(sums, fished, "rope", ["ground"], "trip", ("all",))[0].verdict)


def summed(hauls: pl.DataFrame) -> pl.DataFrame:
    """The hauls by trip and conditions."""
    keys = ["outcome", "vessel", "trip", "stretch", "rig_version", "ground"]
    return (
        hauls.group_by(keys)
        .agg(
            pl.len().cast(pl.Int64).alias("hauls"),
            (pl.col("amount") > 0).sum().cast(pl.Int64).alias("hauls_with_some"),
            pl.col("tow_hours").sum(),
            pl.col("amount").sum().alias("total"),
        )
        .sort(keys)
    )


def claim_of(trial: Trial, seed: int) -> str:
    """What is said of damage and hours towed."""
    return str(hours_slope(hauls_of(trial, seed), "rope", ["ground"], "trip").claim)


GROUNDS = ((0.5, 0.5), (0.2, 0.8), (0.1, 0.9), (0.03, 0.97))
LUCK = (0.0, 0.7, 1.2)


def main(trials: int) -> None:
    """Print a line for each kind of trial."""
    for shares in GROUNDS:
        for luck in LUCK:
            for ratio in (0.5, 1.0):
                trial = Trial(shares, 20, luck, ratio)
                said = Counter(verdict_of(trial, seed) for seed in range(trials))
                sys.stdout.write(f"{trial}: {dict(said)}\n")
    for luck in LUCK:
        for trips in (30, 60):
            trial = Trial((0.4, 0.7), trips, luck, 0.5, spread_of_hours=0.5)
            said = Counter(claim_of(trial, seed) for seed in range(trials))
            sys.stdout.write(f"{trial}: {dict(said)}\n")


if __name__ == "__main__":
    main(int(sys.argv[1]))
