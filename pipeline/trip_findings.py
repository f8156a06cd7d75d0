"""The season trip by trip and haul by haul: for who fished it, and for no page of several boats."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import polars as pl

if TYPE_CHECKING:
    from pipeline.joining.join_season import JoinedSeason

MOST_POSITIONS = 3_000
"""So many hauls stand by themselves; of more, those of a cell are counted together."""
CELLS_DEGREES = (0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0)


def trip_findings(joined: JoinedSeason) -> dict[str, Any]:
    """`trips`, each trip with each rig, and `haul_positions`, where the net was shot and torn."""
    first_day = pl.col("first_shot_at").dt.date().cast(pl.String).alias("first_day")
    return {
        "trips": joined.trips.with_columns(first_day)
        .rename({"rig_version": "rig"})
        .drop("first_shot_at", "first_row")
        .to_dicts(),
        "haul_positions": thinned(joined.positions).to_dicts(),
    }


def thinned(positions: pl.DataFrame, most: int = MOST_POSITIONS) -> pl.DataFrame:
    """Positions with `hauls` at each; of more than `most`, those of one rig in one cell together.

    Takes rig_version, latitude and longitude in degrees, damaged (blank where unknown). A cell is
    as small as leaves `most` rows or fewer, damaged hauls apart from sound ones; `cell_degrees`
    is its height and width, 0 where each row is a haul, and its position is its middle.
    """
    alike = ["rig", "latitude", "longitude", "damaged"]
    single = positions.select(pl.col("rig_version").alias("rig"), *alike[1:])
    if single.height <= most:
        return single.with_columns(hauls=pl.lit(1), cell_degrees=pl.lit(0.0))
    cells = single
    for cell in CELLS_DEGREES:
        middles = ((pl.col("latitude", "longitude") / cell).floor() + 0.5) * cell
        cells = (
            single.with_columns(middles)
            .group_by(alike, maintain_order=True)
            .agg(pl.len().alias("hauls"))
            .with_columns(cell_degrees=pl.lit(cell))
        )
        if cells.height <= most:
            break
    return cells
