"""A word on rows of `rig_parts` that are used, but cannot be quite right or cannot be weighed."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.rigs.weight.against_one_another import odd_weights, too_long_for_the_section
from pipeline.rigs.weight.materials import material_named, nearest_material
from pipeline.rigs.weight.parts import nearest_part, part_of
from pipeline.rigs.weight.weights import part_weights
from pipeline.rows import no_refusals, refusal
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Callable

    from pipeline.rigs.weight.parts import Part

MM_PER_INCH = 25.4
"""By definition since the agreement of 1959."""

SMALL_MM = {"bobbin": 40.0, "wheel": 40.0, "disc": 25.0}
"""Below this a part is asked about: it may be in inches.

Discs run from about 1½ inches (38 mm) up (common practice, no source).
"""
SMALL_ROCKHOPPER_MM = 40.0

WIDER_BORE = saying("is wider than the {} itself, {} mm across; put one of them right")
AS_WIDE_BORE = saying("is as wide as the {} itself, {} mm across; put one of them right")
IN_INCHES = saying("is small for a {}: is {} mm meant to be {} inches ({} mm)?")
UNKNOWN_PART = saying(
    "is a part that is not known{}; give the mass of one, as its dimensions do not say"
)
UNKNOWN_MATERIAL = saying(
    "is a material that is not known{}; put it right, or say what share of its weight it keeps in "
    "water"
)
NOT_WEIGHED = saying(
    "the {} in the {} of {} cannot be weighed without {}; until then the rig weighs at least what "
    "the rest does"
)
REASONS = (
    WIDER_BORE,
    AS_WIDE_BORE,
    IN_INCHES,
    UNKNOWN_PART,
    UNKNOWN_MATERIAL,
    NOT_WEIGHED,
)


def rig_part_remarks(rig_parts: pl.DataFrame) -> pl.DataFrame:
    """What is to be said on rows of `rig_parts`, with the columns of `REFUSAL_SCHEMA`.

    `rig_parts` has `row` beside its own columns.
    """
    rows = rig_parts.to_dicts()
    parts = [part_of(row) for row in rows]
    remarks: tuple[tuple[str | None, Callable[[Part], str | None]], ...] = (
        ("bore_mm", _bore_too_wide),
        ("diameter_mm", _inches),
    )
    return pl.concat(
        [
            no_refusals(),
            *(_said(rig_parts, column, [say(part) for part in parts]) for column, say in remarks),
            _said(rig_parts, "part", _unknown_parts(parts)),
            _said(rig_parts, "material", _unknown_materials(rig_parts)),
            _said(rig_parts, "each_kg", odd_weights(rows, parts)),
            _said(rig_parts, None, too_long_for_the_section(rows, parts)),
            _said(rig_parts, None, _not_weighed(rig_parts)),
        ]
    ).sort("row", maintain_order=True)


def _said(rig_parts: pl.DataFrame, column: str | None, reasons: list[str | None]) -> pl.DataFrame:
    """A remark for each row that has a reason."""
    said = rig_parts.with_columns(pl.Series("reason", reasons, pl.String))
    return refusal(said.filter(pl.col("reason").is_not_null()), column, pl.col("reason"))


def _bore_too_wide(part: Part) -> str | None:
    bore, diameter = part.bore_mm, part.diameter_mm
    if bore is None or diameter is None or bore < diameter:
        return None
    reason = WIDER_BORE if bore > diameter else AS_WIDE_BORE
    return reason.format(part.name, f"{diameter:g}")


def _inches(part: Part) -> str | None:
    """Whether a bobbin, wheel or disc is so small that its diameter may be in inches."""
    least = SMALL_MM.get(part.kind or "", 0.0)
    if "rockhopper" in part.name:
        least = SMALL_ROCKHOPPER_MM
    mm = part.diameter_mm
    if mm is None or mm >= least:
        return None
    return IN_INCHES.format(part.name, f"{mm:g}", f"{mm:g}", f"{mm * MM_PER_INCH:.0f}")


def _unknown_parts(parts: list[Part]) -> list[str | None]:
    return [
        UNKNOWN_PART.format(nearest_part(part.name))
        if part.kind is None and part.each_kg is None
        else None
        for part in parts
    ]


def _unknown_materials(rig_parts: pl.DataFrame) -> list[str | None]:
    return [
        UNKNOWN_MATERIAL.format(nearest_material(written))
        if written is not None and material_named(written) is None
        else None
        for written in rig_parts["material"]
    ]


def _not_weighed(rig_parts: pl.DataFrame) -> list[str | None]:
    """What each part lacks, unless it is of a kind or a material that is remarked on already."""
    weights = part_weights(rig_parts)
    strangers = [reason is not None for reason in _unknown_materials(rig_parts)]
    return [
        NOT_WEIGHED.format(*(row[name] for name in ("part", "section", "rig_version", "lacks")))
        if row["lacks"] is not None and row["kind"] is not None and not remarked
        else None
        for row, remarked in zip(weights.to_dicts(), strangers, strict=True)
    ]
