"""From text to values in the season's own units; what can't be read is refused with a reason.

A refusal is a row number of the table, the column, the text, and a reason that says what to do.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import polars as pl

from pipeline.intake.text_tables import UNREADABLE
from pipeline.intake.units import UNITS, factors_of_spellings
from pipeline.rows import OTHERWISE_SCHEMA, ValueTable, filled_in, no_refusals, refusal
from schemas.types import TYPES
from schemas.words import FRACTIONS, saying

if TYPE_CHECKING:
    from pipeline.rows import TextTable
    from schemas.column import Column, Table
    from schemas.settings import ColumnSource, TableSource

YES_AND_NO = {
    **dict.fromkeys(("yes", "y", "true", "1", "1.0", "sí", "si", "verdadero"), True),
    **dict.fromkeys(("no", "n", "false", "0", "0.0", "falso"), False),
}
"""As they are written in the languages of the pages; a spreadsheet's own in both."""

YES_OR_NO = {written: "yes" if answer else "no" for written, answer in YES_AND_NO.items()}
"""The same as words, where another word may stand too."""

PART = {"1/2": 0.5, "1/4": 0.25, "3/4": 0.75}
"""As they are written by hand; thirds would have to be rounded."""
WITH_A_PART = rf"-?\s*(?:\d+\s+)?(?:{'|'.join(PART)})"
WHOLE_AND_PART = rf"^(-?)\s*(?:(\d+)\s+)?({'|'.join(PART)})$"
NUMBER_AND_UNIT = rf"^(-?\d[\d.,]*|{WITH_A_PART})\s*([^\d\s.,/][^\d.,]*?)\.?$"

MINUTES = 60.0
"""Minutes in an hour, and in a degree."""

NEITHER = saying("is neither yes nor no; write one of them, or map it with words")
NOT_WRITTEN_AS = saying("is not written as {}; put it right in the file")
DECIMAL_COMMA = saying(
    "has a decimal comma where the file is said to use '.'; put it right, or say decimal = ',' "
    "under read in season.toml"
)
DECIMAL_POINT = saying(
    "has a decimal point where the file is said to use ','; put it right, or say decimal = '.' "
    "under read in season.toml"
)
NO_WHOLE_NUMBER = saying("is not a whole number; write a whole number or leave the cell blank")
NO_NUMBER = saying("is not a number; write a number or leave the cell blank")
NO_SUCH_TIME = saying("is not a day and time that exists, written as {}")
OTHERWISE_WRITTEN = saying(
    "is not a day and time written as {}; put it right, or say under the table's columns in "
    'season.toml how it is written, as in format = "%d/%m/%Y %H:%M"'
)
NOT_AS_SAID = saying(
    "can't be read as a day and time written as {}; put it right, or where the column has a "
    "further way of writing them, make format in season.toml a list of both"
)
NUMBERED_DAY = saying(
    "is a day and time as a spreadsheet counts them; give the column the form of a date there, and "
    "save it anew"
)
AS_CORRECTED = saying(
    "is what {} puts there, and can't be read as the other cells of its column are; write it there "
    "as the log does, with its decimal sign or form of days"
)
REASONS = (AS_CORRECTED, NOT_WRITTEN_AS, NO_SUCH_TIME, OTHERWISE_WRITTEN, NOT_AS_SAID)

PLAIN_DAY, PLAIN_TIME = "%Y-%m-%d", "%H:%M:%S"
PLAIN_MOMENT = "2031-03-04 05:30"
AS_PLAIN_MOMENT = r"^\d{4}-\d\d-\d\d(?:[ T]\d\d:\d\d(?::\d\d)?)?Z?$"
FIGURES = {"%Y": r"\d{4}", **dict.fromkeys(("%d", "%m", "%y", "%H", "%M", "%S"), r"\d{1,2}")}
"""The signs of a form that stand for figures, and what is written in their place."""
HOURS_AND_MINUTES = "%H%M"
"""A time of day without a sign in it: a number to a spreadsheet, which leaves out its first
noughts."""
PLAIN_FORMATS = (f"{PLAIN_DAY} {PLAIN_TIME}", f"{PLAIN_DAY} %H:%M", PLAIN_DAY)


