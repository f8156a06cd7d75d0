"""Put the good rows in an order that is theirs, whatever the order they were written in.

What is cited then comes in the order of the hauls, and sums are the same to the last digit.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import polars as pl

from schemas.tables import TABLES

if TYPE_CHECKING:
    from pipeline.rows import CheckedSeason
    from schemas.column import Table

HAULS_IN_TIME = ("vessel", "shot_at", "trip", "haul")
COUNTED = ("trip", "haul")
FIRST_NUMBER = r"(\d{1,18})"
AS_LISTED = "rig_parts"
"""The parts of a rig are told as its owner lists them."""


def in_order(season: CheckedSeason) -> CheckedSeason:
    """The season with the rows of its tables by their key, hauls of a boat by their time."""
    tables = {
        name: frame if name == AS_LISTED else _in_order(frame, TABLES[name])
        for name, frame in season.tables.items()
    }
    return replace(season, tables=tables)


def _in_order(frame: pl.DataFrame, table: Table) -> pl.DataFrame:
    """The rows by their key, and numbered anew."""
    key = HAULS_IN_TIME if table.name == "hauls" else table.key
    by = [part for name in key for part in _steps(name)]
    ordered = frame.sort(by, nulls_last=True, maintain_order=True)
    return ordered.with_columns(pl.int_range(pl.len(), dtype=pl.Int64).alias("row"))


def _steps(name: str) -> list[pl.Expr]:
    """What to sort a column by: trips and hauls by their number first, so that 10 is after 9."""
    number = pl.col(name).str.extract(FIRST_NUMBER).cast(pl.Int64)
    return [number, pl.col(name)] if name in COUNTED else [pl.col(name)]
