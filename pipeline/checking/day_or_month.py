"""A word on days that two of the given forms read otherwise, where the rows about them say which.

07/03 is the seventh of March or the third of July where a season gives both forms, and is read by
the first that fits. In a log that is in order of time, the days before and after it that can be
read in one way alone tell which was meant.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.slips import as_written
from pipeline.rows import filled_in, no_refusals, refusal
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.rows import ValueTable

NEARER = pl.duration(days=2)
"""By so much the other day must be nearer to those about it (own judgement): rows of one trip lie
so near each other."""
IN_ORDER = 0.9
"""Of so many steps from row to row the same way a log is in order of time (own judgement)."""

DAY_OR_MONTH = saying(
    "is read as {}, which the days before and after it in the log belie, and {} fits them: two of "
    "the forms under format fit it; if that day is meant, write {} there, which only one form fits"
)
REASONS = (DAY_OR_MONTH,)


def day_or_month(hauls: ValueTable) -> pl.DataFrame:
    """A word on hauls whose day is read otherwise than the rows about them say."""
    other = hauls.otherwise.filter(pl.col("column") == "shot_at").select("row", "other")
    if other.is_empty():
        return no_refusals()
    boat = ["source_file", "vessel"]
    sure = pl.when(pl.col("other").is_null()).then("shot_at")
    placed = (
        hauls.frame.join(other, on="row", how="left")
        .sort(*boat, "source_row")
        .with_columns(
            sure.forward_fill().over(boat).alias("before"),
            sure.backward_fill().over(boat).alias("after"),
            _goes_one_way(sure.drop_nulls()).over(boat).alias("in_order"),
        )
        .filter(pl.col("other").is_not_null(), pl.col("in_order"))
        .filter(_away("shot_at") > _away("other") + NEARER)
        .sort("row")
    )
    told = placed.with_columns(
        pl.col("shot_at", "other").dt.to_string("%Y-%m-%d").name.suffix("_day"),
        pl.col("other").dt.to_string("%Y-%m-%d %H:%M").alias("plain"),
    )
    reason = filled_in(DAY_OR_MONTH, "shot_at_day", "other_day", "plain")
    return refusal(as_written(told, hauls, "shot_at"), "shot_at", reason)


def _goes_one_way(moments: pl.Expr) -> pl.Expr:
    """Whether nearly all moments follow one another, or nearly all go backwards."""
    step = moments.diff().drop_nulls()
    forward, back = ((step >= pl.duration()).mean(), (step <= pl.duration()).mean())
    return (pl.max_horizontal(forward, back) >= IN_ORDER).fill_null(value=True)


def _away(moment: str) -> pl.Expr:
    """How far the moment lies outside the time between the sure ones before and after it."""
    begins = pl.min_horizontal("before", "after")
    ends = pl.max_horizontal("before", "after")
    outside = pl.max_horizontal(begins - pl.col(moment), pl.col(moment) - ends)
    return pl.max_horizontal(outside, pl.duration())