def parse_values(
    table: Table, source: TableSource, text: TextTable, own_words: tuple[str, ...] = ()
) -> ValueTable:
    """Every column of `table`, typed; a column that the file lacks is null throughout.

    `own_words` are words of the season's own, beside those that a `word` column knows.
    """
    decimal = source.read.decimal
    parsed = [
        _reader(column, source.column_source(column.name), decimal, own_words).alias(column.name)
        if column.name in text.found
        else pl.lit(None, TYPES[column.kind]).alias(column.name)
        for column in table.columns
    ]
    frame = text.frame.select("row", "source_file", "source_row", *parsed, *text.kept)
    refusals = [
        refusal(
            text.frame.filter(pl.col(column.name).is_not_null() & frame[column.name].is_null()),
            column.name,
            _reason(column, source.column_source(column.name), decimal),
        )
        for column in table.columns
        if column.name in text.found
        # A blank cell has no value: where no more values than cells are missing, all were read.
        and frame[column.name].null_count() > text.frame[column.name].null_count()
    ]
    told = pl.concat([_unreadable_rows(text.frame), *refusals])
    told = _told_of_corrections(told, text.corrected)
    otherwise = [
        _read_otherwise(column.name, source.column_source(column.name).formats, text.frame, frame)
        for column in table.columns
        if column.name in text.found and TYPES[column.kind] == pl.Datetime("us")
    ]
    other_days = pl.concat([pl.DataFrame(schema=OTHERWISE_SCHEMA), *otherwise])
    return ValueTable(frame, text.frame, text.found, text.kept, told, other_days)


def _read_otherwise(
    column: str, formats: tuple[str, ...], text: pl.DataFrame, read: pl.DataFrame
) -> pl.DataFrame:
    """The moments that another of the forms reads as another day: 07/03 by day or by month."""
    others = [
        pl.when(moment.dt.date() != read[column].dt.date()).then(moment)
        for form in formats[1:]
        for moment in [pl.coalesce(*(_written_as(way, pl.col(column)) for way in _ways_of(form)))]
    ]
    if not others:
        return pl.DataFrame(schema=OTHERWISE_SCHEMA)
    return text.select(
        pl.col("row").cast(pl.Int64),
        pl.lit(column).alias("column"),
        pl.coalesce(others).alias("other"),
    ).drop_nulls("other")


def _told_of_corrections(refusals: pl.DataFrame, corrected: pl.DataFrame) -> pl.DataFrame:
    """The refusals; of a cell that a correction put there it is the correction that is to blame."""
    if corrected.is_empty():
        return refusals
    return refusals.join(corrected, on=["row", "column"], how="left", maintain_order="left").select(
        "row",
        "column",
        "value",
        pl.when(pl.col("place").is_null())
        .then("reason")
        .otherwise(filled_in(AS_CORRECTED, "place"))
        .alias("reason"),
    )


def _unreadable_rows(text: pl.DataFrame) -> pl.DataFrame:
    unreadable = text.filter(pl.col(UNREADABLE).is_not_null())
    return refusal(unreadable, None, pl.col(UNREADABLE)) if unreadable.height else no_refusals()


def _reader(column: Column, how: ColumnSource, decimal: str, own_words: tuple[str, ...]) -> pl.Expr:
    cell = pl.col(column.name)
    match column.kind:
        case "text" | "code":
            return cell.str.to_uppercase() if column.kind == "code" else cell
        case "word" | "words":
            return _words(cell.str.to_lowercase(), column, own_words)
        case "yes or no":
            answer = cell.str.to_lowercase()
            return answer.replace_strict(YES_AND_NO, default=None, return_dtype=pl.Boolean)
        case "number":
            return _number(cell, how.unit or column.unit, column.unit, decimal, how.times or 1.0)
        case "count":
            number = _number(cell, column.unit, column.unit, decimal)
            return pl.when(number == number.round()).then(number).cast(pl.Int64, strict=False)
        case _:
            return _moment(cell, how.formats)


