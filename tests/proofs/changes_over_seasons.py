"""A long proof: over many invented seasons, is a change of rig found, and none where there is none?

`python tests/proofs/changes_over_seasons.py 100` invents 100 seasons of six boats that each fish
one rig for 150 hauls and another for 150, where the second changes nothing and where it halves
tears and catch, with trips alike and with trips that differ. It counts how often the 95 % interval
of all changes together held the truth, how often it left out no difference, and of how many single
changes and of how many days without a change the interval did. Where trips differ and a side has
too few of them, days are left out in place of trips, and such intervals are too narrow: the days
without a change show by how much.
"""

from __future__ import annotations

import sys
from collections import Counter
from datetime import datetime, timedelta
from functools import partial
from itertools import product

import numpy as np
import polars as pl

from pipeline.rates.changes import find_changes
from tests.proofs.over_seasons import over_seasons

BOATS, HAULS, TRIP_HAULS = 6, 150, (8, 25)
FIRST = datetime(2031, 1, 2)
TEARS_A_HAUL = 0.2
TRUTHS, SPREADS = (1.0, 0.5), (0.0, 0.4)


def season(seed: int, truth: float, spread: float, trip_hauls: int) -> pl.DataFrame:
    """The hauls: `spread` is the standard deviation of a trip's log rate."""
    chance = np.random.default_rng([seed, int(10 * truth), int(10 * spread), trip_hauls])
    rows = []
    for boat, haul in product(range(BOATS), range(2 * HAULS)):
        if haul % trip_hauls == 0:
            level = float(np.exp(chance.normal(0, spread)))
        hours = float(chance.uniform(2, 4))
        mean = level * hours / 3 * (truth if haul >= HAULS else 1.0)
        rows.append(
            {
                "vessel": f"boat {boat}",
                "trip": str(haul // trip_hauls),
                "haul": str(haul),
                "shot_at": FIRST + timedelta(hours=5 * haul),
                "rig_version": "discs" if haul >= HAULS else "bobbins",
                "ground": "stones" if chance.random() < 0.5 else "sand",
                "depth_m": None,
                "tow_hours": hours,
                "damage_events": float(chance.poisson(TEARS_A_HAUL * mean)),
                "bottom_living_kg": float(mean * chance.lognormal(3, 0.5)),
            }
        )
    return pl.DataFrame(rows, schema_overrides={"depth_m": pl.Float64})


def told(seed: int, truth: float, spread: float, trip_hauls: int) -> Counter[tuple[str, str]]:
    """What came true in one season, outcome by outcome."""
    found = find_changes(season(seed, truth, spread, trip_hauls), "bobbins", "trip")
    counts: Counter[tuple[str, str]] = Counter()
    for pooled in found.pairs[0].ratios:
        ratio = pooled.ratio
        if ratio.low is not None and ratio.high is not None:
            counts[ratio.outcome, "together"] += 1
            counts[ratio.outcome, "held"] += ratio.low <= truth <= ratio.high
            counts[ratio.outcome, "together shown"] += ratio.shows_change
    for held in (held for change in found.changes for held in change.ratios):
        counts[held.about.outcome, "changes"] += held.about.is_told
        counts[held.about.outcome, "changes shown"] += held.about.shows_change
    for placebo in found.placebos:
        counts[placebo.outcome, "days"] += placebo.days
        counts[placebo.outcome, "days shown"] += placebo.show_change
    return counts


def main(seasons: int) -> None:
    """Count over the seasons, and print a line a setting and outcome."""
    sys.stdout.write(
        "truth, trips differ by, hauls a trip, outcome: together held, together shown, changes "
        "shown, days without shown\n"
    )
    for truth, spread, trip_hauls in product(TRUTHS, SPREADS, TRIP_HAULS):
        counts: Counter[tuple[str, str]] = Counter()
        work = partial(told, truth=truth, spread=spread, trip_hauls=trip_hauls)
        for each in over_seasons(work, range(seasons)):
            counts.update(each)
        for name in sorted({outcome for outcome, _ in counts}):
            shares = (
                f"{counts[name, of] / counts[name, all_of]:.1%}"
                for of, all_of in (
                    ("held", "together"),
                    ("together shown", "together"),
                    ("changes shown", "changes"),
                    ("days shown", "days"),
                )
            )
            line = f"{truth}, {spread}, {trip_hauls}, {name}: {', '.join(shares)}\n"
            sys.stdout.write(line)
            sys.stdout.flush()


if __name__ == "__main__":
    main(int(sys.argv[1]))
