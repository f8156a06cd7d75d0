"""Find the season's columns among the headers of a file; tell of a header that may be one of them.

A column that the mapping does not name stands under its own name, whatever its capitals are and
whether its words are joined by blanks, hyphens or underscores.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from pipeline.nearest import did_you_mean
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Iterable

    from schemas.column import Table
    from schemas.settings import ColumnSource, TableSource

NOT_USED = saying(
    "is a header that is not used{}; rename it, or name it under the table's columns in season.toml"
)
REASONS = (NOT_USED,)


def found_columns(
    table: Table, source: TableSource, headers: Iterable[str]
) -> dict[str, ColumnSource]:
    """How each column that the file has is read, under the header as it is written there."""
    there = set(headers)
    free = there - source.headers - set(table.column_names)
    found = {}
    for column in table.columns:
        how = source.column_source(column.name)
        if how.value is not None or there.issuperset(how.headers):
            found[column.name] = how
        elif column.name not in source.columns:
            alike = [header for header in free if _plain(header) == column.name]
            if len(alike) == 1:
                found[column.name] = how.model_copy(update={"header": alike[0]})
    return found


def unused_headers(
    table: Table, source: TableSource, headers: Iterable[str], found: dict[str, ColumnSource]
) -> dict[str, str]:
    """Each header that nothing is read from, though it is much like a column that was not found.

    With it, the reason of the remark on it.
    """
    used = source.headers | {header for how in found.values() for header in how.headers}
    missing = [name for name in table.column_names if name not in found]
    near = {name: did_you_mean(_plain(name), missing) for name in headers if name not in used}
    return {name: NOT_USED.format(meant) for name, meant in near.items() if meant}


def _plain(header: str) -> str:
    """The header as ours are written: small letters, words joined by an underscore."""
    return re.sub(r"[\s_-]+", "_", header.strip()).lower()
