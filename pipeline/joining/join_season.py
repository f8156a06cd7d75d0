"""From checked tables to measured hauls and their sums by trip and pattern of factors."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.joining.list_places import list_places
from pipeline.joining.patterns import number_patterns
from pipeline.joining.settings_names import refused_names
from pipeline.problems import SeasonUnusableError
from pipeline.reviews import changed_notes_of, named_reviews_of
from pipeline.rows import SEASON, table_or_empty
from schemas.hauls import HAUL_KEY
from schemas.outcomes import HEADLINES
from schemas.tables import TABLES

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.joining.database import Database
    from pipeline.rows import CheckedSeason
    from schemas.settings import Settings


DEEPER_THAN_ANY_M = 1e9

READ_OF_A_NOTE = ("parts", "side", "cause", "hands")
"""What a review may leave to the program by having no column for it."""

UP_TO_THE_FACTORS = (
    "priced_catches",
    "haul_catches",
    "main_species",
    "haul_species",
    "damage_told",
    "measured_hauls",
    "haul_factors",
    "haul_lengths",
    "length_species",
)
"""The tables of single hauls, and what each was fished under: by that the patterns are numbered."""

UP_TO_THE_DAMAGE = ("boat_records", "told_amounts", "stand_ins", "hour_worth", "haul_damage")
"""What of each haul's damage counts, by which the places of its lists are numbered."""

FROM_THE_DAMAGE_ON = (
    "haul_outcomes",
    "sums",
    "headline_hauls",
    "hauls_in_time",
    "trips",
    "haul_positions",
    "rig_by_ground",
    "outcome_records",
    "fished_sums",
    "unknown_damage",
    "damage_sums",
    "watched_hauls",
    "rig_moments",
    "damage_parts",
    "damage_causes",
    "landed_sums",
    "length_hauls",
)
"""What is modelled and told."""


@dataclass(frozen=True)
class DamageTables:
    """What happened to the net, and what it cost.

    `hauls` has one row a haul; `unknown` sums of hauls that nobody knows of, `sums` those of
    damaged hauls with what they cost; `watched` the hauls by the life of their rig, `moments` its
    checks and changes; `parts` and `causes` one row a part and a cause of a damaged haul;
    `hour_worth` is what a lost hour is worth and who says so; `landed` sums of what all hauls were
    worth, foul tows as well.
    """

    hauls: pl.DataFrame
    unknown: pl.DataFrame
    sums: pl.DataFrame
    watched: pl.DataFrame
    moments: pl.DataFrame
    parts: pl.DataFrame
    causes: pl.DataFrame
    hour_worth: dict[str, Any]
    landed: pl.DataFrame


@dataclass(frozen=True)
class JoinedSeason:
    """What the models and the report work on, all of it small beside the hauls.

    `sums` has outcome, vessel, trip, pattern, hauls, tow_hours, total; `patterns` says what each
    pattern is; `headline_hauls` has a row a haul and headline outcome; `hauls_in_time` a row a
    dated haul, boat by boat in the order of time; `trips` a row a trip and rig, `positions` a row
    a haul of which it is known where it was; `records` how often each outcome was recorded;
    `fished` are sums of all hauls, whatever was recorded of them;
    `damage` what is known of it; `length_hauls` a row a haul and species that tell of sizes, and
    `haul_lengths` their length classes; `adjust` names the factors that rigs are compared within.
    """

    sums: pl.DataFrame
    patterns: pl.DataFrame
    headline_hauls: pl.DataFrame
    hauls_in_time: pl.DataFrame
    trips: pl.DataFrame
    positions: pl.DataFrame
    rig_by_ground: pl.DataFrame
    records: pl.DataFrame
    fished: pl.DataFrame
    damage: DamageTables
    length_hauls: pl.DataFrame
    haul_lengths: pl.DataFrame
    adjust: tuple[str, ...]

    def with_conditions(self, sums: pl.DataFrame) -> pl.DataFrame:
        """The sums with the rig and the conditions of their patterns beside them."""
        return sums.join(self.patterns, on="pattern", how="left", suffix="_of_pattern")


def rig_in_force(season: CheckedSeason, database: Database) -> pl.DataFrame:
    """For every haul (`row`) its `own` rig version, the `fitted` one, and the one in force."""
    for name in ("hauls", "fittings"):
        database.put(name, table_or_empty(season, name))
    return database.make("rig_in_force")


