"""Mass of wire rope and of fibre rope by diameter, in kg a metre: m = W d² / 100, d in mm.

Sources: wire rope EN 12385-4, factors by construction and core, from memory. Fibre rope: W fitted
to ropes of 16 to 72 mm with three strands, as ISO 1140 (polyamide), 1141 (polyester),
1181 (manila and sisal), 1346 (polypropylene) and 1969 (polyethylene) have them, from memory, and
as a dealer prints them for manila, polyamide and polypropylene (within 5 %). Coir: from memory,
and the least sure of them, as grass rope is laid more or less hard.
"""

from __future__ import annotations

import re

WIRE_FACTORS = {
    ("6x7", "fibre"): 0.345,
    ("6x7", "steel"): 0.384,
    ("6x19", "fibre"): 0.359,
    ("6x19", "steel"): 0.400,
    ("6x36", "fibre"): 0.367,
    ("6x36", "steel"): 0.409,
}
"""kg a metre over d²/100, by construction and core."""

USUAL_WIRE = ("6x19", "fibre")
"""A wire whose construction nobody wrote down (common practice, no source)."""

FIBRE_FACTORS = {
    "polypropylene": 0.045,
    "polyethylene": 0.049,
    "polyamide": 0.062,
    "polyester": 0.076,
    "manila": 0.070,
    "sisal": 0.070,
    "coir": 0.050,
}
"""kg a metre over d²/100, by material."""

_CONSTRUCTION = re.compile(r"\b(6)\s*[x×]\s*(7|19|36)\b")


def wire_kg_per_m(diameter_mm: float, wire: tuple[str, str] = USUAL_WIRE) -> float:
    """Mass in kg of a metre of wire rope; raises `KeyError` for a construction not listed."""
    return WIRE_FACTORS[wire] * diameter_mm**2 / 100


def fibre_kg_per_m(diameter_mm: float, material: str) -> float | None:
    """Mass in kg of a metre of dry fibre rope, or None for a material that no rope is laid of."""
    factor = FIBRE_FACTORS.get(material)
    return None if factor is None else factor * diameter_mm**2 / 100


def wire_in(text: str) -> tuple[str, str] | None:
    """The construction and core that a part's name gives, as `wire 6x36 steel core` does."""
    found = _CONSTRUCTION.search(text.lower())
    if found is None:
        return None
    core = "steel" if "steel core" in text.lower() else "fibre"
    return f"{found[1]}x{found[2]}", core
