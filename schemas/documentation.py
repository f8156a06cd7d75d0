"""The season folder in words, made from the columns: what the README and the developers' page show.

`python -m schemas.documentation README.md DEVELOPERS.md` puts it into the files, between the two
comment lines that name it.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from schemas.tables import TABLES

if TYPE_CHECKING:
    from schemas.column import Column


def tables_in_brief() -> str:
    """A table of the tables: what one row is, what names it, what it feeds."""
    rows = [
        f"| `{table.name}` | {table.one_row_is} | {', '.join(table.key)} | {table.feeds} |"
        for table in TABLES.values()
    ]
    return "\n".join(["| table | one row is | named by | feeds |", "|---|---|---|---|", *rows])


def columns_in_full() -> str:
    """Every column of every table, with its unit, its bounds and an example."""
    parts = []
    for table in TABLES.values():
        rows = [
            f"| `{column.name}` | {column.meaning} | {column.unit or column.kind} "
            f"| {_bounds(column)} | {column.example} |"
            for column in table.columns
        ]
        parts += [
            f"### `{table.name}`: one row is {table.one_row_is}",
            "",
            "| column | meaning | unit or kind | must be | example |",
            "|---|---|---|---|---|",
            *rows,
            "",
        ]
    return "\n".join(parts).rstrip()


def _bounds(column: Column) -> str:
    """What a value must be, in words."""
    said = ["filled"] if column.required else []
    if column.words:
        said.append(", ".join(column.words))
    if column.above is not None:
        said.append(f"more than {column.above:g}")
    if column.least is not None:
        said.append(f"{column.least:g} or more")
    if column.most is not None:
        said.append(f"{column.most:,.0f} or less")
    if column.only_kept:
        said.append("else left blank")
    return "; ".join(said)


GENERATED = {"tables-in-brief": tables_in_brief, "columns-in-full": columns_in_full}


def with_generated_parts(text: str) -> str:
    """The text with each generated part put between its two comment lines, anew."""
    for name, make in GENERATED.items():
        begin, end = f"<!-- {name}: made from schemas -->", f"<!-- end of {name} -->"
        pattern = re.compile(f"{re.escape(begin)}.*?{re.escape(end)}", re.DOTALL)
        part = f"{begin}\n{make()}\n{end}".replace("\\", r"\\")
        text = pattern.sub(part, text)
    return text


def main(paths: list[str]) -> None:
    """Renew the generated parts of these files."""
    for path in map(Path, paths):
        path.write_text(with_generated_parts(path.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
