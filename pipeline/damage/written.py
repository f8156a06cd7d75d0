"""Of how many tears it is written what they took, boat by boat: what their costs rest on."""

from __future__ import annotations

from dataclasses import dataclass

import polars as pl

from pipeline.damage.two_parts import COSTS

HANDS = "hands"


@dataclass(frozen=True)
class Written:
    """Of a boat's `tears` how many have the amount, and how many of those count.

    None count of a boat that wrote it too seldom to be taken at its word. `hands` is how many
    mended: all count that tell it.
    """

    amount: str
    vessel: str
    tears: int
    told: int
    counted: int


def find_written(haul_damage: pl.DataFrame, damage_sums: pl.DataFrame) -> list[Written]:
    """Each boat that had tears, by what could have been written of them.

    `haul_damage` has vessel, damage_events and a column an amount, blank where it is not known;
    `damage_sums` has outcome, vessel and events, of the tears that count.
    """
    torn = haul_damage.filter(pl.col("damage_events") > 0)
    found = []
    for name in (*COSTS, HANDS):
        has = pl.col(name).is_not_null()
        boats = torn.group_by("vessel").agg(
            tears=pl.col("damage_events").sum(), told=pl.col("damage_events").filter(has).sum()
        )
        counted = (
            boats.select("vessel", counted="told")
            if name == HANDS
            else damage_sums.filter(pl.col("outcome") == name)
            .group_by("vessel")
            .agg(counted=pl.col("events").sum())
        )
        rows = boats.join(counted, on="vessel", how="left").sort("vessel")
        found += [
            Written(name, row["vessel"], row["tears"], row["told"], int(row["counted"] or 0))
            for row in rows.iter_rows(named=True)
        ]
    return found
