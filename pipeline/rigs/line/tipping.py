"""What a stretched ground chain does: the traveller is pulled forward, and tips the discs."""

from __future__ import annotations

import polars as pl

from pipeline.rigs.line.geometry import disc_tip_deg, traveller_shift_mm
from pipeline.rigs.weight.rig_weights import WHOLE

CAN_TIP = ("disc", "bobbin", "wheel")

TIPPING_SCHEMA: dict[str, pl.DataType] = {
    "vessel": pl.String(),
    "rig_version": pl.String(),
    "section": pl.String(),
    "traveller_shift_mm": pl.Float64(),
    "tips": pl.String(),
    "tip_deg": pl.Float64(),
}
"""A row is the whole of a rig version on a boat whose ground chain is the longer.

`traveller_shift_mm` is how far forward of the ground chain the traveller is pulled if the
difference is spread evenly. `tips` is the kind of the largest part that it tips, disc, bobbin or
wheel, and `tip_deg` how far; null where the rig has none.
"""


def tipping(
    stretch: pl.DataFrame,
    part_weights: pl.DataFrame,
    geometry: pl.DataFrame,
    rig_versions: pl.DataFrame,
) -> pl.DataFrame:
    """The tipping that goes with the difference of now, as `TIPPING_SCHEMA` has it.

    The tables are of `STRETCH_SCHEMA`, `PART_WEIGHTS_SCHEMA`, `RIG_GEOMETRY_SCHEMA` and the
    season's `rig_versions`, of which `ground_gear_m` is used.
    """
    largest = (
        part_weights.filter(pl.col("kind").is_in(CAN_TIP))
        .drop_nulls("diameter_mm")
        .sort("diameter_mm", "kind")
        .group_by("rig_version")
        .agg(pl.col("diameter_mm", "kind").last())
    )
    known = (
        stretch.filter((pl.col("section") == WHOLE) & (pl.col("difference_now_percent") > 0))
        .join(rig_versions.select("rig_version", "ground_gear_m"), on="rig_version")
        .join(geometry.select("rig_version", "turn_rad"), on="rig_version")
        .join(largest, on="rig_version", how="left")
        .drop_nulls("ground_gear_m")
    )
    rows = []
    for row in known.to_dicts():
        difference_m = row["ground_gear_m"] * row["difference_now_percent"] / 100
        shift_mm = traveller_shift_mm(difference_m, row["turn_rad"])
        diameter_mm = row["diameter_mm"]
        rows.append(
            {
                **{name: row[name] for name in ("vessel", "rig_version", "section")},
                "traveller_shift_mm": shift_mm,
                "tips": row["kind"],
                "tip_deg": disc_tip_deg(shift_mm, diameter_mm) if diameter_mm else None,
            }
        )
    return pl.DataFrame(rows, schema=TIPPING_SCHEMA)
