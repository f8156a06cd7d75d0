"""A long proof: over many invented seasons, how often do the intervals hold the truth put in?

`python tests/proofs/truth_over_seasons.py 60` takes the seeds 0 to 59, about two seconds each.
Counted are the ratios over all grounds that the report would show, of four outcomes.
"""

from __future__ import annotations

import sys
import tempfile
import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

from pipeline import run_season
from synthetic_data import write_season

OUTCOMES = ("damage_events", "bottom_living_kg", "other_kg", "debris_kg")
NOT_SIDE_BY_SIDE = "not side by side"


def season(seed: int) -> tuple[list[dict[str, Any]], dict[str, dict[str, float]]]:
    """The effects that the season of this seed shows, and the truth put into it."""
    with tempfile.TemporaryDirectory() as folder:
        write_season(Path(folder), seed=seed)
        truth = tomllib.loads((Path(folder) / "truth.toml").read_text(encoding="utf-8"))
        effects = run_season(folder).findings["effects"]
    shown = [
        effect
        for effect in effects
        if effect["ground"] == "all"
        and effect["outcome"] in OUTCOMES
        and effect["log_ratio"] is not None
        and NOT_SIDE_BY_SIDE not in effect["cautions"]
    ]
    return shown, truth


def main(seasons: int) -> None:
    """Count over the seasons, and print."""
    intervals, held, whole, raw_above, told_lower = Counter(), Counter(), [], 0, 0
    for seed in range(seasons):
        shown, truth = season(seed)
        right = [
            effect["low"] <= truth[effect["outcome"]][effect["rig"]] <= effect["high"]
            for effect in shown
        ]
        for effect, holds in zip(shown, right, strict=True):
            intervals[effect["outcome"]] += 1
            held[effect["outcome"]] += holds
            if effect["outcome"] == "damage_events" and effect["rig"] == "rockhopper-16":
                raw_above += effect["raw_ratio"] > 1
                told_lower += effect["verdict"] == "lower"
        if all(right):
            whole.append(seed)
        sys.stderr.write(f"\r{seed + 1} of {seasons}")
    sys.stderr.write("\n")
    for outcome in OUTCOMES:
        share = held[outcome] / intervals[outcome]
        sys.stdout.write(f"{outcome}: {held[outcome]} of {intervals[outcome]}, {share:.1%}\n")
    total = intervals.total()
    sys.stdout.write(f"all: {held.total()} of {total}, {held.total() / total:.1%}\n")
    sys.stdout.write(f"rockhopper-16 raw above 1 in {raw_above}, told as lower in {told_lower}\n")
    sys.stdout.write(f"every interval holds in the seeds {whole}\n")


if __name__ == "__main__":
    main(int(sys.argv[1]))
