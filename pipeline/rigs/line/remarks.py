"""A word on rows of `rig_versions` whose lengths cannot be quite right."""

from __future__ import annotations

import polars as pl

from pipeline.rigs.line.rig_geometry import rig_geometry
from pipeline.rigs.weight.rig_weights import SIDES, WHOLE
from pipeline.rows import filled_in, no_refusals, refusal
from schemas.words import saying

UNLIKE = 0.2
"""A length that differs from its sections' by more is asked about (own judgement, no source)."""

TAPE_MM = 30.0
"""A gap may be larger than the toggles allow by so much, as a tape on deck is no better.

Own judgement, no source.
"""

UNLIKE_ITS_SECTIONS = saying(
    "m is far from the {} m that two wings, two bunts and the bosom come to by their parts; put "
    "one of them right"
)
FLOATS = saying(
    "floats by its parts, with a lift of {} kg; put its materials and shares right, as no ground "
    "gear does"
)
BEYOND_THE_TOGGLES = saying(
    "mm is more than toggles of {} mm leave above a gear of {} mm, {} mm at most; was it measured "
    "from the ground, and not from the top of the gear?"
)
BEYOND_THE_GEAR = saying(
    "m between the wing ends of a ground gear {} m long cannot be; put one of them right (until "
    "then the usual spread is taken)"
)
REASONS = (UNLIKE_ITS_SECTIONS, FLOATS, BEYOND_THE_TOGGLES, BEYOND_THE_GEAR)


def line_remarks(rig_versions: pl.DataFrame, rig_weights: pl.DataFrame) -> pl.DataFrame:
    """What is to be said on rows of `rig_versions`, with the columns of `REFUSAL_SCHEMA`.

    `rig_versions` has `row` beside its own columns; `rig_weights` is of `RIG_WEIGHTS_SCHEMA`.
    """
    geometry = rig_geometry(rig_versions, rig_weights).select("rig_version", "gear_diameter_mm")
    known = rig_versions.join(geometry, on="rig_version", how="left")
    return pl.concat(
        [
            no_refusals(),
            _gap_beyond_the_toggles(known),
            _spread_beyond_the_gear(known),
            _length_unlike_the_sections(rig_versions, rig_weights),
            _floats(rig_versions, rig_weights),
        ]
    ).sort("row", maintain_order=True)


def _length_unlike_the_sections(
    rig_versions: pl.DataFrame, rig_weights: pl.DataFrame
) -> pl.DataFrame:
    """Gears whose recorded length is far from that of their sections together."""
    sections = rig_weights.filter(pl.col("section") != WHOLE)
    complete = pl.col("gear_m").is_not_null().all() & (pl.len() == len(SIDES))
    added = sections.group_by("rig_version").agg(
        pl.when(complete).then((pl.col("gear_m") * pl.col("sides")).sum()).round(2).alias("added_m")
    )
    both = rig_versions.join(added, on="rig_version")
    return refusal(
        both.filter((pl.col("ground_gear_m") / pl.col("added_m") - 1).abs() > UNLIKE),
        "ground_gear_m",
        filled_in(UNLIKE_ITS_SECTIONS, "added_m"),
    )


def _floats(rig_versions: pl.DataFrame, rig_weights: pl.DataFrame) -> pl.DataFrame:
    """Gears that weigh less than nothing in sea water."""
    floating = rig_weights.filter(
        (pl.col("section") == WHOLE) & (pl.col("weight_water_kg") < 0) & ~pl.col("at_least")
    ).with_columns((-pl.col("weight_water_kg")).round(0).cast(pl.Int64).alias("lift_kg"))
    return refusal(
        rig_versions.join(floating.select("rig_version", "lift_kg"), on="rig_version"),
        "rig_version",
        filled_in(FLOATS, "lift_kg"),
    )


def _gap_beyond_the_toggles(rig_versions: pl.DataFrame) -> pl.DataFrame:
    """Gaps that are larger than the toggles reach above the gear."""
    most = pl.col("toggle_mm") - pl.col("gear_diameter_mm") / 2
    told = rig_versions.with_columns(
        pl.max_horizontal(most, pl.lit(0.0)).round(0).cast(pl.Int64).alias("most")
    )
    return refusal(
        told.filter(pl.col("gap_mm") > most + TAPE_MM),
        "gap_mm",
        filled_in(BEYOND_THE_TOGGLES, "toggle_mm", "gear_diameter_mm", "most"),
    )


def _spread_beyond_the_gear(rig_versions: pl.DataFrame) -> pl.DataFrame:
    """Wing ends that are further apart than the gear between them is long."""
    return refusal(
        rig_versions.filter(pl.col("wing_end_spread_m") >= pl.col("ground_gear_m")),
        "wing_end_spread_m",
        filled_in(BEYOND_THE_GEAR, "ground_gear_m"),
    )
