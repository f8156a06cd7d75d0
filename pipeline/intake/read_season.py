"""Read every table of a season: first as text, then, once corrected, into values."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.intake.mapping import map_columns
from pipeline.intake.text_tables import EmptyTableError, read_text_table
from pipeline.intake.values import parse_values
from pipeline.problems import SeasonUnusableError
from pipeline.rows import REMARK_SCHEMA, TextTable, ValueTable
from schemas.tables import TABLES
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.intake.season_folder import FoundTable, SeasonFolder
    from schemas.column import Table
    from schemas.settings import Settings


EMPTY = saying(
    "the table {} has no header and no row, so the season is read as if it were not there"
)
A_DAY_A_TRIP = saying(
    "none is named, so each day of a boat counts as a trip of its own, and ranges, which go by "
    "trips, may come out too narrow; add a column with the trip"
)
A_HAUL_A_TRIP = saying(
    "none is named, nor when a haul was shot, so each haul counts as a trip of its own, and "
    "ranges, which go by trips, may come out too narrow; add a column with the trip"
)
REASONS = (EMPTY,)


def read_as_text(season: SeasonFolder) -> tuple[dict[str, TextTable], pl.DataFrame]:
    """Each table that the season has, by its name, with the season's own column names.

    With them, the remarks on its files. Raises `SeasonUnusableError` with every problem of every
    table at once.
    """
    tables: dict[str, TextTable] = {}
    remarks, problems = [pl.DataFrame(schema=REMARK_SCHEMA)], []
    for found in season.tables:
        try:
            text, remarked = _read_table(found, _read_for_others(found, season))
        except SeasonUnusableError as error:
            problems += error.sentences
        else:
            if text is not None:
                tables[found.name] = text
            remarks.append(remarked)
    if problems:
        raise SeasonUnusableError(problems)
    return tables, pl.concat(remarks)


def read_values(texts: dict[str, TextTable], settings: Settings) -> dict[str, ValueTable]:
    """The same tables, typed and in the season's units, with the cells that can't be read."""
    return {
        name: parse_values(
            TABLES[name],
            settings.source(name),
            text,
            own_words=settings.season.grounds if name == "hauls" else (),
        )
        for name, text in texts.items()
    }


def _read_for_others(found: FoundTable, season: SeasonFolder) -> frozenset[str]:
    """The headers of species that another table is read from in the same files."""
    beside = (each for each in season.tables if each is not found)
    return frozenset().union(
        *(each.source.across_headers for each in beside if set(each.places) & set(found.places))
    )


def _read_table(
    found: FoundTable, read_for_others: frozenset[str]
) -> tuple[TextTable | None, pl.DataFrame]:
    """One table, from all of its files, and the remarks on them; none where they are empty.

    Raises `SeasonUnusableError` if the season can't be read without it.
    """
    table = TABLES[found.name]
    parts: list[TextTable] = []
    headers_at: list[tuple[str, int]] = []
    remarks: list[tuple[object, ...]] = []
    for place, label in zip(found.places, found.labels, strict=True):
        try:
            raw = read_text_table(place.file, found.source.read, place.sheet)
        except EmptyTableError:
            if found.name == "hauls" and not parts and place == found.places[-1]:
                raise
            remarks.append((table.name, label, 1, None, None, EMPTY.format(table.name)))
            continue
        named = raw.frame.with_columns(pl.lit(label).alias("source_file"))
        part, unused = map_columns(named, table, found.source, label, read_for_others)
        parts.append(part)
        headers_at.append((label, raw.header_row))
        remarks += [
            (table.name, label, raw.header_row, None, header, reason)
            for header, reason in unused.items()
        ]
    text = _together(parts, table) if parts else None
    if text is not None and table.name == "hauls" and "trip" not in text.found:
        reason = A_DAY_A_TRIP if "shot_at" in text.found else A_HAUL_A_TRIP
        remarks.append((table.name, *headers_at[0], "trip", None, reason))
    return text, pl.DataFrame(remarks, schema=REMARK_SCHEMA, orient="row")


def _together(parts: list[TextTable], table: Table) -> TextTable:
    """The files of a table, one below the other."""
    frame = pl.concat([part.frame for part in parts], how="diagonal").with_row_index("row")
    return TextTable(
        frame=frame.with_columns(pl.col("row").cast(pl.Int64)),
        found=tuple(
            name for name in table.column_names if any(name in part.found for part in parts)
        ),
        kept=parts[0].kept,
    )
