"""How dark a part is drawn: few even steps, one scale for all rigs."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor, log10
from typing import TYPE_CHECKING

from reports.language import number

if TYPE_CHECKING:
    from collections.abc import Iterable

STEPS = 5
"""So many shades beside none; each has a class `tear-1` … in the style sheet."""

ROUND_STEPS = (1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0)
LEAST_HAULS = 3
"""The scale reaches the highest rate that rests on so many hauls (own judgement): a rig fished for
ten hours and torn once would else turn all others pale."""

A_LITTLE = 1e-9
"""So that a rate that stands at a step's end is not lifted over it by its last digit."""


@dataclass(frozen=True)
class Shades:
    """Even steps of `step` per 100 hours; the last holds all that is more."""

    step: float

    def level(self, rate: float) -> int:
        """0 for none, then 1 up to `STEPS`."""
        if rate <= 0:
            return 0
        return min(STEPS, max(1, ceil(rate / self.step - A_LITTLE)))

    def look(self, rate: float) -> str:
        """The class of that shade."""
        return f"tear-{self.level(rate)}"

    @property
    def ends(self) -> list[float]:
        """Where the steps begin and end; the last has no end."""
        return [place * self.step for place in range(STEPS)]


def shades_of(torn: Iterable[tuple[float, int]]) -> Shades:
    """The scale for those rates per 100 h, each with the number of hauls that it rests on."""
    pairs = [(rate, hauls) for rate, hauls in torn if rate > 0]
    firm = [rate for rate, hauls in pairs if hauls >= LEAST_HAULS]
    most = max(firm or [rate for rate, _ in pairs], default=1.0)
    wanted = most / STEPS
    size = 10.0 ** floor(log10(wanted))
    least = next(step for step in ROUND_STEPS if step >= wanted / size - A_LITTLE)
    return Shades(least * size)


def rate_words(rate: float) -> str:
    """A rate per 100 h, as short as it tells something: `0`, `>0`, `0.43`, `12.5`, `140`."""
    if rate <= 0:
        return "0"
    if round(rate, 2) == 0:
        return ">0"
    if round(rate, 2) < 10:
        return number(rate, ".2f")
    return number(rate, ".1f" if round(rate, 1) < 100 else ",.0f")


def end_words(end: float) -> str:
    """The end of a step: `0.6`, `1.2`, `30`."""
    return number(end, ".6g")