def _words(cell: pl.Expr, column: Column, own_words: tuple[str, ...]) -> pl.Expr:
    """A word as it is known; of several, each on its own: Fishing line, belly."""
    if column.kind == "word":
        short = YES_OR_NO if column.is_answer else {}
        return cell.replace(short | {word.lower(): word for word in (*column.words, *own_words)})
    joined = cell.str.replace_all(r"\s*[;,+]\s*", ";").str.strip_chars("; ")
    return joined.str.replace_all(r"[\s-]+", "_")


def _number(
    cell: pl.Expr, unit: str, column_unit: str, decimal: str, times: float = 1.0
) -> pl.Expr:
    by_sixties = _hours_and_minutes(cell)
    if unit == "h:min":
        return by_sixties
    if unit == "degree minute":
        return _degrees_and_minutes(cell, decimal)
    cell = cell.str.replace_many(FRACTIONS).str.strip_chars()
    known = UNITS.get(column_unit)
    if known is None:
        return _number_or_part(cell, decimal) * times
    plain = _number_or_part(cell, decimal) * known[unit] * times
    written = pl.coalesce(plain, _with_its_unit(cell, column_unit, decimal))
    return pl.coalesce(written, by_sixties) if unit == "h" else written


def _with_its_unit(cell: pl.Expr, column_unit: str, decimal: str) -> pl.Expr:
    """A number with a unit behind it, as `45 fm`, whatever unit the column is said to be in."""
    written = cell.str.extract_groups(NUMBER_AND_UNIT).struct
    spelling = written[1].str.to_lowercase()
    factor = spelling.replace_strict(
        factors_of_spellings(column_unit), default=None, return_dtype=pl.Float64
    )
    return _number_or_part(written[0], decimal) * factor


def _number_or_part(text: pl.Expr, decimal: str) -> pl.Expr:
    """A number, or one that ends with a half or a quarter, as `2 1/2`."""
    written = text.str.extract_groups(WHOLE_AND_PART).struct
    part = written[2].replace_strict(PART, default=None, return_dtype=pl.Float64)
    size = written[1].cast(pl.Float64, strict=False).fill_null(0.0) + part
    below_zero = pl.when(written[0] == "-").then(-size).otherwise(size)
    return pl.coalesce(_plain_number(text, decimal), below_zero)


def _plain_number(text: pl.Expr, decimal: str) -> pl.Expr:
    """A finite number written with this decimal sign and no other."""
    if decimal == ",":
        text = pl.when(~text.str.contains(".", literal=True)).then(text.str.replace(",", "."))
    number = text.cast(pl.Float64, strict=False)
    return pl.when(number.is_finite()).then(number)


def _hours_and_minutes(cell: pl.Expr) -> pl.Expr:
    parts = cell.str.extract_groups(r"^(\d{1,3}):([0-5]\d)(?::[0-5]\d)?$")
    return parts.struct[0].cast(pl.Float64) + parts.struct[1].cast(pl.Float64) / MINUTES


def _degrees_and_minutes(cell: pl.Expr, decimal: str) -> pl.Expr:
    """`57 51.2 N` and its like: degrees, minutes with their decimals, and the half of the world."""
    parts = cell.str.extract_groups(
        r"^(-?)(\d{1,3})[°º\s]\s*(\d{1,2}(?:[.,]\d+)?)['′]?\s*([NSEWnsew]?)$"
    )
    minutes = _plain_number(parts.struct[2], decimal)
    size = parts.struct[1].cast(pl.Float64) + pl.when(minutes < MINUTES).then(minutes) / MINUTES
    south_or_west = (parts.struct[0] == "-") | parts.struct[3].str.to_uppercase().is_in(["S", "W"])
    return pl.when(south_or_west).then(-size).otherwise(size)


