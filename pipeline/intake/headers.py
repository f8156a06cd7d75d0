"""Find the season's columns among the headers of a file; tell of a header that may be one of them.

A column that the mapping does not name stands under its own name, whatever its capitals are and
whether its words are joined by blanks, hyphens or underscores.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from pipeline.intake.units import factors_of_spellings
from pipeline.nearest import did_you_mean
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Iterable

    from schemas.column import Table
    from schemas.settings import ColumnSource, TableSource

NOT_USED = saying(
    "is a header that is not used{}; rename it, or name it under the table's columns in season.toml"
)
OTHER_UNIT = saying(
    "is a header that says {}, and its cells are read as {}; say which it is with unit under the "
    "table's columns in season.toml"
)
CONTAINERS = ("box", "boxes", "bx", "bxs", "basket", "baskets", "bskt", "bskts", "kit", "kits")
"""What fish is counted in aboard, whatever one holds. Common practice, no source."""
IN_CONTAINERS = saying(
    "is a header that says {}, and its cells are read as {}; say how much one holds with times "
    "under the table's columns in season.toml"
)
REASONS = (NOT_USED, OTHER_UNIT, IN_CONTAINERS)


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


def other_units(
    table: Table, source: TableSource, found: dict[str, ColumnSource]
) -> dict[str, str]:
    """Each header that ends with a unit in which its cells are not read: Depth (fm).

    With it, the reason of the remark on it.
    """
    said = {}
    for name, how in found.items():
        unit = table.column(name).unit
        of_species = source.across.get(name, {}).values()
        for header in of_species or how.headers:
            if how.unit is None and (word := _unit_said(header, unit)):
                said[header] = OTHER_UNIT.format(word, unit)
            elif unit == "kg" and how.times is None and _last_word(header) in CONTAINERS:
                said[header] = IN_CONTAINERS.format(_last_word(header), unit)
    return said


def _unit_said(header: str, unit: str) -> str:
    """The unit that a header ends with, where it is another one than the column's."""
    word = _last_word(header)
    return word if factors_of_spellings(unit).get(word, 1.0) != 1 else ""


def _last_word(header: str) -> str:
    """The last word of a header of several: fm, of Depth (fm)."""
    words = re.findall(r"[^\W_]+", header.lower())
    return words[-1] if len(words) > 1 else ""


def _plain(header: str) -> str:
    """The header as ours are written: small letters, words joined by an underscore."""
    return re.sub(r"[\s_-]+", "_", header.strip()).lower()
