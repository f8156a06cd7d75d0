"""How often the intervals of two rigs in one tow hold the truth.

`python -m tests.proofs.twin_tows_over_trials 300` draws so many trials of each size, whose tows
differ much among themselves, and prints in how many the interval held the ratio that was put in;
then again with a ratio that differs from trip to trip.
"""

from __future__ import annotations

import sys

from tests.outside.test_twin_tows import DAMAGE, FISH, TRUTH, found_in, trial

SIZES = ((1, 30, 0.0), (4, 15, 0.0), (8, 10, 0.0), (4, 15, 0.3), (8, 10, 0.3))
"""Trips, tows a trip, and how far the ratio differs from trip to trip, in logarithms."""
RATE = 0.03
"""Tears an hour: yes or no, so that more would draw the ratio of hauls towards 1."""


def main(trials: int) -> None:
    """Print a line for each size and outcome."""
    for trips, tows, spread in SIZES:
        for name in (DAMAGE, FISH):
            found = [
                found_in(trial(seed, trips, tows, RATE, spread), name) for seed in range(trials)
            ]
            told = [row for row in found if row.low is not None]
            held = sum(
                row.low <= TRUTH and (row.high is None or row.high >= TRUTH)
                for row in told
                if row.low is not None
            )
            size = f"{trips} trips of {tows} tows, spread {spread:g}"
            sys.stdout.write(f"{size}, {name}: {held} of {len(told)}\n")


if __name__ == "__main__":
    main(int(sys.argv[1]))
