"""Rig versions that became another on a boat: nothing is told of what is to come of them."""

from __future__ import annotations

import polars as pl

from pipeline.rigs.stretching.stretch import GOES_ON, STRETCH_SCHEMA

TO_COME = (
    "difference_now_percent",
    "difference_now_low",
    "difference_now_high",
    "latest_percent",
    "hours_to_limit",
    "hours_to_limit_low",
    "hours_to_limit_high",
    "day_of_limit",
    "earliest_day",
    "latest_day",
)
"""What is told of a chain at the end of the record, and of later."""


def without_what_goes_on(
    stretched: pl.DataFrame, rig_versions: pl.DataFrame, fishing_hours: pl.DataFrame
) -> pl.DataFrame:
    """The rows of `stretch`, without forecast and advice where the boat has a later version.

    `rig_versions` has rig_version and changed_from, `fishing_hours` vessel, rig_version and
    shot_at. The chain hangs in the later version then, and what is to be done about it is told
    there. Where the two were fished in turn nobody can tell in which it hangs, and each is told.
    """
    fished = fishing_hours.group_by("vessel", "rig_version").agg(
        first=pl.col("shot_at").min(), last=pl.col("shot_at").max()
    )
    later = rig_versions.select(
        pl.col("changed_from").alias("rig_version"), pl.col("rig_version").alias("later")
    ).drop_nulls()
    went_on = (
        fished.join(later, on="rig_version")
        .join(
            fished,
            left_on=["vessel", "later"],
            right_on=["vessel", "rig_version"],
            suffix="_of_later",
        )
        .filter(pl.col("first_of_later") > pl.col("last"))
        .sort("first_of_later", "later")
        .group_by("vessel", "rig_version", maintain_order=True)
        .agg(goes_on_as=pl.col("later").first())
    )
    marked = stretched.drop("goes_on_as").join(
        went_on, on=["vessel", "rig_version"], how="left", maintain_order="left"
    )
    here = pl.col("goes_on_as").is_null()
    return marked.with_columns(
        *(pl.when(here).then(name).alias(name) for name in TO_COME),
        pl.col("check_due", "past_limit") & here,
        pl.when(here).then("advice").otherwise(pl.lit([GOES_ON])).alias("advice"),
    ).select(list(STRETCH_SCHEMA))
