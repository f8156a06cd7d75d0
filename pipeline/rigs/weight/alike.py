"""What was weighed of one part stands for the same part elsewhere in the season.

Parts are alike if they have the same name, material, diameter, width and bore. Otherwise a rig
would seem to change its weight from one version to the next, only because the later rows were
filled in less fully.
"""

from __future__ import annotations

from dataclasses import dataclass
from statistics import fmean
from typing import TYPE_CHECKING

from pipeline.rigs.weight.parts import BY_LENGTH

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pipeline.rigs.weight.parts import Part

Likeness = tuple[str, str, float, float | None, float | None]


@dataclass(frozen=True)
class Weighing:
    """Means of what was weighed: kg in air of one (of a metre, for chain, wire and rope), share."""

    kg: float | None = None
    share: float | None = None


def likeness(part: Part) -> Likeness | None:
    """What alike parts have in common; None for one without a diameter or a known material."""
    if part.material is None or part.diameter_mm is None:
        return None
    return part.name, part.material.name, part.diameter_mm, part.width_mm, part.bore_mm


def weighings(parts: Iterable[Part]) -> dict[Likeness, Weighing]:
    """For each sort of part that was weighed anywhere, the means of its weighings."""
    sorts: dict[Likeness, list[Part]] = {}
    for part in parts:
        like = likeness(part)
        if like is not None:
            sorts.setdefault(like, []).append(part)
    return {like: _means(alike) for like, alike in sorts.items()}


def _means(alike: list[Part]) -> Weighing:
    masses = [kg for kg in map(_unit_kg, alike) if kg is not None]
    shares = [part.weighed_share for part in alike if part.weighed_share is not None]
    return Weighing(fmean(masses) if masses else None, fmean(shares) if shares else None)


def _unit_kg(part: Part) -> float | None:
    """Mass as weighed of one piece, or of a metre of what runs by length."""
    if part.each_kg is None or part.kind not in BY_LENGTH:
        return part.each_kg
    return None if part.length_m is None else part.each_kg / part.length_m