def lay_tables(season: CheckedSeason, database: Database) -> None:
    """Put every table of the season in the database, and make `rig_in_force`.

    A table that it lacks has no rows.
    """
    for name in TABLES:
        database.put(name, table_or_empty(season, name))
    database.make("rig_in_force")


def join_season(
    season: CheckedSeason,
    note_readings: pl.DataFrame,
    known_species: pl.DataFrame,
    settings: Settings,
    database: Database,
) -> JoinedSeason:
    """Join, measure and sum the season; the tables stay in the database under their names.

    The database has the season's tables, and `haul_length_differences`. Raises
    `SeasonUnusableError` where the settings name what the season has not.
    """
    if refused := refused_names(settings, season.kept, known_species):
        raise SeasonUnusableError(refused)
    database.put("haul_seasons", haul_seasons(season))
    database.put("prices", sure_prices(season))
    database.put("note_readings", note_readings)
    database.put("known_species", known_species)
    database.put("hauls_missing_catch", season.hauls_missing_catch)
    database.put("hauls_missing_lengths", season.hauls_missing_lengths)
    database.put("damage_review", counted_reviews(season, note_readings))
    database.put("blank_notes", blank_notes(season))
    database.put("cost_rates", cost_rates(settings))
    database.put("depth_bands", depth_bands(settings.model.depth_band_edges_m))
    model = settings.model
    for name, species in (
        ("named_species", model.species or ()),
        ("species_with_edges", model.length_edges_cm),
    ):
        database.put(name, pl.DataFrame({"species": [*species]}, schema={"species": pl.String}))
    database.put("counted_lengths", counted_lengths(season, model.lengths_from))
    database.put("headline_outcomes", pl.DataFrame({"outcome": HEADLINES}))
    database.make_all(UP_TO_THE_FACTORS)
    adjust, patterns = _number_patterns(season, settings, database)
    database.make_all(UP_TO_THE_DAMAGE)
    database.put("list_places", list_places(database.get("haul_damage")))
    database.make_all(FROM_THE_DAMAGE_ON)
    get = database.get
    return JoinedSeason(
        sums=get("sums"),
        patterns=patterns,
        headline_hauls=get("headline_hauls"),
        hauls_in_time=get("hauls_in_time"),
        trips=get("trips"),
        positions=get("haul_positions"),
        rig_by_ground=get("rig_by_ground"),
        records=get("outcome_records"),
        fished=get("fished_sums"),
        damage=DamageTables(
            hauls=get("haul_damage"),
            unknown=get("unknown_damage"),
            sums=get("damage_sums"),
            watched=get("watched_hauls"),
            moments=get("rig_moments"),
            parts=get("damage_parts"),
            causes=get("damage_causes"),
            hour_worth=get("hour_worth").row(0, named=True),
            landed=get("landed_sums"),
        ),
        length_hauls=get("length_hauls"),
        haul_lengths=get("haul_lengths"),
        adjust=adjust,
    )


def counted_lengths(season: CheckedSeason, places: Sequence[str]) -> pl.DataFrame:
    """The rows of lengths of fish that were caught: those from the places named, or else all."""
    lengths = table_or_empty(season, "lengths")
    return (lengths.filter(pl.col("where").is_in(places)) if places else lengths).drop("where")


def _number_patterns(
    season: CheckedSeason, settings: Settings, database: Database
) -> tuple[tuple[str, ...], pl.DataFrame]:
    """The factors to adjust for and the patterns of them; each haul's own goes to the database."""
    factors = database.get("haul_factors")
    kept = season.tables["hauls"].select("row", *season.kept)
    own = [name for name in season.kept if name in factors.columns]
    words = factors.drop(own).join(kept, on="row", how="left")
    adjust = factors_to_adjust(settings, words, several=bool(season.within))
    differences = length_steps(database.get("haul_length_differences"))
    patterns, hauls = number_patterns(words.join(differences, on="row", how="left"), adjust)
    database.put("patterns", patterns)
    database.put("haul_patterns", hauls)
    return adjust, patterns


def length_steps(haul_length_differences: pl.DataFrame) -> pl.DataFrame:
    """The length difference at each haul's time in steps of 0.05 %, so that hauls can be summed.

    A tape tells no less: 1 cm on a gear of 20 m is as much.
    """
    percent = (pl.col("length_difference_percent") * 20).round() / 20
    return haul_length_differences.select("row", percent.round(2) + 0.0)  # no "-0.0"


