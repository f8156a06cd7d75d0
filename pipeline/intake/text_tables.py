"""Read one table as text, every row with where it came from; nothing is interpreted yet.

A frame of text has the file's own headers, and `source_file`, `source_row` (as a spreadsheet
numbers it, header included) and `unreadable` (why the row can't be taken apart, else null).
"""

from __future__ import annotations

import codecs
import csv
import gzip
import io
import re
import zlib
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

import polars as pl

from pipeline.intake.file_names import WORKBOOKS
from pipeline.intake.workbook import cells_of
from pipeline.plain_text import plain
from pipeline.problems import SeasonUnusableError
from schemas.column import SOURCE_COLUMNS
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from schemas.settings import Reading

SEPARATORS = (",", ";", "\t", "|")
csv.field_size_limit(2**31 - 1)
UNREADABLE = "unreadable"
OPEN_QUOTES = saying(
    "the cell under {} begins with a quotation mark and does not end with one; put one at its end, "
    "or take it out"
)
TOO_MANY_CELLS = saying(
    "has {} cells where the header has {}; put quotation marks around text that holds the separator"
)
REASONS = (OPEN_QUOTES, TOO_MANY_CELLS)
NUL = b"\0"
FEWEST_SEPARATORS = 2
"""Of a row that can be told from a note."""
LONGEST_CELL = 50
"""Lines that a cell within quotation marks may run over, where a file must be read row by row."""
SEPARATOR_LINE = re.compile(r'"?sep=(.)"?[,;\t|]*\n', re.IGNORECASE)
"""What some spreadsheets write above the headers."""
DAY_ALONE = r"^(\d{4}-\d\d-\d\d) 00:00:00$"
TIME_ALONE = r"^1899-12-3[01] (\d\d:\d\d:\d\d)$"
"""How a workbook's cells of a day, or of a time of day, come out as text: a time is of the day that
it counts from, and midnight is that day."""
MIDNIGHT_ALONE = r"^1899-12-3[01]$"


class EmptyTableError(SeasonUnusableError):
    """There is nothing in the file, or on the sheet."""


class RawTable(NamedTuple):
    """The rows of a file as text, and the row that its headers stand in."""

    frame: pl.DataFrame
    header_row: int


def read_text_table(path: Path, reading: Reading, sheet: str | None = None) -> RawTable:
    """The table in a text file, a Parquet file or a sheet of a workbook, as text.

    Raises `SeasonUnusableError` if the file cannot be read as what its name says it is.
    """
    if is_text(path):
        return _text_file(path, reading)
    if path.suffix.lower() != ".parquet":
        return _sheet(path, sheet, reading)
    frame = _parquet(path)
    _check_headers(frame.columns, path.name)
    return _located(_readable(frame), path, first_row=1)


def is_text(path: Path) -> bool:
    """Whether a file is text, by its name."""
    return path.suffix.lower() not in {".parquet", *WORKBOOKS}


def _readable(frame: pl.DataFrame) -> pl.DataFrame:
    """The rows, all of which can be taken apart."""
    return frame.with_columns(pl.lit(None, pl.String).alias(UNREADABLE))


def _empty(place: str) -> EmptyTableError:
    return EmptyTableError(
        f"{place} is empty: it has no header and no row; save it anew, or take it away."
    )


def _located(frame: pl.DataFrame, path: Path, first_row: int) -> RawTable:
    """The rows with their source; rows that are blank throughout are not rows."""
    cells = [name for name in frame.columns if name != UNREADABLE]
    located = (
        frame.with_row_index("source_row", offset=first_row)
        .with_columns(pl.col("source_row").cast(pl.Int64), pl.lit(path.name).alias("source_file"))
        .filter(
            pl.any_horizontal(
                (pl.col(cells) != "").fill_null(value=False), pl.col(UNREADABLE).is_not_null()
            )
        )
    )
    return RawTable(located, first_row - 1)


def _parquet(path: Path) -> pl.DataFrame:
    try:
        frame = pl.read_parquet(path)
    except (pl.exceptions.PolarsError, OSError) as error:
        raise SeasonUnusableError(f"{path.name} can't be read as a Parquet file.") from error
    kinds = frame.schema
    moments = [name for name, kind in kinds.items() if isinstance(kind, pl.Datetime)]
    decimals = [name for name, kind in kinds.items() if kind.is_float()]
    others = [name for name in kinds if name not in {*moments, *decimals}]
    return frame.with_columns(
        pl.col(moments).dt.to_string("%Y-%m-%d %H:%M:%S"),
        pl.col(decimals).cast(pl.String).str.strip_suffix(".0"),
        pl.col(others).cast(pl.String, strict=False),
    )


