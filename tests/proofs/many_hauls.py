"""How long the rates of a great season take, after its sums are made, and how much memory.

`python -m tests.proofs.many_hauls` invents a million hauls (forty boats, trips of twenty hauls, six
rigs, six grounds, four years, sixteen outcomes), sums them by trip and pattern as the program does,
and times each step of `run_season` from the sums to the effects: the rates as they were, every rig
against the reference for all outcomes over all grounds and on each, and on the season's mix.
Another number of hauls may be named.
"""

from __future__ import annotations

import resource
import sys
from time import perf_counter, process_time
from typing import TYPE_CHECKING, TypeVar

import numpy as np
import polars as pl

from pipeline.rates.effects import compare_rigs
from pipeline.rates.numbered import by_outcome
from pipeline.rates.on_the_mix import find_on_the_mix, mixes_of
from pipeline.rates.rate_table import rate_table
from pipeline.rates.standing import judge_by
from schemas.outcomes import OUTCOMES, SPECIES_PREFIX
from schemas.settings import Model
from schemas.words import GROUNDS

if TYPE_CHECKING:
    from collections.abc import Callable

HAULS, HAULS_A_TRIP, BOATS, QUARTERS = 1_000_000, 20, 40, 16
RIGS = ("bobbins", "chain", "discs", "grass", "rockhopper", "rounded")
FACTORS = ("ground", "vessel", "depth_band", "quarter")
DEPTHS = ("0-50 m", "50-100 m", "100-200 m")
SPECIES = ("PLE", "SOL", "COD", "HAD", "NEP", "MON", "WHG", "POK")
KEYS = ["vessel", "trip", "rig_version", "ground", "depth_band", "quarter", "stretch"]
MB = 1024

Made = TypeVar("Made")


def invented(hauls: int) -> tuple[pl.DataFrame, pl.DataFrame]:
    """The sums with their conditions, and the hours by rig and ground."""
    chance = np.random.default_rng(1)
    trip = np.arange(hauls) // HAULS_A_TRIP
    trips = int(trip[-1]) + 1
    rig_of_trip = chance.integers(0, len(RIGS), trips)
    first = chance.integers(0, len(GROUNDS), trips)
    ground = np.where(chance.random(hauls) < 0.7, first[trip], (first[trip] + 1) % len(GROUNDS))
    depth = (first[trip] + chance.integers(0, 2, hauls)) % len(DEPTHS)
    quarter = trip * QUARTERS // trips
    hours = chance.uniform(1, 5, hauls)
    luck = chance.gamma(2, 0.5, trips)[trip]
    lift = (1 + 0.3 * ground) * np.linspace(0.7, 1.3, len(RIGS))[rig_of_trip[trip]]
    names = [each.name for each in OUTCOMES] + [f"{SPECIES_PREFIX}{code}" for code in SPECIES]
    conditions = pl.DataFrame(
        {
            "vessel": trip % BOATS,
            "trip": trip,
            "rig_version": rig_of_trip[trip],
            "ground": ground,
            "depth_band": depth,
            "quarter": quarter,
            "stretch": quarter,
            "tow_hours": hours,
            **{
                name: chance.poisson(0.1 * (1 + at) * hours * lift * luck).astype(float)
                for at, name in enumerate(names)
            },
        }
    )
    by_pattern = conditions.group_by(KEYS).agg(
        pl.len().alias("hauls"),
        pl.col("tow_hours").sum(),
        *(pl.col(name).sum() for name in names),
        *((pl.col(name) > 0).sum().alias(f"some {name}") for name in names),
    )
    words = {"rig_version": RIGS, "ground": GROUNDS, "depth_band": DEPTHS}
    named = by_pattern.with_columns(
        *(
            pl.col(name).replace_strict(dict(enumerate(of)), return_dtype=pl.String)
            for name, of in words.items()
        ),
        pl.col("vessel", "trip").cast(pl.String),
        *(
            pl.format("{} Q{}", 2031 + pl.col(name) // 4, 1 + pl.col(name) % 4).alias(name)
            for name in ("quarter", "stretch")
        ),
    )
    sums = pl.concat(
        named.select(
            pl.lit(name).alias("outcome"),
            *KEYS,
            "hauls",
            "tow_hours",
            pl.col(name).alias("total"),
            pl.col(f"some {name}").alias("hauls_with_some"),
        )
        for name in names
    )
    fished = named.group_by("rig_version", "ground").agg(pl.col("tow_hours").sum())
    return sums, fished


def timed(said: str, work: Callable[[], Made]) -> Made:
    """What the work makes; the seconds it took are printed."""
    began, used = perf_counter(), process_time()
    made = work()
    sys.stdout.write(
        f"{said}: {perf_counter() - began:.1f} s by the clock, {process_time() - used:.1f} s of "
        "the processors\n"
    )
    sys.stdout.flush()
    return made


def main(hauls: int) -> None:
    """Print the seconds of each step, and the most memory."""
    as_words, fished = timed("inventing and summing", lambda: invented(hauls))
    sys.stdout.write(
        f"{hauls:,} hauls, {as_words['trip'].n_unique():,} trips, "
        f"{as_words['outcome'].n_unique()} outcomes: {as_words.height:,} sums; {_memory()}\n"
    )
    began = perf_counter()
    sums = timed("laying out by outcome", lambda: by_outcome(as_words))
    judging = timed("looks", lambda: judge_by(sums, fished, RIGS[0], Model()))
    timed("rates as they were", lambda: rate_table(sums, "trip"))
    compared = timed(
        "rigs against the reference",
        lambda: compare_rigs(sums, fished, RIGS[0], FACTORS, "trip", judging=judging),
    )
    mixes = mixes_of(fished, {})
    timed(
        "on the season's mix",
        lambda: find_on_the_mix(sums, compared.effects, FACTORS, "trip", mixes, judging),
    )
    sys.stdout.write(
        f"{len(compared.effects)} effects, in all {perf_counter() - began:.1f} s; {_memory()}\n"
    )


def _memory() -> str:
    return f"at most {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / MB:,.0f} MB"


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else HAULS)
