"""A proof: over many invented seasons, how often does an interval of what damage costs hold it?

`python -m tests.proofs.costs_of_tears 2000` invents so many seasons of each kind and prints how
often the interval per hour towed held what was put in, of those that had one; about a minute. What
a tear takes is log-normal; a share of the tears tell it, and a trip has its own bad luck, that all
its hauls share. Of the cost of damage two amounts are told, each by other tears, and a tear that
takes long to mend loses more hours as well.
"""

from __future__ import annotations

import sys
from dataclasses import astuple, dataclass

import numpy as np

from pipeline.damage.two_parts import Told, product

TRIP_HOURS = 30.0


@dataclass(frozen=True)
class Kind:
    """A kind of season; `spread` is the standard deviation of the log of what a tear takes.

    `tears` is the mean of a trip, `luck` how much trips differ in it, as the variance of their
    luck, `told` the share of tears that tell an amount, `amounts` how many amounts there are.
    """

    trips: int
    tears: float
    spread: float
    told: float = 1.0
    luck: float = 0.0
    amounts: int = 1


KINDS = (
    Kind(20, 1.2, 1.3),
    Kind(20, 1.2, 1.3, luck=0.5),
    Kind(20, 1.2, 0.9, told=0.6),
    Kind(20, 1.2, 0.9, told=0.6, luck=0.5),
    Kind(20, 0.6, 0.9, told=0.6),
    Kind(10, 1.2, 0.9),
    Kind(60, 1.2, 0.9, told=0.6, luck=0.5),
    Kind(60, 1.2, 1.3, told=0.6),
    Kind(60, 0.3, 0.6, told=0.6),
    Kind(20, 1.2, 0.9, told=0.6, luck=0.5, amounts=2),
    Kind(60, 1.2, 1.3, told=0.6, luck=0.5, amounts=2),
)


def held(kind: Kind, chance: np.random.Generator) -> bool | None:
    """Whether the interval of one season holds what was put in; None where there is none."""
    hours = chance.uniform(0.5, 1.5, kind.trips) * TRIP_HOURS
    luck = chance.gamma(1 / kind.luck, kind.luck, kind.trips) if kind.luck else 1.0
    tears = chance.poisson(kind.tears * hours / TRIP_HOURS * luck)
    trip = np.repeat(np.arange(kind.trips), tears)
    size = chance.normal(0, kind.spread, len(trip))
    told = []
    for _ in range(kind.amounts):
        of_its_own = chance.normal(0, kind.spread, len(trip))
        log = size if kind.amounts == 1 else (size + of_its_own) / np.sqrt(2)
        tells = chance.random(len(trip)) < kind.told
        amounts = np.exp(log - kind.spread**2 / 2)
        told.append(
            Told(
                *(
                    np.bincount(trip, each * tells, kind.trips).astype(float)
                    for each in (np.ones(len(trip)), amounts)
                )
            )
        )
    known = [part for part in told if part.events.sum()]
    _, low, high = astuple(product(tears.astype(float), hours, known))
    if low is None or high is None or len(known) < kind.amounts:
        return None
    return bool(low <= kind.amounts * kind.tears / TRIP_HOURS <= high)


def share_held(kind: Kind, seasons: int) -> tuple[float, int]:
    """The share of seasons whose interval held, and how many had one."""
    chance = np.random.default_rng(1)
    answers = [held(kind, chance) for _ in range(seasons)]
    told = [answer for answer in answers if answer is not None]
    return sum(told) / len(told), len(told)


def main(seasons: int) -> None:
    """Count over the seasons, and print."""
    for kind in KINDS:
        share, told = share_held(kind, seasons)
        sys.stdout.write(f"{kind}: {share:.1%} of {told} hold\n")


if __name__ == "__main__":
    main(int(sys.argv[1]))
