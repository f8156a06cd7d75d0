"""The rig versions and their parts, as a gear store would list them."""

from dataclasses import dataclass
from math import pi

import polars as pl

from synthetic_data.scene import RIG_VERSIONS

# Length of one wing, one bunt and the bosom: a rig has two wings and two bunts.
SECTION_LENGTHS_M = {"wing": 11.0, "bunt": 4.4, "bosom": 3.3}
_RUBBER_KG_PER_DM3 = 1.25
_SECTIONS_OF_A_SIDE = {"wing": 2, "bunt": 2, "bosom": 1}


@dataclass(frozen=True)
class Part:
    """Parts of one kind: how many a metre, or one length run through the section."""

    part: str
    material: str
    per_m: float | None
    diameter_mm: int
    width_mm: int | None = None
    bore_mm: int | None = None
    kg: float | None = None
    weight_kept_in_water: float | None = None


_CENTRE_CHAIN = Part("chain", "steel", None, 13, kg=3.8)
_WIRE = Part("wire", "steel", None, 18, kg=1.25)
_SMALL_DISCS = Part("small discs", "rubber", 9.0, 80, 60, 22)
_PARTS = {
    "chain-13": (
        Part("chain", "steel", None, 13, kg=3.8, weight_kept_in_water=0.87),
        Part("second chain", "steel", None, 10, kg=2.2),
    ),
    "grass-60": (
        Part("rope", "coir", None, 60, kg=1.9),
        Part("chain", "steel", None, 10, kg=2.2),
    ),
    "rounded-70": (
        _WIRE,
        Part("rope", "polypropylene", None, 70, kg=2.1),
        Part("chain", "steel", None, 10, kg=2.2),
    ),
    "discs-6": (_WIRE, Part("discs", "rubber", 6.0, 152, 60, 22), _SMALL_DISCS),
    "discs-8-trial": (_WIRE, Part("discs", "rubber", 5.0, 203, 60, 22), _SMALL_DISCS),
    "bobbins-14": (
        _CENTRE_CHAIN,
        Part("bobbins", "steel", 1.0, 356, 300, 50, kg=21.5, weight_kept_in_water=0.42),
        Part("spacers", "rubber", 3.0, 150, 200, 50),
    ),
    "bobbins-14-b": (
        _CENTRE_CHAIN,
        Part("bobbins", "steel", 1.0, 356, 300, 50, kg=21.5),
        Part("spacers", "rubber", 3.0, 150, 200, 50),
    ),
    "rockhopper-16": (
        _CENTRE_CHAIN,
        Part("discs", "rubber", 4.0, 406, 70, 50),
        Part("spacers", "rubber", 4.0, 180, 130, 50),
    ),
}


def rig_versions_table() -> pl.DataFrame:
    """Return the table of rig versions."""
    whole_m = round(
        sum(length * _SECTIONS_OF_A_SIDE[s] for s, length in SECTION_LENGTHS_M.items()), 1
    )
    return pl.DataFrame(
        {
            "rig_version": [rig.name for rig in RIG_VERSIONS],
            "rig": [rig.rig for rig in RIG_VERSIONS],
            "ground_gear": [rig.ground_gear for rig in RIG_VERSIONS],
            "fishing_line_m": [
                round(whole_m + rig.fishing_line_slack_m, 2) for rig in RIG_VERSIONS
            ],
            "ground_gear_m": [whole_m] * len(RIG_VERSIONS),
            "toggle_mm": [rig.toggle_mm for rig in RIG_VERSIONS],
            "gap_mm": [rig.gap_mm for rig in RIG_VERSIONS],
            "wing_end_spread_m": [rig.wing_end_spread_m for rig in RIG_VERSIONS],
            "changed_from": [rig.changed_from for rig in RIG_VERSIONS],
            "what_changed": [rig.what_changed for rig in RIG_VERSIONS],
        }
    )


def rig_parts_table() -> pl.DataFrame:
    """Return the parts of every rig version, section by section."""
    rows = [
        _part_row(rig_version, section, part)
        for rig_version, parts in _PARTS.items()
        for section in SECTION_LENGTHS_M
        for part in parts
    ]
    return pl.DataFrame(rows, infer_schema_length=None)


def _part_row(rig_version: str, section: str, part: Part) -> dict[str, str | float | None]:
    """One row of parts; what runs the length of the section is one piece with its length."""
    length_m = SECTION_LENGTHS_M[section]
    in_one_piece = part.per_m is None
    return {
        "rig_version": rig_version,
        "section": section,
        "part": part.part,
        "line": "ground gear",
        "material": part.material,
        "count": 1 if part.per_m is None else round(part.per_m * length_m),
        "diameter_mm": part.diameter_mm,
        "width_mm": part.width_mm,
        "bore_mm": part.bore_mm,
        "length_m": length_m if in_one_piece else None,
        "each_kg": _each_kg(part, length_m, section),
        "weight_kept_in_water": part.weight_kept_in_water,
    }


def _each_kg(part: Part, length_m: float, section: str) -> float | None:
    """Mass of one in air: as weighed, worked out for rubber, or not known for small discs."""
    if part.kg is not None:
        return round(part.kg * length_m, 1) if part.per_m is None else part.kg
    if part is _SMALL_DISCS or section == "bunt":
        return None
    width_dm, diameter_dm, bore_dm = (
        (mm or 0) / 100 for mm in (part.width_mm, part.diameter_mm, part.bore_mm)
    )
    litres = pi / 4 * (diameter_dm**2 - bore_dm**2) * width_dm
    return round(_RUBBER_KG_PER_DM3 * litres, 2)
