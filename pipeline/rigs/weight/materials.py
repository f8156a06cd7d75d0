"""What the parts of a rig are made of, and the share of its weight that each keeps in sea water.

Sources: densities of metals and plastics as engineering handbooks give them, those of fibres and
of sea water as FAO, Fisherman's Workbook (1990), gives them; all from memory. `least` and `most`
are the range in trade, from memory. The kept share is Archimedes' principle: P = A (1 − ρw / ρm).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import sqrt

from pipeline.nearest import did_you_mean

SEA_WATER_T_PER_M3 = 1.026
"""Density of sea water, t/m³ (FAO, Fisherman's Workbook, 1990, from memory)."""

SHARE_SD_AT_LEAST = 0.005
"""No share from a density is surer than this: fresh and salt water differ by as much."""


@dataclass(frozen=True)
class Material:
    """A material by its density in t/m³ (the same in kg/dm³) and the range in trade."""

    name: str
    density: float
    least: float
    most: float

    @property
    def share_kept(self) -> float:
        """Share of its weight in air that it keeps in sea water; below 0 it floats."""
        return 1 - SEA_WATER_T_PER_M3 / self.density

    @property
    def density_sd(self) -> float:
        """Relative standard deviation of the density: anything in the range is as likely."""
        return (self.most - self.least) / sqrt(12) / self.density

    @property
    def share_sd(self) -> float:
        """Standard deviation of the kept share (not relative): that of the density carried over."""
        return max(SHARE_SD_AT_LEAST, SEA_WATER_T_PER_M3 / self.density * self.density_sd)


MATERIALS = {
    material.name: material
    for material in (
        Material("steel", 7.85, 7.75, 7.87),
        Material("lead", 11.34, 11.20, 11.34),
        Material("cast iron", 7.20, 6.90, 7.40),
        Material("bronze", 8.70, 8.40, 8.90),
        Material("aluminium", 2.70, 2.65, 2.80),
        Material("rubber", 1.15, 1.10, 1.30),
        Material("tyre rubber", 1.15, 1.10, 1.30),
        Material("polyamide", 1.14, 1.12, 1.15),
        Material("polyester", 1.38, 1.36, 1.40),
        Material("polyethylene", 0.95, 0.91, 0.97),
        Material("polypropylene", 0.90, 0.89, 0.92),
        Material("manila", 1.48, 1.45, 1.50),
        Material("sisal", 1.49, 1.45, 1.50),
        Material("coir", 1.15, 1.10, 1.35),
        Material("oak", 0.80, 0.70, 0.95),
    )
}

OTHER_NAMES = {
    "galvanised steel": "steel",
    "galvanized steel": "steel",
    "stainless steel": "steel",
    "iron": "cast iron",
    "brass": "bronze",
    "aluminum": "aluminium",
    "tyre": "tyre rubber",
    "tyres": "tyre rubber",
    "tire": "tyre rubber",
    "solid rubber": "rubber",
    "nylon": "polyamide",
    "plastic": "polyethylene",
    "grass": "coir",
}
"""What else a material is called; grass rope is laid of coir (common practice, no source)."""

KNOWN_MATERIALS = (*MATERIALS, *OTHER_NAMES)


def material_named(text: str | None) -> Material | None:
    """The material of that name, however it is spaced or written; None if none is known by it."""
    if text is None:
        return None
    name = " ".join(text.lower().split())
    return MATERIALS.get(OTHER_NAMES.get(name, name))


def material_within(text: str) -> Material | None:
    """The material that a longer text names, as `rubber discs` does; None if it names none."""
    words = text.lower().split()
    pairs = [" ".join(pair) for pair in pairwise(words)]
    known = (material_named(name) for name in (*pairs, *words))
    return next((material for material in known if material is not None), None)


def nearest_material(text: str) -> str:
    """` (did you mean …?)` if a material is near, else nothing."""
    return did_you_mean(" ".join(text.lower().split()), KNOWN_MATERIALS)
