"""One row of `rig_parts`, with its part and material read from the words of the trade."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.nearest import did_you_mean
from pipeline.rigs.weight.materials import MATERIALS, Material, material_named, material_within
from schemas.words import PART_KINDS

if TYPE_CHECKING:
    from collections.abc import Mapping

BY_LENGTH = ("chain", "wire", "rope")
"""Kinds that run through the section and are measured in metres."""

ON_AN_AXLE = ("disc", "bobbin", "wheel", "spacer")
"""Kinds with a diameter, a width and a bore."""

USUALLY_STEEL = ("chain", "wire")
"""Kinds that are steel unless something else is written (common practice, no source)."""


@dataclass(frozen=True)
class Part:
    """A row of `rig_parts`: `name` is its part in lower case and singular, None is not recorded."""

    name: str
    kind: str | None
    material: Material | None
    count: int | None
    diameter_mm: float | None
    width_mm: float | None
    bore_mm: float | None
    length_m: float | None
    each_kg: float | None
    weighed_share: float | None

    @property
    def pieces(self) -> int | None:
        """How many pieces: the count, or one for what is given by its length alone."""
        if self.count is not None:
            return self.count
        runs = self.kind in BY_LENGTH or self.width_mm is None
        return 1 if runs and self.length_m is not None else None

    @property
    def along_mm(self) -> float | None:
        """How far one reaches along the gear: its width, or the length of a run of discs."""
        if self.width_mm is not None or self.length_m is None:
            return self.width_mm
        return self.length_m * 1000


def part_of(row: Mapping[str, Any]) -> Part:
    """The part in a row of `rig_parts`."""
    name = singular(str(row["part"]))
    kind = kind_in(name)
    return Part(
        name=name,
        kind=kind,
        material=_material_of(row.get("material"), name, kind),
        count=row.get("count"),
        diameter_mm=row.get("diameter_mm"),
        width_mm=row.get("width_mm"),
        bore_mm=row.get("bore_mm"),
        length_m=row.get("length_m"),
        each_kg=row.get("each_kg"),
        weighed_share=row.get("weight_kept_in_water"),
    )


def singular(text: str) -> str:
    """The text in lower case, each word of letters without the s of the plural."""
    words = text.lower().split()
    return " ".join(re.sub(r"^([a-z]{3,}[^s])s$", r"\1", word) for word in words)


def kind_in(name: str) -> str | None:
    """The kind of part that a name in the singular speaks of, by its last word that is known.

    A wire rope is a wire.
    """
    known = [PART_KINDS[word] for word in re.split(r"[^a-z]+", name) if word in PART_KINDS]
    if known[-2:] == ["wire", "rope"]:
        return "wire"
    return known[-1] if known else None


def speaks_of(*words: str) -> pl.Expr:
    """Whether a part's name, or the line that it is on, has one of the words, or its plural."""
    named = pl.concat_str("part", "line", separator=" ", ignore_nulls=True)
    return named.str.contains(rf"(?i)\b(?:{'|'.join(words)})s?\b")


def nearest_part(name: str) -> str:
    """` (did you mean …?)` if a kind of part is near, else nothing."""
    return did_you_mean(name, PART_KINDS)


def _material_of(written: str | None, name: str, kind: str | None) -> Material | None:
    """The material written, else the one in the part's name, else steel for chain and wire."""
    if written is not None:
        return material_named(written)
    usual = MATERIALS["steel"] if kind in USUALLY_STEEL else None
    return material_within(name) or usual
