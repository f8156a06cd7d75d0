"""What each boat adds to the co-op's tables, and its hours of each outcome with each rig."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.sharing.rectangle import rectangle

if TYPE_CHECKING:
    from schemas.settings import Sharing

DAMAGE_HOURS, CATCH_HOURS = "damage_hours", "catch_hours"
RECORDED = (DAMAGE_HOURS, CATCH_HOURS)
"""Hours of the hauls of which damage, or the catch, was recorded."""

AMOUNTS = {
    "damage_events": DAMAGE_HOURS,
    "bottom_living_kg": CATCH_HOURS,
    "other_kg": CATCH_HOURS,
}
"""The outcomes in the co-op's tables, and the hours that their rates are of."""

MEASURES = ("hauls", *RECORDED, *AMOUNTS)

TABLES = ((("rig_version",), ("ground",)),)
"""The tables of a co-op's report, with their totals; they go through one call."""


def contributions(measured_hauls: pl.DataFrame) -> pl.DataFrame:
    """A row for each rig, ground and boat: hauls, hours, and what of each outcome was recorded.

    `measured_hauls` has a row a haul. What was not recorded adds nothing, neither hours nor amount.
    """
    hours = pl.col("tow_hours")
    return (
        measured_hauls.group_by("vessel", "rig_version", "ground")
        .agg(
            hours.sum(),
            pl.len().alias("hauls"),
            hours.filter(pl.col("damage_events").is_not_null()).sum().alias(DAMAGE_HOURS),
            hours.filter(pl.col("bottom_living_kg").is_not_null()).sum().alias(CATCH_HOURS),
            pl.col(list(AMOUNTS)).cast(pl.Float64).sum(),
        )
        .sort("vessel", "rig_version", "ground")
    )


def hours_recorded(sums: pl.DataFrame, patterns: pl.DataFrame) -> pl.DataFrame:
    """The hours of each outcome, boat, rig, ground, stretch and trip.

    They are what a comparison of two rigs rests on.
    """
    keys = ["outcome", "vessel", "rig_version", "ground", "stretch", "trip"]
    of_rigs = sums.select("outcome", "trip", "pattern", "tow_hours").join(
        patterns.select("pattern", "vessel", "rig_version", "ground", "stretch"), on="pattern"
    )
    return of_rigs.group_by(keys).agg(pl.col("tow_hours").sum()).sort(keys)


def rectangles(hauls: pl.DataFrame, sharing: Sharing) -> list[str]:
    """The ICES rectangles that enough boats fished, none of them most of the hours.

    `hauls` has vessel, latitude, longitude (degrees) and tow_hours.
    """
    place = rectangle(pl.col("latitude"), pl.col("longitude")).alias("rectangle")
    hours = pl.col("tow_hours")
    return (
        (
            hauls.group_by("vessel", place)
            .agg(hours.sum())
            .drop_nulls("rectangle")
            .group_by("rectangle")
            .agg(pl.len().alias("boats"), (hours.max() / hours.sum()).alias("share"))
            .filter(pl.col("boats") >= sharing.min_vessels, pl.col("share") <= sharing.max_share)
        )["rectangle"]
        .sort()
        .to_list()
    )
