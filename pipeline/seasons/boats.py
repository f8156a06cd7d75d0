"""Boats of several seasons: one name is one boat, and a name that is nearly another's is asked."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.nearly_alike import nearly_alike, told_of_pairs
from pipeline.rows import SEASON, filled_in, refusal
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Sequence

ANOTHER_BOAT = saying("counts as another boat than '{}' of {}; write it alike if it is the same")
ONE_BOAT = saying("{} is taken for one boat in {}.")
REASONS = (ANOTHER_BOAT, ONE_BOAT)

PLAIN = pl.col("vessel").str.to_lowercase().str.replace_all(r"[\s._-]+", "")
"""A boat's name without what people write it differently by."""


def boats_of_several(hauls: pl.DataFrame) -> list[str]:
    """A sentence on each boat (`vessel`) that has hauls in several seasons (`season`)."""
    several = (
        hauls.group_by("vessel")
        .agg(pl.col(SEASON).unique().sort())
        .filter(pl.col(SEASON).list.len() > 1)
        .sort("vessel")
    )
    return [
        ONE_BOAT.format(boat, _listed(seasons))
        for boat, seasons in several.select("vessel", SEASON).iter_rows()
    ]


def boats_nearly_alike(hauls: pl.DataFrame) -> pl.DataFrame:
    """Remarks on the first haul of each boat whose name another boat has but for case or space."""
    boats = (
        hauls.sort("row")
        .group_by("vessel", maintain_order=True)
        .agg(pl.col("row", "source_file", "source_row").first())
        .with_columns(PLAIN.alias("plain"))
        .with_columns(
            pl.col("vessel").first().over("plain").alias("other"),
            pl.col("source_file").first().over("plain").alias("file"),
        )
        .filter(pl.col("vessel") != pl.col("other"))
    )
    return refusal(boats, "vessel", filled_in(ANOTHER_BOAT, "other", "file"))


def boats_a_slip_apart(hauls: pl.DataFrame) -> pl.DataFrame:
    """Remarks on boats whose names may be one misspelt; a season that has both has told of them."""
    named = hauls.group_by(SEASON).agg(pl.col("vessel").unique())["vessel"].to_list()
    across = [pair for pair in nearly_alike(hauls) if not any({*pair} <= {*own} for own in named)]
    return told_of_pairs(hauls, across)


def _listed(words: Sequence[str]) -> str:
    *first, last = words
    return f"{', '.join(first)} and {last}"
