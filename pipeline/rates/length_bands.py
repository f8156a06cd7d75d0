"""Bands of length, and the fish of each in every haul that tells of them.

Edges are whole centimetres of about as many fish each, all rigs together: as many bands as can be,
three to five, of which each was seen in ten hauls. A species of fewer fish measured than a hundred
has none. What a rig did to sizes is in no edge. The bounds are this project's own judgement; no
source. Where a season names edges, they hold as they are.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import polars as pl

from schemas.hauls import HAUL_KEY
from schemas.outcomes import LENGTH_PREFIX

if TYPE_CHECKING:
    from collections.abc import Sequence

MANY_BANDS = (5, 4, 3)
LEAST_FISH, LEAST_HAULS = 100, 10
TELL = ("measured", "none")
"""What is told of hauls that tell of the sizes of a species; others are left out."""


@dataclass(frozen=True)
class LengthBand:
    """Fish of a species from one length to less than another; one without an end has all beyond.

    `length_cm` is the mean of their length classes, `measured` how many were measured and `fish`
    how many they stand for, in so many hauls `with_some`.
    """

    outcome: str
    from_cm: float | None
    to_cm: float | None
    length_cm: float
    measured: int
    fish: float
    with_some: int


def edges_for(lengths: pl.DataFrame) -> tuple[float, ...]:
    """The edges of a species' bands; none where too few fish were measured for three bands.

    `lengths` has row, length_cm, measured and fish: its classes, haul by haul.
    """
    if lengths["measured"].sum() < LEAST_FISH:
        return ()
    classes = lengths.group_by(pl.col("length_cm").floor()).agg(pl.col("fish").sum())
    below = classes.sort("length_cm").with_columns(pl.col("fish").cum_sum().shift(1, fill_value=0))
    whole = float(lengths["fish"].sum())
    for many in MANY_BANDS:
        shares = (whole * part / many for part in range(1, many))
        edges = tuple(
            dict.fromkeys(
                below.sort((pl.col("fish") - share).abs(), "length_cm")["length_cm"][0]
                for share in shares
            )
        )
        seen = in_bands(lengths, edges).filter(pl.col("fish") > 0)
        hauls = seen.group_by("band").agg(pl.col("row").n_unique())["row"].to_list()
        if len(hauls) == many and min(hauls) >= LEAST_HAULS:
            return edges
    return ()


def in_bands(lengths: pl.DataFrame, edges: Sequence[float]) -> pl.DataFrame:
    """The classes with the number of their `band`, from nought; an edge begins a band."""
    passed = sum(((pl.col("length_cm") >= edge).cast(pl.Int64) for edge in edges), pl.lit(0))
    return lengths.with_columns(passed.alias("band"))


def bands_of(species: str, lengths: pl.DataFrame, edges: Sequence[float]) -> list[LengthBand]:
    """The bands between the edges that have any fish, in order."""
    told = (
        in_bands(lengths, edges)
        .filter(pl.col("fish") > 0)
        .group_by("band")
        .agg(
            ((pl.col("length_cm") * pl.col("fish")).sum() / pl.col("fish").sum()).alias("mean"),
            pl.col("measured", "fish").sum(),
            pl.col("row").n_unique().alias("hauls"),
        )
    )
    lows, highs = (None, *edges), (*edges, None)
    return [
        LengthBand(name_of(species, lows[band], highs[band]), lows[band], highs[band], *of_fish)
        for band, *of_fish in told.sort("band").iter_rows()
    ]


def name_of(species: str, low: float | None, high: float | None) -> str:
    """The outcome that a band is: cm:PLE:22-27, cm:PLE:-22, cm:PLE:32-."""
    ends = ("" if end is None else f"{end:g}" for end in (low, high))
    return f"{LENGTH_PREFIX}{species}:{'-'.join(ends)}"


def by_haul(
    hauls: pl.DataFrame, lengths: pl.DataFrame, edges: Sequence[float], bands: Sequence[LengthBand]
) -> pl.DataFrame:
    """The hauls of a species that tell of its sizes, with a column for each band: its fish.

    A haul that had none of a band has nought there.
    """
    numbered = in_bands(lengths, edges).group_by("row", "band").agg(pl.col("fish").sum())
    telling = hauls.filter(pl.col("told").is_in(TELL)).sort(*HAUL_KEY)
    for band in bands:
        at = sum(edge <= (band.from_cm or 0) for edge in edges)
        own = numbered.filter(band=at).select("row", pl.col("fish").alias(band.outcome))
        telling = telling.join(own, on="row", how="left", maintain_order="left")
    return telling.with_columns(pl.col([band.outcome for band in bands]).fill_null(0.0))
