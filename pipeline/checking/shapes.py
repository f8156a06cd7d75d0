"""The pandera schema of each table, made from the columns in `schemas`."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.complete import time_skipped
from pipeline.checking.shape_reasons import (
    ABOVE,
    ABOVE_AND_THERE,
    BLANK,
    BLANK_BELOW,
    BLANK_TOW,
    LEAST,
    LEAST_AND_THERE,
    LONGER_THAN_A_TOW,
    MOST,
    MOST_AND_THERE,
    MOST_OF_LATITUDE,
    NO_HEADER,
    SKIPPED,
    UNKNOWN_ANSWER,
    UNKNOWN_WORD,
    UNKNOWN_WORDS,
    WORKED_OUT,
)
from pipeline.own_process import without
from pipeline.rows import REFUSAL_SCHEMA, ValueTable, filled_in, no_refusals
from schemas.types import TYPES
from schemas.words import UNKNOWN_GROUND, saying

NOT_FOR_US = ("pandas", "hypothesis")
"""pandera loads them wherever they are installed, for a second."""

with without(*NOT_FOR_US):
    import pandera.polars as pa
    from pandera.errors import SchemaErrors

if TYPE_CHECKING:
    from collections.abc import Collection

    from pandera.api.polars.types import PolarsData

    from schemas.column import Column, Table
    from schemas.settings import Settings


MAY_BE_BLANK = (ABOVE, LEAST, MOST)
OF_NO_USE_BLANK = (ABOVE_AND_THERE, LEAST_AND_THERE, MOST_AND_THERE)


def shape(table: Table, settings: Settings, blank: Collection[str] = ()) -> pa.DataFrameSchema:
    """What a good row of the table looks like; each check says in words what is wrong.

    Of columns that are blank throughout, and may be, there is nothing to check.
    """
    return pa.DataFrameSchema(
        {
            column.name: pa.Column(
                TYPES[column.kind],
                nullable=not column.required,
                checks=_checks(table, column, settings),
            )
            for column in table.columns
            if column.required or column.name not in blank
        }
    )


def shape_refusals(values: ValueTable, table: Table, settings: Settings) -> pl.DataFrame:
    """A refusal for every cell that the table's shape does not allow."""
    try:
        with without(*NOT_FOR_US):
            shape(table, settings, _blank_throughout(values.frame)).validate(
                values.frame, lazy=True
            )
    except SchemaErrors as errors:
        cases: pl.DataFrame = errors.failure_cases
    else:
        return no_refusals()
    cases = cases.select(
        pl.col("index").cast(pl.Int64).alias("row"),
        "column",
        pl.when(pl.col("check") != "not_nullable")
        .then(pl.col("check"))
        .when(pl.col("column") == "tow_hours")
        .then(pl.lit(BLANK_TOW))
        .when(pl.col("column").is_in(_without_header(values)))
        .then(filled_in(NO_HEADER.replace("{}", table.name, 1), "column"))
        .when(pl.col("column").is_in(_mostly_blank(values, table, settings)))
        .then(filled_in(BLANK_BELOW.replace("[{}]", f"[{table.name}]"), "column"))
        .otherwise(pl.lit(BLANK))
        .alias("reason"),
    )
    if table.name == "hauls":
        cases = cases.join(_hours_of_unread_times(values), on=["row", "reason"], how="anti")
    return pl.concat(
        [no_refusals()]
        + [
            _quoting(part, str(name), values, settings, table)
            for (name,), part in cases.group_by("column", maintain_order=True)
        ]
    )


def _without_header(values: ValueTable) -> set[str]:
    """The columns that the file lacks, and that nothing else filled in."""
    return _blank_throughout(values.frame) - set(values.found)


def _mostly_blank(values: ValueTable, table: Table, settings: Settings) -> set[str]:
    """The columns that may be written on the first row only of several.

    Rows of species that stand across in a log of hauls are read as those are.
    """
    if settings.source(table.name).across:
        return set()
    named = {column.name for column in table.columns if column.kind in {"text", "code", "word"}}
    blank = {name: values.frame[name].null_count() for name in named.intersection(values.found)}
    return {name for name, rows in blank.items() if 2 * rows >= values.frame.height > rows}


def _hours_of_unread_times(values: ValueTable) -> pl.DataFrame:
    """The rows without hours (row, reason) whose two times are written, and one can't be read.

    It is told of that time already; put right, it gives the hours.
    """
    written = [name for name in ("shot_at", "hauled_at") if name in values.text.columns]
    both = pl.all_horizontal(pl.lit(len(written) == 2), pl.col(written).is_not_null())
    unread = values.refusals.filter(pl.col("column").is_in(written))
    of_those = values.text.filter(both).join(unread, on="row", how="semi")
    return of_those.select("row", pl.lit(BLANK_TOW).alias("reason"))


def _blank_throughout(frame: pl.DataFrame) -> set[str]:
    return {column.name for column in frame if column.null_count() == frame.height}


