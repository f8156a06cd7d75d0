"""How often the intervals of sizes hold the truth that invented seasons were drawn from.

`python -m tests.proofs.lengths_over_seasons 24` prints, over so many seasons of four boats, how
many intervals of the slopes held what twice the length truly makes of the ratio, and of the single
bands of haddock, of which no rig loses any; and in how many seasons those that allow for all
comparisons all held it.
"""

from __future__ import annotations

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from pipeline.run_season import run_season
from synthetic_data import write_season
from synthetic_data.lengths import per_doubling
from tests.proofs.over_seasons import over_seasons

FIRST_SEED = 100
NOT_LOST = "HAD"
Held = tuple[bool, bool]
"""Whether an interval holds the truth by itself, and with all others."""


def held_in(seed: int) -> tuple[list[Held], list[Held]]:
    """Of the slopes, and of the bands of the fish that no rig loses."""
    with TemporaryDirectory() as place:
        write_season(Path(place) / "season", seed=seed)
        found = run_season(Path(place) / "season").findings["by_length"]["species"]
    slopes = [
        _holds(slope, per_doubling(species["species"])[slope["rig"]])
        for species in found
        for slope in species["slopes"]
    ]
    bands = [
        _holds(effect, 1.0)
        for species in found
        if species["species"] == NOT_LOST
        for effect in species["effects"]
        if effect["low_together"] is not None
    ]
    return slopes, bands


def _holds(found: dict[str, float], truth: float) -> Held:
    return (
        found["low"] <= truth <= found["high"],
        found["low_together"] <= truth <= found["high_together"],
    )


def main(seasons: int) -> None:
    """Print a line for the slopes and one for the bands."""
    told = list(over_seasons(held_in, range(FIRST_SEED, FIRST_SEED + seasons)))
    for at, name in enumerate(("slopes", "bands of haddock")):
        alone = [by_itself for season in told for by_itself, _ in season[at]]
        together = [all(each for _, each in season[at]) for season in told]
        sys.stdout.write(
            f"{name}: {sum(alone)} of {len(alone)}; all together in {sum(together)} of "
            f"{len(together)} seasons\n"
        )


if __name__ == "__main__":
    main(int(sys.argv[1]))
