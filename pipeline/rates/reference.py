"""The rig that others are held against."""

from __future__ import annotations

import polars as pl

from pipeline.nearest import did_you_mean
from pipeline.problems import SeasonUnusableError


def reference_rig(rig_by_ground: pl.DataFrame, named: str | None) -> str:
    """The rig that others are held against: the one the season names, else the most fished.

    Raises `SeasonUnusableError` if the season names one that was not fished.
    """
    hours = rig_by_ground.group_by("rig_version").agg(pl.col("tow_hours").sum()).sort("rig_version")
    fished = hours["rig_version"].to_list()
    if named is None:
        return str(hours.sort("tow_hours", descending=True, maintain_order=True)["rig_version"][0])
    if named not in fished:
        raise SeasonUnusableError(
            f"season.toml: [season] reference_rig is {named!r}, which no good haul was fished "
            f"with{did_you_mean(named, fished)}; fished were {', '.join(fished)}."
        )
    return named
