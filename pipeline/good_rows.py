"""The first half of the way of a haul: read, put right, checked."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.check_season import (
    check_each_table,
    check_rig_names,
    check_tables_together,
    with_remarks,
)
from pipeline.checking.complete import complete
from pipeline.checking.corrections import correct
from pipeline.checking.in_order import in_order
from pipeline.checking.reviews import review_remarks
from pipeline.checking.unlisted import told_of_unlisted
from pipeline.clock import Clock, Say, silent
from pipeline.intake.folder_of_seasons import open_seasons, why_left_out
from pipeline.intake.needed_columns import need_columns
from pipeline.intake.read_season import read_as_text, read_values
from pipeline.joining.database import Database
from pipeline.joining.join_season import rig_in_force
from pipeline.joining.species import known_species, unlisted_species
from pipeline.problems import SeasonUnusableError
from pipeline.rigs.line.remarks import line_remarks
from pipeline.rigs.stretching.length_remarks import length_check_remarks
from pipeline.rigs.wearing.versions import version_remarks
from pipeline.rigs.weight.remarks import rig_part_remarks
from pipeline.rigs.weight.rig_weights import rig_weights
from pipeline.rigs.weight.weights import part_weights
from pipeline.rows import table_or_empty
from pipeline.seasons.among import with_rigs_of_hauls
from pipeline.seasons.together import put_together

if TYPE_CHECKING:
    from collections.abc import Callable

    from pipeline.intake.season_folder import SeasonFolder
    from pipeline.rows import CheckedSeason

    Check = Callable[[SeasonFolder, Clock], tuple[CheckedSeason, pl.DataFrame]]

RIG_TABLES = ("hauls", "rig_versions", "rig_parts", "fittings", "length_checks", "corrections")
"""The tables that tell of the rigs, and of how long each was fished."""


def check_season(season: str | Path, say: Say | None = None) -> tuple[SeasonFolder, CheckedSeason]:
    """Read and check a season, and nothing more."""
    return good_rows(Path(season), Clock(say or silent))


def good_rows(path: Path, clock: Clock) -> tuple[SeasonFolder, CheckedSeason]:
    """The good rows of every table, and those set aside.

    Of a folder of season folders, those of all its seasons together.
    """
    clock.step("Reading the season")
    return _one_or_several(open_seasons(path), clock, _checked_with_remarks)


def good_rig_rows(path: Path, clock: Clock) -> tuple[SeasonFolder, CheckedSeason]:
    """As `good_rows`, of `RIG_TABLES` alone and without remarks, which is quicker."""
    clock.step("Reading the season")
    folder = open_seasons(path).only(RIG_TABLES)
    return _one_or_several(folder, clock, partial(_checked, remarked=False))


def _one_or_several(
    folder: SeasonFolder, clock: Clock, check: Check
) -> tuple[SeasonFolder, CheckedSeason]:
    """The season checked, or the seasons of the folder, each by itself and then put together.

    Raises `SeasonUnusableError` where none of them can be used.
    """
    if not folder.seasons:
        season, _ = check(folder, clock)
        clock.stop()
        season = in_order(with_word_on_species(season))
        return folder, replace(season, not_read=folder.not_read)
    checked, usable, left_out = [], [], list(folder.left_out)
    for each in folder.seasons:
        clock.step(f"Reading {each.path.name}")
        try:
            season, rigs = check(each, clock)
        except SeasonUnusableError as error:
            left_out.append(why_left_out(each.path, error))
        else:
            named = replace(season, name=each.path.name)
            checked.append(in_order(with_rigs_of_hauls(named, rigs)))
            usable.append(each)
    if not checked:
        raise SeasonUnusableError([f"No season in {folder.path.name} can be used.", *left_out])
    clock.step("Putting the seasons together")
    one = put_together(checked, folder.settings, [each.settings for each in usable])
    clock.stop()
    together = (*folder.together, *one.together)
    one = with_word_on_species(one)
    one = replace(one, left_out=tuple(left_out), together=together, not_read=folder.not_read)
    return folder, one


def _checked(
    folder: SeasonFolder, clock: Clock, *, remarked: bool
) -> tuple[CheckedSeason, pl.DataFrame]:
    """The checked season, and for each haul the rig in force."""
    as_written, of_files = read_as_text(folder)
    need_columns(folder, as_written)
    texts, refused_corrections = correct(
        as_written, lambda some: complete(read_values(some, folder.settings), folder.settings)
    )
    clock.step("Checking every row")
    values = read_values(texts, folder.settings)
    season = check_each_table(values, folder.settings, refused_corrections, remarked=remarked)
    season = replace(season, remarks=pl.concat([of_files, season.remarks]))
    season = check_rig_names(season)
    with Database() as database:
        rigs = rig_in_force(season, database)
    species = known_species(season.tables.get("species"))
    return check_tables_together(season, rigs, species), rigs


def _checked_with_remarks(folder: SeasonFolder, clock: Clock) -> tuple[CheckedSeason, pl.DataFrame]:
    """As `_checked`, with the remarks on rows that look at several tables."""
    season, rigs = _checked(folder, clock, remarked=True)
    if "rig_parts" in season.tables:
        season = with_remarks(season, "rig_parts", rig_part_remarks(season.tables["rig_parts"]))
    if "rig_versions" in season.tables:
        season = with_remarks(season, "rig_versions", _on_rig_versions(season))
    if "length_checks" in season.tables:
        season = with_remarks(season, "length_checks", _on_length_checks(season, rigs))
    if "damage_review" in season.tables:
        season = with_remarks(season, "damage_review", review_remarks(season))
    return season, rigs


def with_word_on_species(season: CheckedSeason) -> CheckedSeason:
    """The season, or all seasons together, with a remark on each species that no list has."""
    unlisted = unlisted_species(season)
    return with_remarks(season, "catches", told_of_unlisted(season, unlisted))


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
