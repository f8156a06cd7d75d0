"""What `check` tells: rows read, used and set aside for each table, and why."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.checking.across import species_without_price
from pipeline.checking.check_season import sentence_of
from pipeline.joining.database import Database
from pipeline.joining.join_season import rig_in_force
from pipeline.joining.settings_names import refused_names
from pipeline.joining.species import species_in
from pipeline.nearest import did_you_mean
from pipeline.note_review import changed_without_name
from pipeline.reviews import named_reviews
from pipeline.rows import SEASON, kind_of_reason
from pipeline.seasons.repeats import FOLDER
from pipeline.sharing.consent import agreeing_twice, strangers_that_agree
from reports.check_species import fish_lost, of_no_list
from reports.sentences import listed
from reports.terminal import so_many
from schemas.hauls import HAUL_KEY

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from pipeline.rows import CheckedSeason
    from schemas.settings import Settings

ONLY_OF_TROUBLE = (
    'blank_means = "no damage" under [notes] is for a boat that writes only of trouble.'
)
MOST_SEASONS = 6
"""So many seasons are named behind a sentence that stands for rows of several."""
MOST_RIGS = 6
"""So many rigs are named that another may be."""
LONGEST_NOTE = 120
"""Of a longer note the beginning is shown."""


def check_summary(
    season: CheckedSeason,
    readings: pl.DataFrame,
    settings: Settings,
    not_used: Mapping[str, Sequence[str]] = {},
    *,
    every: bool = False,
) -> str:
    """The summary as text; `every` names each row, else one of each kind stands for the others.

    `readings` says of each haul's `row` what its note was read as; of the season's `settings` it
    is told what the season has not; `not_used` are headers that nothing is read from, by file.
    """
    lines = [*count_lines(season.counts), *_seasons(season)]
    lines += [
        "",
        _rigs(season),
        *_reference(season, settings.season.reference_rig),
        *_refused(season, settings),
        *_consent(season, settings),
        *_currency(season, settings),
        *_notes(season, readings, every=every),
    ]
    lines += [
        *_review(season),
        *_without_damage(season),
        *_without_catches(season),
        *fish_lost(season),
        *of_no_list(season),
        *_without_price(season),
    ]
    if season.not_read:
        lines += ["", "Not read:", *(f"  {sentence}" for sentence in season.not_read)]
    if not_used:
        lines += ["", "Headers that nothing is read from:", *_not_used(not_used)]
    several = bool(season.within)
    if season.set_aside.height:
        lines += ["", "Set aside:"]
        lines += _sentences(season.set_aside, every=every, several=several)
    if season.remarks.height:
        lines += ["", "Used, with a word on it:"]
        lines += _sentences(season.remarks, every=every, several=several)
    if not season.set_aside.height and not season.remarks.height:
        lines += ["", "Every row can be used."]
    return "\n".join(lines)


def count_lines(counts: Mapping[str, Mapping[str, int]]) -> list[str]:
    """How many rows of each table were read, used and set aside, in columns."""
    width = max(len(name) for name in counts)
    return [f"{'':{width}}  {'read':>9} {'used':>9} {'set aside':>9}"] + [
        f"{name:{width}}  {count['read']:>9,} {count['used']:>9,} {count['set_aside']:>9,}"
        for name, count in counts.items()
    ]


def _not_used(headers_of: Mapping[str, Sequence[str]]) -> list[str]:
    """The headers by file; files with the same, as those of the months, share a line."""
    files_with: dict[tuple[str, ...], list[str]] = {}
    for file, headers in headers_of.items():
        files_with.setdefault(tuple(headers), []).append(file)
    return [
        f"  {first}{f' (and {len(others)} more like it)' if others else ''}: {', '.join(headers)}"
        for headers, (first, *others) in files_with.items()
    ]


def _seasons(season: CheckedSeason) -> list[str]:
    """Of several seasons, the rows of hauls of each, and what was made of them together."""
    lines = ["", *season.left_out] if season.left_out else []
    if season.within:
        lines += ["", "Hauls by season:"]
    for each in season.within:
        count = each.counts["hauls"]
        lines.append(
            f"  {each.name}: {count['read']:,} read, {count['used']:,} used, "
            f"{count['set_aside']:,} set aside"
        )
    return lines + [f"  {told}" for told in (*season.together, *_rigs_of_one_boat(season))]


def _rigs_of_one_boat(season: CheckedSeason) -> list[str]:
    """Of several seasons, the rigs that one boat alone names and that may be others' by name."""
    if not season.within:
        return []
    fished = season.tables["hauls"].select("vessel", "rig_version").drop_nulls().unique()
    boats_of: dict[str, set[str]] = {}
    for vessel, rig in fished.sort("vessel", "rig_version").iter_rows():
        boats_of.setdefault(rig, set()).add(vessel)
    said = []
    for boat in sorted(set().union(*boats_of.values())):
        own = [rig for rig, boats in boats_of.items() if boats == {boat}]
        others = [rig for rig, boats in boats_of.items() if boat not in boats]
        if own and others:
            said.append(
                f"{listed(own)}: no boat but {boat} names {'it' if len(own) == 1 else 'them'}. If "
                f"{'it is' if len(own) == 1 else 'one is'} what others call {_or(others)}, say so "
                "under [rigs.names] in the season.toml beside the season folders; else it is "
                "compared on that boat alone, and a co-op's report hides it."
            )
    return said


