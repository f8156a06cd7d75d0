"""Cells of columns that are only kept: one that can't be right costs nobody its row.

Nothing is worked out from such a column: a haul with a wrong cell there tells as much of the
net and of the fish as any other.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.rows import filled_in
from schemas.words import saying

if TYPE_CHECKING:
    from schemas.column import Table

LEFT_BLANK = saying("{}; the row is used without it")
"""A reason to refuse a cell, and what is done with it."""


def part_only_kept(refusals: pl.DataFrame, table: Table) -> tuple[pl.DataFrame, pl.DataFrame]:
    """The refusals of rows, and remarks on rows of which an only-kept cell is left blank."""
    only_kept = pl.col("column").is_in([each.name for each in table.columns if each.only_kept])
    of_rows = refusals.filter(only_kept.not_() | pl.col("column").is_null())
    blanked = refusals.filter(only_kept)
    return of_rows, blanked.with_columns(filled_in(LEFT_BLANK, "reason").alias("reason"))


def left_blank(frame: pl.DataFrame, blanked: pl.DataFrame) -> pl.DataFrame:
    """The rows without the cells that are remarked on."""
    for (column,), cells in blanked.group_by("column"):
        name, gone = str(column), pl.col("row").is_in(cells["row"].to_list())
        frame = frame.with_columns(pl.when(gone.not_()).then(name).alias(name))
    return frame