def _moment(cell: pl.Expr, formats: tuple[str, ...]) -> pl.Expr:
    plain = cell.str.replace("T", " ", literal=True).str.strip_suffix("Z")
    # A workbook's own dates are plain, whatever is said of those typed in as text.
    return pl.coalesce(
        *(_written_as(form, cell) for said in formats for form in _ways_of(said)),
        *(_written_as(form, plain) for form in PLAIN_FORMATS),
    )


def _written_as(form: str, cell: pl.Expr) -> pl.Expr:
    moment = _with_its_noughts(form, cell).str.to_datetime(form, strict=False, time_unit="us")
    # A year of two figures is read as one of the first century where four are said to stand.
    return pl.when(moment.dt.year().is_between(1000, 9999)).then(moment)


def _with_its_noughts(form: str, cell: pl.Expr) -> pl.Expr:
    """The cell with the noughts before its hours and minutes that a spreadsheet left out.

    605 is 06:05 and 45 is 00:45; taken as it stands, 105 would be five past ten.
    """
    before, sign, after = form.partition(HOURS_AND_MINUTES)
    if not sign or f"{before[-1:]}{after[:1]}".strip():
        return cell
    words_before = len(before.split())
    parts = cell.str.extract_groups(
        rf"^((?:\S+\s+){{{words_before}}})(\d{{1,3}})((?:\s.*)?)$"
    ).struct
    filled_up = pl.concat_str(parts[0], parts[1].str.zfill(4), parts[2])
    return pl.coalesce(filled_up, cell)


def _ways_of(written_as: str) -> tuple[str, ...]:
    """The form as it is said, and with a workbook's own day or time in its place.

    Day and time stand in two columns often, of which one may be typed in as text.
    """
    day, gap, time = written_as.rpartition(" ")
    if not gap or "%H" in day or "%H" not in time:
        return (written_as,)
    return (written_as, f"{day} {PLAIN_TIME}", f"{PLAIN_DAY} {time}")


def _reason(column: Column, how: ColumnSource, decimal: str) -> pl.Expr:
    """Why a cell of this column can't be read, and what to do."""
    cell = pl.col(column.name)
    match column.kind:
        case "yes or no":
            return pl.lit(NEITHER)
        case "number" | "count" if how.unit in {"h:min", "degree minute"}:
            return pl.lit(NOT_WRITTEN_AS.format(how.unit))
        case "number" | "count":
            other, decimals = (".", DECIMAL_POINT) if decimal == "," else (",", DECIMAL_COMMA)
            plain = NO_WHOLE_NUMBER if column.kind == "count" else NO_NUMBER
            return (
                pl.when(cell.str.contains(rf"^-?\d+\{other}\d+$"))
                .then(pl.lit(decimals))
                .otherwise(pl.lit(plain))
            )
        case _:
            return _no_moment(cell, how.formats)


def _no_moment(cell: pl.Expr, formats: tuple[str, ...]) -> pl.Expr:
    said, otherwise = ", ".join(formats), OTHERWISE_WRITTEN.format(PLAIN_MOMENT)
    counted = cell.str.contains(r"^\d{5}(\.\d+)?$")
    as_said = [
        _with_its_noughts(form, cell).str.contains(_looks_of(form))
        for written in formats
        for form in _ways_of(written)
    ]
    return (
        pl.when(counted)
        .then(pl.lit(NUMBERED_DAY))
        .when(pl.any_horizontal(pl.lit(value=False), *as_said))
        .then(pl.lit(NO_SUCH_TIME.format(said)))
        .when(cell.str.contains(AS_PLAIN_MOMENT))
        .then(pl.lit(NO_SUCH_TIME.format(PLAIN_MOMENT)))
        .otherwise(pl.lit(NOT_AS_SAID.format(said) if formats else otherwise))
    )


def _looks_of(form: str) -> str:
    """A pattern of what is written so, whether or not there is such a day and time."""
    written = [
        FIGURES.get(piece, r"\S+") if piece.startswith("%") else re.escape(piece)
        for piece in re.split("(%.)", form)
    ]
    return f"^{''.join(written)}$"