def _sheet(path: Path, sheet: str | None, reading: Reading) -> RawTable:
    """The rows of a sheet below the first that is not blank, which are numbered as they stand."""
    place = f"{path.name}, sheet {sheet!r}"
    cells = (
        cells_of(path, sheet)
        .with_columns(
            pl.col(pl.String)
            .str.replace(DAY_ALONE, "$1")
            .str.replace(MIDNIGHT_ALONE, "00:00:00")
            .str.replace(TIME_ALONE, "$1")
            .replace("", None)
        )
        .with_row_index("at")
    )
    filled = cells.slice(reading.skip_lines).filter(
        pl.any_horizontal(pl.exclude("at").is_not_null())
    )
    if filled.is_empty():
        raise _empty(place)
    at, *written = filled.row(0)
    headers = [(header or "").strip() for header in written]
    _check_headers(headers, place)
    frame = cells.slice(at + 1).drop("at")
    frame.columns = [header or f"column {number}" for number, header in enumerate(headers, start=1)]
    return _located(_readable(frame), path, first_row=at + 2)


def separator_of(path: Path, reading: Reading) -> str:
    """The sign between two cells of a text file.

    Raises `SeasonUnusableError` if it can't be read as text.
    """
    return _opened(path, reading).separator


class _Opened(NamedTuple):
    """The text of a file from its headers on, and the row that these stand in."""

    text: str
    separator: str
    header_row: int


def _text_file(path: Path, reading: Reading) -> RawTable:
    text, separator, header_row = _opened(path, reading)
    _check_headers(next(csv.reader([text.split("\n", 1)[0]], delimiter=separator)), path.name)
    return _located(_taken_apart(text, separator), path, first_row=header_row + 1)


def _opened(path: Path, reading: Reading) -> _Opened:
    text = _decoded(path, reading.encoding)
    lines_before = reading.skip_lines
    text = _after_lines(text, lines_before)
    said = SEPARATOR_LINE.match(text)
    if said:
        text = text[said.end() :]
        lines_before += 1
    blank = len(text) - len(text.lstrip("\r\n"))
    lines_before += text[:blank].count("\n")
    text = text[blank:]
    if not text.strip():
        raise _empty(path.name)
    separator = reading.separator or (said[1] if said else _likely_separator(text))
    return _Opened(text, separator, lines_before + 1)


def _taken_apart(text: str, separator: str) -> pl.DataFrame:
    try:
        frame = pl.read_csv(io.BytesIO(text.encode()), separator=separator, infer_schema=False)
    except pl.exceptions.PolarsError:
        return _row_by_row(text, separator)
    over_lines = frame.filter(pl.any_horizontal(pl.all().str.contains("\n", literal=True)))
    if any(_holds_rows(row, separator, frame.width) for row in over_lines.iter_rows()):
        return _row_by_row(text, separator)
    return _readable(frame)


def _decoded(path: Path, encoding: str) -> str:
    try:
        data = path.read_bytes()
        if path.suffix.lower() == ".gz":
            data = gzip.decompress(data)
    except (EOFError, zlib.error, gzip.BadGzipFile) as error:
        raise SeasonUnusableError(f"{path.name} is not a whole gzip file.") from error
    except OSError as error:
        raise SeasonUnusableError(f"{path.name} can't be opened: {error.strerror}.") from error
    wide = encoding.lower().replace("_", "-").startswith(("utf-16", "utf-32"))
    if NUL in data and not wide:
        if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
            raise SeasonUnusableError(
                f'{path.name} is written in UTF-16; say so with encoding = "utf-16" under read in '
                "season.toml, or save it as UTF-8."
            )
        raise SeasonUnusableError(
            f"{path.name} is not a text file; save it as CSV, or name it .xlsx or .parquet if it "
            "is one."
        )
    try:
        codecs.lookup(encoding)
        narrow = wide and NUL not in data
        text = data.decode("utf-8-sig" if narrow or _is_utf_8(data) else encoding)
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise SeasonUnusableError(
            f"{path.name}, row {line}: a letter is not in the encoding {encoding}; "
            'say which it is, such as encoding = "cp1252", under read in season.toml.'
        ) from error
    except LookupError as error:
        raise SeasonUnusableError(
            f"{path.name}: there is no encoding {encoding!r}; common ones are utf-8 and cp1252."
        ) from error
    except (UnicodeError, ValueError) as error:
        raise SeasonUnusableError(f"{path.name} can't be read as {encoding!r}.") from error
    return _with_plain_line_ends(plain(text))


def _is_utf_8(data: bytes) -> bool:
    """Whether there are letters beyond ASCII, and all are UTF-8, as hardly any other text is.

    So a file that another program wrote beside a log in an older encoding is read as it is.
    """
    if NUL in data or data.isascii():
        return False
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True


