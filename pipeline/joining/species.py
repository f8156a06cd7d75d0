"""The species that are known: the built-in list, and the season's own words on it."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from io import BytesIO

import polars as pl

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


@cache
def built_in_species() -> pl.DataFrame:
    """The list that comes with the program: codes of FAO's ASFIS, names, bottom-living or not."""
    data = (files("schemas") / "species.csv").read_bytes()
    return pl.read_csv(BytesIO(data)).select(
        "species", "name", (pl.col("bottom_living") == "yes").alias("bottom_living")
    )
