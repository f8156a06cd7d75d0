"""Patterns of factors: the distinct conditions that hauls were fished under, numbered."""

from __future__ import annotations

import polars as pl

ALWAYS = ("rig_version", "ground", "vessel", "stretch", "length_difference_percent")
"""What every pattern tells, as rigs are compared by it, or their support is judged by it."""


def number_patterns(
    haul_factors: pl.DataFrame, adjust: tuple[str, ...]
) -> tuple[pl.DataFrame, pl.DataFrame]:
    """The patterns (`pattern`, `rig_version`, `ground`, … and each factor), and each haul's own.

    `haul_factors` has `row` and the factors as text. The numbers follow the order of the words,
    so that they do not depend on the order of the rows.
    """
    factors = list(dict.fromkeys((*ALWAYS, *adjust)))
    words = haul_factors.with_columns(pl.col(factors).cast(pl.String).fill_null("not recorded"))
    patterns = words.select(factors).unique().sort(factors).with_row_index("pattern")
    hauls = words.join(patterns, on=factors, how="left").select("row", "pattern").sort("row")
    return patterns, hauls
