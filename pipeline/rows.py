"""What a table is on its way from text to checked rows, and how a row is set aside."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache

import polars as pl

from schemas.hauls import HAUL_KEY
from schemas.tables import TABLES
from schemas.types import TYPES

ROW_SCHEMA: dict[str, pl.DataType] = {
    "row": pl.Int64(),
    "source_file": pl.String(),
    "source_row": pl.Int64(),
}
ROW_COLUMNS = tuple(ROW_SCHEMA)
"""What the program itself keeps of a row beside its cells."""

SEASON = "season"
"""The column that says which of several seasons a haul is of; it is a factor like the boat."""

REFUSAL_SCHEMA: dict[str, pl.DataType] = {
    "row": pl.Int64(),
    "column": pl.String(),
    "value": pl.String(),
    "reason": pl.String(),
}
"""Why a row of one table is not used: its number there, the column, the cell, the reason.

The reason reads on from the cell: `'-3' is below 0 h; put it right or leave it blank`.
"""

SET_ASIDE_SCHEMA: dict[str, pl.DataType] = {
    "table": pl.String(),
    "source_file": pl.String(),
    "source_row": pl.Int64(),
    "column": pl.String(),
    "value": pl.String(),
    "reason": pl.String(),
}

PARTS_MISSING_SCHEMA: dict[str, pl.DataType] = {
    **dict.fromkeys(("rig_version", "section", "part"), pl.String()),
    "set_aside": pl.Boolean(),
}
"""Of a row of `rig_parts` that was set aside: so marked it can stand among those that were not."""

OTHERWISE_SCHEMA: dict[str, pl.DataType] = {
    "row": pl.Int64(),
    "column": pl.String(),
    "other": pl.Datetime("us"),
}

CORRECTED_SCHEMA: dict[str, pl.DataType] = {
    "row": pl.Int64(),
    "column": pl.String(),
    "place": pl.String(),
}

REMARK_SCHEMA: dict[str, pl.DataType] = {**SET_ASIDE_SCHEMA}
"""A remark is a word on a row that is used all the same."""


@dataclass(frozen=True)
class TextTable:
    """A table under the season's column names, every cell as text.

    `frame` has `row` (its number in the table), `source_file`, `source_row`, `unreadable`.
    """

    frame: pl.DataFrame
    found: tuple[str, ...]
    kept: tuple[str, ...]
    corrected: pl.DataFrame = field(default_factory=lambda: pl.DataFrame(schema=CORRECTED_SCHEMA))
    """The cells that corrections put there, and where each correction stands."""


@dataclass(frozen=True)
class ValueTable:
    """A table of typed columns, the text they came from, and the refusals so far."""

    frame: pl.DataFrame
    text: pl.DataFrame
    found: tuple[str, ...]
    kept: tuple[str, ...]
    refusals: pl.DataFrame
    otherwise: pl.DataFrame = field(default_factory=lambda: pl.DataFrame(schema=OTHERWISE_SCHEMA))
    """Of each moment that another of the forms given reads as another day, that reading."""


@dataclass(frozen=True)
class CheckedSeason:
    """Good rows by table, the rows set aside, remarks, and how many rows were read."""

    tables: dict[str, pl.DataFrame]
    found: dict[str, tuple[str, ...]]
    kept: tuple[str, ...]
    set_aside: pl.DataFrame
    remarks: pl.DataFrame
    rows_read: dict[str, int]
    catches_read: pl.DataFrame
    """Of each catch row that was read, where it came from and the haul that it names."""
    lengths_read: pl.DataFrame
    """The same of each row of lengths."""
    hauls_read: pl.DataFrame
    """The haul (vessel, trip, haul) of each row of hauls that was read."""
    hauls_missing_catch: pl.DataFrame = field(
        default_factory=lambda: pl.DataFrame(schema=dict.fromkeys(HAUL_KEY, pl.String))
    )
    """Hauls of which a catch row was set aside, so that what is left is not the whole catch."""
    hauls_missing_lengths: pl.DataFrame = field(
        default_factory=lambda: pl.DataFrame(schema=dict.fromkeys(HAUL_KEY, pl.String))
    )
    """The same of lengths."""
    species_missing_price: pl.DataFrame = field(
        default_factory=lambda: pl.DataFrame(schema={"species": pl.String})
    )
    """Species of which a price was set aside, so that nobody knows what they brought."""
    parts_missing: pl.DataFrame = field(
        default_factory=lambda: pl.DataFrame(schema=PARTS_MISSING_SCHEMA)
    )
    """Parts whose row was set aside, so that their rig weighs at least what is left."""

    name: str = ""
    """What the season is called among others: its folder's name; blank where it is the only one."""
    blank_is_no_damage: bool = False
    """Whether a haul without a note is one without damage, as the season says."""
    within: tuple[CheckedSeason, ...] = ()
    """The seasons that were put together into this one, with rows numbered as they are here."""
    left_out: tuple[str, ...] = ()
    """Of each season folder that can't be used, a sentence that says why."""
    together: tuple[str, ...] = ()
    """What was taken for granted in putting seasons together, in sentences."""
    not_read: tuple[str, ...] = ()
    """Of each file or sheet that looks like a table, a sentence why it is not read."""

    @property
    def seasons(self) -> tuple[CheckedSeason, ...]:
        """The seasons by themselves; the one there is, where it was not put together."""
        return self.within or (self,)

    @property
    def counts(self) -> dict[str, dict[str, int]]:
        """For each table the rows read, used and set aside."""
        return {
            name: {
                "read": read,
                "used": self.tables[name].height,
                "set_aside": self.set_aside.filter(pl.col("table") == name).height,
            }
            for name, read in self.rows_read.items()
        }


