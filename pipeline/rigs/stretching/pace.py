"""How long a boat has fished each rig version, and how fast its hours go on."""

from __future__ import annotations

import polars as pl

PACE_DAYS = 60
"""The pace is that of so many days up to the rig's last haul (own judgement, no source)."""

HOURS_BY_RIG_SCHEMA: dict[str, pl.DataType] = {
    "vessel": pl.String(),
    "rig_version": pl.String(),
    "hours": pl.Float64(),
    "first": pl.Datetime("us"),
    "last": pl.Datetime("us"),
    "record_ends": pl.Datetime("us"),
    "hours_per_day": pl.Float64(),
}
"""A row is a rig version on a boat.

`hours` are fishing hours of the whole record, with hauls from `first` to `last`. `record_ends` is
the boat's last haul with any rig.
`hours_per_day` is the pace at which it was fished last; null where it lay idle at the end.
"""


def hours_by_rig(fishing_hours: pl.DataFrame) -> pl.DataFrame:
    """The hours of each rig version on each boat, as `HOURS_BY_RIG_SCHEMA` has them.

    `fishing_hours` has vessel, rig_version, shot_at, tow_hours, hours_to_date. The pace is over
    the 60 days that end with the day of the rig's last haul, or over those since its first where
    these are fewer. A rig that the boat did not fish in its last 60 days lies idle.
    """
    day = pl.col("shot_at").dt.date()
    days_before_last = (day.max() - day).dt.total_days()
    in_pace = days_before_last < PACE_DAYS
    idle_days = (pl.col("record_ends").first().dt.date() - day.max()).dt.total_days()
    days = (days_before_last.max() + 1).clip(upper_bound=PACE_DAYS)
    return (
        fishing_hours.with_columns(pl.col("shot_at").max().over("vessel").alias("record_ends"))
        .group_by("vessel", "rig_version")
        .agg(
            pl.col("hours_to_date").max().alias("hours"),
            pl.col("shot_at").min().alias("first"),
            pl.col("shot_at").max().alias("last"),
            pl.col("record_ends").first(),
            pl.when(idle_days.max() < PACE_DAYS)
            .then(pl.col("tow_hours").filter(in_pace).sum() / days)
            .alias("hours_per_day"),
        )
        .sort("vessel", "rig_version")
        .select(pl.col(name).cast(kind) for name, kind in HOURS_BY_RIG_SCHEMA.items())
    )