def _with_plain_line_ends(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _after_lines(text: str, lines: int) -> str:
    at = 0
    for _ in range(lines):
        end = text.find("\n", at)
        if end < 0:
            return ""
        at = end + 1
    return text[at:]


def _likely_separator(text: str) -> str:
    """The separator that the header line holds most of."""
    header = text.split("\n", 1)[0]
    return max(SEPARATORS, key=header.count)


def _check_headers(written: Iterable[str], place: str) -> None:
    headers = [header.strip() for header in written]
    taken = {*SOURCE_COLUMNS, UNREADABLE} & set(headers)
    if taken:
        raise SeasonUnusableError(
            f"{place}: the header {min(taken)!r} is used by the program itself; rename it."
        )
    twice = sorted({header for header in headers if header and headers.count(header) > 1})
    if twice:
        raise SeasonUnusableError(
            f"{place}: the header {twice[0]!r} stands twice; rename one of them."
        )


def _row_by_row(text: str, separator: str) -> pl.DataFrame:
    """The slow way, for files in which some row does not fit its header."""
    try:
        rows = list(csv.reader(io.StringIO(text), delimiter=separator, strict=True))
        open_quotes: list[str | None] = [None] * len(rows)
        torn = any(_holds_rows(row, separator, len(rows[0])) for row in rows)
    except csv.Error:
        torn = True
    if torn:
        rows, open_quotes = _rows_with_open_quotes(text, separator)
    headers, width = rows[0], len(rows[0])
    columns = {
        header: [row[at] if at < len(row) and row[at] != "" else None for row in rows[1:]]
        for at, header in enumerate(headers)
    }
    reasons = [
        open_quote
        or (TOO_MANY_CELLS.format(len(row), width) if any(map(str.strip, row[width:])) else None)
        for row, open_quote in zip(rows[1:], open_quotes[1:], strict=True)
    ]
    schema = dict.fromkeys([*headers, UNREADABLE], pl.String)
    return pl.DataFrame({**columns, UNREADABLE: reasons}, schema=schema)


def _rows_with_open_quotes(text: str, separator: str) -> tuple[list[list[str]], list[str | None]]:
    """Every row taken apart, and a word where it holds a quotation mark that is never closed.

    A cell that begins with a quotation mark may run over lines. One that is not closed, or whose
    row would then not fit the header or hold other rows, is taken to end with its own line, so that
    it takes no other row along.
    """
    lines = text.rstrip("\n").split("\n")
    headers = next(csv.reader([lines[0]], delimiter=separator))
    rows, open_quotes, at = [], [], 0
    while at < len(lines):
        row, ends = _row_from(lines, at, separator, len(headers))
        rows.append(row)
        open_quotes.append(
            OPEN_QUOTES.format(headers[_open_cell(lines[at], separator, len(headers))])
            if ends < 0
            else None
        )
        at = max(ends, at) + 1
    return rows, open_quotes


def _row_from(lines: list[str], start: int, separator: str, width: int) -> tuple[list[str], int]:
    """The row that begins on this line, and the line it ends on; −1 where a quote stays open."""
    if not lines[start].strip():
        return [], start
    for end in range(start, min(start + LONGEST_CELL, len(lines))):
        try:
            (row,) = csv.reader(
                io.StringIO("\n".join(lines[start : end + 1])), delimiter=separator, strict=True
            )
        except (csv.Error, ValueError):
            continue
        fits = len(row) in {width, width + 1} and not _holds_rows(row, separator, width)
        if end == start or fits:
            return row, end
    return next(csv.reader([lines[start]], delimiter=separator), []), -1


def _holds_rows(row: Iterable[str | None], separator: str, width: int) -> bool:
    """Whether a cell runs on into other rows, as its quotation mark was meant to end before them.

    Two lines of it that follow each other then have the separators of a row. Those of a note that
    was written over lines have a blank behind them.
    """
    between_cells = re.compile(rf"{re.escape(separator)}(?! )")
    return any(
        len(between_cells.findall(line)) + len(between_cells.findall(following))
        >= max(width - 1, FEWEST_SEPARATORS)
        for cell in row
        if cell is not None and "\n" in cell
        for line, following in pairwise(cell.split("\n"))
    )


def _open_cell(line: str, separator: str, width: int) -> int:
    """The number of the first cell that begins with a quotation mark and does not end with one."""
    sign = re.escape(separator)
    whole = re.compile(rf'(?:"(?:[^"]|"")*"|[^"{sign}][^{sign}]*|){sign}')
    cells, at = 0, 0
    while (found := whole.match(line, at)) and cells < width - 1:
        cells, at = cells + 1, found.end()
    return cells
