"""Rigs of several seasons, by new names, as asked for."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import polars as pl

from pipeline.nearest import did_you_mean
from pipeline.problems import SeasonUnusableError

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
