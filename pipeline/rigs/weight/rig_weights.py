"""Weights of sections and of whole rigs, from the weights of their parts."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.rigs.weight.parts import BY_LENGTH
from pipeline.rigs.weight.weights import ROW_SET_ASIDE
from schemas.words import SECTIONS

if TYPE_CHECKING:
    from collections.abc import Mapping

SIDES = {"wing": 2, "bunt": 2, "bosom": 1}
"""How often a rig has each section: the rows of a wing and of a bunt stand for one side."""

WHOLE = "whole"
SAME_LENGTH = 0.01
"""Sections that make the length of the whole so closely are all that it has (own judgement)."""

RIG_WEIGHTS_SCHEMA: dict[str, pl.DataType] = {
    "rig_version": pl.String(),
    "section": pl.String(),
    "sides": pl.Int64(),
    "mass_air_kg": pl.Float64(),
    "mass_sd_kg": pl.Float64(),
    "weight_water_kg": pl.Float64(),
    "weight_sd_kg": pl.Float64(),
    "uncertainty": pl.Float64(),
    "share_kept": pl.Float64(),
    "gear_m": pl.Float64(),
    "weight_water_kg_per_m": pl.Float64(),
    "largest_diameter_mm": pl.Float64(),
    "parts": pl.Int64(),
    "missing": pl.List(pl.String()),
    "at_least": pl.Boolean(),
}
"""A row is a section of a rig version (one side of it), or the whole.

