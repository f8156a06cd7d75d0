"""Whether rigs of one name are one rig: where seasons describe them otherwise, and where one alone.

A blank cell is not recorded, so it is no difference from a filled one: what the other season says
is taken to hold. Numbers that are printed alike are alike, and so are sizes in millimetres that are
no more than half of one apart: rigs are told in whole ones, and 12 in is 304.8 mm.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import combinations
from typing import TYPE_CHECKING, Any, TypeGuard

import polars as pl

from pipeline.problems import SeasonUnusableError
from pipeline.seasons.rig_names import rigs_of
from schemas.tables import TABLES
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from pipeline.rows import CheckedSeason

TAKEN_TO_HOLD = saying(
    "What {} says of {} in {} is taken to hold in {} too, where it says nothing: is it the same "
    "gear aboard?"
)
BOTH_TAKEN_TO_HOLD = saying(
    "What rig_versions and rig_parts say of {} in {} is taken to hold in {} too, where they say "
    "nothing: is it the same gear aboard?"
)
BLANKS_FILLED = saying("What {} says of {} in {} is taken to hold in {} too, where it is blank.")
ONE_RIG_IN_ALL = saying("No season describes {}: such a name is taken for one rig in all.")
REASONS = (BOTH_TAKEN_TO_HOLD, TAKEN_TO_HOLD, BLANKS_FILLED, ONE_RIG_IN_ALL)

DESCRIBING = ("rig_versions", "rig_parts")
OF_ITS_HISTORY = {"rig_version", "changed_from", "what_changed"}
"""What `rig_versions` says of a rig's name and past, beside what the rig is."""
MERE_NAME = "rig"
"""Tells less than any size, as boats call the same gear otherwise."""
MOST_TOLD = 3
HALF_A_MM = 0.5

Description = dict[tuple[str, ...], Any]
"""What a season says of a rig: its cells by where they stand."""

Silence = tuple[tuple[str, ...], str, str]
"""The tables that say nothing of a rig, the season in which they do, and those in which not."""


@dataclass(frozen=True)
class Difference:
    """A cell, or a row, that two seasons have otherwise: where it is, in words, and how much."""

    table: str
    section: str
    says: str
    share: float


def need_alike_rigs(seasons: Sequence[CheckedSeason], same: Sequence[str]) -> None:
    """Raise `SeasonUnusableError` with a sentence on each rig that seasons describe otherwise.

    Rigs of the names in `same` are one rig, however they are described.
    """
    problems = [
        sentence
        for rig in sorted(_every_rig(seasons) - {*same})
        if (sentence := _clash(rig, seasons))
    ]
    if problems:
        raise SeasonUnusableError(problems)


def told_by_some(seasons: Sequence[CheckedSeason], same: Sequence[str]) -> list[str]:
    """A sentence on the rigs of several seasons of which only some say what they are."""
    filled, by_name = [], []
    rigs: dict[Silence, list[str]] = {}
    for rig in sorted(_every_rig(seasons)):
        having = [season for season in seasons if rig in rigs_of(season)]
        if len(having) > 1 and not any(_described(s, "rig_versions", rig) for s in having):
            by_name.append(rig)
        silent_in: dict[tuple[str, str], tuple[str, ...]] = {}
        for table in DESCRIBING:
            told = {season.name: _described(season, table, rig) for season in having}
            telling = [name for name, cells in told.items() if cells]
            silent = [name for name, cells in told.items() if not cells]
            if telling and silent:
                seasons_of = telling[0], ", ".join(silent)
                silent_in[seasons_of] = (*silent_in.get(seasons_of, ()), table)
            if rig not in same:
                filled += _filled(table, rig, {name: told[name] for name in telling})
        for (first, others), tables in silent_in.items():
            rigs.setdefault((tables, first, others), []).append(rig)
    sentences = [*(_of_silence(silence, of) for silence, of in rigs.items()), *filled]
    if by_name:
        sentences.append(ONE_RIG_IN_ALL.format(", ".join(by_name)))
    return sentences


def _of_silence(silence: Silence, rigs: list[str]) -> str:
    """What is taken to hold of the rigs that the same seasons are silent on."""
    tables, *seasons = silence
    if tables == DESCRIBING:
        return BOTH_TAKEN_TO_HOLD.format(", ".join(rigs), *seasons)
    return TAKEN_TO_HOLD.format(*tables, ", ".join(rigs), *seasons)


def with_blanks_filled(season: CheckedSeason, same: Sequence[str]) -> CheckedSeason:
    """Seasons side by side, each rig's blank cells as the first season says that has them filled.

    Of the rigs in `same` what the first season says counts, blanks and all.
    """
    tables = {
        name: season.tables[name].with_columns(
            pl.when(pl.col("rig_version").is_in(list(same)))
            .then(pl.col(column))
            .otherwise(
                pl.col(column).fill_null(
                    pl.col(column).drop_nulls().first().over(TABLES[name].key),
                )
            )
            .alias(column)
            for column in _telling_columns(name)
        )
        for name in DESCRIBING
        if name in season.tables
    }
    return replace(season, tables={**season.tables, **tables})


