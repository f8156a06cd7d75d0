"""What was weighed of one part stands for the same part elsewhere: in its rig, else in the season.

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
Weighings = dict[tuple[str | None, Likeness], "Weighing"]
"""By rig version, or None for the whole season, and sort of part."""

ALIKE_WITHIN = 1.5
"""Alike parts whose masses differ by more than this factor: one is a slip, or they are not alike.

Own judgement, no source.
"""


@dataclass(frozen=True)
class Weighing:
    """Means of what was weighed: kg in air of one (of a metre, for chain, wire and rope), share."""

    kg: float | None = None
    share: float | None = None


def likeness(part: Part) -> Likeness | None:
    """What alike parts have in common; None for one without a diameter or a known material."""
    if part.material is None or part.diameter_mm is None:
        return None
    along_mm = part.width_mm if part.kind in BY_LENGTH else part.along_mm
    return part.name, part.material.name, part.diameter_mm, along_mm, part.bore_mm


def unit_kg(part: Part) -> float | None:
    """Mass as weighed of one piece, or of a metre of what runs by length."""
    if part.each_kg is None or part.kind not in BY_LENGTH:
        return part.each_kg
    return None if part.length_m is None else part.each_kg / part.length_m


def disagree(one_kg: float, other_kg: float) -> bool:
    """Whether two masses, both above 0, are too far apart to be of alike parts."""
    return max(one_kg, other_kg) > ALIKE_WITHIN * min(one_kg, other_kg)


def weighings(parts: Iterable[tuple[str, Part]]) -> Weighings:
    """The means of what was weighed of each sort of part, in each rig version and in the season.

    Masses that disagree have no mean, as one of them would spread to parts that are right.
    """
    sorts: dict[tuple[str | None, Likeness], list[Part]] = {}
    for rig, part in parts:
        like = likeness(part)
        if like is not None:
            sorts.setdefault((rig, like), []).append(part)
            sorts.setdefault((None, like), []).append(part)
    return {sort: _means(alike) for sort, alike in sorts.items()}


def weighed_elsewhere(rig: str, part: Part, weighed: Weighings) -> Weighing:
    """What a part of that rig version can go by: its like in the rig, else in the season."""
    like = likeness(part)
    if like is None:
        return Weighing()
    here, anywhere = weighed[rig, like], weighed[None, like]
    return Weighing(
        kg=anywhere.kg if here.kg is None else here.kg,
        share=anywhere.share if here.share is None else here.share,
    )


def _means(alike: list[Part]) -> Weighing:
    masses = [kg for kg in map(unit_kg, alike) if kg is not None]
    shares = [part.weighed_share for part in alike if part.weighed_share is not None]
    one_mass = bool(masses) and not disagree(min(masses), max(masses))
    return Weighing(fmean(masses) if one_mass else None, fmean(shares) if shares else None)