`share_kept` is weight in water over the mass in air of the parts that have one. `gear_m` of the
whole is the ground gear's length as recorded; of a section it is the longest chain, wire or rope
that is run through it in one piece, and of a whole whose length is not recorded the sum of these
(of the sections, as often as the rig has each). `missing` names parts and sections
that could not be weighed; the weight is then `at_least` what it says. A section of which no part
is recorded is not there where the others make the whole length.
"""

_BY = ["rig_version", "section"]
_SAME_PIECE = ("kind", "material", "diameter_mm")
_SAME_SHARE = ("material", "share_kept")


def rig_weights(
    part_weights: pl.DataFrame,
    rig_versions: pl.DataFrame,
    sides: Mapping[str, int] | None = None,
) -> pl.DataFrame:
    """For each rig version its sections and the whole, as `RIG_WEIGHTS_SCHEMA` has them.

    `rig_versions` gives `ground_gear_m` by `rig_version`; `sides` says how often a rig has each
    section (two wings, two bunts and a bosom, if left out). Raises `InvalidOperationError` of
    polars for a part in a section that `sides` does not have.

    Standard deviations: pieces of one kind, material and diameter share the error of their mass,
    and parts of one material with one kept share the error of that share (a rule that is wrong is
    wrong for all its discs). Errors that are shared add up; the sums of those add as squares.
    """
    times = dict(SIDES if sides is None else sides)
    one_side = part_weights.with_columns(pl.lit(1, pl.Int64).alias("times"))
    both_sides = part_weights.with_columns(
        pl.col("section").replace_strict(times, return_dtype=pl.Int64).alias("times"),
        pl.lit(WHOLE).alias("section"),
        pl.col("section").alias("of_section"),
    )
    sections = _summed(one_side).join(_section_lengths(part_weights), on=_BY, how="left")
    wholes = _summed(both_sides).join(
        _whole_lengths(sections, rig_versions, times), on="rig_version", how="left"
    )
    absent = _absent_sections(part_weights, times).join(
        _of_these_alone(sections, rig_versions, times), on="rig_version", how="anti"
    )
    wholes = wholes.join(absent, on="rig_version", how="left").with_columns(
        pl.concat_list("missing", pl.col("absent").fill_null([])).alias("missing")
    )
    return _finished(pl.concat([sections, wholes.drop("absent")], how="diagonal"), times)


def _summed(parts: pl.DataFrame) -> pl.DataFrame:
    """Sums of mass and weight by rig version and section, each row `times` over."""
    timed = parts.with_columns(
        (pl.col(name) * pl.col("times")).alias(name)
        for name in ("mass_air_kg", "mass_sd_kg", "weight_water_kg")
    )
    in_water = pl.col("mass_air_kg").filter(pl.col("weight_water_kg").is_not_null())
    sums = timed.group_by(_BY, maintain_order=True).agg(
        *(_sum_if_any(name) for name in ("mass_air_kg", "weight_water_kg")),
        in_water.sum().alias("sunk_kg"),
    )
    return sums.join(_errors(timed), on=_BY).join(_listed(parts), on=_BY)


def _sum_if_any(name: str) -> pl.Expr:
    """The sum of what is known; null where nothing is, which is not a weight of 0."""
    return pl.when(pl.col(name).is_not_null().any()).then(pl.col(name).sum()).alias(name)


def _errors(timed: pl.DataFrame) -> pl.DataFrame:
    """Standard deviations of the sums: shared errors added up, then added as squares."""
    of_weight = timed.with_columns(
        (pl.col("mass_sd_kg") * pl.col("share_kept")).alias("from_mass_kg"),
        (pl.col("mass_air_kg") * pl.col("share_sd")).alias("from_share_kg"),
    )
    mass, from_mass, from_share = (
        of_weight.group_by(*_BY, *shared_by, maintain_order=True)
        .agg(pl.col(name).sum())
        .group_by(_BY, maintain_order=True)
        .agg(pl.col(name).pow(2).sum().sqrt())
        for name, shared_by in (
            ("mass_sd_kg", _SAME_PIECE),
            ("from_mass_kg", _SAME_PIECE),
            ("from_share_kg", _SAME_SHARE),
        )
    )
    both = pl.col("from_mass_kg").pow(2) + pl.col("from_share_kg").pow(2)
    joined = mass.join(from_mass, on=_BY).join(from_share, on=_BY)
    return joined.select(*_BY, "mass_sd_kg", both.sqrt().alias("weight_sd_kg"))


def _listed(parts: pl.DataFrame) -> pl.DataFrame:
    """The largest diameter, how many rows of parts, and what is missing, in words.

    Where a row was set aside nobody knows what is the largest.
    """
    place = pl.col("of_section") if "of_section" in parts.columns else pl.col("section")
    lacking = pl.concat_str(place, pl.lit(", "), "part", pl.lit(": "), "lacks")
    largest = pl.col("diameter_mm").filter(pl.col("pieces").ne_missing(0)).max()
    one_set_aside = (pl.col("lacks") == ROW_SET_ASIDE).any()
    return parts.group_by(_BY).agg(
        pl.when(~one_set_aside).then(largest).alias("largest_diameter_mm"),
        pl.len().cast(pl.Int64).alias("parts"),
        lacking.filter(pl.col("lacks").is_not_null()).unique(maintain_order=True).alias("missing"),
    )


def _section_lengths(parts: pl.DataFrame) -> pl.DataFrame:
    """Of each section the longest chain, wire or rope in it, in m."""
    running = parts.filter(pl.col("kind").is_in(BY_LENGTH))
    return running.group_by(_BY).agg(pl.col("length_m").max().alias("gear_m"))


def _whole_lengths(
    sections: pl.DataFrame, rig_versions: pl.DataFrame, times: Mapping[str, int]
) -> pl.DataFrame:
    """The ground gear's length as recorded, else the sections' lengths where all have one."""
    complete = pl.when(pl.col("sections") == len(times)).then("added_m").alias("added_m")
    added = _added_lengths(sections, times).select("rig_version", complete)
    recorded = rig_versions.select("rig_version", "ground_gear_m")
    return added.join(recorded, on="rig_version", how="left").select(
        "rig_version", pl.coalesce("ground_gear_m", "added_m").alias("gear_m")
    )


def _added_lengths(sections: pl.DataFrame, times: Mapping[str, int]) -> pl.DataFrame:
    """How many sections each rig version has, and their lengths added up if all have one."""
    times_over = pl.col("section").replace_strict(dict(times), return_dtype=pl.Int64)
    known = pl.col("gear_m").is_not_null().all()
    return sections.group_by("rig_version").agg(
        pl.len().alias("sections"),
        pl.when(known).then((pl.col("gear_m") * times_over).sum()).alias("added_m"),
    )


def _of_these_alone(
    sections: pl.DataFrame, rig_versions: pl.DataFrame, times: Mapping[str, int]
) -> pl.DataFrame:
    """The rig versions of which the sections recorded make the whole length: there is no other."""
    whole = pl.col("ground_gear_m")
    return (
        _added_lengths(sections, times)
        .join(rig_versions.select("rig_version", "ground_gear_m"), on="rig_version")
        .filter((pl.col("added_m") - whole).abs() <= SAME_LENGTH * whole)
        .select("rig_version")
    )


def _absent_sections(parts: pl.DataFrame, times: Mapping[str, int]) -> pl.DataFrame:
    """The sections of each rig version of which no part is recorded."""
    every = pl.DataFrame({"section": list(times)}, schema={"section": pl.String})
    expected = parts.select("rig_version").unique().join(every, how="cross")
    return (
        expected.join(parts, on=_BY, how="anti")
        .sort("rig_version", "section")
        .group_by("rig_version")
        .agg(pl.concat_str("section", pl.lit(": no part is recorded")).alias("absent"))
    )


def _finished(sums: pl.DataFrame, times: Mapping[str, int]) -> pl.DataFrame:
    """With what follows from the sums, in the order of rig version, wing, bunt, bosom, whole."""
    weight, mass, sd = pl.col("weight_water_kg"), pl.col("sunk_kg"), pl.col("weight_sd_kg")
    order = pl.col("section").replace_strict(
        {word: place for place, word in enumerate((*SECTIONS, WHOLE))}, return_dtype=pl.Int64
    )
    return (
        sums.with_columns(
            pl.col("section")
            .replace_strict(dict(times), default=None, return_dtype=pl.Int64)
            .alias("sides"),
            pl.when(weight != 0).then(sd / weight.abs()).alias("uncertainty"),
            pl.when(mass != 0).then(weight / mass).alias("share_kept"),
            (weight / pl.col("gear_m")).alias("weight_water_kg_per_m"),
            (pl.col("missing").list.len() > 0).alias("at_least"),
        )
        .sort("rig_version", order)
        .select(pl.col(name).cast(kind) for name, kind in RIG_WEIGHTS_SCHEMA.items())
    )
