"""From text to values in the season's own units; what can't be read is refused with a reason.

A refusal is a row number of the table, the column, the text, and a reason that says what to do.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.intake.moments import moment, no_moment, written_in
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
AS_CORRECTED = saying(
    "is what {} puts there, and can't be read as the other cells of its column are; write it there "
    "as the log does, with its decimal sign or form of days"
)
REASONS = (AS_CORRECTED, NOT_WRITTEN_AS)


def parse_values(
    table: Table, source: TableSource, text: TextTable, own_words: tuple[str, ...] = ()
) -> ValueTable:
    """Every column of `table`, typed; a column that the file lacks is null throughout.

    `own_words` are words of the season's own, beside those that a `word` column knows.
    """
    decimal = source.read.decimal
    plain = _of_plain_numbers(table, text, decimal)
    parsed = [
        _reader(
            column,
            source.column_source(column.name),
            decimal,
            own_words,
            plain=column.name in plain,
        ).alias(column.name)
        if column.name in text.found
        else pl.lit(None, TYPES[column.kind]).alias(column.name)
        for column in table.columns
    ]
    frame = text.frame.select("row", "source_file", "source_row", *parsed, *text.kept)
    refusals = [
        _refused(
            text.frame.filter(pl.col(column.name).is_not_null() & frame[column.name].is_null()),
            column,
            source.column_source(column.name),
            decimal,
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
        for moment in [written_in(form, pl.col(column))]
    ]
    if not others:
        return pl.DataFrame(schema=OTHERWISE_SCHEMA)
    return text.select(
        pl.col("row").cast(pl.Int64),
        pl.lit(column).alias("column"),
        pl.coalesce(others).alias("other"),
    ).drop_nulls("other")


def _of_plain_numbers(table: Table, text: TextTable, decimal: str) -> set[str]:
    """The columns in which all cells are numbers and nothing more, which are quick to read."""
    names = [
        column.name
        for column in table.columns
        if column.kind in {"number", "count"} and column.name in text.found
    ]
    not_so = text.frame.select(
        pl.col(name).is_not_null() & _plain_number(pl.col(name), decimal).is_null()
        for name in names
    )
    return {column.name for column in not_so if not column.any()}


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


def _reader(
    column: Column, how: ColumnSource, decimal: str, own_words: tuple[str, ...], *, plain: bool
) -> pl.Expr:
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
            unit, times = how.unit or column.unit, how.times or 1.0
            return _number(cell, unit, column.unit, decimal, times, plain=plain)
        case "count":
            number = _number(cell, column.unit, column.unit, decimal, plain=plain)
            return pl.when(number == number.round()).then(number).cast(pl.Int64, strict=False)
        case _:
            return moment(cell, how.formats)


def _words(cell: pl.Expr, column: Column, own_words: tuple[str, ...]) -> pl.Expr:
    """A word as it is known; of several, each on its own: Fishing line, belly."""
    if column.kind == "word":
        short = YES_OR_NO if column.is_answer else {}
        return cell.replace(short | {word.lower(): word for word in (*column.words, *own_words)})
    joined = cell.str.replace_all(r"\s*[;,+]\s*", ";").str.strip_chars("; ")
    return joined.str.replace_all(r"[\s-]+", "_")


def _number(
    cell: pl.Expr,
    unit: str,
    column_unit: str,
    decimal: str,
    times: float = 1.0,
    *,
    plain: bool,
) -> pl.Expr:
    by_sixties = _hours_and_minutes(cell)
    if unit == "h:min":
        return by_sixties
    if unit == "degree minute":
        return _degrees_and_minutes(cell, decimal)
    known = UNITS.get(column_unit)
    if plain:
        number = _plain_number(cell, decimal)
        return number * times if known is None else number * known[unit] * times
    cell = cell.str.replace_many(FRACTIONS).str.strip_chars()
    if known is None:
        return _number_or_part(cell, decimal) * times
    in_unit = _number_or_part(cell, decimal) * known[unit] * times
    written = pl.coalesce(in_unit, _with_its_unit(cell, column_unit, decimal))
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


def _refused(rows: pl.DataFrame, column: Column, how: ColumnSource, decimal: str) -> pl.DataFrame:
    """The refusals of the cells of this column: why they can't be read, and what to do."""
    return refusal(rows, column.name, _reason(rows[column.name], column, how, decimal))


def _reason(cells: pl.Series, column: Column, how: ColumnSource, decimal: str) -> pl.Expr:
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
            return no_moment(cells, how.formats)
