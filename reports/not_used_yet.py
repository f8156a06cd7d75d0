"""Tables that are read and checked and of which nothing is made yet."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.language import say_many
from schemas.tables import TABLES

if TYPE_CHECKING:
    from pipeline.findings import Findings


def not_used_yet(findings: Findings) -> list[str]:
    """That rows of such a table are kept and feed nothing, a sentence a table that has any."""
    return [
        say_many(
            "{number:,} row of {table} was read, checked and kept in results.duckdb; nothing is "
            "made of it yet.",
            "{number:,} rows of {table} were read, checked and kept in results.duckdb; nothing is "
            "made of them yet.",
            counted["used"],
            table=name,
        )
        for name, counted in findings["rows"].items()
        if TABLES[name].only_read and counted["used"]
    ]
