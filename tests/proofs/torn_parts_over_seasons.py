"""A long proof: without any difference, how often is one told of the parts that tear?

`python -m tests.proofs.torn_parts_over_seasons 1000` invents 1,000 seasons of each kind and counts
those in which the chance of one comparison came out below 0.05, as the program finds it and from
each tear for itself. The part's share differs by ground, and the rigs are not fished alike on them;
a trip has its own share, beta distributed, with `alike` the correlation of its tears.

Seasons in which either rig has fewer than five tears or three trips on the grounds of both, or the
two fewer than five that name the part, are left out: the program does not compare them.
"""

from __future__ import annotations

import sys

import numpy as np
from scipy.stats import beta

from pipeline.damage.against_reference import TearsByTrip, against_reference
from pipeline.damage.compared_parts import LEAST_COMPARED
from pipeline.rates.support import LEAST_HAULS, LEAST_TRIPS

TRIPS = ((3, 3), (6, 6), (10, 10), (10, 60), (60, 10), (60, 60))
SHARES = ((0.25, 0.5), (0.08, 0.12))
"""Of the tears on sand and on stones, those that name the part."""
ALIKE = (0.05, 0.2, 0.5)
ON_STONES = (0.6, 0.4)
"""Of the tears of the rig and of the reference, those on stones."""
MEAN_TEARS = 4.0
"""Of a trip, besides the first."""
SMALL = 0.05


def season(
    trips: tuple[int, int], shares: tuple[float, float], alike: float, chance: np.random.Generator
) -> tuple[TearsByTrip, TearsByTrip]:
    """The tears of so many trips of the rig, then of the reference, by ground and trip."""
    rig = np.repeat([True, False], trips)
    tears = 1 + chance.poisson(chance.gamma(1.0, MEAN_TEARS, len(rig)))
    mix = chance.uniform(-0.25, 0.25, len(rig)) + np.where(rig, *ON_STONES)
    stones = chance.binomial(tears, mix)
    told = np.array([tears - stones, stones])
    luck, spread = chance.uniform(size=len(rig)), 1 / alike - 1
    own_shares = np.array([beta.ppf(luck, spread * s, spread * (1 - s)) for s in shares])
    named = chance.binomial(told, own_shares)
    own, other = (TearsByTrip(named * of, 1.0 * told * of) for of in (rig, ~rig))
    return own, other


def comparable(own: TearsByTrip, other: TearsByTrip) -> bool:
    """Whether the program would compare the two."""
    both = (own.told.sum(axis=1) > 0) & (other.told.sum(axis=1) > 0)
    told = [side.told[both] for side in (own, other)]
    return (
        min(int(of.sum()) for of in told) >= LEAST_HAULS
        and min(int((of.sum(axis=0) > 0).sum()) for of in told) >= LEAST_TRIPS
        and (own.named[both].sum() + other.named[both].sum()) >= LEAST_COMPARED
    )


def false_alarms(
    trips: tuple[int, int], shares: tuple[float, float], alike: float, seasons: int
) -> tuple[int, int, int]:
    """Seasons compared; those with a chance below 0.05; those from each tear for itself."""
    found = []
    for seed in range(seasons):
        chance = np.random.default_rng([*trips, round(100 * alike), seed])
        pair = season(trips, shares, alike, chance)
        if comparable(*pair):
            found.append(
                [against_reference(*pair, how).chance < SMALL for how in ("trip", "model")]
            )
    by_trip, by_tear = np.sum(found, axis=0)
    return len(found), int(by_trip), int(by_tear)


def main(seasons: int) -> None:
    """Count over the seasons of each kind, and print."""
    for shares in SHARES:
        for alike in ALIKE:
            for trips in TRIPS:
                compared, by_trip, by_tear = false_alarms(trips, shares, alike, seasons)
                sys.stdout.write(
                    f"shares {shares}, alike {alike}, trips {trips}: of {compared} seasons "
                    f"{by_trip} told ({by_trip / compared:.1%}), each tear for itself {by_tear} "
                    f"({by_tear / compared:.1%})\n"
                )
                sys.stdout.flush()


if __name__ == "__main__":
    main(int(sys.argv[1]))
