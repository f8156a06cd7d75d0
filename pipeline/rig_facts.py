"""What is known of the rigs: weights, geometry, length checks, stretch, wear, and changes."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import polars as pl
from polars import selectors

from pipeline.clock import Clock, Say, silent
from pipeline.good_rows import good_rig_rows
from pipeline.joining.database import Database
from pipeline.joining.join_season import lay_tables
from pipeline.rates.reference import reference_rig
from pipeline.rigs.line.rig_geometry import rig_geometry
from pipeline.rigs.line.tipping import tipping
from pipeline.rigs.stretching.goes_on import without_what_goes_on
from pipeline.rigs.stretching.length_checks import length_differences
from pipeline.rigs.stretching.pace import hours_by_rig
from pipeline.rigs.stretching.stretch import stretch
from pipeline.rigs.wearing.wear import part_changes, part_hours
from pipeline.rigs.weight.parts import speaks_of
from pipeline.rigs.weight.rig_weights import WHOLE, rig_weights
from pipeline.rigs.weight.weights import part_weights
from pipeline.rows import table_or_empty
from schemas.measures import MEASURES

if TYPE_CHECKING:
    from pipeline.rows import CheckedSeason
    from schemas.settings import Settings


@dataclass(frozen=True)
class SeasonRigs:
    """A season's title and its rigs: as tables, and each with all that is known of it."""

    title: str
    facts: RigFacts
    rows: list[dict[str, Any]]


@dataclass(frozen=True)
class RigFacts:
    """Tables on the season's rig versions, each described where it is made.

    `versions` are those that `rig_versions` describes or a haul names.
    """

    versions: pl.DataFrame
    parts: pl.DataFrame
    weights: pl.DataFrame
    geometry: pl.DataFrame
    length_differences: pl.DataFrame
    stretch: pl.DataFrame
    part_hours: pl.DataFrame
    part_changes: pl.DataFrame

    @property
    def measures(self) -> pl.DataFrame:
        """Each rig version's `MEASURES`, null where one is not known for sure."""
        whole = self.weights.filter(pl.col("section") == WHOLE).select(
            "rig_version",
            "largest_diameter_mm",
            pl.when(~pl.col("at_least")).then("weight_water_kg_per_m"),
        )
        lines = self.geometry.select("rig_version", "gap_mm", "slack_m")
        return (
            self.versions.select("rig_version")
            .join(whole, on="rig_version", how="left")
            .join(lines, on="rig_version", how="left")
            .select("rig_version", *(measure.name for measure in MEASURES))
        )


def season_rigs(season: str | Path, say: Say | None = None) -> SeasonRigs:
    """The rigs of a season, without any comparison of what they did."""
    clock = Clock(say or silent)
    folder, checked = good_rig_rows(Path(season), clock)
    clock.step("Knowing the rigs")
    with Database() as database:
        lay_tables(checked, database)
        facts = know_rigs(checked, folder.settings, database)
        hauls = database.get("hauls").select("row", "tow_hours")
        fished = (
            hauls.join(database.get("rig_in_force").select("row", "rig_version"), on="row")
            .group_by("rig_version")
            .agg(pl.len().alias("hauls"), pl.col("tow_hours").sum())
        )
    clock.stop()
    about = folder.settings.season
    reference = about.reference_rig or reference_rig(fished, None)
    return SeasonRigs(about.title, facts, rig_rows(facts, fished, reference))