def _quoting(
    cases: pl.DataFrame, name: str, values: ValueTable, settings: Settings, table: Table
) -> pl.DataFrame:
    """The cases with the cell as it stood in the file, and what that is in the column's unit."""
    text, column = values.text, table.column(name)
    cell = pl.col(name) if name in text.columns else pl.lit(None, pl.String)
    quoted = cases.join(text.select("row", cell.alias("value")), on="row", how="left")
    if name == "tow_hours":
        quoted = _said_of_hours(quoted, values.frame, settings.season.time_zone)
    unit = settings.source(table.name).column_source(name).unit
    if unit is None or unit == column.unit:
        return quoted.select(list(REFUSAL_SCHEMA))
    converted = values.frame.select("row", pl.col(name).round(2).alias("converted"))
    in_full = filled_in(f"{unit} ({{}} {column.unit}) {{}}", "converted", "reason")
    return (
        quoted.join(converted, on="row", how="left")
        .with_columns(
            pl.when(pl.col("value").is_null()).then("reason").otherwise(in_full).alias("reason")
        )
        .select(list(REFUSAL_SCHEMA))
    )


def _said_of_hours(cases: pl.DataFrame, hauls: pl.DataFrame, zone: str | None) -> pl.DataFrame:
    """What is wrong with hours towed; where no cell holds them, where they come from."""
    blank = pl.col("reason") == BLANK_TOW
    skipped = hauls.select("row", time_skipped(zone).dt.to_string("%Y-%m-%d %H:%M").alias("time"))
    by_the_clock = cases.join(skipped, on="row", how="left").with_columns(pl.lit(zone).alias("of"))
    return by_the_clock.with_columns(
        pl.when(blank & pl.col("time").is_not_null())
        .then(filled_in(SKIPPED, "time", "of"))
        .when(~blank & pl.col("value").is_null())
        .then(filled_in(WORKED_OUT, "reason"))
        .otherwise("reason")
        .alias("reason")
    )


def _checks(table: Table, column: Column, settings: Settings) -> list[pa.Check]:
    unit = f" {column.unit}" if column.unit else ""
    checks = []
    above, least, most = OF_NO_USE_BLANK if column.required else MAY_BE_BLANK
    if column.above is not None:
        checks.append(pa.Check.gt(column.above, error=above.format(f"{column.above:g}{unit}")))
    if column.least is not None:
        checks.append(pa.Check.ge(column.least, error=least.format(f"{column.least:g}{unit}")))
    if column.most is not None:
        reason = MOST_OF_LATITUDE if column.name == "latitude" else most
        checks.append(pa.Check.le(column.most, error=reason.format(f"{column.most:g}{unit}")))
    if column.words:
        words = (*column.words, *_own_words(column, settings))
        checks.append(_several(column) if column.kind == "words" else _one_of(column, words))
    if table.name == "hauls" and column.name == "tow_hours":
        longest = settings.checks.longest_tow_hours
        checks.append(pa.Check.le(longest, error=LONGER_THAN_A_TOW.format(f"{longest:g}")))
    if table.name == "hauls" and column.name == "hauled_at":
        checks.append(
            pa.Check(
                _hauled_after_shot,
                error=saying("is not after the haul was shot; put right shot_at or hauled_at"),
            )
        )
    return checks


def _one_of(column: Column, words: tuple[str, ...]) -> pa.Check:
    """Whether the cell is one of the words.

    The ground of a haul that says nothing of it is unknown, which nobody need write.
    """
    known = ", ".join(word for word in words if word in column.words or word != UNKNOWN_GROUND)
    if column.is_answer:
        return pa.Check.isin(words, error=UNKNOWN_ANSWER.format(known))
    return pa.Check.isin(words, error=UNKNOWN_WORD.format(column.name.replace("_", " "), known))


def _several(column: Column) -> pa.Check:
    """Whether the cell is some of the words, joined by a semicolon."""

    def each_known(data: PolarsData) -> pl.LazyFrame:
        each = pl.col(data.key).str.split(";").list.eval(pl.element().is_in(column.words))
        rows: pl.LazyFrame = data.lazyframe
        return rows.select(each.list.all().fill_null(value=True))

    return pa.Check(
        each_known,
        error=UNKNOWN_WORDS.format(", ".join(column.words)),
    )


def _own_words(column: Column, settings: Settings) -> tuple[str, ...]:
    """Words beside the trade's; a ground that was not recorded is unknown."""
    return (*settings.season.grounds, UNKNOWN_GROUND) if column.name == "ground" else ()


def _hauled_after_shot(data: PolarsData) -> pl.LazyFrame:
    after = pl.col("hauled_at") > pl.col("shot_at")
    rows: pl.LazyFrame = data.lazyframe
    return rows.select((after | pl.col("hauled_at").is_null()).fill_null(value=True))
