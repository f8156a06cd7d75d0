"""The straight line of a length difference over fishing hours, and how sure it is.

All spells of a rig stretch at one rate. A spell that starts even starts from 0; one that begins
in the rig's mid life has a level of its own. Least squares in closed form: each spell turns about
a pivot, which is its start where it starts even and else the middle of its checks. Errors are
those of measuring: independent, with one standard deviation. Intervals are 95 %, by Student's t.
Source: textbook least squares; when a limit is reached: Fieller, J. R. Stat. Soc. B 16 (1954) 175.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, sqrt
from statistics import fmean
from typing import TYPE_CHECKING, NamedTuple

from pipeline.rigs.stretching.student import t_95

if TYPE_CHECKING:
    from collections.abc import Sequence


class Estimate(NamedTuple):
    """A value and its 95 % limits; None where there is none."""

    value: float | None
    low: float | None
    high: float | None


UNKNOWN = Estimate(None, None, None)


@dataclass(frozen=True)
class Pivot:
    """What a spell's line turns about: hours, percent, and one over how many checks it rests on."""

    hours: float
    percent: float
    share: float


@dataclass(frozen=True)
class Spell:
    """The checks from one evening to the next: fishing hours and differences in percent.

    `even_at` is the hours at which it started even, None where that is not known.
    """

    even_at: float | None
    hours: tuple[float, ...]
    percent: tuple[float, ...]

    @property
    def pivot(self) -> Pivot | None:
        """Its start where that is even, else the middle of its checks; None without either."""
        if self.even_at is not None:
            return Pivot(self.even_at, 0.0, 0.0)
        if not self.hours:
            return None
        return Pivot(fmean(self.hours), fmean(self.percent), 1 / len(self.hours))


LEAST_HOURS = 0.01
"""Checks that lie closer together than half a minute's fishing tell no rate."""


@dataclass(frozen=True)
class Line:
    """A fitted rate in percent per fishing hour.

    `reach` is the root of the sum of squared hours from the pivots; `error` is t times the
    standard deviation of one check, None where no check is left over to tell it.
    """

    rate: float
    reach: float
    error: float | None

    def slope(self) -> Estimate:
        """The rate, in percent per fishing hour."""
        return self._around(self.rate, 1 / self.reach)

    def at(self, pivot: Pivot, hours: float) -> Estimate:
        """The difference expected at `hours`, in percent, in the spell of that pivot."""
        gone = hours - pivot.hours
        return self._around(
            pivot.percent + self.rate * gone, sqrt(pivot.share + (gone / self.reach) ** 2)
        )

    def until(self, limit: float, pivot: Pivot, hours: float) -> Estimate:
        """Fishing hours from `hours` until the line reaches `limit` percent.

        Unknown where the line does not climb. `high` is None where it may never get there.
        """
        if self.rate <= 0:
            return UNKNOWN
        gone = hours - pivot.hours
        to_climb = limit - pivot.percent
        value = to_climb / self.rate - gone
        if self.error is None:
            return Estimate(value, None, None)
        # The hours d from the pivot at which the limit is on the edge of the interval:
        # (to_climb − rate d)² = error² (share + d² / reach²), a quadratic equation in d.
        square = self.rate**2 - (self.error / self.reach) ** 2
        constant = to_climb**2 - self.error**2 * pivot.share
        half = self.rate * to_climb
        root = sqrt(max(0.0, half**2 - square * constant))
        may_be_past = (self.at(pivot, hours).high or -inf) >= limit
        return Estimate(
            value,
            0.0 if may_be_past else constant / (half + root) - gone,
            (half + root) / square - gone if square > 0 else None,
        )

    def _around(self, value: float, spread: float) -> Estimate:
        if self.error is None:
            return Estimate(value, None, None)
        return Estimate(value, value - self.error * spread, value + self.error * spread)


def fit_line(spells: Sequence[Spell]) -> Line | None:
    """The least squares line of the spells; None where no two hours tell a rate."""
    measured = [(spell, spell.pivot) for spell in spells if spell.hours]
    from_pivots = [
        (hours - pivot.hours, percent - pivot.percent)
        for spell, pivot in measured
        if pivot is not None
        for hours, percent in zip(spell.hours, spell.percent, strict=True)
    ]
    squares = sum(hours**2 for hours, _ in from_pivots)
    if squares < LEAST_HOURS**2:
        return None
    rate = sum(hours * percent for hours, percent in from_pivots) / squares
    left_over = sum((percent - rate * hours) ** 2 for hours, percent in from_pivots)
    levels = sum(spell.even_at is None for spell, _ in measured)
    degrees = len(from_pivots) - 1 - levels
    error = t_95(degrees) * sqrt(left_over / degrees) if degrees > 0 else None
    return Line(rate, sqrt(squares), error)
