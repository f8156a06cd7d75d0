"""Find the tables of a season: a folder of files, or one workbook, and its `season.toml`."""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from pipeline.intake.file_names import (
    ENDINGS,
    NOTE_WORDS,
    SETTINGS,
    WORKBOOKS,
    file_called,
    is_pattern,
    sheets_called,
)
from pipeline.intake.settings import read_settings
from pipeline.intake.workbook import sheets_of
from pipeline.problems import SeasonUnusableError
from schemas.hauls import HAULS
from schemas.settings import Rigs
from schemas.tables import TABLES
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Container

    from schemas.settings import Settings, TableSource

SHEET = saying("{}, sheet {}")


class Place(NamedTuple):
    """Where rows of a table stand: a file, or one sheet of a workbook."""

    file: Path
    sheet: str | None = None


@dataclass(frozen=True)
class FoundTable:
    """A table of the season and the places that hold it, in the order in which they are read."""

    name: str
    source: TableSource
    places: tuple[Place, ...]

    @property
    def files(self) -> tuple[Path, ...]:
        """The files that hold it, each once."""
        return tuple(dict.fromkeys(place.file for place in self.places))

    @property
    def labels(self) -> tuple[str, ...]:
        """What each place is called: its file's name, with as much of its path as tells them apart.

        Of a workbook with its sheet, as each sheet has rows of its own.
        """
        called = {file: file.name for file in self.files}
        if len(set(called.values())) < len(called):
            shared = os.path.commonpath(self.files)
            called = {file: file.relative_to(shared).as_posix() for file in self.files}
        return tuple(
            SHEET.format(called[file], sheet) if sheet else called[file]
            for file, sheet in self.places
        )


@dataclass(frozen=True)
class SeasonFolder:
    """A season as it lies on disk."""

    path: Path
    settings: Settings
    settings_file: Path | None
    tables: tuple[FoundTable, ...]
    note_words_file: Path | None = None
    """The season's own words of damage notes, where it has any."""
    seasons: tuple[SeasonFolder, ...] = ()
    """The season folders in it, where it is not a season itself but a folder of them."""
    left_out: tuple[str, ...] = ()
    """Of each of those that can't be used, a sentence that says why."""
    together: tuple[str, ...] = ()
    """What is taken for granted where their settings differ, in sentences."""
    not_read: tuple[str, ...] = ()
    """Of each file or sheet beside them that looks like a table, a sentence why it is not read."""

    @property
    def files(self) -> tuple[Path, ...]:
        """Every file that the season is read from."""
        if self.seasons:
            own = (self.settings_file,) if self.settings_file else ()
            return (*own, *(file for season in self.seasons for file in season.files))
        tables = {file for table in self.tables for file in table.files}
        beside = {file for file in (self.settings_file, self.note_words_file) if file}
        return tuple(sorted(tables | beside))

    def label(self, file: Path) -> str:
        """What one of its files is called; where it holds several seasons, with their folder."""
        if self.seasons and file.is_relative_to(self.path):
            return file.relative_to(self.path).as_posix()
        return file.name

    def only(self, names: Container[str]) -> SeasonFolder:
        """The season as if it had no other tables than these."""
        return replace(
            self,
            tables=tuple(table for table in self.tables if table.name in names),
            seasons=tuple(season.only(names) for season in self.seasons),
        )


def open_season(path: Path) -> SeasonFolder:
    """Find the season's settings and tables.

    Raises `SeasonUnusableError` if there is no such folder, a file that the settings name is
    missing, or there are no hauls.
    """
    try:
        there = path.is_file() or path.is_dir()
    except OSError:
        there = False
    if not there:
        raise SeasonUnusableError(f"There is no folder or workbook {path}.")
    folder = path if path.is_dir() else path.parent
    settings_file = settings_file_of(path)
    settings = read_settings(settings_file)
    workbook = workbook_of(path)
    found = {name: _find(name, settings.source(name), folder, workbook) for name in TABLES}
    if (hauls := found["hauls"]) is not None:
        for name in settings.tables:
            if found[name] is None and _of_hauls(name, settings):
                settings = settings.with_source(name, _as_hauls(name, settings))
                found[name] = replace(hauls, name=name, source=settings.source(name))
    tables = tuple(table for table in found.values() if table is not None)
    if settings.rigs != Rigs():
        raise SeasonUnusableError(
            "season.toml: [rigs] is for a folder of season folders; take it out of a season's own."
        )
    if "hauls" not in {table.name for table in tables}:
        raise SeasonUnusableError(_no_hauls(path, workbook))
    return SeasonFolder(path, settings, settings_file, tables, file_called(folder, NOTE_WORDS))


def _of_hauls(name: str, settings: Settings) -> bool:
    """Whether the table may stand in the file of the hauls, with a column for each species."""
    in_a_haul = TABLES[name].key[: len(HAULS.key)] == HAULS.key
    return in_a_haul and bool(settings.source(name).across)


def _as_hauls(name: str, settings: Settings) -> TableSource:
    """The table's source as that of the hauls, where it does not say otherwise itself."""
    hauls, own = settings.source("hauls"), settings.source(name)
    keys = {column: how for column, how in hauls.columns.items() if column in HAULS.key}
    of_keys = (
        name for name in hauls.fill_down if name not in set(HAULS.column_names) - {*HAULS.key}
    )
    fill_down = tuple(dict.fromkeys((*of_keys, *own.fill_down)))
    reading = own.read if "read" in own.model_fields_set else hauls.read
    return own.model_copy(
        update={"read": reading, "columns": {**keys, **own.columns}, "fill_down": fill_down}
    )


