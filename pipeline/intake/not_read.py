"""Tell of the files and sheets of a season that look like its tables and are not read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.intake.file_names import ENDINGS, SETTINGS, WORKBOOKS
from pipeline.intake.season_folder import SHEET, workbook_of, workbooks_in
from pipeline.intake.workbook import sheets_of
from pipeline.nearest import did_you_mean
from schemas.tables import TABLES
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from pipeline.intake.season_folder import FoundTable, Place, SeasonFolder

INSTEAD = saying(
    "{} is not read, as {} is; put into that one what is to count, and take the other away."
)
NEARLY = saying("{} is not read{}; give it the name of its table, or name it in season.toml.")
ONE_OF_SEVERAL = saying(
    "{} is not read, as it is not the only workbook of the folder; put into one what is to count."
)
NO_TABLE_IN_IT = saying(
    "{} is not read, as it has no sheet with the name of a table that no file has; name its sheet "
    "after the table, or take the workbook away."
)
OTHER_SHEETS = saying(
    "{} is read in part, and nothing from its sheets: {}; where one holds rows of a table, name it "
    "under sheet in season.toml."
)
BESIDE_SEASONS = saying("{} is not read, as it lies beside the season folders; put it into one.")
REASONS = (INSTEAD, NEARLY, ONE_OF_SEVERAL, NO_TABLE_IN_IT, OTHER_SHEETS, BESIDE_SEASONS)


def not_read(season: SeasonFolder, within: str = "") -> tuple[str, ...]:
    """A sentence on each file or sheet that looks like a table of the season and is not read.

    `within` is the season's folder, as it stands in front of its files, where it is one of several.
    """
    told = [*_workbooks(season)]
    if season.path.is_dir():
        told += _files(season)
    return tuple(sentence.format(f"{within}{name}", *more) for sentence, name, *more in told)


def beside_seasons(folder: Path) -> tuple[str, ...]:
    """A sentence on each workbook and table that lies in a folder of season folders."""
    tables = [file.name for file in _tables_in(folder)]
    books = [book.name for book in workbooks_in(folder)]
    return tuple(BESIDE_SEASONS.format(name) for name in sorted((*tables, *books)))


Told = tuple[str, ...]
"""A sentence, and what is to be filled into it."""


def _files(season: SeasonFolder) -> Iterable[Told]:
    """On files whose name is that of a table or of the settings, or nearly so."""
    missing = _missing(season)
    read_for = {table.name: table for table in season.tables}
    for file in _text_files(season.path):
        table = _table_of(file)
        if file in season.files:
            continue
        if table in read_for and not _chosen(read_for[table]):
            yield INSTEAD, file.name, read_for[table].labels[0]
        elif near := did_you_mean(table, missing):
            yield NEARLY, file.name, near
    settings = season.settings_file
    for file in sorted(season.path.iterdir()):
        if settings and file != settings and file.name.lower() == SETTINGS:
            yield INSTEAD, file.name, settings.name


def _workbooks(season: SeasonFolder) -> Iterable[Told]:
    """On workbooks that nothing is read from, and on sheets of those that are."""
    workbook = workbook_of(season.path)
    if workbook is not None and workbook not in season.files:
        yield NO_TABLE_IN_IT, workbook.name
    elif workbook is None:
        for book in workbooks_in(season.path):
            if book not in season.files:
                yield ONE_OF_SEVERAL, book.name
    for file in season.files:
        if file.suffix.lower() in WORKBOOKS:
            yield from _sheets(season, file)


def _sheets(season: SeasonFolder, workbook: Path) -> Iterable[Told]:
    """On sheets of this workbook that nothing is read from.

    Each whose name is a table's, or nearly so, has a sentence of its own; the others share one.
    """
    missing, others = _missing(season), []
    there = sheets_of(workbook)
    used = {place.sheet or there[0] for place in _places_in(workbook, season)}
    read_elsewhere = {
        table.name: table.labels[0]
        for table in season.tables
        if workbook not in table.files and not _chosen(table)
    }
    for sheet in (each for each in there if each not in used):
        if instead := read_elsewhere.get(sheet.lower()):
            yield INSTEAD, SHEET.format(workbook.name, sheet), instead
        elif near := did_you_mean(sheet.lower(), missing):
            yield NEARLY, SHEET.format(workbook.name, sheet), near
        else:
            others.append(sheet)
    if others:
        yield OTHER_SHEETS, workbook.name, ", ".join(others)


def _places_in(workbook: Path, season: SeasonFolder) -> list[Place]:
    """The sheets of this workbook that tables are read from."""
    places = (place for table in season.tables for place in table.places)
    return [place for place in places if place.file == workbook]


def _chosen(table: FoundTable) -> bool:
    """Whether the season's settings name what the table is read from: then a person knows."""
    return table.source.file is not None or bool(table.source.sheets)


def _missing(season: SeasonFolder) -> list[str]:
    """The tables that the season has not."""
    there = {table.name for table in season.tables}
    return [name for name in TABLES if name not in there]


def _tables_in(folder: Path) -> list[Path]:
    """The text and Parquet files whose name is a table's."""
    return [file for file in _text_files(folder) if _table_of(file) in TABLES]


def _text_files(folder: Path) -> list[Path]:
    return [
        file
        for file in sorted(folder.iterdir())
        if file.is_file() and file.name.lower().endswith(ENDINGS) and file.name[0] not in ".~"
    ]


def _table_of(file: Path) -> str:
    """The table that a file would hold by its name."""
    ending = next(each for each in reversed(ENDINGS) if file.name.lower().endswith(each))
    return file.name.lower().removesuffix(ending)
