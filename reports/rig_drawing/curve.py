"""The ground gear from above: a catenary of the gear's length and turn, and its sections along it.

Metres from the middle of the bosom: `x` across the tow to starboard, `y` forward. With ψ the angle
from square to the tow, s = a tan ψ along the gear, x = a asinh(tan ψ) and y = a (sec ψ − 1).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import asinh, atan, cos, pi, sin, tan
from typing import TYPE_CHECKING, Any

from pipeline.rigs.line.geometry import TURN_RAD
from pipeline.rigs.weight.rig_weights import SAME_LENGTH, SIDES, WHOLE

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

STEPS = 24
"""Chords that stand for the curve of one section."""

ALONG = ("wing", "bunt", "bosom", "bunt", "wing")
"""The sections from port to starboard."""


@dataclass(frozen=True)
class Curve:
    """The gear of `gear_m` that turns through `turn_rad`, as it hangs in a tow."""

    gear_m: float
    turn_rad: float

    @property
    def bend_m(self) -> float:
        """The radius of its bend in the middle of the bosom."""
        return self.gear_m / 2 / tan(self.turn_rad / 2)

    @property
    def spread_m(self) -> float:
        """From wing end to wing end."""
        return 2 * self.at(self.gear_m / 2)[0]

    @property
    def depth_m(self) -> float:
        """How far the bosom is aft of the wing ends."""
        return self.at(self.gear_m / 2)[1]

    def at(self, along_m: float, outside_m: float = 0.0) -> tuple[float, float]:
        """The place so far along to starboard, or so far outside it, which is aft in the bosom."""
        turned = atan(along_m / self.bend_m)
        x = self.bend_m * asinh(tan(turned)) + outside_m * sin(turned)
        y = self.bend_m * (1 / cos(turned) - 1) - outside_m * cos(turned)
        return x, y

    def between(
        self, start_m: float, end_m: float, outside_m: float = 0.0
    ) -> list[tuple[float, float]]:
        """Places along the curve from one to the other, closer together where it bends."""
        first, last = (atan(along / self.bend_m) for along in (start_m, end_m))
        turns = (first + (last - first) * step / STEPS for step in range(STEPS + 1))
        return [self.at(self.bend_m * tan(turned), outside_m) for turned in turns]


@dataclass(frozen=True)
class Stretch:
    """A section on the curve, from `start_m` to `end_m` along it."""

    section: str
    start_m: float
    end_m: float

    @property
    def middle_m(self) -> float:
        """The middle of it."""
        return (self.start_m + self.end_m) / 2


def curve_of(rig: Mapping[str, Any]) -> Curve | None:
    """The gear's curve; None if its length is not known, or the turn cannot be."""
    gear_m = rig.get("ground_gear_m") or length_of(rig, WHOLE)
    turn_rad = (rig.get("geometry") or {}).get("turn_rad") or TURN_RAD
    if not gear_m or gear_m <= 0 or not 0 < turn_rad < pi:
        return None
    return Curve(float(gear_m), float(turn_rad))


def stretches(rig: Mapping[str, Any], curve: Curve) -> list[Stretch]:
    """The sections along the curve, in proportion to their lengths; none if a length is missing."""
    along = [section for section in ALONG if section in sections_of(rig)]
    lengths = [length_of(rig, section) for section in along]
    known = [length for length in lengths if length]
    if len(known) < len(along):
        return []
    share = curve.gear_m / sum(known)
    found, start_m = [], -curve.gear_m / 2
    for section, length in zip(along, known, strict=True):
        found.append(Stretch(section, start_m, start_m + length * share))
        start_m += length * share
    return found


def sum_of_sections_m(rig: Mapping[str, Any]) -> float | None:
    """What the sections add up to, each as often as a rig has it; None if one is missing."""
    return _added_m(rig, sections_of(rig))


def sections_of(rig: Mapping[str, Any]) -> list[str]:
    """The sections that the rig has: those recorded, where they make its length, else all kinds."""
    recorded = [section for section in SIDES if weights_of(rig, section) is not None]
    added_m, gear_m = _added_m(rig, recorded), rig.get("ground_gear_m")
    if added_m and gear_m and abs(added_m - gear_m) <= SAME_LENGTH * gear_m:
        return recorded
    return list(SIDES)


def _added_m(rig: Mapping[str, Any], sections: Sequence[str]) -> float | None:
    """The lengths of these sections, each as often as a rig has it; None if one is missing."""
    lengths = [(length_of(rig, section) or 0.0) * SIDES[section] for section in sections]
    return sum(lengths) if all(lengths) else None


def length_of(rig: Mapping[str, Any], section: str) -> float | None:
    """The recorded length of a section's one side, or of the whole, in m."""
    row = weights_of(rig, section)
    return None if row is None else row.get("gear_m")


def weights_of(rig: Mapping[str, Any], section: str) -> Mapping[str, Any] | None:
    """The row of the rig's `weights` for that section."""
    rows = (row for row in rig.get("weights") or () if row.get("section") == section)
    return next(rows, None)
