"""Put right the cells that a person has corrected, by name and with a reason."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import polars as pl

from pipeline.nearest import did_you_mean
from pipeline.rows import filled_in, no_refusals, refusal
from schemas.tables import TABLES
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.rows import TextTable

CORRECTIONS = "corrections"

NO_TABLE = saying("is of a table {} that this season does not have")
NO_COLUMN = saying("is no column of {}")
NO_KEY = saying("can't be found: the rows of {} have no key in their file")
NO_ROW = saying("is the key of no row of {}")
OTHER_TEXT = saying("is not what the cell says; it says '{}'")
REASONS = (NO_TABLE, NO_COLUMN, NO_KEY, NO_ROW, OTHER_TEXT)


def correct(texts: dict[str, TextTable]) -> tuple[dict[str, TextTable], pl.DataFrame]:
    """The tables with their corrections made, and a refusal for each that could not be.

    A correction holds for the rows whose key, its parts joined by `/`, is the one it names, and
    only where the cell still says what the correction says it did.
    """
    if CORRECTIONS not in texts:
        return texts, no_refusals()
    columns = TABLES[CORRECTIONS].column_names
    wanted = texts[CORRECTIONS].frame
    wanted = wanted.with_columns(
        pl.lit(None, pl.String).alias(name) for name in columns if name not in wanted.columns
    )
    corrected, refusals = dict(texts), []
    for (table_name, column), group in _sound(wanted).group_by(
        "table", "column", maintain_order=True
    ):
        problem = _unknown_place(str(table_name), str(column), texts)
        if problem:
            refusals.append(refusal(group, "column", problem))
            continue
        name = str(table_name)
        corrected[name], refused = _correct_column(corrected[name], name, str(column), group)
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


def _correct_column(
    text: TextTable, table: str, column: str, wanted: pl.DataFrame
) -> tuple[TextTable, pl.DataFrame]:
    keys = [name for name in TABLES[table].key if name in text.found]
    if not keys:
        return text, refusal(wanted, "key", NO_KEY.format(table))
    key = pl.concat_str(keys, separator="/").alias("key")
    cells = text.frame.select("row", key, pl.col(column).alias("cell"))
    matched = wanted.join(cells, on="key", how="left", suffix="_there")
    no_row = matched.filter(pl.col("row_there").is_null())
    changed = pl.col("cell").fill_null("") != pl.col("old").fill_null("")
    other_text = matched.filter(pl.col("row_there").is_not_null() & changed)
    good = matched.filter(pl.col("row_there").is_not_null() & ~changed)
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
            refusal(no_row, "key", NO_ROW.format(table)),
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