def has_hauls(folder: Path) -> bool:
    """Whether the folder is a season: it has hauls, or its settings say where they should be.

    Raises `SeasonUnusableError` if its settings can't be read.
    """
    source = read_settings(settings_file_of(folder)).source("hauls")
    try:
        return _find("hauls", source, folder, workbook_of(folder)) is not None
    except SeasonUnusableError:
        return True


def _no_hauls(path: Path, workbook: Path | None) -> str:
    if workbook is not None:
        return (
            f"{workbook.name} has no sheet 'hauls', only {', '.join(sheets_of(workbook))}; rename "
            'the one with the hauls, or put sheet = "…" under [hauls] in a season.toml beside it.'
        )
    books = [book.name for book in workbooks_in(path)]
    if books:
        return (
            f"{path} has no hauls in a file of their own, and several workbooks: "
            f"{', '.join(books)}; give the one with the hauls in place of the folder."
        )
    return (
        f"{path} has no hauls: put a hauls.csv there, or name the file in season.toml "
        "under [hauls]; or give a folder with a season folder for each boat."
    )


def settings_file_of(path: Path) -> Path | None:
    """The file with the season's settings, if it has one."""
    if path.is_dir():
        return file_called(path, SETTINGS)
    own = path.with_suffix(".toml").name
    return file_called(path.parent, own) or file_called(path.parent, SETTINGS)


def workbook_of(path: Path) -> Path | None:
    """The season's one workbook, if it is kept in one."""
    if path.is_dir():
        books = workbooks_in(path)
        return books[0] if len(books) == 1 else None
    if path.suffix.lower() not in WORKBOOKS:
        raise SeasonUnusableError(
            f"{path.name} is not a season: give a folder or a workbook (.xlsx)."
        )
    return path


def workbooks_in(folder: Path) -> list[Path]:
    """The workbooks of a folder, by name; one that is being written to leaves a ~ beside it."""
    return [
        file
        for file in sorted(folder.iterdir())
        if file.suffix.lower() in WORKBOOKS and not file.name.startswith(("~", "."))
    ]


def _find(name: str, source: TableSource, folder: Path, workbook: Path | None) -> FoundTable | None:
    if source.file is not None:
        files = _named_files(name, source.file, folder)
        if not source.sheets:
            return FoundTable(name, source, tuple(map(Place, files)))
        workbook = _the_one_workbook(name, files)
    if source.sheets:
        return FoundTable(name, source, _named_sheets(name, source.sheets, folder, workbook))
    for ending in ENDINGS:
        file = file_called(folder, f"{name}{ending}")
        if file is not None:
            return FoundTable(name, source, (Place(file),))
    if workbook is not None and (sheets := sheets_called(workbook, name)):
        return FoundTable(name, source, tuple(Place(workbook, sheet) for sheet in sheets))
    return None


def _the_one_workbook(name: str, files: tuple[Path, ...]) -> Path:
    """The workbook that the settings name beside its sheets; raises where it is not one."""
    if len(files) == 1 and files[0].suffix.lower() in WORKBOOKS:
        return files[0]
    raise SeasonUnusableError(
        f"season.toml: [{name}] names a sheet, and {', '.join(file.name for file in files)} is not "
        "one workbook; name the one that the sheet is in, or take the sheet out."
    )


def _named_sheets(
    name: str, patterns: tuple[str, ...], folder: Path, workbook: Path | None
) -> tuple[Place, ...]:
    """The sheets that the settings name for a table, in the workbook's own order.

    A pattern leaves out those that are called as another table is.
    """
    if workbook is None:
        raise SeasonUnusableError(
            f"season.toml: [{name}] names the sheet {patterns[0]!r}, and there is no one workbook "
            f"to look for it: {folder.resolve().name} {_workbooks_there(folder)}."
        )
    others = set(TABLES) - {name}
    named: set[str] = set()
    for pattern in patterns:
        found = sheets_called(workbook, pattern)
        if is_pattern(pattern):
            found = tuple(sheet for sheet in found if sheet.lower() not in others)
        if not found:
            raise SeasonUnusableError(
                f"season.toml: [{name}] names the sheet {pattern!r}, which {workbook.name} has "
                f"not; its sheets are {', '.join(sheets_of(workbook))}."
            )
        named.update(found)
    return tuple(Place(workbook, sheet) for sheet in sheets_of(workbook) if sheet in named)


def _workbooks_there(folder: Path) -> str:
    """Why none of the folder's workbooks is the one whose sheets are meant, and what helps."""
    books = [book.name for book in workbooks_in(folder)]
    if not books:
        return "has no workbook; put it there, or take the sheet out"
    return (
        f"has {', '.join(books)}; give the one that is meant in place of the folder, or put the "
        "others elsewhere"
    )


def _named_files(name: str, pattern: str, folder: Path) -> tuple[Path, ...]:
    expanded = os.path.expandvars(pattern)
    try:
        files = _matching(expanded, folder)
    except (ValueError, OSError):
        files = ()
    if not files:
        raise SeasonUnusableError(
            f"season.toml: [{name}] names the file {pattern!r}, which is not in "
            f"{folder.resolve().name}."
        )
    return files


def _matching(pattern: str, folder: Path) -> tuple[Path, ...]:
    if not is_pattern(pattern):
        return tuple(file for file in (folder / pattern,) if file.is_file())
    root = Path(pattern).anchor
    base = Path(root) if root else folder
    return tuple(sorted(file for file in base.glob(pattern.removeprefix(root)) if file.is_file()))
