"""Rigs of several seasons: new names, as asked for, and rigs of one name that are not alike."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.nearest import did_you_mean
from pipeline.problems import SeasonUnusableError
from schemas.tables import TABLES
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from pipeline.rows import CheckedSeason
    from schemas.settings import Rigs

NAMING_RIGS = {
    "hauls": ("rig_version",),
    "rig_versions": ("rig_version", "changed_from"),
    "rig_parts": ("rig_version",),
    "fittings": ("rig_version",),
    "length_checks": ("rig_version",),
}
TAKEN_TO_HOLD = saying(
    "What {} says of {} in {} is taken to hold in {} too, which says nothing of it."
)
ONE_RIG_IN_ALL = saying("No season describes {}: such a name is taken for one rig in all.")
REASONS = (TAKEN_TO_HOLD, ONE_RIG_IN_ALL)

OF_ITS_HISTORY = {"rig_version", "changed_from", "what_changed"}
"""What `rig_versions` says of a rig's name and past, beside what the rig is."""
MOST_TOLD = 3

Description = dict[tuple[str, ...], Any]
"""What a season says of a rig: its cells by where they stand."""


def with_asked_names(seasons: Sequence[CheckedSeason], asked: Rigs) -> list[CheckedSeason]:
    """The seasons with their rigs called as the folder's settings ask.

    Raises `SeasonUnusableError` where they name a season or rig that is not there, or would give
    two rigs of one season one name.
    """
    known = {season.name: rigs_of(season) for season in seasons}
    problems = [
        f"season.toml: [rigs] names the season {name!r}{did_you_mean(name, known)}, which is none "
        "of the season folders that can be used."
        for name in asked.names
        if name not in known
    ]
    everywhere = sorted({rig for rigs in known.values() for rig in rigs})
    problems += [
        f"season.toml: [rigs] same names {rig!r}{did_you_mean(rig, everywhere)}, which is no rig "
        "of any season."
        for rig in asked.same
        if rig not in everywhere
    ]
    for name, names in asked.names.items():
        problems += _name_problems(name, names, known.get(name, set(names)))
    if problems:
        raise SeasonUnusableError(problems)
    return [_renamed(season, asked.names.get(season.name, {})) for season in seasons]


def rigs_of(season: CheckedSeason) -> set[str]:
    """Every rig version that a season fishes or tells of."""
    named = [
        season.tables[table][column]
        for table, columns in NAMING_RIGS.items()
        if table in season.tables
        for column in columns
    ]
    return set(pl.concat(named).drop_nulls().to_list())


def _name_problems(season: str, names: Mapping[str, str], known: set[str]) -> list[str]:
    where = f"season.toml: [rigs.names] {season}"
    strangers = [
        f"{where} names {rig!r}{did_you_mean(rig, known)}, which is no rig of that season."
        for rig in names
        if rig not in known
    ]
    called = [names.get(rig, rig) for rig in sorted(known)]
    doubled = sorted({rig for rig in called if called.count(rig) > 1})
    return strangers + [f"{where} would call two of its rigs {rig!r}." for rig in doubled]


def _renamed(season: CheckedSeason, names: Mapping[str, str]) -> CheckedSeason:
    if not names:
        return season
    tables = {
        table: season.tables[table].with_columns(pl.col(columns).replace(dict(names)))
        for table, columns in NAMING_RIGS.items()
        if table in season.tables
    }
    missing = season.parts_missing.with_columns(pl.col("rig_version").replace(dict(names)))
    return replace(season, tables={**season.tables, **tables}, parts_missing=missing)


def need_alike_rigs(seasons: Sequence[CheckedSeason], same: Sequence[str]) -> None:
    """Raise `SeasonUnusableError` with a sentence on each rig that seasons describe otherwise.

    Rigs of the names in `same` are one rig, however they are described.
    """
    problems = [
        sentence
        for rig in sorted({rig for season in seasons for rig in rigs_of(season)} - {*same})
        if (sentence := _clash(rig, seasons))
    ]
    if problems:
        raise SeasonUnusableError(problems)


def told_by_some(seasons: Sequence[CheckedSeason]) -> list[str]:
    """A sentence on each rig of several seasons of which only some say what it is."""
    sentences, by_name = [], []
    for rig in sorted({rig for season in seasons for rig in rigs_of(season)}):
        having = [season for season in seasons if rig in rigs_of(season)]
        if len(having) > 1 and not any(_described(s, "rig_versions", rig) for s in having):
            by_name.append(rig)
        for table in ("rig_versions", "rig_parts"):
            telling = [s.name for s in having if _described(s, table, rig)]
            silent = [s.name for s in having if s.name not in telling]
            if telling and silent:
                sentences.append(TAKEN_TO_HOLD.format(table, rig, telling[0], ", ".join(silent)))
    if by_name:
        sentences.append(ONE_RIG_IN_ALL.format(", ".join(by_name)))
    return sentences


def _clash(rig: str, seasons: Sequence[CheckedSeason]) -> str | None:
    """How the first two seasons that describe a rig otherwise differ, and what to do."""
    for table in ("rig_versions", "rig_parts"):
        told = [(s.name, cells) for s in seasons if (cells := _described(s, table, rig))]
        for other, cells in told[1:]:
            first, first_cells = told[0]
            if differences := _differences(first_cells, cells):
                return _sentence(rig, table, (first, other), differences)
    return None


def _described(season: CheckedSeason, table: str, rig: str) -> Description:
    """What a table says of a rig: each cell by the rest of its row's key and its column."""
    if table not in season.tables:
        return {}
    columns = [c for c in TABLES[table].column_names if c not in OF_ITS_HISTORY]
    key = [column for column in TABLES[table].key if column in columns]
    rows = season.tables[table].filter(pl.col("rig_version") == rig)
    return {
        (*(str(row[part]) for part in key if row[part] is not None), column): row[column]
        for row in rows.select(columns).to_dicts()
        for column in columns
        if column not in key
    }


def _differences(first: Description, other: Description) -> list[str]:
    """The cells that differ, in words; a whole row that one lacks counts once."""
    told = []
    for where in dict.fromkeys((*first, *other)):
        *row, column = where
        place = " ".join(row)
        lacking = [number for number, cells in enumerate((first, other)) if where not in cells]
        if lacking:
            told.append(f"{place} only in the {'first' if lacking == [1] else 'second'}")
        elif first[where] != other[where]:
            cells = f"{_cell(first[where])} against {_cell(other[where])}"
            told.append(" ".join(filter(None, (place, column, cells))))
    return list(dict.fromkeys(told))


def _cell(value: object) -> str:
    if value is None:
        return "not recorded"
    return f"{value:g}" if isinstance(value, float) else str(value)


def _sentence(rig: str, table: str, names: tuple[str, str], differences: list[str]) -> str:
    first, other = names
    more = len(differences) - MOST_TOLD
    shown = "; ".join(differences[:MOST_TOLD]) + (f"; and {more} more" if more > 0 else "")
    return (
        f"Is {rig!r} one rig in {first} and {other}? Their {table} differ: {shown}. Give it "
        "another name in one of the two, or say in the season.toml beside the season folders, "
        f'under [rigs], what it is called (names = {{ "{other}" = {{ "{rig}" = "…" }} }}), or that '
        f'it is one rig all the same (same = ["{rig}"]).'
    )
