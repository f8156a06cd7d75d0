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
    by_name = {season.name: season for season in seasons}
    problems = [
        f"season.toml: [rigs] names the season {name!r}{did_you_mean(name, by_name)}, which is "
        "none of the season folders that can be used."
        for name in asked.names
        if name not in by_name
    ]
    everywhere = sorted({rig for season in seasons for rig in rigs_of(season)})
    problems += [
        f"season.toml: [rigs] same names {rig!r}{did_you_mean(rig, everywhere)}, which is no rig "
        "of any season."
        for rig in asked.same
        if rig not in everywhere
    ]
    for name, names in asked.names.items():
        if name in by_name:
            problems += _name_problems(by_name[name], names)
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


def _name_problems(season: CheckedSeason, names: Mapping[str, str]) -> list[str]:
    where, known = f"season.toml: [rigs.names] {season.name}", rigs_of(season)
    strangers = [
        f"{where} names {rig!r}{did_you_mean(rig, known)}, which is no rig of that season"
        f"{_if_set_aside(season, rig, name)}."
        for rig, name in names.items()
        if rig not in known
    ]
    called = {rig: names.get(rig, rig) for rig in sorted(known)}
    doubled = sorted({name for name in called.values() if list(called.values()).count(name) > 1})
    return strangers + [
        f"{where} would call two of its rigs {name!r}. If the two are one rig, "
        f"{_one_rig(season, next(rig for rig in called if called[rig] == name != rig), name)}."
        for name in doubled
    ]


def _if_set_aside(season: CheckedSeason, rig: str, name: str) -> str:
    """Of a rig whose rows are all set aside, that they are, and how they can be used."""
    named = (pl.col("column") == "rig_version") & (pl.col("value") == rig)
    rows = season.set_aside.filter(named).height
    if not rows:
        return ""
    return (
        f", as far as it can be used: rows set aside that have it: {rows:,}. If it is the rig "
        f"{name!r}, {_one_rig(season, rig, name)}"
    )


def _one_rig(season: CheckedSeason, rig: str, name: str) -> str:
    """How to say that a log calls one rig by two names."""
    return (
        f"say so under [hauls.columns] in the season.toml of {season.name} itself: "
        f'rig_version = {{ from = "rig_version", words = {{ "{rig}" = "{name}" }} }}, where from '
        "is the header of its log"
    )


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
