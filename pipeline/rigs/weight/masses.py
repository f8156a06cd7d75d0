"""Mass in air of one piece of a part: weighed, or worked out from its dimensions.

How sure each way is, as a relative standard deviation of the mass; where limits are known, the
standard deviation of anything between them being as likely (half their width over √3):
- weighed: a hanging scale aboard, 2 %; the same part weighed elsewhere, 3 %: common practice;
- chain table: the wire's tolerance in DIN 766 is about 4 %, mass goes by its square, so 4 %;
- chain geometry: the outside values hold within 5 %, and the proportions are the tables': 5 %;
- wire rope: diameters run up to 5 % over in EN 12385-4 (from memory): 3 %, and 8 % where the
  construction is not named, as the factors differ by that;
- fibre rope: 6 %, and 15 % for coir: from memory;
- solids: 5 % for a cylinder, 20 % for a bobbin, whose shape lies between a ball and a barrel,
  30 % for a hollow one, whose wall is not recorded; the density's own goes on top.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING

from pipeline.rigs.weight.chains import kg_per_m_from_geometry, link_of, standard_in, table_chain
from pipeline.rigs.weight.parts import BY_LENGTH, ON_AN_AXLE
from pipeline.rigs.weight.ropes import USUAL_WIRE, fibre_kg_per_m, wire_in, wire_kg_per_m
from pipeline.rigs.weight.solids import Shape, Solid

if TYPE_CHECKING:
    from pipeline.rigs.weight.chains import Standard
    from pipeline.rigs.weight.materials import Material
    from pipeline.rigs.weight.parts import Part

WEIGHED_SD = 0.02
WEIGHED_ELSEWHERE_SD = 0.03
CHAIN_TABLE_SD = 0.04
CHAIN_GEOMETRY_SD = 0.05
WIRE_SD = 0.03
UNNAMED_WIRE_SD = 0.08
FIBRE_SD = 0.06
COIR_SD = 0.15
CYLINDER_SD = 0.05
BOBBIN_SD = 0.20
HOLLOW_SD = 0.30

WALLS_MM = {
    "steel": 6.0,
    "cast iron": 10.0,
    "polyethylene": 12.0,
    "polyamide": 12.0,
    "polypropylene": 12.0,
}
"""Wall of a hollow bobbin or wheel by its material, in mm (common practice, no source)."""

CHAIN_OF_THE_TABLES = "steel"


@dataclass(frozen=True)
class Mass:
    """Mass in air of one piece in kg, its relative standard deviation, and how it was got."""

    kg: float
    sd: float
    source: str


def mass_of_one(part: Part, weighed_elsewhere: float | None = None) -> Mass | None:
    """Mass in air of one piece, or None where there is nothing to work it out from.

    `weighed_elsewhere` is the mass of an alike part: kg a metre for what runs by length, else kg
    apiece. A part's own weighing goes first, then that, then its dimensions.
    """
    if part.each_kg is not None:
        return Mass(part.each_kg, WEIGHED_SD, "weighed")
    if weighed_elsewhere is not None and (part.kind not in BY_LENGTH or part.length_m is not None):
        kg = weighed_elsewhere * ((part.length_m or 0) if part.kind in BY_LENGTH else 1)
        return Mass(kg, WEIGHED_ELSEWHERE_SD, "weighed elsewhere")
    if part.kind in BY_LENGTH:
        return _by_length(part)
    return _on_an_axle(part)


def solid_of(part: Part) -> Solid | None:
    """The body of a disc, wheel, spacer or bobbin; None if it is not one, or not of this world.

    A bobbin without a width is a ball; a bore that is not recorded is none.
    """
    along = part.along_mm
    if along is None and part.kind == "bobbin":
        along = part.diameter_mm
    if part.kind not in ON_AN_AXLE or part.diameter_mm is None or along is None:
        return None
    bore_mm = part.bore_mm or 0.0
    if bore_mm >= part.diameter_mm:
        return None
    shape: Shape = "bobbin" if part.kind == "bobbin" else "cylinder"
    return Solid(shape, part.diameter_mm, along, bore_mm)


def is_hollow(part: Part) -> bool:
    """Whether a bobbin or wheel is taken to be hollow: all but those of rubber, lead and oak."""
    named = part.material is not None and part.material.name in WALLS_MM
    return named and part.kind in {"bobbin", "wheel"}


def _by_length(part: Part) -> Mass | None:
    if part.diameter_mm is None or part.length_m is None or part.material is None:
        return None
    metre = _metre_of(part, part.diameter_mm, part.material)
    return metre and Mass(metre.kg * part.length_m, metre.sd, metre.source)


def _metre_of(part: Part, diameter_mm: float, material: Material) -> Mass | None:
    """Mass of a metre of chain, wire or rope; a rope of steel is a wire."""
    if part.kind == "chain":
        return _metre_of_chain(diameter_mm, standard_in(part.name), material)
    if material.name == "steel":
        wire = wire_in(part.name)
        sd = UNNAMED_WIRE_SD if wire is None else WIRE_SD
        return Mass(wire_kg_per_m(diameter_mm, wire or USUAL_WIRE), sd, "wire rope")
    kg = fibre_kg_per_m(diameter_mm, material.name)
    sd = COIR_SD if material.name == "coir" else FIBRE_SD
    return None if kg is None else Mass(kg, sd, "fibre rope")


def _metre_of_chain(wire_mm: float, standard: Standard, material: Material) -> Mass:
    """From the table where it has that wire in steel, else from the shape of a link."""
    known = table_chain(wire_mm, standard)
    if known is not None and material.name == CHAIN_OF_THE_TABLES:
        return Mass(known.kg_per_m, CHAIN_TABLE_SD, "chain table")
    kg = kg_per_m_from_geometry(link_of(wire_mm, standard), material.density)
    return Mass(kg, CHAIN_GEOMETRY_SD, "chain geometry")


def _on_an_axle(part: Part) -> Mass | None:
    solid, material = solid_of(part), part.material
    if solid is None or material is None:
        return None
    if is_hollow(part):
        kg = solid.shell_dm3(WALLS_MM[material.name]) * material.density
        return Mass(kg, HOLLOW_SD, "hollow shell")
    shape_sd = BOBBIN_SD if solid.shape == "bobbin" else CYLINDER_SD
    kg = solid.volume_dm3 * material.density
    return Mass(kg, hypot(shape_sd, material.density_sd), "solid")
