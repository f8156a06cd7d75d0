"""Rows of several seasons that say the same thing twice, or two things of one."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.across import overlapping_fittings
from pipeline.checking.check_season import set_aside
from pipeline.checking.keys import refused, told_twice
from pipeline.problems import SeasonUnusableError
from pipeline.rows import filled_in, no_refusals, refusal
from pipeline.seasons.hauls import AGAIN
from schemas.tables import TABLES
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.rows import CheckedSeason

RIG_AGAIN = saying("is the same row again, as in {}; the rig counts once")
RIG_SETTLED = saying(
    "is the same row again or another: season.toml says that the rig is one, and {} says what it is"
)
SAYS_ELSE = saying("has the {} of {}, which says something else; keep the right one")
REASONS = (RIG_AGAIN, RIG_SETTLED, SAYS_ELSE)

FOLDER = pl.col("source_file").str.split("/").list.first()


def each_row_once(season: CheckedSeason, same: Sequence[str]) -> CheckedSeason:
    """Seasons side by side, without rows of a season that another has too.

    The rigs in `same` are one, though described otherwise: what the first season says counts.
    Raises `SeasonUnusableError` where two seasons see a species otherwise.
    """
    for table in ("rig_versions", "rig_parts"):
        season = set_aside(season, table, _described_again(season, table, same))
    _need_alike_species(season)
    season = _with_ended_fittings(season)
    for table in ("vessels", "species", "fittings", "length_checks"):
        season = set_aside(season, table, _again(season, table))
    return set_aside(season, "fittings", overlapping_fittings(season))


def _described_again(season: CheckedSeason, table: str, same: Sequence[str]) -> pl.DataFrame:
    """Refusals for rows of a rig that an earlier season describes.

    Of rows on rigs the one that says what it was changed from goes first, if any does.
    """
    if table not in season.tables:
        return no_refusals()
    rows = season.tables[table].with_columns(FOLDER.alias("folder"))
    sooner = ["changed_from", "row"] if table == "rig_versions" else ["row"]
    silent_last = [pl.col(name).is_null() if name != "row" else pl.col(name) for name in sooner]
    counts = pl.col("folder").sort_by(silent_last).first().over("rig_version")
    place = pl.col("source_file").sort_by(silent_last).first().over("rig_version")
    again = rows.with_columns(counts.alias("counts"), place.alias("place")).filter(
        pl.col("folder") != pl.col("counts")
    )
    asked = pl.col("rig_version").is_in(list(same))
    alike, settled = (filled_in(reason, "place") for reason in (RIG_AGAIN, RIG_SETTLED))
    return refusal(again, "rig_version", pl.when(asked).then(settled).otherwise(alike))


def _need_alike_species(season: CheckedSeason) -> None:
    """Raise `SeasonUnusableError` where seasons differ in whether a species is bottom-living."""
    if "species" not in season.tables:
        return
    told = season.tables["species"].drop_nulls("bottom_living")
    differing = (
        told.group_by("species")
        .agg(pl.col("bottom_living").n_unique().alias("answers"), FOLDER.unique().sort())
        .filter(pl.col("answers") > 1)
        .sort("species")
    )
    if differing.height:
        raise SeasonUnusableError(
            f"Is {row['species']} bottom-living? {' and '.join(row['source_file'])} differ in "
            "their tables of species; put one of them right."
            for row in differing.iter_rows(named=True)
        )


def _with_ended_fittings(season: CheckedSeason) -> CheckedSeason:
    """Fittings without an end last until the boat's next one, whichever season has that."""
    if "fittings" not in season.tables:
        return season
    key = list(TABLES["fittings"].key)
    fittings = season.tables["fittings"]
    starts = fittings.select(key).unique().sort(key)
    ends = starts.with_columns(pl.col("fitted_from").shift(-1).over("vessel").alias("next_from"))
    ended = (
        fittings.with_columns(pl.col("fitted_to").fill_null(pl.col("fitted_to").max().over(key)))
        .join(ends, on=key, how="left", maintain_order="left")
        .with_columns(pl.coalesce("fitted_to", "next_from").alias("fitted_to"))
        .drop("next_from")
    )
    return replace(season, tables={**season.tables, "fittings": ended})


def _again(season: CheckedSeason, name: str) -> pl.DataFrame:
    """Refusals for rows whose key stands in several seasons: alike, they count once; else never."""
    if name not in season.tables:
        return no_refusals()
    key = list(TABLES[name].key)
    place = pl.concat_str("source_file", pl.lit(", row "), pl.col("source_row").cast(pl.String))
    twice = (
        told_twice(season.tables[name].sort("row"), key, pl.struct(TABLES[name].column_names))
        .with_columns(
            place.first().over(key).alias("place"), place.last().over(key).alias("last_place")
        )
        .with_columns(pl.when("first").then("last_place").otherwise("place").alias("place"))
    )
    return refused(
        twice,
        key[-1],
        filled_in(AGAIN, "place"),
        filled_in(SAYS_ELSE.format(" ".join(key), "{}"), "place"),
    )
