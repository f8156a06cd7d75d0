"""A word on boats and rigs whose names differ in nothing but capitals, blanks and hyphens.

The program takes them for two; whoever wrote them may have meant one.
"""

from __future__ import annotations

import polars as pl

from pipeline.rows import filled_in, refusal
from schemas.words import saying

ALIKE = saying(
    "is written '{}' in other rows; if it is the same, write it alike, as it counts apart"
)
REASONS = (ALIKE,)


def names_alike(hauls: pl.DataFrame) -> list[pl.DataFrame]:
    """A remark on each haul whose boat or rig is written another way in most others."""
    return [_alike(hauls, column) for column in ("vessel", "rig_version")]


def _alike(hauls: pl.DataFrame, column: str) -> pl.DataFrame:
    plain = pl.col(column).str.to_lowercase().str.replace_all(r"[\s_.-]+", "").alias("plain")
    written = (
        hauls.select(column, plain)
        .drop_nulls()
        .group_by(column, "plain")
        .len()
        .sort("len", column, descending=[True, False])
    )
    usual = written.group_by("plain").agg(pl.col(column).first().alias("usual"))
    others = hauls.with_columns(plain).join(usual, on="plain", how="inner")
    return refusal(
        others.filter(pl.col(column) != pl.col("usual")), column, filled_in(ALIKE, "usual")
    )
