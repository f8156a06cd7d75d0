"""The species that are known: the built-in list, and the season's own words on it."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from io import BytesIO
from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.rows import hauls_of_each, table_or_empty

if TYPE_CHECKING:
    from pipeline.rows import CheckedSeason

COLUMNS = ["species", "name", "bottom_living"]


def known_species(own: pl.DataFrame | None = None) -> pl.DataFrame:
    """All species that a catch may name: `species`, `name`, `bottom_living`.

    A cell that the season's own table leaves blank is taken from the built-in list. A species
    of the season's own that is not said to live on the bottom, or not to, counts in neither
    group.
    """
    listed = built_in_species()
    if own is None:
        return listed
    both = own.select(COLUMNS).join(listed, on="species", how="full", coalesce=True)
    return both.select(
        "species",
        pl.coalesce("name", "name_right").alias("name"),
        pl.coalesce("bottom_living", "bottom_living_right").alias("bottom_living"),
    ).sort("species")


def species_in(season: CheckedSeason) -> pl.DataFrame:
    """The known species, and those in no list that the good rows of catches name all the same.

    Of these nobody has said whether they live on the bottom, so that they count in neither group.
    """
    known = known_species(season.tables.get("species"))
    unlisted = unlisted_species(season).select("species")
    return pl.concat([known, unlisted], how="diagonal").sort("species")


def unlisted_species(season: CheckedSeason) -> pl.DataFrame:
    """The species of the good rows of catches that are in no list, and of how many hauls each is.

    That of most hauls goes first.
    """
    known = known_species(season.tables.get("species"))
    return hauls_of_each(table_or_empty(season, "catches").join(known, on="species", how="anti"))


@cache
def built_in_species() -> pl.DataFrame:
    """The list that comes with the program: codes of FAO's ASFIS, names, bottom-living or not."""
    data = (files("schemas") / "species.csv").read_bytes()
    return pl.read_csv(BytesIO(data)).select(
        "species", "name", (pl.col("bottom_living") == "yes").alias("bottom_living")
    )


def weighed(catches: pl.DataFrame | None) -> list[str]:
    """Which weights the catches have: what was kept, what was thrown back, or both."""
    if catches is None:
        return []
    return [name for name in ("kept_kg", "discarded_kg") if catches[name].count()]


def fish_groups(season: CheckedSeason) -> dict[str, Any]:
    """Which of the species caught count as bottom-living, as other fish, or in neither group.

    They are called by name, that of most weight first. Of `said_by_season` it is the season's own
    table that says where they count.
    """
    kilos = pl.sum_horizontal("kept_kg", "discarded_kg").sum().alias("kg")
    weights = table_or_empty(season, "catches").group_by("species").agg(kilos)
    caught = (
        weights.filter(pl.col("kg") > 0)
        .join(species_in(season).unique("species"), on="species")
        .with_columns(pl.coalesce("name", "species").alias("called"))
        .sort("kg", "called", descending=[True, False])
    )
    own = table_or_empty(season, "species").drop_nulls("bottom_living")
    return {
        "bottom_living": caught.filter("bottom_living")["called"].to_list(),
        "other": caught.filter(~pl.col("bottom_living"))["called"].to_list(),
        "neither": caught.filter(pl.col("bottom_living").is_null())["called"].to_list(),
        "said_by_season": caught.join(own, on="species", how="semi").height,
    }
