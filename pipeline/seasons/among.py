"""A season among others: its files with its folder's name, its rows numbered after theirs."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import polars as pl

from pipeline.problems import SeasonUnusableError
from pipeline.rows import SEASON

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from pipeline.rows import CheckedSeason


def numbered(seasons: Sequence[CheckedSeason]) -> list[CheckedSeason]:
    """The seasons with rows whose numbers differ in all of them, each haul with its `season`.

    Each has its `name`. Raises `SeasonUnusableError` where one keeps a column `season` already.
    """
    taken = [season.name for season in seasons if SEASON in season.kept]
    if taken:
        raise SeasonUnusableError(
            f"{name} keeps a column 'season', which is what a folder of seasons calls its seasons "
            "by; rename that column."
            for name in taken
        )
    read: dict[str, int] = {}
    placed = []
    for season in seasons:
        placed.append(_placed(season, read))
        for table, rows in season.rows_read.items():
            read[table] = read.get(table, 0) + rows
    return placed


def _placed(season: CheckedSeason, before: dict[str, int]) -> CheckedSeason:
    """The season with `before` rows of each table in front of its own."""
    file = pl.concat_str(pl.lit(f"{season.name}/"), "source_file").alias("source_file")
    tables = {
        name: table.with_columns(pl.col("row") + before.get(name, 0), file)
        for name, table in season.tables.items()
    }
    tables["hauls"] = tables["hauls"].with_columns(pl.lit(season.name).alias(SEASON))
    return replace(
        season,
        tables=tables,
        kept=(*season.kept, SEASON),
        set_aside=season.set_aside.with_columns(file),
        remarks=season.remarks.with_columns(file),
        catches_read=season.catches_read.with_columns(file),
        lengths_read=season.lengths_read.with_columns(file),
    )


def with_rigs_of_hauls(season: CheckedSeason, rig_in_force: pl.DataFrame) -> CheckedSeason:
    """The season with the rig in force (`row`, `rig_version`) written to every haul.

    What one season says of a boat's rig then can't be taken for that of another.
    """
    hauls = season.tables["hauls"]
    order = hauls.columns
    in_force = rig_in_force.select("row", "rig_version")
    named = hauls.drop("rig_version").join(in_force, on="row", how="left", maintain_order="left")
    return replace(season, tables={**season.tables, "hauls": named.select(order)})


def side_by_side(seasons: Sequence[CheckedSeason]) -> CheckedSeason:
    """The tables of all seasons, one below the other; `within` has the seasons by themselves."""
    names = list(dict.fromkeys(name for season in seasons for name in season.tables))
    return replace(
        seasons[0],
        name="",
        tables={name: _below(season.tables.get(name) for season in seasons) for name in names},
        found={
            name: tuple(dict.fromkeys(c for each in seasons for c in each.found.get(name, ())))
            for name in names
        },
        kept=tuple(dict.fromkeys(name for season in seasons for name in season.kept)),
        set_aside=pl.concat(season.set_aside for season in seasons),
        remarks=pl.concat(season.remarks for season in seasons),
        rows_read={
            name: sum(season.rows_read.get(name, 0) for season in seasons) for name in names
        },
        catches_read=pl.concat(season.catches_read for season in seasons),
        lengths_read=pl.concat(season.lengths_read for season in seasons),
        hauls_read=pl.concat(season.hauls_read for season in seasons),
        hauls_missing_catch=pl.concat(season.hauls_missing_catch for season in seasons),
        hauls_missing_lengths=pl.concat(season.hauls_missing_lengths for season in seasons),
        species_missing_price=pl.concat(s.species_missing_price for s in seasons).unique(),
        parts_missing=pl.concat(season.parts_missing for season in seasons).unique(),
        within=tuple(seasons),
    )


def _below(tables: Iterable[pl.DataFrame | None]) -> pl.DataFrame:
    return pl.concat([table for table in tables if table is not None], how="diagonal")
