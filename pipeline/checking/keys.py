"""Rows that stand twice."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.rows import filled_in, no_refusals, refusal
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Sequence

    from schemas.column import Table

SAME_ROW = "is the same row again"
ALIKE = saying("is the same row again (rows {} are alike); delete one")
DIFFERS = saying(
    "has the same {} as another row that says something else (rows {}); keep the right one"
)
DIFFERS_IN_SEVERAL = saying(
    "has the same {} and {} as another row that says something else (rows {}); keep the right one"
)
"""Where the key is of several columns: all but the last of them, and the last."""
BOTH_ON_THE_RIG = saying(
    "{}; where both are on the rig, give one of them another name of part, such as small discs or "
    "spacers, or another line"
)
"""Two sizes of one part on one line are no slip; what is said of rows that differ goes before."""
REASONS = (ALIKE, DIFFERS_IN_SEVERAL, DIFFERS)


def repeated_keys(frame: pl.DataFrame, table: Table) -> pl.DataFrame:
    """Refusals for rows whose key stands more than once in the table.

    Rows that are alike throughout count once; of rows that differ none is used.
    """
    keys = list(table.key)
    twice = told_twice(frame, keys, pl.struct(pl.exclude("row", "source_file", "source_row")))
    if twice.is_empty():
        return no_refusals()
    rows = pl.col("source_row").sort().cast(pl.String).str.join(", ")
    twice = twice.join(twice.group_by(keys).agg(rows.alias("rows")), on=keys, nulls_equal=True)
    return refused(
        twice,
        keys[-1],
        filled_in(ALIKE, "rows"),
        filled_in(_differs(table), "rows"),
    )


def _differs(table: Table) -> str:
    """What is said of rows with the same key that differ, with a place for their rows."""
    *first, last = table.key
    if not first:
        return DIFFERS.format(last, "{}")
    differs = DIFFERS_IN_SEVERAL.format(", ".join(first), last, "{}")
    return BOTH_ON_THE_RIG.format(differs) if table.name == "rig_parts" else differs


def told_twice(frame: pl.DataFrame, keys: Sequence[str], said: pl.Expr) -> pl.DataFrame:
    """The rows whose key stands more than once.

    `alike` is whether all rows of the key have the same `said`; `first` marks the first of them.
    """
    return frame.filter(pl.struct(keys).is_duplicated()).with_columns(
        (said.n_unique().over(keys) == 1).alias("alike"),
        (pl.col("row") == pl.col("row").min().over(keys)).alias("first"),
    )


def refused(twice: pl.DataFrame, column: str, again: pl.Expr, differs: pl.Expr) -> pl.DataFrame:
    """Refusals of what is told twice: `again` of all but the first of rows that are alike.

    Of rows that differ nobody can say which is right, so that all of them are refused: `differs`.
    """
    return pl.concat(
        [
            refusal(twice.filter(pl.col("alike") & ~pl.col("first")), column, again),
            refusal(twice.filter(~pl.col("alike")), column, differs),
        ]
    )