def _every_rig(seasons: Sequence[CheckedSeason]) -> set[str]:
    return {rig for season in seasons for rig in rigs_of(season)}


def _telling_columns(table: str) -> list[str]:
    """The columns that say what a rig or a part is, beside the key and the rig's past."""
    described = TABLES[table]
    return [c for c in described.column_names if c not in {*described.key, *OF_ITS_HISTORY}]


def _filled(table: str, rig: str, told: dict[str, Description]) -> list[str]:
    """A sentence on each season whose cells hold in seasons that leave them blank."""
    holding: dict[str, set[str]] = {}
    for where in {where for cells in told.values() for where in cells}:
        first = next((name for name, cells in told.items() if cells.get(where) is not None), None)
        if first is not None:
            blank = {name for name, cells in told.items() if cells.get(where, 0) is None}
            holding.setdefault(first, set()).update(blank)
    return [
        BLANKS_FILLED.format(table, rig, name, ", ".join(sorted(holding[name])))
        for name in told
        if holding.get(name)
    ]


def _clash(rig: str, seasons: Sequence[CheckedSeason]) -> str | None:
    """How the first two seasons that describe a rig otherwise differ, and what to do."""
    told = {
        season.name: {table: _described(season, table, rig) for table in DESCRIBING}
        for season in seasons
    }
    for first, other in combinations(told, 2):
        found = [
            difference
            for table in DESCRIBING
            if told[first][table] and told[other][table]
            for difference in _differences(table, told[first][table], told[other][table])
        ]
        if found:
            return _sentence(rig, (first, other), found)
    return None


def _described(season: CheckedSeason, table: str, rig: str) -> Description:
    """What a table says of a rig: each cell by the rest of its row's key and its column."""
    if table not in season.tables:
        return {}
    key = [column for column in TABLES[table].key if column != "rig_version"]
    columns = _telling_columns(table)
    rows = season.tables[table].filter(pl.col("rig_version") == rig)
    return {
        (*(str(row[part]) for part in key if row[part] is not None), column): row[column]
        for row in rows.select(*key, *columns).to_dicts()
        for column in columns
    }


def _differences(table: str, first: Description, other: Description) -> Iterator[Difference]:
    """The cells that differ; a whole row that one lacks counts once."""
    for row in dict.fromkeys(where[:-1] for where in (*first, *other)):
        own, its = ({w: c for w, c in cells.items() if w[:-1] == row} for cells in (first, other))
        section, part = " ".join(row[:1]), " ".join(row[1:])
        if not own or not its:
            says = f"{part} only in the {'first' if own else 'second'}"
            yield Difference(table, section, says, 1.0)
            continue
        for where, cell in own.items():
            column, other_cell = where[-1], its[where]
            if not _alike(table, column, cell, other_cell):
                says = f"{part} {column} {_printed(cell)} against {_printed(other_cell)}".strip()
                yield Difference(table, section, says, _share(column, cell, other_cell))


def _alike(table: str, column: str, cell: object, other: object) -> bool:
    """Whether two cells say the same, as far as it is told; what is blank says nothing."""
    if cell is None or other is None or _printed(cell) == _printed(other):
        return True
    in_mm = TABLES[table].column(column).unit == "mm"
    return in_mm and _is_number(cell) and _is_number(other) and abs(cell - other) <= HALF_A_MM


def _share(column: str, cell: object, other: object) -> float:
    """How much two cells differ: numbers by their share, words wholly."""
    if _is_number(cell) and _is_number(other):
        return abs(cell - other) / max(abs(cell), abs(other))
    return 0.0 if column == MERE_NAME else 1.0


def _is_number(cell: object) -> TypeGuard[float]:
    return isinstance(cell, (int, float))


def _printed(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)


def _sentence(rig: str, names: tuple[str, str], differences: list[Difference]) -> str:
    """The question whether they are one, with what differs most."""
    first, other = names
    tables = " and ".join(dict.fromkeys(each.table for each in differences))
    told = _most_first(differences)
    more = len(told) - MOST_TOLD
    shown = "; ".join(told[:MOST_TOLD]) + (f"; and {more} more" if more > 0 else "")
    return (
        f"Is {rig!r} one rig in {first} and {other}? Their {tables} differ: {shown}. Give it "
        "another name in one of the two, or say in the season.toml beside the season folders, "
        f'under [rigs], what it is called (names = {{ "{other}" = {{ "{rig}" = "…" }} }}), or that '
        f'it is one rig all the same (same = ["{rig}"]).'
    )


def _most_first(differences: list[Difference]) -> list[str]:
    """What differs, the most first; what does so alike in several sections is told once."""
    sections: dict[str, list[str]] = {}
    for each in sorted(differences, key=lambda difference: -difference.share):
        sections.setdefault(each.says, []).append(each.section)
    return [f"{', '.join(where)} {says}".strip() for says, where in sections.items()]
