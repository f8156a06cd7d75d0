"""The way of a haul, from the records to the report: read this first.

Each line of `find` is one step, and each step is one room of the pipeline.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from pipeline.checking.check_season import (
    check_each_table,
    check_rig_names,
    check_tables_together,
    with_remarks,
)
from pipeline.checking.corrections import correct
from pipeline.clock import Clock, Say, silent
from pipeline.findings import Findings, gather_findings
from pipeline.intake.read_season import read_as_text, read_values
from pipeline.intake.season_folder import SeasonFolder, open_season
from pipeline.joining.database import Database
from pipeline.joining.join_season import join_season, rig_in_force
from pipeline.joining.species import known_species
from pipeline.notes.first_reading import read_notes
from pipeline.rates.effects import find_effects
from pipeline.rates.rate_table import rate_table
from pipeline.rates.reference import reference_rig
from pipeline.rigs.remarks import rig_part_remarks
from pipeline.rigs.rig_weights import weigh_rigs

if TYPE_CHECKING:
    from pipeline.rows import CheckedSeason


@dataclass(frozen=True)
class SeasonResults:
    """What came of a season: the checked tables, what was found, and how long each step took."""

    folder: SeasonFolder
    season: CheckedSeason
    findings: Findings
    seconds: dict[str, float]


def run_season(
    season: str | Path, out: str | Path | None = None, say: Say | None = None
) -> SeasonResults:
    """Take a season folder or workbook through every step; write its report to `out` if given.

    `say` is told each step as it begins. Raises `SeasonUnusableError` with one plain sentence
    per problem; nothing is written then.
    """
    if out is None:
        with Database() as database:
            return find(Path(season), database, say or silent)
    from reports.folder import check_place, write_report

    place = Path(out).resolve()
    check_place(place)
    with Database() as database:
        results = find(Path(season), database, say or silent)
        write_report(results, database, place, say or silent)
    return results


def check_season(season: str | Path, say: Say | None = None) -> tuple[SeasonFolder, CheckedSeason]:
    """Read and check a season, and nothing more."""
    with Database() as database:
        return _good_rows(Path(season), database, Clock(say or silent))


def find(path: Path, database: Database, say: Say) -> SeasonResults:
    """Records in, findings out; the tables on the way stay in `database`."""
    clock = Clock(say)
    folder, season = _good_rows(path, database, clock)
    settings = folder.settings
    species = known_species(season.tables.get("species"))
    clock.step("Reading the damage notes")
    readings = read_notes(season.tables["hauls"].select("row", "damage_note"))
    clock.step("Joining and summing")
    joined = join_season(season, readings, species, settings, database)
    sums = joined.sums.join(joined.patterns, on="pattern", how="left", suffix="_of_pattern")
    reference = reference_rig(joined.rig_by_ground, settings.season.reference_rig)
    clock.step("Comparing the rigs")
    rates = rate_table(sums, settings.model.errors)
    effects = find_effects(
        sums, joined.rig_by_ground, reference, joined.adjust, settings.model.errors
    )
    clock.step("Weighing the rigs")
    weights = weigh_rigs(season.tables)
    findings = gather_findings(
        season,
        joined,
        rates,
        effects,
        weights,
        reference=reference,
        species=species,
        settings=settings,
    )
    clock.stop()
    return SeasonResults(folder, season, findings, clock.seconds)


def _good_rows(path: Path, database: Database, clock: Clock) -> tuple[SeasonFolder, CheckedSeason]:
    clock.step("Reading the season")
    folder = open_season(path)
    texts, refused_corrections = correct(read_as_text(folder))
    clock.step("Checking every row")
    values = read_values(texts, folder.settings)
    season = check_each_table(values, folder.settings, refused_corrections)
    season = check_rig_names(season)
    rigs = rig_in_force(season, database)
    species = known_species(season.tables.get("species"))
    season = check_tables_together(season, rigs, species)
    if "rig_parts" in season.tables:
        season = with_remarks(season, "rig_parts", rig_part_remarks(season.tables["rig_parts"]))
    clock.stop()
    return folder, season
