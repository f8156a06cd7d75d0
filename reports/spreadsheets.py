"""Tables that people open in a spreadsheet."""

from __future__ import annotations

import polars as pl

from pipeline.plain_text import HEAD_OF_A_FORMULA, NUMBER


def for_spreadsheets(table: pl.DataFrame) -> pl.DataFrame:
    """The table with `plain_cell` of every text, column by column."""
    return table.with_columns(
        pl.when(
            pl.col(name).str.contains(f"^{HEAD_OF_A_FORMULA}")
            & ~pl.col(name).str.contains(f"^{NUMBER}$")
        )
        .then(pl.concat_str(pl.lit("'"), pl.col(name)))
        .otherwise(pl.col(name))
        .alias(name)
        for name, kind in table.schema.items()
        if kind == pl.String
    )
