"""The places in a list of parts or causes, so that SQL can take it apart place by place."""

from __future__ import annotations

import polars as pl

JOINT = ";"
"""Between the words of a list, as in the table damage_review and in what is read of notes."""


def list_places(haul_damage: pl.DataFrame) -> pl.DataFrame:
    """`place` from 1 up to the length of the longest list of `parts` or `cause`; at least 1."""
    joints = haul_damage.select(
        pl.max_horizontal(pl.col("parts", "cause").str.count_matches(JOINT, literal=True).max())
    ).item()
    return pl.DataFrame({"place": range(1, (joints or 0) + 2)}, schema={"place": pl.Int64})
