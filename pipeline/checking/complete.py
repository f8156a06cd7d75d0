"""Fill in what the rest of the row tells: keys that the source lacks, tow hours, ground."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.hauls_of_reviews import at_their_hauls
from pipeline.checking.past_midnight import one_day_for_both, past_midnight
from pipeline.problems import SeasonUnusableError
from schemas.hauls import HAUL_KEY
from schemas.tables import TABLES
from schemas.words import UNKNOWN_GROUND

if TYPE_CHECKING:
    from pipeline.rows import ValueTable
    from schemas.settings import Settings, TableSource

THE_ONE_BOAT = "the boat"


def complete(tables: dict[str, ValueTable], settings: Settings) -> dict[str, ValueTable]:
    """The tables with every key column filled where the source has no such column at all.

    Raises `SeasonUnusableError` if a table cannot be tied to the hauls.
    """
    boat = _the_boat(tables)
    completed = {
        name: replace(values, frame=_with_boat(values, name, boat))
        for name, values in tables.items()
    }
    hauls = completed["hauls"]
    completed["hauls"] = replace(hauls, frame=_complete_hauls(hauls, settings))
    if "fittings" in completed:
        fittings = completed["fittings"]
        completed["fittings"] = replace(fittings, frame=_until_the_next(fittings.frame))
    for name, values in completed.items():
        if name != "hauls" and set(HAUL_KEY) <= set(TABLES[name].key):
            source = settings.source(name)
            frame = _with_haul_key(values, name, completed["hauls"].frame, source)
            completed[name] = replace(values, frame=frame)
    if "damage_review" in completed and "haul" not in hauls.found:
        reviews = completed["damage_review"]
        completed["damage_review"] = at_their_hauls(reviews, completed["hauls"])
    return completed


def _the_boat(tables: dict[str, ValueTable]) -> str:
    """The name of the season's one boat, for tables that do not name it."""
    for name in ("vessels", "hauls"):
        if name in tables:
            names = tables[name].frame["vessel"].drop_nulls().unique()
            if names.len() == 1:
                return str(names[0])
    return THE_ONE_BOAT


def _with_boat(values: ValueTable, name: str, boat: str) -> pl.DataFrame:
    if "vessel" not in TABLES[name].column_names or "vessel" in values.found:
        return values.frame
    return values.frame.with_columns(pl.lit(boat).alias("vessel"))


def _complete_hauls(hauls: ValueTable, settings: Settings) -> pl.DataFrame:
    frame = hauls.frame
    if one_day_for_both(settings.source("hauls")):
        frame = past_midnight(frame)
    frame = frame.with_columns(
        pl.coalesce("tow_hours", hours_between(settings.season.time_zone)).alias("tow_hours"),
        pl.col("ground").fill_null(UNKNOWN_GROUND),
    )
    if "haul" not in hauls.found:
        several = frame["source_file"].n_unique() > 1
        row = pl.col("source_row").cast(pl.String)
        name = pl.concat_str("source_file", row, separator=" row ") if several else row
        frame = frame.with_columns(name.alias("haul"))
    if "trip" not in hauls.found:
        day = pl.col("shot_at").dt.to_string("%Y-%m-%d")
        frame = frame.with_columns(pl.coalesce(day, "haul").alias("trip"))
    return frame


def _until_the_next(fittings: pl.DataFrame) -> pl.DataFrame:
    """A fitting without an end lasts until the boat's next one.

    This is settled before any row is set aside, so that a fitting does not grow over its
    neighbour's time when the neighbour is. Where a fitting of the boat has no day that can be
    read, nobody knows which of the others it ends: those without an end are taken to end as they
    begin, which a check names.
    """
    one_unread = pl.col("fitted_from").is_null().any().over("vessel")
    starts = fittings.select("vessel", "fitted_from").drop_nulls().unique().sort(pl.all())
    following = starts.with_columns(
        pl.col("fitted_from").shift(-1).over("vessel").alias("next_from")
    )
    ends = pl.when(one_unread).then("fitted_from").otherwise("next_from")
    return (
        fittings.join(following, on=["vessel", "fitted_from"], how="left")
        .with_columns(pl.coalesce("fitted_to", ends).alias("fitted_to"))
        .drop("next_from")
        .sort("row")
    )


