"""What the files and sheets of a season are called; capitals make no difference to a name."""

from __future__ import annotations

from fnmatch import fnmatchcase
from typing import TYPE_CHECKING

from pipeline.intake.workbook import sheets_of
from pipeline.problems import SeasonUnusableError

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

ENDINGS = (".csv", ".csv.gz", ".tsv", ".txt", ".parquet")
SETTINGS = "season.toml"
NOTE_WORDS = "note_words.toml"
WORKBOOKS = (".xlsx", ".xlsm", ".xls", ".ods")


def file_called(folder: Path, name: str) -> Path | None:
    """The file of this name, or else the one whose name differs in capitals alone.

    Raises `SeasonUnusableError` where several differ in capitals alone.
    """
    there = [entry.name for entry in folder.iterdir() if entry.is_file()]
    found = one_called(name, there, f"the folder {folder.name}")
    return None if found is None else folder / found


def sheets_called(workbook: Path, name: str) -> tuple[str, ...]:
    """The sheet of this name, or else the one whose name differs in capitals alone.

    Where the name is a pattern, all that it fits, whatever their capitals. Raises
    `SeasonUnusableError` where several differ from a name in capitals alone.
    """
    there = sheets_of(workbook)
    if is_pattern(name):
        return tuple(sheet for sheet in there if fnmatchcase(sheet.lower(), name.lower()))
    found = one_called(name, there, workbook.name)
    return () if found is None else (found,)


def is_pattern(name: str) -> bool:
    """Whether it stands for all names that it fits, as `M*` does."""
    return any(sign in name for sign in "*?[")


def one_called(name: str, there: Iterable[str], place: str) -> str | None:
    """Of the names that are `there`, this one, or else the one that is it in other capitals."""
    alike = sorted(each for each in there if each.lower() == name.lower())
    if name in alike or not alike:
        return name if alike else None
    if len(alike) > 1:
        raise SeasonUnusableError(
            f"{place} has {' and '.join(map(repr, alike))}, which differ in capitals alone; call "
            f"the one that is to be read {name!r}."
        )
    return alike[0]
