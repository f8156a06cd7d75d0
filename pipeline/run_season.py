"""The way of a haul, from the records to the report: read this first.

`find` names each step to its clock as it begins. What needs no comparison of the rigs is begun
before its turn, in a second process if there is one, and called for when its turn comes.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from pipeline.begin_reading import begin_reading
from pipeline.checking.slips import far_catches
from pipeline.clock import Clock, Say, silent
from pipeline.damage_findings import damage_findings
from pipeline.findings import (
    Findings,
    about_records,
    about_season,
    fished_rigs,
    outcomes_of,
    plain,
)
from pipeline.joining.database import Database
from pipeline.joining.join_season import join_season, lay_tables
from pipeline.joining.species import species_in
from pipeline.method_findings import method_findings
from pipeline.note_findings import note_findings
from pipeline.note_words import readings_of
from pipeline.notes.reading import load_what_notes_are_read_by
from pipeline.rates.by_length import find_by_length
from pipeline.rates.by_year import find_by_year
from pipeline.rates.changes import find_changes
from pipeline.rates.effects import compare_rigs
from pipeline.rates.measures import find_measure_effects
from pipeline.rates.numbered import by_outcome
from pipeline.rates.on_the_mix import find_on_the_mix, mixes_of
from pipeline.rates.one_after_other import marked
from pipeline.rates.over_boats import find_over_boats
from pipeline.rates.rate_table import rate_table
from pipeline.rates.reference import reference_rig
from pipeline.rates.standing import judge_by, standing
from pipeline.rates.unknowns import suppose
from pipeline.rates.untold_hauls import with_untold_hauls
from pipeline.rig_facts import know_rigs
from pipeline.second_process import HERE, load
from pipeline.standing_findings import standing_findings
from pipeline.trip_findings import trip_findings
from schemas.words import READERS

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    import polars as pl

    from pipeline.begin_reading import ReadSeason
    from pipeline.intake.season_folder import SeasonFolder
    from pipeline.rates.effects import Effect
    from pipeline.rates.fits import Fitted
    from pipeline.rates.looks import Judging
    from pipeline.rates.on_the_mix import OnTheMix
    from pipeline.rows import CheckedSeason
    from pipeline.second_process import Here


LONG_TO_LOAD = ("pipeline.damage_findings",)
"""Of what the second process is asked for this takes half a second of its core to load."""


@dataclass(frozen=True)
class SeasonResults:
    """What came of a season: the checked tables, what was found, and how long each step took.

    `fitted` are the fits that the findings came from, by the names of their models.
    """

    folder: SeasonFolder
    season: CheckedSeason
    findings: Findings
    seconds: dict[str, float]
    fitted: dict[str, Fitted] = field(default_factory=dict)


def run_season(
    season: str | Path,
    out: str | Path | None = None,
    say: Say | None = None,
    reference: str | None = None,
    readers: Sequence[str] = READERS[:1],
    boats: Sequence[str] = (),
    second: Here = HERE,
    begun: Callable[[], ReadSeason] | None = None,
) -> SeasonResults:
    """Take a season folder or workbook, or a folder of season folders, through every step.

    The report is written to `out` if given.

    `say` is told each step as it begins. `reference` is the rig that others are held against, if
    it is not to be the season's own; `readers` are those for whom a page is written, `boats` those
    that have a page of their own beside the co-op's; `second` is the process to work beside this
    one, if there is to be one, and `begun` the promise of the season read, if that was begun
    before. Raises `SeasonUnusableError` with one plain sentence per problem; nothing is written
    then.
    """
    say = say or silent
    begun = begun or begin_reading(season, say, second)
    second.promised(load, *LONG_TO_LOAD)
    if out is None:
        with Database() as database:
            return find(begun(), database, say, reference, second)
    from reports.coop.folder import READER, check_boats, check_consent
    from reports.folder import check_place, write_report
    from reports.pictures import Pictures

    place = Path(out).resolve()
    check_place(place)
    pictures = Pictures(second)
    pictures.begin()
    load_what_notes_are_read_by()
    read = begun()
    check_boats(boats, read.season.tables["hauls"]["vessel"].unique().sort().to_list())
    if READER in readers:
        check_consent(read)
    with Database() as database:
        results = find(read, database, say, reference, second)
        write_report(results, database, place, say, readers, boats, pictures)
    return results


def find(
    read: ReadSeason,
    database: Database,
    say: Say = silent,
    asked: str | None = None,
    second: Here = HERE,
) -> SeasonResults:
    """Good rows in, findings out; the tables on the way stay in `database`.

    `asked` is the reference rig, if it is not to be the season's own. What needs no comparison of
    the rigs is reckoned beside it, in the `second` process, if there is one.
    """
    folder, season, seconds = read
    clock = Clock(say)
    settings = folder.settings
    species = species_in(season)
    clock.step("Reading the damage notes")
    readings = readings_of(folder, season)
    clock.step("Knowing the rigs")
    lay_tables(season, database)
    rig_facts = know_rigs(season, settings, database)
    clock.step("Joining and summing")
    joined = join_season(season, readings, species, settings, database)
    sums = joined.with_conditions(joined.sums)
    of_outcomes = by_outcome(sums)
    fished, adjust, errors = joined.rig_by_ground, joined.adjust, settings.model.errors
    reference = reference_rig(fished, settings.season.reference_rig, asked)
    judging = judge_by(of_outcomes, fished, reference, settings.model)
    damage = second.by_either(damage_findings, joined, sums, reference, settings, judging)
    boats = second.by_either(find_over_boats, sums, fished, reference, adjust, errors)
    changes = second.by_either(find_changes, joined.hauls_in_time, reference, errors)
    clock.step("Comparing the rigs")
    rates = rate_table(of_outcomes, errors)
    compared = compare_rigs(of_outcomes, fished, reference, adjust, errors, judging=judging)
    told_of = with_untold_hauls(compared.effects, joined.with_conditions(joined.fished))
    effects = marked(told_of, joined.hauls_in_time)
    compared = replace(compared, effects=effects)
    mixes = mixes_of(fished, settings.model.ground_mix)
    mixed = _on_mixes(second, sums, effects, adjust, errors, mixes, judging)
    unknown = joined.with_conditions(joined.damage.unknown)
    supposed = second.by_either(suppose, sums, unknown, effects, adjust, errors, judging)
    by_year = second.by_either(find_by_year, sums, reference, adjust, errors)
    telling = joined.with_conditions(joined.length_hauls)
    names = dict(zip(species["species"], species["name"], strict=True))
    by_length = second.by_either(
        find_by_length, telling, joined.haul_lengths, names, reference, adjust, settings.model
    )
    clock.step("Laying differences to measures")
    measures = find_measure_effects(sums, rig_facts.measures, reference, adjust, errors, judging)
    clock.step("Trying whether the headlines stand")
    far = far_catches(season).join(species.filter("bottom_living"), on="species", how="semi")
    tried = standing_findings(joined, sums, effects, reference, settings, judging, far)
    on_the_mix = mixed()
    clock.step("Looking before and after each change of rig")
    changed = changes()
    clock.step("Holding the boats side by side")
    held = boats()
    clock.step("Reckoning what damage cost")
    cost = damage()
    own_words = folder.note_words_file is not None
    findings = plain(
        {
            **about_season(season, joined, reference, settings),
            "outcomes": outcomes_of(rates, species, settings, judging),
            "rig_by_ground": fished.to_dicts(),
            "rates": rates.to_dicts(),
            "effects": effects,
            "comparisons": sum(effect.ratio is not None for effect in effects),
            "measures": measures,
            "rigs": fished_rigs(fished, rig_facts, reference),
            "notes": note_findings(joined.damage.hauls, readings, season, supposed()),
            "standing": standing(compared, judging),
            "on_the_mix": on_the_mix,
            "by_year": by_year(),
            "by_length": by_length(),
            "boats": held,
            "changes": changed,
            **trip_findings(joined),
            **cost,
            **tried,
            "method": method_findings(season, settings, asked, own_words=own_words),
            **about_records(season, joined),
            "far_catches": far.to_dicts(),
        }
    )
    clock.stop()
    return SeasonResults(folder, season, findings, seconds | clock.seconds, compared.fitted)


def _on_mixes(
    second: Here,
    sums: pl.DataFrame,
    effects: list[Effect],
    adjust: Sequence[str],
    errors: Literal["trip", "model"],
    mixes: Mapping[str, Mapping[str, float]],
    judging: Judging,
) -> Callable[[], list[OnTheMix]]:
    """The promise of every rig on each mix of grounds, begun an outcome at a time.

    The last outcome is called for first, as a second process begins with the first.
    """
    begun = [
        second.by_either(
            find_on_the_mix,
            sums.filter(outcome=name),
            [effect for effect in effects if effect.outcome == name],
            adjust,
            errors,
            mixes,
            judging,
        )
        for name in dict.fromkeys(effect.outcome for effect in effects)
    ]

    def called_for() -> list[OnTheMix]:
        backwards = [promise() for promise in reversed(begun)]
        return list(chain.from_iterable(reversed(backwards)))

    return called_for