def refusal(frame: pl.DataFrame, column: str | None, reason: pl.Expr | str) -> pl.DataFrame:
    """A refusal for every row of `frame`; `reason` may be an expression over its columns.

    The cell is quoted from `frame`'s own column, or left blank where no column is to blame.
    """
    if frame.is_empty():
        return no_refusals()
    return frame.select(
        pl.col("row").cast(pl.Int64),
        pl.lit(column, pl.String).alias("column"),
        (_quoted(frame, column) if column else pl.lit(None, pl.String)).alias("value"),
        (pl.lit(reason) if isinstance(reason, str) else reason).alias("reason"),
    )


def placed(refusals: pl.DataFrame, table: str, frame: pl.DataFrame) -> pl.DataFrame:
    """The refusals as rows of `SET_ASIDE_SCHEMA`, with where each row of `frame` came from."""
    where = frame.select("row", "source_file", "source_row")
    return refusals.join(where, on="row", how="inner").select(
        pl.lit(table).alias("table"), *list(SET_ASIDE_SCHEMA)[1:]
    )


def _quoted(frame: pl.DataFrame, column: str) -> pl.Expr:
    if isinstance(frame.schema[column], pl.Datetime):
        return pl.col(column).dt.to_string("%Y-%m-%d %H:%M")
    return pl.col(column).cast(pl.String)


OF_ONE_ROW = {
    r", row \d+": ", row",
    r"\(rows [\d, ]+": "(rows",
    r"^(\S+) \(-?[\d.]+ \S+\) ": "$1 ",
    r"^is [\d.]+ kg, where this boat had [\d.]+ kg": "is",
    r"(; also (?:the row|\w+),?) '.*?' ": "$1 ",
}
"""What in a reason is one row's own, and what stands in its place for all that are alike: rows that
it names, what its cell is in our unit, and its other cells that are wrong."""


def kind_of_reason(reason: pl.Expr) -> pl.Expr:
    """The reason by which rows are told together, without what in it is one row's own."""
    for own, alike in OF_ONE_ROW.items():
        reason = reason.str.replace_all(own, alike)
    return reason


def filled_in(template: str, *columns: str) -> pl.Expr:
    """The template with each `{}` filled from a column.

    As `pl.format`, which in polars 2.1 fails on a column whose first chunk is empty.
    """
    pieces = template.split("{}")
    parts: list[pl.Expr] = [pl.lit(pieces[0])]
    for column, piece in zip(columns, pieces[1:], strict=True):
        parts += [pl.col(column).cast(pl.String).fill_null(""), pl.lit(piece)]
    return pl.concat_str(parts)


@cache
def no_refusals() -> pl.DataFrame:
    """An empty table of refusals."""
    return pl.DataFrame(schema=REFUSAL_SCHEMA)


def table_or_empty(season: CheckedSeason, name: str) -> pl.DataFrame:
    """The season's good rows of the table, or a table of no rows where the season lacks it."""
    if name in season.tables:
        return season.tables[name]
    columns = {column.name: TYPES[column.kind] for column in TABLES[name].columns}
    return pl.DataFrame(schema={**ROW_SCHEMA, **columns})


def hauls_of_each(catches: pl.DataFrame) -> pl.DataFrame:
    """In how many hauls (`hauls`) each `species` stands, that of most first."""
    return (
        catches.group_by("species")
        .agg(pl.struct(HAUL_KEY).n_unique().alias("hauls"))
        .sort("hauls", "species", descending=[True, False])
    )
