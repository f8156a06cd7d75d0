"""The first half of the way of a haul: read, put right, checked."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.check_season import (
    check_each_table,
    check_rig_names,
    check_tables_together,
    with_remarks,
)
from pipeline.checking.corrections import correct
from pipeline.clock import Clock, Say, silent
from pipeline.intake.read_season import read_as_text, read_values
from pipeline.intake.season_folder import SeasonFolder, open_season
from pipeline.joining.database import Database
from pipeline.joining.join_season import rig_in_force, table_or_empty
from pipeline.joining.species import known_species
from pipeline.rigs.line.remarks import line_remarks
from pipeline.rigs.stretching.length_remarks import length_check_remarks
from pipeline.rigs.wearing.versions import version_remarks
from pipeline.rigs.weight.remarks import rig_part_remarks
from pipeline.rigs.weight.rig_weights import rig_weights
from pipeline.rigs.weight.weights import part_weights

if TYPE_CHECKING:
    from pipeline.rows import CheckedSeason

RIG_TABLES = ("hauls", "rig_versions", "rig_parts", "fittings", "length_checks", "corrections")
"""The tables that tell of the rigs, and of how long each was fished."""


def check_season(season: str | Path, say: Say | None = None) -> tuple[SeasonFolder, CheckedSeason]:
    """Read and check a season, and nothing more."""
    with Database() as database:
        return good_rows(Path(season), database, Clock(say or silent))


def good_rows(path: Path, database: Database, clock: Clock) -> tuple[SeasonFolder, CheckedSeason]:
    """The good rows of every table, and those set aside; `rig_in_force` stays in `database`."""
    folder, season, rigs = _checked(path, database, clock)
    if "rig_parts" in season.tables:
        season = with_remarks(season, "rig_parts", rig_part_remarks(season.tables["rig_parts"]))
    if "rig_versions" in season.tables:
        season = with_remarks(season, "rig_versions", _on_rig_versions(season))
    if "length_checks" in season.tables:
        season = with_remarks(season, "length_checks", _on_length_checks(season, rigs))
    clock.stop()
    return folder, season


def good_rig_rows(
    path: Path, database: Database, clock: Clock
) -> tuple[SeasonFolder, CheckedSeason]:
    """As `good_rows`, of `RIG_TABLES` alone and without remarks, which is quicker."""
    folder, season, _ = _checked(path, database, clock, only=RIG_TABLES)
    clock.stop()
    return folder, season


def _checked(
    path: Path, database: Database, clock: Clock, only: tuple[str, ...] | None = None
) -> tuple[SeasonFolder, CheckedSeason, pl.DataFrame]:
    """The checked season, and for each haul the rig in force."""
    clock.step("Reading the season")
    folder = open_season(path) if only is None else open_season(path).only(only)
    texts, refused_corrections = correct(read_as_text(folder))
    clock.step("Checking every row")
    values = read_values(texts, folder.settings)
    season = check_each_table(values, folder.settings, refused_corrections, remarked=only is None)
    season = check_rig_names(season)
    rigs = rig_in_force(season, database)
    species = known_species(season.tables.get("species"))
    return folder, check_tables_together(season, rigs, species), rigs


def _on_rig_versions(season: CheckedSeason) -> pl.DataFrame:
    """The remarks on rig versions, which look at their parts too."""
    described = season.tables["rig_versions"]
    parts = pl.concat([table_or_empty(season, "rig_parts"), season.parts_missing], how="diagonal")
    weights = rig_weights(part_weights(parts), described)
    return pl.concat([version_remarks(described), line_remarks(described, weights)])


def _on_length_checks(season: CheckedSeason, rigs: pl.DataFrame) -> pl.DataFrame:
    """The remarks on length checks, which look at fittings and at what was fished."""
    in_force = rigs.select("row", "rig_version")
    fished = season.tables["hauls"].select("row", "vessel", "shot_at").join(in_force, on="row")
    return length_check_remarks(
        season.tables["length_checks"], table_or_empty(season, "fittings"), fished
    )
