"""What a stretched ground chain does to discs: the traveller is pulled forward and tips them.

Only discs have the traveller run through them, off their middle. Bobbins and wheels turn on the
ground chain, and a chain or a rope has no traveller through it (common practice, no source).
"""

from __future__ import annotations

import polars as pl

from pipeline.rigs.line.geometry import (
    HOLES_APART_OF_RADIUS,
    disc_tip_deg,
    traveller_shift_mm,
)
from pipeline.rigs.stretching.length_remarks import FAR_APART_PERCENT
from pipeline.rigs.weight.rig_weights import WHOLE
from pipeline.rigs.weight.weights import ROW_SET_ASIDE

CAN_TIP = "disc"
LARGE_PARTS = (CAN_TIP, "bobbin", "wheel")
"""Of these a gear is named by its largest, which has to be a disc to be tipped."""

TIPPING_SCHEMA: dict[str, pl.DataType] = {
    "vessel": pl.String(),
    "rig_version": pl.String(),
    "section": pl.String(),
    "traveller_shift_mm": pl.Float64(),
    "tips": pl.String(),
    "tip_deg": pl.Float64(),
}
"""A row is the whole of a rig version with discs on a boat whose ground chain is the longer.

`traveller_shift_mm` is how far forward of the ground chain the traveller is pulled if the
difference is spread evenly, at most as far as the two holes of the largest disc are apart. `tips`
is what it tips, disc, and `tip_deg` how far: 90 where they lie right over.
"""


def tipping(
    stretch: pl.DataFrame,
    part_weights: pl.DataFrame,
    geometry: pl.DataFrame,
    rig_versions: pl.DataFrame,
) -> pl.DataFrame:
    """The tipping that goes with the latest difference, as `TIPPING_SCHEMA` has it.

    The tables are of `STRETCH_SCHEMA`, `PART_WEIGHTS_SCHEMA`, `RIG_GEOMETRY_SCHEMA` and the
    season's `rig_versions`, of which `ground_gear_m` is used. Differences so large that they are
    asked about are taken for slips, and have no row.
    """
    latest = pl.col("latest_percent")
    known = (
        stretch.filter((pl.col("section") == WHOLE) & (latest > 0) & (latest <= FAR_APART_PERCENT))
        .join(rig_versions.select("rig_version", "ground_gear_m"), on="rig_version")
        .join(geometry.select("rig_version", "turn_rad"), on="rig_version")
        .join(_discs(part_weights), on="rig_version")
        .drop_nulls("ground_gear_m")
    )
    rows = []
    for row in known.to_dicts():
        difference_m = row["ground_gear_m"] * row["latest_percent"] / 100
        holes_apart_mm = HOLES_APART_OF_RADIUS * row["diameter_mm"] / 2
        shift_mm = min(traveller_shift_mm(difference_m, row["turn_rad"]), holes_apart_mm)
        rows.append(
            {
                **{name: row[name] for name in ("vessel", "rig_version", "section")},
                "traveller_shift_mm": shift_mm,
                "tips": CAN_TIP,
                "tip_deg": disc_tip_deg(shift_mm, row["diameter_mm"]),
            }
        )
    return pl.DataFrame(rows, schema=TIPPING_SCHEMA)


def _discs(part_weights: pl.DataFrame) -> pl.DataFrame:
    """The diameter of the largest part of each rig version of which that is a disc.

    None where the row of such a part was set aside, as it may be the largest.
    """
    one_set_aside = (pl.col("lacks") == ROW_SET_ASIDE).any().over("rig_version")
    return (
        part_weights.filter(pl.col("kind").is_in(LARGE_PARTS))
        .filter(~one_set_aside)
        .drop_nulls("diameter_mm")
        .sort("diameter_mm", pl.col("kind") == CAN_TIP)
        .group_by("rig_version", maintain_order=True)
        .agg(pl.col("diameter_mm", "kind").last())
        .filter(pl.col("kind") == CAN_TIP)
    )
