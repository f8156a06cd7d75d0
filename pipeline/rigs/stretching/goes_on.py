"""Rig versions that became another on a boat: nothing is told of what is to come of them."""

from __future__ import annotations

import polars as pl

from pipeline.rigs.stretching.stretch import GOES_ON, STRETCH_SCHEMA

TO_COME = (
    "difference_now_percent",
    "difference_now_low",
    "difference_now_high",
    "hours_to_limit",
    "hours_to_limit_low",
    "hours_to_limit_high",
    "day_of_limit",
    "earliest_day",
    "latest_day",
)
"""What is told of a chain at the end of the record, and of later."""


def without_what_goes_on(
    stretched: pl.DataFrame, rig_versions: pl.DataFrame, hours_now: pl.DataFrame
) -> pl.DataFrame:
    """The rows of `stretch`, without forecast and advice where the boat has a later version.

    `rig_versions` has rig_version and changed_from, `hours_now` is of `hours_by_rig`. The chain then
    hangs in the later version, and what is to be done about it is told there.
    """
    later = rig_versions.select("rig_version", "changed_from").drop_nulls()
    went_on = (
        hours_now.select("vessel", "rig_version")
        .join(later, on="rig_version")
        .select("vessel", pl.col("changed_from").alias("rig_version"))
        .unique()
        .with_columns(goes_on=pl.lit(value=True))
    )
    marked = stretched.join(
        went_on, on=["vessel", "rig_version"], how="left", maintain_order="left"
    ).with_columns(pl.col("goes_on").fill_null(value=False))
    here = ~pl.col("goes_on")
    return marked.with_columns(
        *(pl.when(here).then(name).alias(name) for name in TO_COME),
        pl.col("check_due", "past_limit") & here,
        pl.when(here).then("advice").otherwise(pl.lit([GOES_ON])).alias("advice"),
    ).select(list(STRETCH_SCHEMA))
