"""What rows of `rig_parts` say against one another: pieces that do not fit, weights that differ."""

from __future__ import annotations

from dataclasses import replace
from math import log
from statistics import median_low
from typing import TYPE_CHECKING, Any

from pipeline.rigs.weight.alike import disagree, likeness, unit_kg
from pipeline.rigs.weight.masses import mass_of_one
from pipeline.rigs.weight.parts import BY_LENGTH, ON_AN_AXLE
from pipeline.rigs.weight.rig_weights import SIDES
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from pipeline.rigs.weight.parts import Part

FITS_WITHIN = 1.02
"""Pieces may come to so much of the section's length: tapes and widths are rounded."""

MOST_RUNS = 2
"""Chains of which there are more in a section are droppers, not run through it.

Own judgement, no source.
"""

BOTH_SIDES_TAKE = saying("the pieces in the {} of {} take {} m of {} m; were both sides counted?")
PIECES_TAKE = saying("the pieces in the {} of {} take {} m of {} m; put one of them right")
A_METRE_DIFFERS = saying(
    "makes it {} kg a metre, another of the same size is {} kg a metre (in the {}); put one right"
)
ONE_DIFFERS = saying(
    "is what one weighs, another of the same size {} kg (in the {}); put one right"
)
REASONS = (BOTH_SIDES_TAKE, PIECES_TAKE, A_METRE_DIFFERS, ONE_DIFFERS)

Row = dict[str, Any]


def too_long_for_the_section(rows: Sequence[Row], parts: Sequence[Part]) -> list[str | None]:
    """Of pieces on one line that are longer, end to end, than their section: what is to be said.

    Said of the row that takes the most of it, None of the others. A section is as long as its
    longest chain, wire or rope. `rows` are those of `rig_parts`, `parts` what was read from each.
    """
    said: list[str | None] = [None] * len(rows)
    lengths_m = _section_lengths_m(rows, parts)
    for (rig, section, _), at_rows in _by(rows, ("rig_version", "section", "line")).items():
        length_m = lengths_m.get((rig, section))
        taken_m = {at: _taken_m(parts[at]) for at in at_rows}
        whole_m = sum(taken_m.values())
        if length_m is not None and whole_m > FITS_WITHIN * length_m:
            reason = BOTH_SIDES_TAKE if SIDES[section] > 1 else PIECES_TAKE
            said[max(taken_m, key=lambda at: taken_m[at])] = reason.format(
                section, rig, f"{whole_m:.2f}", f"{length_m:g}"
            )
    return said


def odd_weights(rows: Sequence[Row], parts: Sequence[Part]) -> list[str | None]:
    """Of masses that disagree with a like part's in the same rig version: what is to be said.

    What is right is not known; the mass is taken to be that comes nearest to what the size makes
    it, or, where it makes none, to the middle one of them. The others are odd.
    """
    said: list[str | None] = [None] * len(rows)
    sorts: dict[object, dict[int, float]] = {}
    for at, part in enumerate(parts):
        like, kg = likeness(part), unit_kg(part)
        if like is not None and kg is not None:
            sorts.setdefault((rows[at]["rig_version"], like), {})[at] = kg
    for masses in sorts.values():
        right = _nearest(masses, _by_size_kg(parts[min(masses)]) or median_low(masses.values()))
        for at, kg in masses.items():
            if disagree(kg, masses[right]):
                said[at] = _odd(parts[at], kg, masses[right], rows[right]["section"])
    return said


def _nearest(masses: Mapping[int, float], wanted_kg: float) -> int:
    """The row whose mass is the fewest times off."""
    return min(masses, key=lambda at: abs(log(masses[at] / wanted_kg)))


def _odd(part: Part, kg: float, right_kg: float, where: str) -> str:
    if part.kind in BY_LENGTH:
        return A_METRE_DIFFERS.format(f"{kg:.3g}", f"{right_kg:.3g}", where)
    return ONE_DIFFERS.format(f"{right_kg:.3g}", where)


def _by_size_kg(part: Part) -> float | None:
    """The mass that its size makes one, or a metre of it."""
    length_m = 1.0 if part.kind in BY_LENGTH else part.length_m
    mass = mass_of_one(replace(part, each_kg=None, length_m=length_m))
    return None if mass is None else mass.kg


def _taken_m(part: Part) -> float:
    """How much of an axle all pieces of a part take; 0 where that is not known."""
    if part.kind not in ON_AN_AXLE:
        return 0.0
    return (part.pieces or 0) * (part.along_mm or 0.0) / 1000


def _section_lengths_m(rows: Sequence[Row], parts: Sequence[Part]) -> dict[tuple[str, str], float]:
    lengths_m: dict[tuple[str, str], float] = {}
    for row, part in zip(rows, parts, strict=True):
        place = row["rig_version"], row["section"]
        if part.kind in BY_LENGTH and part.length_m and (part.pieces or 0) <= MOST_RUNS:
            lengths_m[place] = max(part.length_m, lengths_m.get(place, 0.0))
    return lengths_m


def _by(rows: Sequence[Row], names: Sequence[str]) -> Mapping[tuple[Any, ...], list[int]]:
    """Which rows have the same of those columns."""
    found: dict[tuple[Any, ...], list[int]] = {}
    for at, row in enumerate(rows):
        found.setdefault(tuple(row.get(name) for name in names), []).append(at)
    return found
