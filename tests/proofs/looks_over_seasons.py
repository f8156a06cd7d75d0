"""How often a season without any effect has a false headline: judged together, and each by itself.

`python tests/proofs/looks_over_seasons.py 600` invents sums of so many seasons: seven rigs that do
nothing on 30 trips of one boat, each trip with three of them, damage and fish with a luck of the
trip's own that all its hauls share.
"""

from __future__ import annotations

import sys

import numpy as np
import polars as pl

from pipeline.rates.effects import find_effects
from pipeline.rates.looks import Judging, headline_comparisons
from schemas.outcomes import HEADLINES

RIGS = [f"rig {at}" for at in range(7)]
TRIPS, HAULS, HOURS = 30, 5, 3.0
PER_HOUR = {"damage_events": 0.06, "bottom_living_kg": 20.0}
TRIP_LUCK = 0.3
"""The variance of a trip's own luck, beside a mean of one."""


def season(luck: np.random.Generator) -> pl.DataFrame:
    """Sums of a season in which no rig differs from another."""
    rows = []
    for trip in range(TRIPS):
        fished = luck.choice(len(RIGS), 3, replace=False)
        for outcome, rate in PER_HOUR.items():
            own = rate * luck.gamma(1 / TRIP_LUCK, TRIP_LUCK)
            for rig in fished:
                hauls = (
                    luck.poisson(own * HOURS, HAULS)
                    if outcome == "damage_events"
                    else luck.gamma(4, own * HOURS / 4, HAULS)
                )
                rows.append(
                    {
                        "outcome": outcome,
                        "vessel": "one",
                        "trip": str(trip),
                        "rig_version": RIGS[rig],
                        "ground": "sand",
                        "stretch": "all",
                        "quarter": f"Q{1 + trip * 4 // TRIPS}",
                        "hauls": HAULS,
                        "hauls_with_some": int((hauls > 0).sum()),
                        "tow_hours": HAULS * HOURS,
                        "total": float(hauls.sum()),
                    }
                )
    return pl.DataFrame(rows)


def false_headlines(seasons: int) -> tuple[int, int]:
    """How many of the seasons had one, judged together and each by itself."""
    together = alone = 0
    for seed in range(seasons):
        sums = season(np.random.default_rng(seed))
        judging = Judging(headline_comparisons(sums, RIGS, RIGS[0]))
        effects = find_effects(sums, sums, RIGS[0], ["quarter"], "trip", judging=judging)
        mine = [effect for effect in effects if effect.outcome in HEADLINES]
        together += any(effect.verdict in {"lower", "higher"} for effect in mine)
        alone += any(effect.verdict_alone in {"lower", "higher"} for effect in mine)
    return together, alone


if __name__ == "__main__":
    many = int(sys.argv[1])
    judged_together, by_itself = false_headlines(many)
    sys.stdout.write(
        f"of {many} seasons {judged_together} had a false headline; each by itself, {by_itself}\n"
    )
