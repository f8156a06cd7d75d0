"""Everything that was found, in the form in which programs read it and the report is drawn.

`findings.json` is this, and nothing stands in the report that is not here.
"""

from __future__ import annotations

from dataclasses import asdict, fields, is_dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.checking.across import follows_from_another, species_without_price, why_catches_lack
from pipeline.joining.species import fish_groups, unlisted_species, weighed
from pipeline.rig_facts import rig_rows
from pipeline.rows import kind_of_reason
from schemas.outcomes import HEADLINES, MONEY, OUTCOMES, outcome
from schemas.words import GROUNDS, UNKNOWN_GROUND

if TYPE_CHECKING:
    from pipeline.joining.join_season import JoinedSeason
    from pipeline.rates.looks import Judging
    from pipeline.rig_facts import RigFacts
    from pipeline.rows import CheckedSeason
    from schemas.settings import Settings

Findings = dict[str, Any]
PLAIN = frozenset({str, float, int, bool, type(None)})
"""What most of the findings are, and is so written as it is."""


def plain(found: Findings) -> Findings:
    """The contents of `findings.json`: plain dicts, lists, words and numbers.

    A code is then but its word: to polars it is a kind of its own, and a column of it takes no
    other words.
    """
    return {name: _plain(held) for name, held in found.items()}


def _plain(held: object) -> object:
    if type(held) in PLAIN:
        return held
    if isinstance(held, dict):
        return plain(held)
    if isinstance(held, list | tuple):
        return [_plain(each) for each in held]
    if is_dataclass(held):
        return {each.name: _plain(getattr(held, each.name)) for each in fields(held)}
    return held.value if isinstance(held, StrEnum) else held


def about_season(
    season: CheckedSeason, joined: JoinedSeason, reference: str, settings: Settings
) -> Findings:
    """What the season is, which rows of it were read, set aside or told of, and which were not."""
    return {
        "season": _about(season, joined, reference, settings),
        "rows": season.counts,
        "seasons": _seasons(season),
        "seasons_left_out": season.left_out,
        "not_read": season.not_read,
        "seasons_together": season.together,
        "set_aside": _by_reason(season.set_aside),
        "remarks": _by_reason(season.remarks),
    }


def outcomes_of(
    rates: pl.DataFrame, species: pl.DataFrame, settings: Settings, judging: Judging
) -> list[Findings]:
    """The outcomes that have rates: their words and unit, and what difference matters."""
    named = dict(zip(species["species"], species["name"], strict=True))
    return [
        {
            **asdict(outcome(name, named)),
            "unit": _unit(name, settings),
            "matters": judging.matters_of(name),
        }
        for name in in_order(rates["outcome"].unique().to_list())
    ]


def fished_rigs(fished: pl.DataFrame, rig_facts: RigFacts, reference: str) -> list[Findings]:
    """Each rig version that was fished: how much it was, and what is known of it."""
    by_rig = (
        fished.group_by("rig_version").agg(pl.col("hauls", "tow_hours").sum()).sort("rig_version")
    )
    return [rig for rig in rig_rows(rig_facts, by_rig, reference) if rig["hauls"]]


def about_records(season: CheckedSeason, joined: JoinedSeason) -> Findings:
    """What was recorded of what, boat by boat, and what the season has no record of."""
    catches = season.tables.get("catches")
    return {
        "records": joined.records.to_dicts(),
        "unpriced_species": species_without_price(season),
        "weighed": weighed(catches),
        "catches_lack": why_catches_lack(season).to_dicts(),
        "unlisted_species": unlisted_species(season).to_dicts(),
        "fish_groups": fish_groups(season),
        "missing_tables": [
            name
            for name in ("catches", "rig_versions", "prices", "fittings", "rig_parts")
            if name not in season.tables
        ],
    }


def _seasons(season: CheckedSeason) -> list[Findings]:
    """Of several seasons, what each brought: its boats, its rows of hauls, whether with trips."""
    return [
        {
            "season": each.name,
            "vessels": each.tables["hauls"]["vessel"].unique().sort().to_list(),
            **each.counts["hauls"],
            "names_trips": "trip" in each.found["hauls"],
        }
        for each in season.within
    ]


def in_order(names: list[str]) -> list[str]:
    """Outcomes in the order in which a report tells them, species last."""
    fixed = [each.name for each in OUTCOMES]
    return [name for name in fixed if name in names] + sorted(set(names) - set(fixed))


def _unit(name: str, settings: Settings) -> str:
    return settings.season.currency if name in MONEY else outcome(name).unit


def _about(
    season: CheckedSeason, joined: JoinedSeason, reference: str, settings: Settings
) -> Findings:
    hauls = season.tables["hauls"]
    first, last = hauls["shot_at"].min(), hauls["shot_at"].max()
    met = joined.rig_by_ground["ground"].unique().to_list()
    known = [*GROUNDS, *settings.season.grounds, UNKNOWN_GROUND]
    return {
        "title": settings.season.title,
        "currency": settings.season.currency,
        "reference_rig": reference,
        "grounds": [ground for ground in known if ground in met],
        "vessels": hauls["vessel"].unique().sort().to_list(),
        "hauls": hauls.height,
        "foul_tows": int(hauls["valid"].not_().sum()),
        "trips": hauls.select(pl.struct("vessel", "trip").n_unique()).item(),
        "tow_hours": float(hauls["tow_hours"].sum()),
        "first_day": str(first)[:10] if first is not None else None,
        "last_day": str(last)[:10] if last is not None else None,
        "adjusted_for": list(joined.adjust),
        "errors": settings.model.errors,
        "headlines": list(HEADLINES),
        "units": settings.units.model_dump(),
    }


def _by_reason(told: pl.DataFrame) -> list[Findings]:
    """How many rows of each table for each reason, with one of them as an example.

    Those of the most rows go first; last those that went with another row.
    """
    return (
        told.group_by("table", "column", kind_of_reason(pl.col("reason")).alias("kind"))
        .agg(
            pl.col("reason").first(),
            pl.len().alias("rows"),
            pl.col("source_file", "source_row", "value").first(),
        )
        .drop("kind")
        .sort(follows_from_another(), -pl.col("rows").cast(pl.Int64), "table", "reason", "column")
        .to_dicts()
    )
