"""What one table says of another: unknown rigs, rows of no haul, overlaps."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.keys import SAME_ROW
from pipeline.nearest import did_you_mean
from pipeline.rows import filled_in, kind_of_reason, no_refusals, refusal
from schemas.hauls import HAUL_KEY
from schemas.words import SECTIONS, saying

if TYPE_CHECKING:
    from pipeline.rows import CheckedSeason


UNKNOWN_RIG = saying("is a rig that rig_versions does not describe{}; add it there or put it right")
OVERLAPS = saying(
    "overlaps the boat's next fitting, which begins {}; put right where the one ends and the other "
    "begins"
)
OTHER_RIG = saying("is not what the fitting in force says ({}); put one of them right")
NO_RIG = saying("is blank, and no fitting of this boat was in force; write the rig, or the fitting")
NO_RIG_BELOW = saying(
    "is blank, and no fitting of this boat was in force; write the rig, or the fitting; if it is "
    'written on the first row only of several, put fill_down = ["rig_version"] under [hauls] in '
    "season.toml"
)
NO_RIG_COLUMN = saying(
    "is blank, as the table has no such column, and no fitting of this boat was in force; say "
    "under [hauls.columns] in season.toml which header the rig stands under, as in rig_version = "
    '"Gear", or write the fitting'
)
NO_RIG_OF_GOOD_FITTINGS = saying(
    "is blank, and no fitting of this boat that can be used was in force; put right those that "
    "were set aside, or write the rig"
)
OF_A_HAUL_SET_ASIDE = saying("is of a haul that was set aside")
OF_NO_HAUL = saying(
    "is of a haul that is not among the good hauls; see whether it was set aside or its vessel, "
    "trip or haul is misspelt"
)
REASONS = (UNKNOWN_RIG, OVERLAPS, OTHER_RIG)


def unknown_rigs(season: CheckedSeason, name: str) -> pl.DataFrame:
    """Refusals for rows of table `name` whose rig version is described nowhere.

    A season without a table of rig versions knows its rigs by their names alone.
    """
    if name not in season.tables or "rig_versions" not in season.tables:
        return no_refusals()
    known = season.tables["rig_versions"]["rig_version"]
    strangers = season.tables[name].filter(
        pl.col("rig_version").is_not_null() & ~pl.col("rig_version").is_in(known.implode())
    )
    return refusal(
        strangers,
        "rig_version",
        _with_nearest(strangers["rig_version"], known, UNKNOWN_RIG),
    )


def _with_nearest(names: pl.Series, known: pl.Series, reason: str) -> pl.Expr:
    """The reason for each name, with the known name that is nearest to it."""
    listed = known.to_list()
    told = {name: reason.format(did_you_mean(name, listed)) for name in names.unique().to_list()}
    return pl.col(names.name).replace_strict(told, return_dtype=pl.String, default=reason)


def overlapping_fittings(season: CheckedSeason) -> pl.DataFrame:
    """Refusals for fittings that end before they begin or reach into the boat's next one."""
    if "fittings" not in season.tables:
        return no_refusals()
    following = pl.col("fitted_from").shift(-1).over("vessel")
    fittings = (
        season.tables["fittings"]
        .sort("vessel", "fitted_from")
        .with_columns(
            following.alias("next_from"), following.dt.to_string("%Y-%m-%d %H:%M").alias("begins")
        )
    )
    backwards = pl.col("fitted_to") < pl.col("fitted_from")
    no_time = pl.col("fitted_to") == pl.col("fitted_from")
    overlaps = pl.col("fitted_to") > pl.col("next_from")
    return pl.concat(
        [
            refusal(
                fittings.filter(backwards),
                "fitted_to",
                saying("is not after fitted_from; put one of them right"),
            ),
            refusal(
                fittings.filter(no_time),
                "fitted_to",
                saying(
                    "leaves it no time; give it an end, or put right the fitting of this boat "
                    "whose day can't be read"
                ),
            ),
            refusal(
                fittings.filter(overlaps & ~backwards),
                "fitted_to",
                filled_in(OVERLAPS, "begins"),
            ),
        ]
    )


def without_one_rig(season: CheckedSeason, haul_rigs: pl.DataFrame) -> pl.DataFrame:
    """Refusals for hauls with no rig version in force, or with two that disagree."""
    hauls = season.tables["hauls"]
    rigs = hauls.join(haul_rigs.select("row", "own", "fitted"), on="row", how="left")
    disagreeing = rigs.filter(pl.col("own") != pl.col("fitted"))
    without = rigs.filter(pl.col("own").is_null() & pl.col("fitted").is_null())
    return pl.concat(
        [
            refusal(
                disagreeing,
                "rig_version",
                filled_in(OTHER_RIG, "fitted"),
            ),
            refusal(without, "rig_version", _no_rig(season)),
        ]
    )


