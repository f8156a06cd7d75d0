"""Tables that people open in a spreadsheet."""

from __future__ import annotations

import polars as pl

RUNS = r"^[=+@\-\t\r＝＋－＠]"
NUMBER = r"^-?\d+([.,]\d+)?([eE][+-]?\d+)?$"


def for_spreadsheets(table: pl.DataFrame) -> pl.DataFrame:
    """The table with text that a spreadsheet would run as a formula marked as text by a quote."""
    return table.with_columns(
        pl.when(pl.col(name).str.contains(RUNS) & ~pl.col(name).str.contains(NUMBER))
        .then(pl.concat_str(pl.lit("'"), pl.col(name)))
        .otherwise(pl.col(name))
        .alias(name)
        for name, kind in table.schema.items()
        if kind == pl.String
    )
