"""Rows that stand twice."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.rows import filled_in, no_refusals, refusal
from schemas.words import saying

if TYPE_CHECKING:
    from schemas.column import Table

SAME_ROW = "is the same row again"
ALIKE = saying("is the same row again (rows {} are alike); delete one")
DIFFERS = saying("has the {} of another row that says something else (rows {}); keep the right one")
REASONS = (ALIKE, DIFFERS)


def repeated_keys(frame: pl.DataFrame, table: Table) -> pl.DataFrame:
    """Refusals for rows whose key stands more than once in the table.

    Rows that are alike throughout count once. Of rows that differ nobody can say which is
    right, so none is used.
    """
    keys = list(table.key)
    twice = frame.filter(pl.struct(keys).is_duplicated())
    if twice.is_empty():
        return no_refusals()
    said = pl.struct(pl.exclude("row", "source_file", "source_row"))
    twice = twice.with_columns(
        (said.n_unique().over(keys) == 1).alias("alike"),
        (pl.col("row") == pl.col("row").min().over(keys)).alias("first"),
    ).join(
        twice.group_by(keys).agg(
            pl.col("source_row").sort().cast(pl.String).str.join(", ").alias("rows")
        ),
        on=keys,
        nulls_equal=True,
    )
    name = " ".join(keys)
    return pl.concat(
        [
            refusal(
                twice.filter(pl.col("alike") & ~pl.col("first")),
                keys[-1],
                filled_in(ALIKE, "rows"),
            ),
            refusal(
                twice.filter(~pl.col("alike")),
                keys[-1],
                filled_in(DIFFERS.format(name, "{}"), "rows"),
            ),
        ]
    )
