"""Hauls past midnight, in a log that has one day for shooting and hauling.

By that day the net came up before it was shot. It is taken to have come up the day after where that
makes a tow as long as the log says, or, where it says nothing, of less than half a day.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.rows import refusal
from schemas.words import saying

if TYPE_CHECKING:
    from schemas.settings import TableSource

NEXT_DAY = saying(
    "is taken to be of the next day, as the log has one day for shooting and hauling and the net "
    "came up before it was shot; put it right if it is not"
)
REASONS = (NEXT_DAY,)

HALF_A_DAY = 12.0
AS_SAID = 1.0
"""Hours by which a tow may differ from what the log says and still be that tow (own judgement)."""


def one_day_for_both(hauls: TableSource) -> bool:
    """Whether shooting and hauling are read from one column with the day."""
    shot, hauled = (hauls.column_source(name).headers for name in ("shot_at", "hauled_at"))
    return bool(set(shot) & set(hauled))


def past_midnight(frame: pl.DataFrame) -> pl.DataFrame:
    """The hauls of such a log, each hauled on the day after where it must be."""
    shot, hauled = pl.col("shot_at"), pl.col("hauled_at")
    next_day = hauled.dt.offset_by("1d")
    hours = (next_day - shot).dt.total_seconds() / 3600
    as_said = (hours - pl.col("tow_hours")).abs() <= AS_SAID
    fits = as_said.fill_null(hours < HALF_A_DAY)
    return frame.with_columns(pl.when((hauled < shot) & fits).then(next_day).otherwise(hauled))


def next_days(frame: pl.DataFrame) -> pl.DataFrame:
    """A remark on each haul of such a log that came up on the day after."""
    later = pl.col("hauled_at").dt.date() > pl.col("shot_at").dt.date()
    return refusal(frame.filter(later), "hauled_at", NEXT_DAY)
