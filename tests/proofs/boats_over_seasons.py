"""A long proof: over many invented seasons, how often does the mean over boats hold the truth?

`python tests/proofs/boats_over_seasons.py 300` invents 300 seasons of 3, 5 and 10 boats, with 8 and
20 trips of each rig on each boat, where boats are alike and where their ratios differ; a trip is
one rig's, and trips differ. It counts how often the 95 % interval holds the ratio that boats have
on the average, how often the limits for a further boat hold one, and how often it is told that
boats differ more than chance.
"""

from __future__ import annotations

import sys
from collections import Counter
from functools import partial
from itertools import chain, product

import numpy as np
import polars as pl

from pipeline.rates.over_boats import find_over_boats
from tests.proofs.over_seasons import over_seasons

TRUE_LOG_RATIO = float(np.log(0.6))
PER_HOUR, HOURS, HAULS = 0.06, 30.0, 10
TRIPS_DIFFER = 0.3
"""The standard deviation of a trip's log rate."""
DIFFER = 0.05
BOATS, TRIPS, SPREADS = (3, 5, 10), (8, 20), (0.0, 0.3)


def season(seed: int, boats: int, trips: int, spread: float) -> tuple[pl.DataFrame, float]:
    """Sums by trip and ground, and the log ratio of one boat more."""
    chance = np.random.default_rng([seed, boats, trips, int(100 * spread)])
    log_ratios = chance.normal(TRUE_LOG_RATIO, spread, boats + 1)
    rows = []
    for boat, rig, trip in product(range(boats), ("bobbins", "discs"), range(trips)):
        rate = PER_HOUR * np.exp(chance.normal(0, TRIPS_DIFFER) + 0.2 * (boat % 3))
        rate *= np.exp(log_ratios[boat]) if rig == "discs" else 1.0
        for ground, harder in (("sand", 1.0), ("stones", 2.0)):
            torn = int(chance.poisson(rate * harder * HOURS))
            rows.append(
                {
                    "outcome": "damage_events",
                    "vessel": f"boat {boat}",
                    "trip": f"{rig} {trip}",
                    "rig_version": rig,
                    "ground": ground,
                    "stretch": "2031 Q1",
                    "hauls": HAULS,
                    "hauls_with_some": min(torn, HAULS),
                    "tow_hours": HOURS,
                    "total": float(torn),
                }
            )
    return pl.DataFrame(rows), float(log_ratios[-1])


def told(seed: int, boats: int, trips: int, spread: float) -> list[str]:
    """What came true in one season."""
    sums, further = season(seed, boats, trips, spread)
    fished = sums.select("rig_version", "ground").unique()
    (found,) = find_over_boats(sums, fished, "bobbins", ["ground", "vessel"], "trip")
    mean = found.mean
    if mean is None:
        return []
    kept = {
        "told": True,
        "holds": mean.low <= np.exp(TRUE_LOG_RATIO) <= mean.high,
        "further": mean.further_low <= np.exp(further) <= mean.further_high,
        "differ": mean.chance_of_as_much < DIFFER,
    }
    return [name for name, true in kept.items() if true]


def main(seasons: int) -> None:
    """Count over the seasons, and print a line a setting."""
    sys.stdout.write("boats, trips, spread: mean held, further held, told to differ\n")
    for boats, trips, spread in product(BOATS, TRIPS, SPREADS):
        work = partial(told, boats=boats, trips=trips, spread=spread)
        counts = Counter(chain.from_iterable(over_seasons(work, range(seasons))))
        shares = (f"{counts[name] / counts['told']:.1%}" for name in ("holds", "further", "differ"))
        sys.stdout.write(f"{boats}, {trips}, {spread}: {', '.join(shares)}\n")


if __name__ == "__main__":
    main(int(sys.argv[1]))