def know_rigs(season: CheckedSeason, settings: Settings, database: Database) -> RigFacts:
    """Everything that the season's tables tell of its rigs.

    `database` holds the season's tables and `rig_in_force`. It gets the length difference at each
    haul's time, and these tables.
    """
    described = table_or_empty(season, "rig_versions")
    rig_parts = table_or_empty(season, "rig_parts")
    fishing_hours = database.make("fishing_hours")
    fished = hours_by_rig(fishing_hours)
    differences = length_differences(database.make("checked_lengths"))
    database.put("length_differences", differences)
    # A part whose row was set aside is there all the same: its rig weighs at least what is left.
    parts = part_weights(pl.concat([rig_parts, season.parts_missing], how="diagonal"))
    weights = rig_weights(parts, described)
    geometry = rig_geometry(described, weights)
    stretched = stretch(
        differences,
        fished,
        settings.checks.most_length_difference_percent,
        settings.checks.hours_between_length_checks,
    )
    stretched = _with_a_traveller(stretched, parts)
    stretched = without_what_goes_on(stretched, described, fishing_hours)
    tipped = tipping(stretched, parts, geometry, described)
    facts = RigFacts(
        versions=_versions(described, database.get("hauls"), database.get("rig_in_force")),
        parts=parts,
        weights=weights,
        geometry=geometry,
        length_differences=differences,
        stretch=stretched.join(
            tipped, on=["vessel", "rig_version", "section"], how="left", maintain_order="left"
        ),
        part_hours=part_hours(rig_parts, described, fished),
        part_changes=part_changes(rig_parts, described),
    )
    database.put("part_weights", facts.parts)
    database.put("rig_weights", facts.weights)
    database.put("rig_geometry", facts.geometry)
    database.put("stretch", facts.stretch)
    database.make("haul_length_differences")
    database.put("part_hours", facts.part_hours)
    return facts


def rig_rows(facts: RigFacts, fished: pl.DataFrame, reference: str | None) -> list[dict[str, Any]]:
    """Each rig version with all that is known of it, as `findings.json` has it.

    `fished` has rig_version, hauls, tow_hours. A rig without hauls has 0 of both.
    """
    of_rig = {
        name: _by_rig(table)
        for name, table in {
            "weights": facts.weights,
            "parts": facts.parts,
            "length_checks": facts.length_differences,
            "stretch": facts.stretch,
            "part_hours": facts.part_hours,
            "changes": facts.part_changes,
        }.items()
    }
    geometry = _by_rig(facts.geometry)
    rows = facts.versions.join(fished, on="rig_version", how="left", maintain_order="left")
    return [
        {
            **row,
            "is_reference": row["rig_version"] == reference,
            **{name: rows_of.get(row["rig_version"], []) for name, rows_of in of_rig.items()},
            "geometry": next(iter(geometry.get(row["rig_version"], [])), None),
        }
        for row in rows.with_columns(pl.col("hauls", "tow_hours").fill_null(0)).to_dicts()
    ]


def _with_a_traveller(stretched: pl.DataFrame, parts: pl.DataFrame) -> pl.DataFrame:
    """The rows of rigs that a boat has checked, or whose parts have a traveller.

    Not every gear has one: of a rig whose parts name none nobody knows.
    """
    checked = stretched.filter(pl.col("checks") > 0)["rig_version"]
    with_one = parts.filter(speaks_of("traveller"))["rig_version"]
    return stretched.filter(pl.col("rig_version").is_in([*checked, *with_one]))


def _versions(
    described: pl.DataFrame, hauls: pl.DataFrame, rig_in_force: pl.DataFrame
) -> pl.DataFrame:
    """All rig versions, described or fished, with what `rig_versions` says of each, by name."""
    fished = rig_in_force.join(hauls, on="row", how="semi").drop_nulls("rig_version")
    named = pl.concat([described.select("rig_version"), fished.select("rig_version")])
    known = described.drop("row", "source_file", "source_row")
    return named.unique().sort("rig_version").join(known, on="rig_version", how="left")


def _by_rig(table: pl.DataFrame) -> dict[str, list[dict[str, Any]]]:
    """The rows of each rig version without its name, days and times as text."""
    rows: dict[str, list[dict[str, Any]]] = {}
    as_text = table.with_columns(
        selectors.date().dt.to_string("%Y-%m-%d"),
        selectors.datetime().dt.to_string("%Y-%m-%d %H:%M"),
    )
    for row in as_text.to_dicts():
        rows.setdefault(row.pop("rig_version"), []).append(row)
    return rows
