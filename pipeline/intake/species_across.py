"""A log with a column for each species, as one with a row for each: what `across` says."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.intake.text_tables import UNREADABLE

if TYPE_CHECKING:
    from schemas.settings import TableSource

SPECIES = "species"


def one_row_a_species(raw: pl.DataFrame, source: TableSource) -> pl.DataFrame:
    """Each row of the file once for every species that it says something of.

    The species stands under `species`, and behind the file's name, as what may be wrong is wrong
    with one species of a row; its cells stand under the names that `across` has them by. A species
    of which all cells are blank has no row: nothing was recorded of it.
    """
    header = {name.strip(): name for name in raw.columns}
    taken = [header[name] for name in source.across_headers - source.headers]
    others = pl.exclude([SPECIES, *source.across, "source_file", *taken])
    of_each = [
        raw.select(
            others,
            pl.concat_str("source_file", pl.lit(f", {species}")),
            pl.lit(species).alias(SPECIES),
            *(
                pl.col(header[by_species[species]]).alias(column)
                if species in by_species
                else pl.lit(None, pl.String).alias(column)
                for column, by_species in source.across.items()
            ),
        )
        for species in dict.fromkeys(name for of in source.across.values() for name in of)
    ]
    blank = ("", *source.read.missing)
    says = pl.any_horizontal(
        ~pl.col(column).str.strip_chars().is_in(blank).fill_null(value=True)
        for column in source.across
    )
    said = pl.concat(of_each).filter(says & pl.col(UNREADABLE).is_null())
    unreadable = of_each[0].filter(pl.col(UNREADABLE).is_not_null())
    return pl.concat([said, unreadable]).sort("source_row", maintain_order=True)
