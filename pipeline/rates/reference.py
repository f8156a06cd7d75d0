"""The rig that others are held against."""

from __future__ import annotations

import polars as pl

from pipeline.nearest import did_you_mean
from pipeline.problems import SeasonUnusableError


def reference_rig(
    rig_by_ground: pl.DataFrame, of_season: str | None, asked: str | None = None
) -> str:
    """The rig that others are held against: the one asked for, the season's, or the most fished.

    Raises `SeasonUnusableError` if the one that is named was not fished.
    """
    named = of_season if asked is None else asked
    hours = rig_by_ground.group_by("rig_version").agg(pl.col("tow_hours").sum()).sort("rig_version")
    fished = hours["rig_version"].to_list()
    if named is None:
        return str(hours.sort("tow_hours", descending=True, maintain_order=True)["rig_version"][0])
    if named not in fished:
        where = "season.toml: [season] reference_rig" if asked is None else "--reference"
        raise SeasonUnusableError(
            f"{where} is {named!r}, which no good haul was fished "
            f"with{did_you_mean(named, fished)}; fished were {', '.join(fished)}."
        )
    return named
