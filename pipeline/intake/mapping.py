"""From the file's headers to the season's columns; cells stay text."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.intake.fill_down import filled_down, headers_meant
from pipeline.intake.headers import found_columns, other_units, unused_headers
from pipeline.intake.needed_columns import none_known
from pipeline.intake.species_across import one_row_a_species
from pipeline.intake.text_tables import UNREADABLE
from pipeline.nearest import did_you_mean
from pipeline.plain_text import CONTROL, LINE_SEPARATORS
from pipeline.problems import SeasonUnusableError
from pipeline.rows import TextTable
from schemas.column import SOURCE_COLUMNS
from schemas.hauls import HAULS

if TYPE_CHECKING:
    from collections.abc import Collection

    from schemas.column import Table
    from schemas.settings import ColumnSource, TableSource


def map_columns(
    raw: pl.DataFrame,
    table: Table,
    source: TableSource,
    label: str,
    read_for_others: Collection[str] = (),
) -> tuple[TextTable, dict[str, str]]:
    """Every column of `table` that the file has, and the columns to keep, as trimmed text.

    With it, each header that is not used and may be meant to be, or is read in another unit than it
    says, and a word on it. Of headers that another table is read from nothing is said.
    A cell that says one of the file's words for *missing* is null. Raises
    `SeasonUnusableError` naming each header that the mapping wants and the file, which is called
    `label`, lacks.
    """
    _check_headers(table, source, raw, label)
    raw = filled_down(raw, table, source, _by_trimmed(raw))
    if source.across:
        raw = one_row_a_species(raw, source)
    by_trimmed = _by_trimmed(raw)
    found = found_columns(table, source, by_trimmed)
    columns = [
        _cell(how, by_trimmed, source.read.missing).alias(name) for name, how in found.items()
    ]
    kept = tuple(name for name in source.keep if name not in found)
    columns += [_trimmed(by_trimmed[name], source.read.missing).alias(name) for name in kept]
    frame = raw.select(*SOURCE_COLUMNS, UNREADABLE, *columns)
    # A log with a column for each species is read as hauls too: its other headers are for those.
    free = [header for header in by_trimmed if header not in read_for_others]
    unused = {} if source.across else unused_headers(table, source, free, found)
    remarked = unused | other_units(table, source, found)
    return TextTable(frame, tuple(found), kept), remarked


def _by_trimmed(raw: pl.DataFrame) -> dict[str, str]:
    """The file's headers by what they say, without the blanks around it."""
    headers = [name for name in raw.columns if name not in (*SOURCE_COLUMNS, UNREADABLE)]
    return {header.strip(): header for header in headers}


def _check_headers(table: Table, source: TableSource, raw: pl.DataFrame, file: str) -> None:
    headers = list(_by_trimmed(raw))
    wanted = [
        (f"[{table.name}.columns] {name}", header)
        for name in source.columns
        if name not in source.across
        for header in source.column_source(name).headers
    ]
    wanted += [
        (f"[{table.name}.across] {name}", header)
        for name, by_species in source.across.items()
        for header in by_species.values()
    ]
    wanted += [(f"[{table.name}] keep", header) for header in source.keep]
    wanted += [
        (f"[{table.name}] fill_down", name)
        for name in source.fill_down
        if not headers_meant(name, table, source, headers)
    ]
    if not _any_known(table, source, headers):
        if wanted or source.sheets:
            raise SeasonUnusableError(_no_headers(file, table, source, headers))
        if table is HAULS:
            raise SeasonUnusableError(none_known(raw, source, file))
    lacking = [
        f"{file} has no header {header!r} that {where} asks for{did_you_mean(header, headers)}; "
        f"its headers are {', '.join(headers)}."
        for where, header in wanted
        if header not in headers
    ]
    if lacking:
        raise SeasonUnusableError(lacking)


def _any_known(table: Table, source: TableSource, headers: list[str]) -> bool:
    """Whether one of the headers is asked for, or is that of a column of ours."""
    found = found_columns(table, source, headers).values()
    asked_for = source.headers | source.across_headers
    return any(how.headers for how in found) or not asked_for.isdisjoint(headers)


def _no_headers(file: str, table: Table, source: TableSource, headers: list[str]) -> str:
    """What may be the matter with a file whose first line is none of headers."""
    begins = next(filter(None, headers), "")
    no_part = (
        "name those that are: " + SHEETS.format(table.name) if source.sheets else "leave it out"
    )
    return (
        f"{file} has none of the headers that are asked for; its first line begins {begins!r}. If "
        f"lines stand above the headers, say how many with skip_lines under [{table.name}.read]; "
        f"if its headers are called otherwise, name them under [{table.name}.columns]; if it is no "
        f"part of {table.name}, {no_part}."
    )


SHEETS = 'sheet = ["…", "…"] under [{}]'


def _trimmed(header: str, missing: tuple[str, ...]) -> pl.Expr:
    text = pl.col(header).str.replace_all(CONTROL, "\ufffd").str.replace_all(LINE_SEPARATORS, " ")
    text = text.str.strip_chars()
    return pl.when(text.is_in(["", *missing])).then(None).otherwise(text)


def _blank_as_null(cell: pl.Expr) -> pl.Expr:
    return pl.when(cell != "").then(cell)


def _cell(how: ColumnSource, headers: dict[str, str], missing: tuple[str, ...]) -> pl.Expr:
    if how.value is not None:
        return pl.lit(how.value)
    parts = [_trimmed(headers[header], missing) for header in how.headers]
    cell = parts[0] if len(parts) == 1 else pl.concat_str(parts, separator=" ")
    if how.words and how.otherwise is not None:
        mapped = cell.replace_strict(
            how.words,
            default=pl.when(cell.is_not_null()).then(pl.lit(how.otherwise)),
            return_dtype=pl.String,
        )
        return _blank_as_null(mapped)
    if how.otherwise is not None:
        return pl.when(cell.is_not_null()).then(pl.lit(how.otherwise))
    return _blank_as_null(cell.replace(how.words)) if how.words else cell