def _or(rigs: list[str]) -> str:
    """These rigs as a choice, as many as are named."""
    shown = rigs[:MOST_RIGS]
    return " or ".join(filter(None, [", ".join(shown[:-1]), shown[-1]]))


def _rigs(season: CheckedSeason) -> str:
    """How many hauls were fished with each rig, so that a misspelt one is seen.

    With the rig fitted, where a haul does not name its own.
    """
    hauls = season.tables["hauls"]
    if "fittings" in season.tables:
        with Database() as database:
            in_force = rig_in_force(season, database).select("row", "rig_version")
        hauls = hauls.select("row").join(in_force, on="row")
    counts = (
        hauls["rig_version"]
        .drop_nulls()
        .value_counts()
        .sort("count", "rig_version", descending=[True, False])
    )
    told = ", ".join(f"{rig} {hauls:,}" for rig, hauls in counts.iter_rows())
    return f"Hauls by rig: {told or 'none'}."


def _reference(season: CheckedSeason, reference: str | None) -> list[str]:
    """A word on a reference rig that no haul names and that was never fitted."""
    tables = [season.tables[name] for name in ("hauls", "fittings") if name in season.tables]
    named = sorted({rig for table in tables for rig in table["rig_version"].drop_nulls()})
    if reference is None or reference in named:
        return []
    return [
        f"season.toml: [season] reference_rig is {reference!r}, which no haul was fished "
        f"with{did_you_mean(reference, named)}; put it right, as no report can be made so."
    ]


def _refused(season: CheckedSeason, settings: Settings) -> list[str]:
    """What the settings name and the season has not, so that no report can be made."""
    return refused_names(settings, season.kept, species_in(season))


def _consent(season: CheckedSeason, settings: Settings) -> list[str]:
    """A word on boats that agree to stand in a co-op's report, and are not there or agree twice."""
    boats = season.tables["hauls"]["vessel"].unique()
    return [*strangers_that_agree(settings.sharing, boats), *agreeing_twice(settings.sharing)]


def _currency(season: CheckedSeason, settings: Settings) -> list[str]:
    """A word on sums of money of which nobody says in what."""
    costs = (settings.costs.mending_hour, settings.costs.hour_lost)
    told = "prices" in season.tables or any(cost is not None for cost in costs)
    if settings.season.currency or not told:
        return []
    return ["No currency is named, so sums of money stand without one: currency under [season]."]


def _without_damage(season: CheckedSeason) -> list[str]:
    """That nothing tells of damage, where no column of the log or a review does."""
    told = {"damaged", "damage_events", "damage_note"} & set(season.found["hauls"])
    if told or "damage_review" in season.tables:
        return []
    return [
        "No column tells of damage, so nothing is told of it: damage_note for the skipper's notes, "
        "or damaged for yes and no."
    ]


def _without_catches(season: CheckedSeason) -> list[str]:
    """What is not told where there is no catch, or none that names its species, and what helps."""
    if "species" in season.found.get("catches", ()):
        return []
    there = "species in catches" if "catches" in season.tables else "table catches"
    return [
        f"There is no {there}, so nothing is told of fish. Where the log has a column for each "
        "species, say so under [catches.across] in season.toml."
    ]


def _review(season: CheckedSeason) -> list[str]:
    """How many rows of a review count, and a word on those that were changed and not signed."""
    said, used = [], season.tables.get("damage_review", pl.DataFrame()).height
    named = named_reviews(season).height
    if named != used:
        have = so_many(named, "has a name in who, and counts", "have a name in who, and count")
        said.append(
            f"Of the rows of damage_review {have}; of the others the program's reading does."
        )
    rows = changed_without_name(season)
    if rows:
        which = "One changed row" if rows == 1 else f"{rows:,} changed rows"
        said.append(
            f"{which} of damage_review without a name in who: not counted until there is one."
        )
    return said


def _without_price(season: CheckedSeason) -> list[str]:
    """The species that were kept and that no row of prices tells of."""
    species = species_without_price(season)
    if not species:
        return []
    return [
        f"Kept, and without a price in prices: {', '.join(species)}. In the value of the catch "
        "they count as nothing, so what pays is told of the rest alone; add their prices."
    ]