def hours_between(time_zone: str | None) -> pl.Expr:
    """Hours from shooting to hauling, by the clock of the season's time zone."""
    shot, hauled = pl.col("shot_at"), pl.col("hauled_at")
    if time_zone is not None:
        shot, hauled = (_by_the_clock(moment, time_zone) for moment in (shot, hauled))
    return (hauled - shot).dt.total_seconds() / 3600


def time_skipped(time_zone: str | None) -> pl.Expr:
    """Of a haul with both times the one that clocks put forward did not show; null if they did."""
    if time_zone is None:
        return pl.lit(None, pl.Datetime("us"))
    times = ("shot_at", "hauled_at")
    skipped = (
        pl.when(_by_the_clock(pl.col(name), time_zone).is_null()).then(name) for name in times
    )
    return pl.when(pl.all_horizontal(pl.col(times).is_not_null())).then(pl.coalesce(skipped))


def _by_the_clock(moment: pl.Expr, time_zone: str) -> pl.Expr:
    """The moment in that zone; null where its clocks did not show it."""
    return moment.dt.replace_time_zone(time_zone, ambiguous="earliest", non_existent="null")


def _with_haul_key(
    values: ValueTable, name: str, hauls: pl.DataFrame, source: TableSource
) -> pl.DataFrame:
    """The rows with the parts of the haul's key that their own source lacks, from the hauls."""
    has = [part for part in HAUL_KEY if part in values.found or part == "vessel"]
    lacks = [part for part in HAUL_KEY if part not in has]
    if not lacks:
        return values.frame
    if (of_row := _file_of_hauls(values.frame, hauls, source)) is not None:
        return _with_key_of_their_row(values.frame, lacks, hauls, of_row)
    keys = hauls.select(HAUL_KEY).drop_nulls().unique()
    if "haul" in lacks or keys.select(has).is_duplicated().any():
        raise SeasonUnusableError(
            f"The table {name} names no {lacks[0]}, and without it its rows "
            f"can't be told to belong to one haul; add a column {lacks[0]} to {name}."
        )
    order = values.frame.columns
    return values.frame.drop(lacks).join(keys, on=has, how="left").select(order).sort("row")


def _file_of_hauls(
    frame: pl.DataFrame, hauls: pl.DataFrame, source: TableSource
) -> dict[str, str] | None:
    """By what the rows' file is called, that of the hauls, where they are rows of hauls.

    None where they stand in a file of their own. A log with a column for each species has its
    catches in the rows of its hauls, with the species behind the name of the file.
    """
    species = {name for by_species in source.across.values() for name in by_species}
    files = hauls["source_file"].unique().to_list()
    of_row = {f"{file}, {name}": file for file in files for name in species}
    return of_row if set(frame["source_file"]) <= set(of_row) else None


def _with_key_of_their_row(
    frame: pl.DataFrame, lacks: list[str], hauls: pl.DataFrame, of_row: dict[str, str]
) -> pl.DataFrame:
    """The rows with what they lack of the haul's key, which the haul in their own row has."""
    place = ["source_file", "source_row"]
    keys = hauls.select(pl.col(place).name.suffix("_of_haul"), *lacks)
    file = pl.col("source_file").replace(of_row).alias("source_file_of_haul")
    return (
        frame.drop(lacks)
        .with_columns(file)
        .join(
            keys,
            left_on=["source_file_of_haul", "source_row"],
            right_on=["source_file_of_haul", "source_row_of_haul"],
            how="left",
        )
        .select(frame.columns)
        .sort("row")
    )
