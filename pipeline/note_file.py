"""A file of notes read, row for row, some thousands at a time."""

from __future__ import annotations

import csv
from itertools import islice
from typing import TYPE_CHECKING, Any, TypeVar

from pipeline.nearest import did_you_mean
from pipeline.notes.cells import COLUMNS
from pipeline.notes.many import NoteReader
from pipeline.plain_text import plain_cell
from pipeline.problems import SeasonUnusableError, WrongUsageError
from pipeline.whole_file import whole_file

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
    from pathlib import Path
    from typing import TextIO

    from pipeline.clock import Say
    from pipeline.notes.lexicon import Lexicon

ROWS_AT_A_TIME = 20_000
LONGEST_CELL = 10_000_000
"""Letters of the longest cell that is read."""
SEPARATORS = ",;\t|"
NO_SEPARATOR = "\x1f"
"""Of a file with one column, in which a comma is part of the note."""

NOT_UTF8 = "{} is not UTF-8 text; save it as UTF-8."

LISTS_LAST = sorted(COLUMNS, key=lambda name: name.endswith(("_words", "_sure")))
"""The answers, then the words that they rest on."""
PLACES = [COLUMNS.index(name) for name in LISTS_LAST]
DAMAGED = LISTS_LAST.index("damaged")

MOST_REMEMBERED = 50_000
"""So many notes are remembered at most, as short ones come again and again."""

Item = TypeVar("Item")
Rows = list[list[str]]


def read_note_file(
    path: Path, column: str, out: Path, lexicon: Lexicon | None, say: Say
) -> tuple[int, int]:
    """Read the notes in `column` of the CSV file, and write one row a row to `out`.

    `out` has the columns of the file, what the note was read as, and the words that each answer
    rests on. Gives back how many rows there were, and how many say if the net was damaged. Raises
    `SeasonUnusableError` where the file can't be read, `WrongUsageError` where `out` is in the way.
    """
    if out.resolve() == path.resolve() or (out.exists() and not _is_an_earlier_reading(out)):
        raise WrongUsageError(f"{out} is in the way; name another file with --out.")
    csv.field_size_limit(LONGEST_CELL)
    rows = told = 0
    with (
        path.open(encoding="utf-8-sig", newline="") as source,
        whole_file(out) as new,
        NoteReader(lexicon) as reader,
    ):
        names, batches = _rows_of(source, path)
        at = _place_of(column, names, path)
        writer = csv.writer(new, lineterminator="\n")
        writer.writerow([*(_own_name(name) for name in names), *LISTS_LAST])
        known: dict[str, list[Any]] = {}
        for batch, notes, cells, read in _one_ahead(_being_read(batches, at, reader, known)):
            fresh = {note: _as_text(each) for note, each in read}
            cells.update(fresh)
            if len(known) > MOST_REMEMBERED:
                known.clear()
            known.update(fresh)
            writer.writerows(
                [*_as_wide(row, len(names)), *cells[note]]
                for row, note in zip(batch, notes, strict=True)
            )
            rows += len(batch)
            told += sum(cells[note][DAMAGED] != "unknown" for note in notes)
            say(f"Reading notes: {rows:,}")
    return rows, told


def _being_read(
    batches: Iterable[Rows], at: int, reader: NoteReader, known: dict[str, list[Any]]
) -> Iterator[tuple[Rows, list[str], dict[str, list[Any]], Iterable[tuple[str, tuple[Any, ...]]]]]:
    """Each batch with its notes, the cells of those that are known, and the others as they come."""
    for batch in batches:
        notes = [row[at] if at < len(row) else "" for row in batch]
        distinct = dict.fromkeys(notes)
        cells = {note: known[note] for note in distinct if note in known}
        fresh = [note for note in distinct if note not in cells]
        yield batch, notes, cells, zip(fresh, reader.read(fresh), strict=True)


def _one_ahead(items: Iterable[Item]) -> Iterator[Item]:
    """The items, each given when the next has begun, so that nobody waits for the other."""
    before: list[Item] = []
    for item in items:
        yield from before
        before = [item]
    yield from before


def _is_an_earlier_reading(out: Path) -> bool:
    """Whether the file is what this wrote before, and may go."""
    if not out.is_file():
        return False
    with out.open(encoding="utf-8-sig", errors="replace", newline="") as file:
        names = next(csv.reader(file), [])
    return names[-len(LISTS_LAST) :] == LISTS_LAST


def _rows_of(source: TextIO, path: Path) -> tuple[list[str], Iterator[Rows]]:
    """The names of the columns, and the rows, some thousands at a time.

    An empty line is no row, but for a file of one column, where it is a blank note.
    """
    try:
        header = source.readline()
        separator = max(SEPARATORS, key=header.count)
        separator = separator if separator in header else NO_SEPARATOR
        names = next(csv.reader([header], delimiter=separator), [])
    except UnicodeDecodeError as error:
        raise SeasonUnusableError(NOT_UTF8.format(path.name)) from error
    return names, _batches(source, separator, len(names), path)


def _batches(source: TextIO, separator: str, width: int, path: Path) -> Iterator[Rows]:
    """The rows of the file, some thousands at a time, none with more cells than there are names."""
    reader = csv.reader(source, delimiter=separator, strict=True)
    rows = (row for row in reader if row or width == 1)
    try:
        while batch := list(islice(rows, ROWS_AT_A_TIME)):
            if any(len(row) > width for row in batch):
                wide = next(row for row in batch if len(row) > width)
                raise SeasonUnusableError(
                    f"{path.name} has a row of {len(wide)} cells under {width} names, "
                    f"{separator.join(wide)[:60]!r}; put a note with {separator!r} in it in quotes."
                )
            yield batch
    except UnicodeDecodeError as error:
        raise SeasonUnusableError(NOT_UTF8.format(path.name)) from error
    except csv.Error as error:
        raise SeasonUnusableError(
            f"{path.name} can't be read as CSV beyond line {reader.line_num + 1}: {error}; is a "
            "quote left open?"
        ) from error


def _place_of(column: str, names: Sequence[str], path: Path) -> int:
    """Which column has the notes."""
    if names.count(column) > 1:
        raise SeasonUnusableError(f"{path.name} has the column {column!r} twice; rename one.")
    if column not in names:
        raise SeasonUnusableError(
            f"{path.name} has no column {column!r}{did_you_mean(column, names)}; it has "
            f"{', '.join(names) or 'nothing'}."
        )
    return names.index(column)


def _own_name(name: str) -> str:
    """The name of a column of the file, told from those of the reading."""
    return f"{name} (in the file)" if name in COLUMNS else plain_cell(name)


def _as_wide(row: Sequence[str], width: int) -> list[str]:
    """The cells of the row, no more and no fewer than there are names."""
    return [*map(plain_cell, row[:width]), *[""] * (width - len(row))]


def _as_text(cells: tuple[Any, ...]) -> list[Any]:
    """The cells in the order of `LISTS_LAST`: unknown in words, no formula."""
    told = [plain_cell(cell) if isinstance(cell, str) else cell for cell in cells]
    told[0] = told[0] or "unknown"
    return [told[place] for place in PLACES]