def factors_to_adjust(settings: Settings, words: pl.DataFrame, *, several: bool) -> tuple[str, ...]:
    """The factors that the season names; where it names none, the usual ones.

    Those have the year among them if the record runs over several: a stock that falls from year
    to year would else be laid to the rig that came last. So is the season where there are
    `several`, unless the boat tells it already.
    """
    adjust = tuple(dict.fromkeys(settings.model.adjust))
    if "adjust" in settings.model.model_fields_set:
        return adjust
    years = words["year"].replace("not recorded", None).drop_nulls().n_unique()
    further = ["year"] if years > 1 else []
    further += [SEASON] if several and _tells_more(words, SEASON, "vessel") else []
    return (*adjust, *further)


def _tells_more(words: pl.DataFrame, factor: str, other: str) -> bool:
    """Whether one level of `other` met with several of the factor."""
    return words.select(factor, other).n_unique() > words[other].n_unique()


def haul_seasons(season: CheckedSeason) -> pl.DataFrame:
    """For every haul (`row`) the `season` that it is of; blank where there is only one."""
    return pl.concat(
        each.tables["hauls"].select("row", pl.lit(each.name).alias("season"))
        for each in season.seasons
    )


def sure_prices(season: CheckedSeason) -> pl.DataFrame:
    """The good prices of each `season`, which hold for its own hauls.

    A species of which one was set aside has a blank one in place of all.
    """
    return pl.concat([_sure_prices(each) for each in season.seasons], how="diagonal")


def _sure_prices(season: CheckedSeason) -> pl.DataFrame:
    prices = table_or_empty(season, "prices")
    unsure = season.species_missing_price
    sure = pl.concat([prices.join(unsure, on="species", how="anti"), unsure], how="diagonal")
    return sure.with_columns(pl.lit(season.name).alias("season"))


def counted_reviews(season: CheckedSeason, note_readings: pl.DataFrame) -> pl.DataFrame:
    """The named reviews; what their table has no column for stays as the note was read.

    `says_damaged` is whether it has a column for damage, so that a blank there is a person's;
    `note_read` the note that was read, where the log has another one now.
    """
    return pl.concat(
        [_counted_reviews(each, note_readings) for each in season.seasons], how="diagonal"
    )


def _counted_reviews(season: CheckedSeason, note_readings: pl.DataFrame) -> pl.DataFrame:
    reviews = named_reviews_of(season)
    found = season.found.get("damage_review", ())
    lacking = [name for name in READ_OF_A_NOTE if name not in found]
    keys = season.tables["hauls"].select("row", *HAUL_KEY)
    read = keys.join(note_readings, on="row").select(*HAUL_KEY, *lacking)
    changed = changed_notes_of(season).select(*HAUL_KEY, pl.col("damage_note").alias("note_read"))
    return (
        reviews.drop(lacking)
        .join(read, on=HAUL_KEY, how="left")
        .join(changed, on=HAUL_KEY, how="left")
        .select(*reviews.columns, "note_read", pl.lit("damaged" in found).alias("says_damaged"))
    )


def cost_rates(settings: Settings) -> pl.DataFrame:
    """One row: what an hour of mending and an hour lost cost, null where the season is silent."""
    costs = settings.costs
    return pl.DataFrame(
        {"mending_hour": [costs.mending_hour], "hour_lost": [costs.hour_lost]},
        schema={"mending_hour": pl.Float64, "hour_lost": pl.Float64},
    )


def blank_notes(season: CheckedSeason) -> pl.DataFrame:
    """By `season`, whether a haul without a note is one without damage, as the season says."""
    seasons = season.seasons
    return pl.DataFrame(
        {
            "season": [each.name for each in seasons],
            "mean_no_damage": [each.blank_is_no_damage for each in seasons],
        }
    )


def depth_bands(edges_m: tuple[float, ...]) -> pl.DataFrame:
    """Depth bands between the edges: `depth_band`, `from_m` (inclusive), `to_m`."""
    edges = [0.0, *sorted(set(edges_m) - {0.0}), DEEPER_THAN_ANY_M]
    return pl.DataFrame(
        [
            {
                "depth_band": f"{low:g}–{high:g} m"
                if high < DEEPER_THAN_ANY_M
                else f"{low:g} m and deeper",
                "from_m": low,
                "to_m": high,
            }
            for low, high in pairwise(edges)
        ]
    )
