"""Mass in air and weight in sea water of every part of every rig."""

from __future__ import annotations

from math import hypot
from typing import TYPE_CHECKING

import polars as pl

from pipeline.rigs.weight.alike import weighed_elsewhere, weighings
from pipeline.rigs.weight.masses import mass_of_one
from pipeline.rigs.weight.parts import BY_LENGTH, ON_AN_AXLE, part_of
from pipeline.rigs.weight.shares import share_of
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.rigs.weight.alike import Weighing
    from pipeline.rigs.weight.masses import Mass
    from pipeline.rigs.weight.parts import Part
    from pipeline.rigs.weight.shares import Share

HOW_MANY = saying("how many there are")
MADE_OF = saying("what it is made of")
MASS = saying("the mass of one")
MASS_OR_MATERIAL = saying("the mass of one, or what it is made of")
MASS_OR_OTHERS = saying("the mass of one, or dimensions that can be")
MASS_OR_SIZE = {
    ("diameter",): saying("the mass of one, or its diameter"),
    ("length",): saying("the mass of one, or its length"),
    ("width",): saying("the mass of one, or its width"),
    ("diameter", "length"): saying("the mass of one, or its diameter and length"),
    ("diameter", "width"): saying("the mass of one, or its diameter and width"),
}
LACKING = (HOW_MANY, MADE_OF, MASS, MASS_OR_MATERIAL, MASS_OR_OTHERS, *MASS_OR_SIZE.values())
"""What a part may lack before it can be weighed."""
ROW_SET_ASIDE = saying("its row was set aside")
"""What is said in their place of a row that `set_aside` marks: what it held is not looked at."""

NO_WEIGHT = dict.fromkeys(("mass_air_kg", "mass_sd_kg", "weight_water_kg", "weight_sd_kg"), 0.0)
"""What none of a part weighs."""

PART_KEY = ("rig_version", "section", "part", "line")

PART_WEIGHTS_SCHEMA: dict[str, pl.DataType] = {
    **dict.fromkeys(PART_KEY, pl.String()),
    "kind": pl.String(),
    "material": pl.String(),
    "pieces": pl.Int64(),
    "diameter_mm": pl.Float64(),
    "width_mm": pl.Float64(),
    "bore_mm": pl.Float64(),
    "length_m": pl.Float64(),
    "mass_air_kg": pl.Float64(),
    "mass_sd_kg": pl.Float64(),
    "mass_from": pl.String(),
    "share_kept": pl.Float64(),
    "share_sd": pl.Float64(),
    "share_from": pl.String(),
    "share_by_rule": pl.Float64(),
    "share_by_density": pl.Float64(),
    "weight_water_kg": pl.Float64(),
    "weight_sd_kg": pl.Float64(),
    "uncertainty": pl.Float64(),
    "lacks": pl.String(),
}
"""A row is a row of `rig_parts`, all its pieces together.

`weight_water_kg` is the mass whose weight in air is the part's weight in sea water; below 0 it
floats. `mass_sd_kg`, `share_sd` and `weight_sd_kg` are one standard deviation, `uncertainty` is
that of the weight over the weight. `length_m` is that of one piece. `lacks` says what it would
take to weigh it.
`mass_from`: weighed, weighed elsewhere, chain table, chain geometry, wire rope, fibre rope, solid,
hollow shell. `share_from`: weighed, weighed elsewhere, trade rule, density.
"""


def part_weights(rig_parts: pl.DataFrame) -> pl.DataFrame:
    """The mass and weight of each row of `rig_parts`, in the same order.

    What cannot be worked out is null, never 0. Beside its own columns it may have `set_aside`.
    """
    rows = rig_parts.to_dicts()
    parts = [part_of(row) for row in rows]
    rigs = [str(row["rig_version"]) for row in rows]
    weighed = weighings(zip(rigs, parts, strict=True))
    weights = []
    for rig, row, part in zip(rigs, rows, parts, strict=True):
        named = {name: _text(row.get(name)) for name in PART_KEY}
        weight = weight_of(part, weighed_elsewhere(rig, part, weighed))
        if row.get("set_aside"):
            weight["lacks"] = ROW_SET_ASIDE
        weights.append(named | weight)
    return pl.DataFrame(weights, schema=PART_WEIGHTS_SCHEMA)


def weight_of(part: Part, elsewhere: Weighing) -> dict[str, object]:
    """The columns of `PART_WEIGHTS_SCHEMA` after the key, of one part.

    Of none of them the weight is 0, whatever one is like: so a rig says that it has no bunt.
    """
    one = mass_of_one(part, elsewhere.kg)
    share = share_of(part, one.kg if one else None, elsewhere.share)
    pieces = part.pieces
    mass_kg = one.kg * pieces if one is not None and pieces is not None else None
    mass_sd_kg = one.sd * mass_kg if one is not None and mass_kg is not None else None
    of_none = {**NO_WEIGHT, "lacks": None} if pieces == 0 else {}
    return {
        "kind": part.kind,
        "material": part.material.name if part.material else None,
        "pieces": pieces,
        "diameter_mm": part.diameter_mm,
        "width_mm": part.width_mm,
        "bore_mm": part.bore_mm,
        "length_m": part.length_m,
        "mass_air_kg": mass_kg,
        "mass_sd_kg": mass_sd_kg,
        "mass_from": one.source if one else None,
        "share_kept": share.kept,
        "share_sd": share.sd,
        "share_from": share.source,
        "share_by_rule": share.by_rule,
        "share_by_density": share.by_density,
        **_in_water(mass_kg, mass_sd_kg, share),
        "lacks": what_it_lacks(part, one, share),
        **of_none,
    }


def _in_water(mass_kg: float | None, mass_sd_kg: float | None, share: Share) -> dict[str, object]:
    """Mass × kept share; the standard deviations of the two factors add as squares."""
    if mass_kg is None or mass_sd_kg is None or share.kept is None or share.sd is None:
        return dict.fromkeys(("weight_water_kg", "weight_sd_kg", "uncertainty"))
    weight = mass_kg * share.kept
    sd = hypot(mass_sd_kg * share.kept, mass_kg * share.sd)
    return {
        "weight_water_kg": weight,
        "weight_sd_kg": sd,
        "uncertainty": sd / abs(weight) if weight else None,
    }


def what_it_lacks(part: Part, one: Mass | None, share: Share) -> str | None:
    """What has to be recorded before the part can be weighed, in words; None if nothing has."""
    if one is None:
        return _before_its_mass(part)
    if part.pieces is None:
        return HOW_MANY
    return MADE_OF if share.kept is None else None


def _before_its_mass(part: Part) -> str:
    if part.kind in BY_LENGTH:
        wanted = {"diameter": part.diameter_mm, "length": part.length_m}
    elif part.kind in ON_AN_AXLE:
        wanted = {"diameter": part.diameter_mm, "width": part.along_mm}
    else:
        return MASS
    blank = tuple(name for name, value in wanted.items() if value is None)
    if blank:
        return MASS_OR_SIZE[blank]
    if part.material is None:
        return MASS_OR_MATERIAL
    return MASS_OR_OTHERS


def _text(value: object) -> str | None:
    return None if value is None else str(value)
