"""Read one table as text, every row with where it came from; nothing is interpreted yet.

A frame of text has the file's own headers, and `source_file`, `source_row` (as a spreadsheet
numbers it, header included) and `unreadable` (why the row can't be taken apart, else null).
"""

from __future__ import annotations

import codecs
import csv
import gzip
import io
import zlib
from typing import TYPE_CHECKING, NamedTuple

import polars as pl

from pipeline.plain_text import plain
from pipeline.problems import SeasonUnusableError
from schemas.column import SOURCE_COLUMNS
from schemas.words import saying

if TYPE_CHECKING:
    from pathlib import Path

    from schemas.settings import Reading

SEPARATORS = (",", ";", "\t", "|")
csv.field_size_limit(2**31 - 1)
UNREADABLE = "unreadable"
OPEN_QUOTES = saying("a quotation mark is opened and not closed")
TOO_MANY_CELLS = saying(
    "has {} cells where the header has {}; put quotation marks around text that holds the separator"
)
REASONS = (TOO_MANY_CELLS,)
NUL = b"\0"
LONGEST_CELL = 50
"""Lines that a cell within quotation marks may run over, where a file must be read row by row."""
DAY_ALONE = r"^(\d{4}-\d\d-\d\d) 00:00:00$"
TIME_ALONE = r"^1899-12-3[01] (\d\d:\d\d:\d\d)$"
"""How a workbook's cells of a day, or of a time of day, come out as text."""


class RawTable(NamedTuple):
    """The rows of a file as text, and the row that its headers stand in."""

    frame: pl.DataFrame
    header_row: int


def read_text_table(path: Path, reading: Reading, sheet: str | None = None) -> RawTable:
    """The table in a text file, a Parquet file or a sheet of a workbook, as text.

    Raises `SeasonUnusableError` if the file cannot be read as what its name says it is.
    """
    match path.suffix.lower():
        case ".parquet":
            frame = _parquet(path)
            first_row = 1
        case ".xlsx" | ".xlsm" | ".xls" | ".ods":
            frame = _sheet(path, sheet, reading)
            first_row = reading.skip_lines + 2
        case _:
            return _text_file(path, reading)
    _refuse_our_own_headers(frame.columns, path)
    return _located(frame.with_columns(pl.lit(None, pl.String).alias(UNREADABLE)), path, first_row)


def _refuse_our_own_headers(headers: list[str], path: Path) -> None:
    taken = {*SOURCE_COLUMNS, UNREADABLE} & set(headers)
    if taken:
        raise SeasonUnusableError(
            f"{path.name}: the header {min(taken)!r} is used by the program itself; rename it."
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


def _sheet(path: Path, sheet: str | None, reading: Reading) -> pl.DataFrame:
    try:
        frame: pl.DataFrame = pl.read_excel(
            path,
            sheet_name=sheet,
            infer_schema_length=0,
            drop_empty_rows=False,
            drop_empty_cols=False,
            read_options={"header_row": reading.skip_lines},
        )
    except Exception as error:
        raise SeasonUnusableError(
            f"{path.name}: sheet {sheet!r} can't be read from this workbook."
        ) from error
    return frame.with_columns(
        pl.col(pl.String)
        .str.replace(DAY_ALONE, "$1")
        .str.replace(TIME_ALONE, "$1")
        .replace("", None)
    )


def _text_file(path: Path, reading: Reading) -> RawTable:
    text = _decoded(path, reading.encoding)
    lines_before = reading.skip_lines
    text = _after_lines(text, lines_before)
    blank = len(text) - len(text.lstrip("\r\n"))
    lines_before += text[:blank].count("\n")
    text = text[blank:]
    if not text.strip():
        raise SeasonUnusableError(
            f"{path.name} is empty: it has no header and no row; save it anew, or take it away."
        )
    separator = reading.separator or _likely_separator(text)
    _check_headers(text, separator, path)
    try:
        frame = pl.read_csv(
            io.BytesIO(text.encode()), separator=separator, infer_schema=False
        ).with_columns(pl.lit(None, pl.String).alias(UNREADABLE))
    except pl.exceptions.PolarsError:
        frame = _row_by_row(text, separator)
    return _located(frame, path, first_row=lines_before + 2)


def _decoded(path: Path, encoding: str) -> str:
    try:
        data = gzip.decompress(path.read_bytes()) if path.suffix == ".gz" else path.read_bytes()
    except (EOFError, zlib.error, gzip.BadGzipFile) as error:
        raise SeasonUnusableError(f"{path.name} is not a whole gzip file.") from error
    except OSError as error:
        raise SeasonUnusableError(f"{path.name} can't be opened: {error.strerror}.") from error
    if NUL in data and not encoding.lower().replace("_", "-").startswith(("utf-16", "utf-32")):
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
        text = data.decode("utf-8-sig" if encoding.lower() in {"utf-8", "utf8"} else encoding)
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


def _check_headers(text: str, separator: str, path: Path) -> None:
    headers = [
        header.strip() for header in next(csv.reader([text.split("\n", 1)[0]], delimiter=separator))
    ]
    _refuse_our_own_headers(headers, path)
    twice = sorted({header for header in headers if header and headers.count(header) > 1})
    if twice:
        raise SeasonUnusableError(
            f"{path.name}: the header {twice[0]!r} stands twice; rename one of them."
        )


def _row_by_row(text: str, separator: str) -> pl.DataFrame:
    """The slow way, for files in which some row does not fit its header."""
    try:
        rows = list(csv.reader(io.StringIO(text), delimiter=separator, strict=True))
        quotes_open = [False] * len(rows)
    except csv.Error:
        rows, quotes_open = _rows_with_open_quotes(text, separator)
    headers, width = rows[0], len(rows[0])
    columns = {
        header: [row[at] if at < len(row) and row[at] != "" else None for row in rows[1:]]
        for at, header in enumerate(headers)
    }
    reasons = [
        OPEN_QUOTES
        if is_open
        else TOO_MANY_CELLS.format(len(row), width)
        if len(row) > width
        else None
        for row, is_open in zip(rows[1:], quotes_open[1:], strict=True)
    ]
    schema = dict.fromkeys([*headers, UNREADABLE], pl.String)
    return pl.DataFrame({**columns, UNREADABLE: reasons}, schema=schema)


def _rows_with_open_quotes(text: str, separator: str) -> tuple[list[list[str]], list[bool]]:
    """Every row taken apart, and whether it holds a quotation mark that is never closed.

    A cell that begins with a quotation mark may run over lines. One that is not closed, or whose
    row would then not fit the header, is taken to end with its own line, so that it takes no other
    row along.
    """
    lines = text.rstrip("\n").split("\n")
    width = len(next(csv.reader([lines[0]], delimiter=separator)))
    rows, quotes_open, at = [], [], 0
    while at < len(lines):
        row, ends = _row_from(lines, at, separator, width)
        rows.append(row)
        quotes_open.append(ends < 0)
        at = max(ends, at) + 1
    return rows, quotes_open


def _row_from(lines: list[str], start: int, separator: str, width: int) -> tuple[list[str], int]:
    """The row that begins on this line, and the line it ends on; −1 where a quote stays open."""
    for end in range(start, min(start + LONGEST_CELL, len(lines))):
        try:
            (row,) = csv.reader(
                io.StringIO("\n".join(lines[start : end + 1])), delimiter=separator, strict=True
            )
        except (csv.Error, ValueError):
            continue
        if end == start or len(row) in {width, width + 1}:
            return row, end
    return next(csv.reader([lines[start]], delimiter=separator), []), -1
