"""A file of notes read, row for row, some thousands at a time."""

from __future__ import annotations

import csv
import re
from itertools import islice
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import TYPE_CHECKING, Any

from pipeline.nearest import did_you_mean
from pipeline.notes.many import NoteReader
from pipeline.notes.read_notes import READING_SCHEMA, cells_of
from pipeline.problems import SeasonUnusableError, WrongUsageError

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from typing import TextIO

    from pipeline.clock import Say
    from pipeline.notes.lexicon import Lexicon

ROWS_AT_A_TIME = 20_000
LONGEST_CELL = 10_000_000
"""Letters of the longest cell that is read."""
SEPARATORS = ",;\t|"

RUNS = re.compile(r"[=+@\-\t\r＝＋－＠]")
"""What a spreadsheet would take for the head of a formula."""

LISTS_LAST = sorted(READING_SCHEMA, key=lambda name: name.endswith(("_words", "_sure")))
"""The answers, then the words that they rest on."""


def read_note_file(
    path: Path, column: str, out: Path, lexicon: Lexicon | None, say: Say
) -> tuple[int, int]:
    """Read the notes in `column` of the CSV file, and write one row a row to `out`.

    `out` has the note, what it was read as, and the words that each answer rests on. Gives back
    how many rows there were, and in how many the net was damaged or not is told. Raises
    `SeasonUnusableError` where the file can't be read, `WrongUsageError` where `out` is in the way.
    """
    if out.is_dir() or out.resolve() == path.resolve():
        raise WrongUsageError(f"{out} is in the way; name another file with --out.")
    csv.field_size_limit(LONGEST_CELL)
    rows = told = 0
    with (
        path.open(encoding="utf-8-sig", newline="") as source,
        NamedTemporaryFile(
            "w", encoding="utf-8", newline="", dir=out.parent, prefix=f".{out.name}-", delete=False
        ) as new,
        NoteReader(lexicon) as reader,
    ):
        try:
            writer = csv.DictWriter(new, [column, *LISTS_LAST], lineterminator="\n")
            writer.writeheader()
            for notes in _batches(source, path, column):
                written = _written(notes, column, reader)
                writer.writerows(written)
                rows += len(written)
                told += sum(row["damaged"] != "unknown" for row in written)
                say(f"Reading notes: {rows:,}")
        except BaseException:
            Path(new.name).unlink()
            raise
    Path(new.name).replace(out)
    return rows, told


def _batches(source: TextIO, path: Path, column: str) -> Iterator[list[str]]:
    """The notes of the file, some thousands at a time."""
    try:
        header = source.readline()
        separator = max(SEPARATORS, key=header.count)
        names = next(csv.reader([header], delimiter=separator), [])
        if column not in names:
            raise SeasonUnusableError(
                f"{path.name} has no column {column!r}{did_you_mean(column, names)}; it has "
                f"{', '.join(names) or 'nothing'}."
            )
        at = names.index(column)
        cells = (
            row[at] if at < len(row) else "" for row in csv.reader(source, delimiter=separator)
        )
        while batch := list(islice(cells, ROWS_AT_A_TIME)):
            yield batch
    except UnicodeDecodeError as error:
        raise SeasonUnusableError(f"{path.name} is not UTF-8 text; save it as UTF-8.") from error
    except csv.Error as error:
        raise SeasonUnusableError(f"{path.name} can't be read as CSV: {error}.") from error


def _written(notes: Sequence[str], column: str, reader: NoteReader) -> list[dict[str, Any]]:
    """The rows for some notes; each distinct note is read once."""
    distinct = list(dict.fromkeys(notes))
    cells = {
        note: _as_text(cells_of(reading))
        for note, reading in zip(distinct, reader.read(distinct), strict=True)
    }
    return [{column: _plain_cell(note), **cells[note]} for note in notes]


def _as_text(cells: dict[str, Any]) -> dict[str, Any]:
    """The cells as they are written: unknown in words, hours to four decimals, no formula."""
    written = {
        name: _plain_cell(value) if isinstance(value, str) else value
        for name, value in cells.items()
    }
    return {**written, "damaged": cells["damaged"] or "unknown"}


def _plain_cell(text: str) -> str:
    """Text that a spreadsheet would run marked as text by a quote."""
    return f"'{text}" if RUNS.match(text) else text
