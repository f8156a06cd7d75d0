"""Small tables written as text, so that a test can be read aloud.

A table is lines of cells between bars; the first line names the columns and a blank cell is a
cell that was not recorded. A line of dashes under the names is decoration.
"""

from __future__ import annotations

from pathlib import Path

import polars as pl

from schemas.tables import TABLES
from schemas.types import TYPES

KINDS: dict[str, pl.DataType] = {
    "text": pl.String(),
    "number": pl.Float64(),
    "count": pl.Int64(),
    "yes or no": pl.Boolean(),
    "moment": pl.Datetime("us"),
}
SOURCE: dict[str, pl.DataType] = {
    "row": pl.Int64(),
    "source_file": pl.String(),
    "source_row": pl.Int64(),
}


def cells_of(line: str) -> list[str]:
    """The cells of one line, without the blanks around them; `\\|` is a bar in a cell."""
    inner = line.strip().removeprefix("|").removesuffix("|").replace(r"\|", "\0")
    return [cell.strip().replace("\0", "|") for cell in inner.split("|")]


def rows_of(text: str) -> tuple[list[str], list[list[str]]]:
    """The names of the columns and the rows, all as text."""
    lines = [line for line in text.splitlines() if "|" in line]
    names, *rows = [cells_of(line) for line in lines if set(line) - set("|-: ")]
    for row in rows:
        if len(row) != len(names):
            message = f"{len(row)} cells under {len(names)} names: {' | '.join(row)}"
            raise ValueError(message)
    return names, rows


def page_text(page: str, heading: str = "") -> str:
    """The text of a page of this folder, or what stands under a heading of it."""
    text = (Path(__file__).parent / page).read_text(encoding="utf-8")
    return text.split(f"\n## {heading}\n")[1].split("\n## ")[0] if heading else text


def cases_of(text: str) -> list[dict[str, str]]:
    """The rows of a table, each by the names of its columns."""
    names, rows = rows_of(text)
    return [dict(zip(names, row, strict=True)) for row in rows]


def cases_under(page: str, heading: str) -> list[dict[str, str]]:
    """The rows of the table under a heading of a page of this folder."""
    return cases_of(page_text(page, heading))


def number(cell: str) -> float | None:
    """What stands in a cell, or after the last `=` of it; None for a blank."""
    written = cell.rpartition("=")[2].strip().replace("−", "-")
    return float(written) if written else None


def table_from(text: str, season_table: str | None = None) -> pl.DataFrame:
    """The table in the text, typed.

    A column of a season table has the kind that `schemas` gives it, and those that the text
    leaves out are blank. Any other column says its kind after a colon, or is text.
    """
    headings, rows = rows_of(text)
    kinds = _kinds_of(season_table)
    names = []
    for heading in headings:
        name, _, kind = (part.strip() for part in heading.partition(":"))
        names.append(name)
        kinds.setdefault(name, KINDS[kind or "text"])
    texts = pl.DataFrame(rows, schema=dict.fromkeys(names, pl.String), orient="row")
    return texts.select(
        (_typed(name, kind) if name in names else pl.lit(None, kind)).alias(name)
        for name, kind in kinds.items()
    )


def _kinds_of(season_table: str | None) -> dict[str, pl.DataType]:
    if season_table not in TABLES:
        return {}
    return {**SOURCE, **{c.name: TYPES[c.kind] for c in TABLES[season_table].columns}}


def _typed(name: str, kind: pl.DataType) -> pl.Expr:
    cell = pl.col(name).replace("", None)
    if kind == pl.Boolean:
        return cell.replace_strict({"yes": True, "no": False}, return_dtype=pl.Boolean)
    if kind == pl.Datetime:
        return cell.str.to_datetime("%Y-%m-%d %H:%M", time_unit="us")
    return cell.cast(kind)
