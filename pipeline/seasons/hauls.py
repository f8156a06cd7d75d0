"""Hauls of several seasons: those that stand in two of them, and trips of one name."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.across import rows_of_no_haul
from pipeline.checking.check_season import set_aside
from pipeline.rows import SEASON, filled_in, refusal
from schemas.hauls import HAUL_KEY
from schemas.tables import TABLES
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.rows import CheckedSeason

AGAIN = saying("is the same row again, as in {}; it counts once")
AGAIN_UNDATED = saying(
    "is the same row again, as in {}, like all hauls without a day of this boat; it counts once"
)
TELLS_OTHERWISE = saying(
    "is of a haul that another season has too and tells otherwise ({}); take the wrong one out"
)
REASONS = (AGAIN_UNDATED, AGAIN, TELLS_OTHERWISE)

OF_HAULS = ("catches", "lengths", "damage_review")
TRIP = ["vessel", "trip"]
NAMED = [*HAUL_KEY, "shot_at"]
"""What tells a dated haul from every other, whichever season it stands in."""


def each_haul_once(seasons: Sequence[CheckedSeason]) -> list[CheckedSeason]:
    """The seasons without hauls of a season before, and with trips that no other season has.

    A dated haul is known by boat, trip, number and time. Without a day two hauls may be alike by
    chance, so that they count as the same only where all undated hauls of a boat are. Behind a
    trip's name stands its season where another has one of that name and boat; not so where the two
    share hauls of it, as it is then one trip.
    """
    hauls = pl.concat([season.tables["hauls"] for season in seasons], how="diagonal")
    dated = hauls.filter(pl.col("shot_at").is_not_null())
    shared = dated.filter(pl.col(SEASON).n_unique().over(NAMED) > 1)
    undated = hauls.filter(pl.col("shot_at").is_null())
    refusals = pl.concat([_again(shared), _again_undated(undated)])
    once = [_without(season, refusals) for season in seasons]
    return _with_own_trips(once, shared.select(TRIP).unique())


def _without(season: CheckedSeason, refusals: pl.DataFrame) -> CheckedSeason:
    season = set_aside(season, "hauls", refusals)
    for name in OF_HAULS:
        season = set_aside(season, name, rows_of_no_haul(season, name))
    left = season.tables["hauls"].select(HAUL_KEY)
    catches, lengths = (
        lacking.join(left, on=HAUL_KEY, how="semi")
        for lacking in (season.hauls_missing_catch, season.hauls_missing_lengths)
    )
    return replace(season, hauls_missing_catch=catches, hauls_missing_lengths=lengths)


def _again(shared: pl.DataFrame) -> pl.DataFrame:
    """Refusals for dated hauls, each of which stands in several seasons.

    Where all say the same of it, the first counts; else nobody can say which is right.
    """
    told = pl.struct(TABLES["hauls"].column_names)
    shared = shared.sort("row").with_columns(
        (told.n_unique().over(NAMED) == 1).alias("alike"),
        (pl.col("row") == pl.col("row").min().over(NAMED)).alias("first"),
        _place().first().over(NAMED).alias("place"),
        _place().last().over(NAMED).alias("last_place"),
    )
    elsewhere = pl.when("first").then("last_place").otherwise("place").alias("place")
    return pl.concat(
        [
            refusal(
                shared.filter(pl.col("alike") & ~pl.col("first")),
                "haul",
                filled_in(AGAIN, "place"),
            ),
            refusal(
                shared.filter(~pl.col("alike")).with_columns(elsewhere),
                "haul",
                filled_in(TELLS_OTHERWISE, "place"),
            ),
        ]
    )


def _again_undated(hauls: pl.DataFrame) -> pl.DataFrame:
    """Refusals for hauls without a day of a boat that has just the same ones in a season before."""
    told = pl.struct(TABLES["hauls"].column_names).hash().cast(pl.String)
    marked = hauls.sort("row").with_columns(told.alias("told"), _place().alias("place"))
    boats = marked.group_by(SEASON, "vessel", maintain_order=True).agg(
        pl.col("told").sort().str.join(" ").alias("all_told")
    )
    firsts = boats.group_by("vessel", "all_told", maintain_order=True).agg(
        pl.col(SEASON).first().alias("first_season"), pl.col(SEASON)
    )
    again = firsts.explode(SEASON).filter(pl.col(SEASON) != pl.col("first_season"))
    first = marked.select("vessel", "told", "place", first_season=SEASON)
    repeated = (
        marked.drop("place")
        .join(again, on=["vessel", SEASON])
        .join(first, on=["vessel", "told", "first_season"])
    )
    return refusal(repeated, "haul", filled_in(AGAIN_UNDATED, "place"))


def _place() -> pl.Expr:
    """Where a row stands: its file and row."""
    return pl.concat_str("source_file", pl.lit(", row "), pl.col("source_row").cast(pl.String))


def _with_own_trips(seasons: Sequence[CheckedSeason], shared: pl.DataFrame) -> list[CheckedSeason]:
    """The seasons with the season's name behind trips that another has too and are not `shared`."""
    hauls = pl.concat([season.tables["hauls"].select(*HAUL_KEY, SEASON) for season in seasons])
    several = hauls.filter(pl.col(SEASON).n_unique().over(TRIP) > 1)
    clashing = several.filter(pl.struct(HAUL_KEY).is_duplicated()).select(TRIP)
    one_trip = shared.join(clashing, on=TRIP, how="anti")
    apart = several.select(*TRIP, SEASON).unique().join(one_trip, on=TRIP, how="anti")
    return [_renamed(season, apart.filter(pl.col(SEASON) == season.name)) for season in seasons]


def _renamed(season: CheckedSeason, trips: pl.DataFrame) -> CheckedSeason:
    """The season with its name behind these trips (`vessel`, `trip`), in every table of hauls."""
    longer = trips.select(
        *TRIP, pl.concat_str("trip", pl.lit(f" ({season.name})")).alias("longer_name")
    )
    named = {
        name: _with_longer_names(season.tables[name], longer)
        for name in ("hauls", *OF_HAULS)
        if name in season.tables
    }
    return replace(
        season,
        tables={**season.tables, **named},
        catches_read=_with_longer_names(season.catches_read, longer),
        hauls_missing_catch=_with_longer_names(season.hauls_missing_catch, longer),
        hauls_missing_lengths=_with_longer_names(season.hauls_missing_lengths, longer),
    )


def _with_longer_names(table: pl.DataFrame, longer: pl.DataFrame) -> pl.DataFrame:
    return (
        table.join(longer, on=TRIP, how="left", maintain_order="left")
        .with_columns(pl.coalesce("longer_name", "trip").alias("trip"))
        .drop("longer_name")
    )
