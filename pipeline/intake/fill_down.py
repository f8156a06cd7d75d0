"""What is written on the first row only of several, as logs on paper are kept, on each of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.intake.headers import found_columns
from pipeline.intake.text_tables import UNREADABLE

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping

    from schemas.column import Table
    from schemas.settings import TableSource


def filled_down(
    raw: pl.DataFrame, table: Table, source: TableSource, headers: Mapping[str, str]
) -> pl.DataFrame:
    """The file with blank cells under what `fill_down` names saying what stands above them.

    `headers` are the file's own by what they say. Below a row that can't be taken apart into cells
    nobody knows what it said, so that a cell stays blank until the next one is written.
    """
    named = {
        headers[header]
        for name in source.fill_down
        for header in headers_meant(name, table, source, headers)
    }
    apart = pl.col(UNREADABLE).is_not_null()
    blank = ["", *source.read.missing]
    return raw.with_columns(
        pl.coalesce(
            pl.when(~apart & ~pl.col(header).str.strip_chars().is_in(blank))
            .then(header)
            .forward_fill()
            .over(apart.cum_sum()),
            header,
        )
        for header in sorted(named)
    )


def headers_meant(
    name: str, table: Table, source: TableSource, headers: Collection[str]
) -> tuple[str, ...]:
    """The headers of the file that a name in `fill_down` means: its own, or those of a column."""
    if name in headers:
        return (name,)
    how = found_columns(table, source, headers).get(name)
    return how.headers if how else ()
