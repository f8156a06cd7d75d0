"""A long proof: over many measured seasons, how often do the intervals hold the law put in?

`python tests/proofs/measures_over_seasons.py 500` takes the seeds 0 to 499, about two seconds each
on one core, on as many cores as there are. `… 500 0.2` lets each rig differ from the law besides
by as much, as the standard deviation of a log ratio; `… 500 0 0.02` has a tape that errs by 2 cm.
Counted too is how often a measure without any effect, weight or gap, is told as clear.
"""

from __future__ import annotations

import sys
import tempfile
from collections import Counter
from functools import partial
from pathlib import Path

from pipeline import run_season
from synthetic_data.measured_season import Law, write_measured_season
from tests.proofs.over_seasons import over_seasons

DIAMETER, DIFFERENCE = "largest_diameter_mm", "length_difference_percent"
WITHOUT_EFFECT = ("weight_water_kg_per_m", "gap_mm")
TRUTHS = {
    ("damage_events", DIAMETER): "damage_per_100_mm",
    ("damage_events", DIFFERENCE): "damage_per_percent",
    ("bottom_living_kg", DIAMETER): "kg_per_100_mm",
    ("bottom_living_kg", DIFFERENCE): "kg_per_percent",
}


def held(seed: int, law: Law) -> dict[tuple[str, str], bool | None]:
    """Whether the season's interval holds the law, by outcome and measure; None if none is told."""
    with tempfile.TemporaryDirectory() as folder:
        write_measured_season(Path(folder), seed, law)
        effects = run_season(folder).findings["measures"]
    told = {(effect["outcome"], effect["measure"]): effect for effect in effects}
    nothing = {
        key: effect["verdict"] not in {"lower", "higher"} if effect["ratio"] is not None else None
        for key, effect in told.items()
        if key[1] in WITHOUT_EFFECT
    }
    return nothing | {
        key: told[key]["low"] <= getattr(law, name) <= told[key]["high"]
        if told[key]["low"] is not None
        else None
        for key, name in TRUTHS.items()
    }


def main(seasons: int, rig_spread: float = 0.0, tape_error_m: float = 0.008) -> None:
    """Count over the seasons, and print."""
    counts: Counter[tuple[tuple[str, str], bool | None]] = Counter()
    work = partial(held, law=Law(rig_spread=rig_spread, tape_error_m=tape_error_m))
    for season in over_seasons(work, range(seasons)):
        counts.update(season.items())
    for key in TRUTHS:
        told = counts[key, True] + counts[key, False]
        sys.stdout.write(
            f"{key[0]} by {key[1]}: {counts[key, True]} of {told} hold, "
            f"{counts[key, True] / told:.1%}; not told in {counts[key, None]}\n"
        )
    nothing = {key for key, _ in counts if key[1] in WITHOUT_EFFECT}
    quiet = sum(counts[key, True] for key in nothing)
    clear = sum(counts[key, False] for key in nothing)
    sys.stdout.write(
        f"without any effect: told as clear in {clear} of {quiet + clear}, "
        f"{clear / (quiet + clear):.1%}\n"
    )


if __name__ == "__main__":
    main(int(sys.argv[1]), *map(float, sys.argv[2:4]))
