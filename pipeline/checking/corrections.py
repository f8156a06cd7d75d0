"""Put right the cells that a person has corrected, by name and with a reason."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

import polars as pl

from pipeline.nearest import did_you_mean
from pipeline.rows import filled_in, no_refusals, refusal
from schemas.hauls import HAUL_KEY
from schemas.tables import TABLES
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.rows import TextTable, ValueTable

CORRECTIONS = "corrections"

NO_TABLE = saying("is of a table {} that this season does not have")
NO_COLUMN = saying("is no column of {}")
NO_KEY = saying("can't be found: the rows of {} have no key in their file")
NO_ROW = saying("is the key of no row of {}")
OF_SEVERAL = saying(
    "is short of {}, so that {} rows of {} have it; write the whole key, such as {}"
)
OTHER_TEXT = saying("is not what the cell says; it says '{}'")
REASONS = (NO_TABLE, NO_COLUMN, NO_KEY, NO_ROW, OF_SEVERAL, OTHER_TEXT)


Complete = Callable[[dict[str, "TextTable"]], dict[str, "ValueTable"]]
"""From tables as they are written, hauls among them, to the same with every key filled in."""


def correct(
    texts: dict[str, TextTable], complete: Complete
) -> tuple[dict[str, TextTable], pl.DataFrame]:
    """The tables with their corrections made, and a refusal for each that could not be.

    A correction holds for the rows whose key, its parts joined by `/`, is the one it names, and
    only where the cell still says what the correction says it did. What a table has no column for
    stands in its key as `complete` fills it in, and may be left out where one row alone is meant.
    """
    if CORRECTIONS not in texts:
        return texts, no_refusals()
    columns = TABLES[CORRECTIONS].column_names
    wanted = texts[CORRECTIONS].frame
    wanted = wanted.with_columns(
        pl.lit(None, pl.String).alias(name) for name in columns if name not in wanted.columns
    )
    corrected, refusals = dict(texts), []
    filled_in_keys: dict[str, pl.DataFrame] = {}
    for (table_name, column), group in _sound(wanted).group_by(
        "table", "column", maintain_order=True
    ):
        problem = _unknown_place(str(table_name), str(column), texts)
        if problem:
            refusals.append(refusal(group, "column", problem))
            continue
        name = str(table_name)
        if name not in filled_in_keys:
            filled_in_keys[name] = _filled_in_keys(name, texts, complete)
        keys = _keys_of(name, corrected[name], filled_in_keys[name])
        corrected[name], refused = _correct_column(corrected[name], name, str(column), group, keys)
        refusals.append(refused)
    return corrected, pl.concat([no_refusals(), *refusals])


def _sound(wanted: pl.DataFrame) -> pl.DataFrame:
    """The corrections that are whole and contradict no other; the check names the rest."""
    table = TABLES[CORRECTIONS]
    required = [column.name for column in table.columns if column.required]
    said = pl.struct(table.column_names).n_unique().over(list(table.key))
    return wanted.drop_nulls(required).filter(said == 1)


def _unknown_place(table: str, column: str, texts: dict[str, TextTable]) -> str | None:
    if table not in texts or table == CORRECTIONS:
        return NO_TABLE.format(repr(table))
    if column not in texts[table].found:
        return NO_COLUMN.format(f"{table}{did_you_mean(column, texts[table].found)}")
    return None


def _filled_in_keys(table: str, texts: dict[str, TextTable], complete: Complete) -> pl.DataFrame:
    """Of each `row` those parts of its key that its own file has no column for."""
    lacking = [
        name for name in TABLES[table].key if name in HAUL_KEY and name not in texts[table].found
    ]
    if not lacking:
        return texts[table].frame.select("row")
    needed = {name: texts[name] for name in ("hauls", "vessels", table) if name in texts}
    return complete(needed)[table].frame.select("row", *lacking)


def _keys_of(table: str, text: TextTable, filled: pl.DataFrame) -> pl.DataFrame:
    """Of each `row` its key, and `short`, what it is without the `lacking` parts of it."""
    lacking = [name for name in filled.columns if name != "row"]
    found = [name for name in TABLES[table].key if name in text.found]
    whole = [name for name in TABLES[table].key if name in (*found, *lacking)]
    rows = text.frame.select("row", *found).join(filled, on="row", maintain_order="left")
    return rows.select(
        "row",
        _joined(whole).alias("key"),
        _joined(found).alias("short"),
        pl.lit(" and ".join(lacking)).alias("lacking"),
    )


def _joined(names: list[str]) -> pl.Expr:
    return pl.concat_str(names, separator="/") if names else pl.lit(None, pl.String)


def _rows_meant(
    wanted: pl.DataFrame, keys: pl.DataFrame, table: str
) -> tuple[pl.DataFrame, pl.DataFrame]:
    """Each correction with the row that it is of, once for each, and refusals of those of none."""
    whole = wanted.join(keys.select("key", "row"), on="key", suffix="_there")
    others = wanted.join(whole, on="row", how="anti")
    short = others.join(keys, left_on="key", right_on="short", suffix="_there")
    one = pl.col("key_there").n_unique().over("row") == 1
    of_several = short.filter(~one).with_columns(
        pl.len().over("row").alias("rows"),
        pl.lit(table).alias("of_table"),
        pl.col("key_there").first().over("row").alias("such_as"),
    )
    meant = pl.concat([whole, short.filter(one).select(whole.columns)])
    none = others.join(short, on="row", how="anti")
    said = filled_in(OF_SEVERAL, "lacking", "rows", "of_table", "such_as")
    return meant, pl.concat(
        [refusal(none, "key", NO_ROW.format(table)), refusal(of_several, "key", said)]
    )


def _correct_column(
    text: TextTable, table: str, column: str, wanted: pl.DataFrame, keys: pl.DataFrame
) -> tuple[TextTable, pl.DataFrame]:
    if keys["key"].null_count() == keys.height:
        return text, refusal(wanted, "key", NO_KEY.format(table))
    meant, of_no_row = _rows_meant(wanted, keys, table)
    cells = text.frame.select(pl.col("row").alias("row_there"), pl.col(column).alias("cell"))
    matched = meant.join(cells, on="row_there")
    as_said = pl.col("cell").fill_null("") == pl.col("old").fill_null("")
    good = matched.filter(as_said)
    other_text = matched.join(good, on="row", how="anti")
    new = good.select(pl.col("row_there").alias("row"), "new").unique("row", keep="last")
    frame = (
        text.frame.join(new.with_columns(corrected=True), on="row", how="left")
        .with_columns(
            pl.when(pl.col("corrected")).then(pl.col("new")).otherwise(pl.col(column)).alias(column)
        )
        .drop("new", "corrected")
        .sort("row")
    )
    refused = pl.concat(
        [
            of_no_row,
            refusal(other_text, "old", filled_in(OTHER_TEXT, "cell")),
        ]
    )
    made = good.unique("row_there", keep="last").select(
        pl.col("row_there").alias("row"),
        pl.lit(column).alias("column"),
        filled_in("{}, row {}", "source_file", "source_row").alias("place"),
    )
    corrected = pl.concat([text.corrected, made])
    return (
        replace(text, frame=frame, corrected=corrected),
        refused.unique("row", maintain_order=True),
    )