def _no_rig(season: CheckedSeason) -> str:
    """Why a haul has no rig, where neither it nor a fitting says."""
    if "fittings" in season.set_aside["table"]:
        return NO_RIG_OF_GOOD_FITTINGS
    if "rig_version" not in season.found["hauls"]:
        return NO_RIG_COLUMN
    named = season.tables["hauls"]["rig_version"].is_not_null()
    return NO_RIG_BELOW if 0 < 2 * named.sum() <= named.len() else NO_RIG


def rows_of_no_haul(season: CheckedSeason, name: str) -> pl.DataFrame:
    """Refusals for rows of table `name` whose haul is not there, or was set aside itself.

    A haul whose boat, trip or number could not be read may be either, so it is not there.
    """
    if name not in season.tables:
        return no_refusals()
    orphans = season.tables[name].join(
        season.tables["hauls"].select(HAUL_KEY), on=HAUL_KEY, how="anti"
    )
    read = season.hauls_read.unique().with_columns(pl.lit(OF_A_HAUL_SET_ASIDE).alias("why"))
    told = orphans.join(read, on=HAUL_KEY, how="left", maintain_order="left")
    named = told.with_columns(pl.concat_str(HAUL_KEY, separator="/").alias("haul"))
    return refusal(named, "haul", pl.col("why").fill_null(OF_NO_HAUL))


def follows_from_another() -> pl.Expr:
    """Whether a row went because another did, which is told after what went by its own fault."""
    return pl.col("reason") == OF_A_HAUL_SET_ASIDE


def hauls_missing_rows(rows_read: pl.DataFrame, rows_set_aside: pl.DataFrame) -> pl.DataFrame:
    """The hauls (vessel, trip, haul) of which a row of catches, or of lengths, was set aside.

    What is left of such a catch is less than was caught, so it is not used. A row that merely
    stood twice leaves nothing out.
    """
    lost = rows_set_aside.filter(~pl.col("reason").str.starts_with(SAME_ROW))
    of_lost = rows_read.join(lost, on=["source_file", "source_row"], how="semi")
    return of_lost.select(HAUL_KEY).drop_nulls().unique().sort(HAUL_KEY)


def why_catches_lack(season: CheckedSeason) -> pl.DataFrame:
    """For what the catch of used hauls can't be used: `column`, `value`, `reason`, and `hauls`.

    Of the most hauls first. Each species that is no good is told by itself.
    """
    lacking = season.tables["hauls"].join(season.hauls_missing_catch, on=HAUL_KEY, how="semi")
    used = season.catches_read.join(lacking, on=HAUL_KEY, how="semi")
    gone = season.set_aside.filter(
        pl.col("table") == "catches", ~pl.col("reason").str.starts_with(SAME_ROW)
    )
    of_species = pl.when(pl.col("column") == "species").then("value").alias("species_named")
    return (
        gone.join(used, on=["source_file", "source_row"], how="inner")
        .group_by("column", of_species, kind_of_reason(pl.col("reason")).alias("kind"))
        .agg(pl.col("value", "reason").first(), pl.struct(HAUL_KEY).n_unique().alias("hauls"))
        .sort("hauls", "column", "value", descending=[True, False, False])
        .select("column", "value", "reason", "hauls")
    )


def parts_missing(parts_read: pl.DataFrame, parts_set_aside: pl.DataFrame) -> pl.DataFrame:
    """The rows of parts set aside, other than one that stood twice, as `PARTS_MISSING_SCHEMA`.

    A row that does not say whose part it is, or of which section, is of no rig.
    """
    lost = parts_set_aside.filter(~pl.col("reason").str.starts_with(SAME_ROW))
    of_lost = parts_read.join(lost, on=["source_file", "source_row"], how="semi")
    named = of_lost.select("rig_version", "section", "part").filter(
        pl.col("section").is_in(SECTIONS)
    )
    whose = named.drop_nulls().sort("rig_version", "section", "part")
    return whose.with_columns(pl.lit(value=True).alias("set_aside"))


def species_without_price(season: CheckedSeason) -> list[str]:
    """The species that were kept and have no price, where any price counts at all."""
    unpriced: set[str] = set()
    for each in season.seasons:
        prices = each.tables.get("prices")
        if "catches" in each.tables and prices is not None and prices.height:
            kept = each.tables["catches"].filter(pl.col("kept_kg") > 0)["species"]
            unpriced |= {*kept} - {*prices["species"]}
    return sorted(unpriced)


def species_missing_price(
    prices_read: pl.DataFrame, prices_set_aside: pl.DataFrame
) -> pl.DataFrame:
    """The species (species) of which a price was set aside, other than one that stood twice."""
    lost = prices_set_aside.filter(~pl.col("reason").str.starts_with(SAME_ROW))
    of_lost = prices_read.join(lost, on=["source_file", "source_row"], how="semi")
    return of_lost.select("species").drop_nulls().unique().sort("species")