def _notes(season: CheckedSeason, readings: pl.DataFrame, *, every: bool) -> list[str]:
    """How the notes were read, where nothing else tells of damage; those not understood by name."""
    hauls = season.tables["hauls"]
    if "damage_note" not in season.found["hauls"]:
        return []
    silent = hauls.filter(pl.col("damaged").is_null() & pl.col("damage_events").is_null())
    reviewed = named_reviews(season)
    by_person = silent.join(reviewed, on=HAUL_KEY, how="semi").height
    silent = silent.join(reviewed, on=HAUL_KEY, how="anti")
    if silent.is_empty():
        return []
    read = silent.join(readings, on="row", suffix="_read")
    blank = read["damage_note"].null_count()
    unsure = read.filter(pl.col("damage_note").is_not_null() & pl.col("damaged_read").is_null())
    counts = read["damaged_read"].value_counts()
    of = dict(counts.iter_rows())
    lines = [
        "Notes, where no column tells of damage: "
        f"{so_many(of.get('yes', 0), 'says', 'say')} damage, "
        f"{so_many(of.get('no', 0), 'says', 'say')} none, {so_many(blank, 'is', 'are')} blank, "
        f"{so_many(unsure.height, 'is', 'are')} not understood."
        + (f" A person read {by_person:,} more." if by_person else "")
    ]
    words = (
        unsure["damage_note"].value_counts().sort("count", "damage_note", descending=[True, False])
    )
    shown = words if every else words.head(8)
    lines += [f"  not understood: '{_begun(note)}' ({rows:,})" for note, rows in shown.iter_rows()]
    no_damage = _blank_as_no_damage(season, read.filter(pl.col("damage_note").is_null()))
    lines += _silent_as_no_damage(season, unsure.filter("silent").height)
    untold = blank > sum(no_damage.values())
    if unsure.height or untold:
        lines.append(
            "  Such hauls are left out where damage is counted. 'rigseason note SEASON' writes the "
            "notes out for a person to put right; a column of yes and no tells more"
            + (f"; {ONLY_OF_TROUBLE}" if untold else ".")
        )
    if no_damage and not season.within:
        lines.append('  Those that are blank count as no damage: blank_means = "no damage".')
    lines += [
        f"  {so_many(hauls, 'blank counts', 'blank count')} as no damage: blank_means = "
        f'"no damage" of {name}.'
        for name, hauls in no_damage.items()
        if season.within
    ]
    return lines


def _silent_as_no_damage(season: CheckedSeason, silent: int) -> list[str]:
    """That notes which say nothing of the net mean what a blank one does, where that is told."""
    if not silent or not all(each.blank_is_no_damage for each in season.seasons):
        return []
    return [
        f"  Of these {so_many(silent, 'says nothing', 'say nothing')} of the net, and "
        f"{'counts' if silent == 1 else 'count'} as no damage, as a blank one does."
    ]


def _blank_as_no_damage(season: CheckedSeason, blank: pl.DataFrame) -> dict[str, int]:
    """How many blank notes count as no damage, by the season that says so of its own."""
    saying_so = [each.name for each in season.seasons if each.blank_is_no_damage]
    if not season.within:
        return {name: blank.height for name in saying_so if blank.height}
    counts = dict(blank[SEASON].value_counts().iter_rows())
    return {name: counts[name] for name in saying_so if name in counts}


def _begun(note: str) -> str:
    """A note, or how it begins, on one line."""
    line = " ".join(note.split())
    return line if len(line) <= LONGEST_NOTE else f"{line[:LONGEST_NOTE].rstrip()} …"


def _sentences(told: pl.DataFrame, *, every: bool, several: bool) -> list[str]:
    """A sentence a row, or one of each kind; of `several` seasons with those that have more."""
    if every:
        return [f"  {sentence_of(row)}" for row in told.iter_rows(named=True)]
    kinds = (
        told.with_row_index("at")
        .with_columns(kind_of_reason(pl.col("reason")).alias("kind"))
        .group_by("table", "column", "kind")
        .agg(
            pl.col("at", "source_file", "source_row", "value", "reason").first(),
            pl.len().alias("rows"),
            FOLDER.first().alias("season"),
            FOLDER.slice(1).unique(maintain_order=True).alias("seasons"),
        )
        .sort("at")
    )
    return [
        f"  {sentence_of(row)}{_more_like_it(row, several=several)}"
        for row in kinds.iter_rows(named=True)
    ]


def _more_like_it(row: dict[str, Any], *, several: bool) -> str:
    """How many more rows are of a kind, and of which seasons, where any is of another's."""
    if row["rows"] == 1:
        return ""
    more, seasons = f"{row['rows'] - 1:,} more like it", row["seasons"]
    if not several or seasons == [row["season"]]:
        return f" ({more})"
    named, others = seasons[:MOST_SEASONS], len(seasons) - MOST_SEASONS
    return f" ({more}: {', '.join(named)}{f' and {others} more' if others > 0 else ''})"
