"""How the findings came about: settings, rules, corrections, software; for `findings.json`."""

from __future__ import annotations

import platform
from importlib.metadata import PackageNotFoundError, version
from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.rates.poisson import LEAST_SPARE_TRIPS
from pipeline.rates.support import LEAST_HAULS, LEAST_SHARE, LEAST_TRIPS

if TYPE_CHECKING:
    from pipeline.rows import CheckedSeason
    from schemas.settings import Settings

LIBRARIES = (
    "rigseason",
    "polars",
    "pandera",
    "duckdb",
    "altair",
    "vl-convert-python",
    "numpy",
    "scipy",
)

DECISIVE = ("damaged", "ground")
"""The columns of hauls that say what happened, and where: what stands for them is to be known."""


def method_findings(
    season: CheckedSeason, settings: Settings, asked_reference: str | None, *, own_words: bool
) -> dict[str, Any]:
    """The key `method`: what the run was told to do, and with what it was done.

    `asked_reference` is the reference rig where it was named by option; `own_words` whether the
    season has words of damage notes of its own. `settings` are those that differ from what holds
    where `season.toml` says nothing, each with that; how columns are called is left out, but for
    those in whose stead another stands, or of which words were made others.
    """
    return {
        "software": {
            "python": platform.python_version(),
            **{name: _version(name) for name in LIBRARIES},
        },
        "settings": _departures(settings),
        "stand_ins": _stand_ins(settings),
        "reference_by": _reference_by(settings, asked_reference),
        "depth_band_edges_m": list(settings.model.depth_band_edges_m),
        "blank_notes_mean": settings.notes.blank_means,
        "own_note_words": own_words,
        "support": {
            "share": LEAST_SHARE,
            "hauls": LEAST_HAULS,
            "trips": LEAST_TRIPS,
            "spare_trips": LEAST_SPARE_TRIPS,
        },
        "corrections": _corrections(season),
    }


def _version(name: str) -> str | None:
    try:
        return version(name)
    except PackageNotFoundError:
        return None


def _departures(settings: Settings) -> list[dict[str, Any]]:
    """The settings that differ from the program's own, a row each."""
    own = type(settings)().model_dump(mode="json", exclude={"tables"})
    set_here = settings.model_dump(mode="json", exclude={"tables"})
    return [
        {"section": section, "key": key, "set": value, "otherwise": own[section][key]}
        for section, keys in set_here.items()
        for key, value in keys.items()
        if value != own[section][key]
    ]


def _stand_ins(settings: Settings) -> list[dict[str, Any]]:
    """What was read for the columns on which findings turn, where they are called otherwise.

    `words` are those that were made others, `otherwise` what any other is.
    """
    source = settings.source("hauls")
    read = {column: source.column_source(column) for column in DECISIVE}
    return [
        {
            "column": column,
            "headers": list(each.headers),
            "value": each.value,
            "words": each.words,
            "otherwise": each.otherwise,
        }
        for column, each in read.items()
        if each.headers != (column,) or each.words or each.otherwise is not None
    ]


def _reference_by(settings: Settings, asked: str | None) -> str:
    if asked is not None:
        return "option"
    return "most hours" if settings.season.reference_rig is None else "season"


def _corrections(season: CheckedSeason) -> list[dict[str, Any]]:
    """How many cells of each column were put right by whom, and why."""
    if "corrections" not in season.tables:
        return []
    return (
        season.tables["corrections"]
        .group_by("table", "column", "who", "why")
        .agg(pl.len().alias("cells"))
        .sort("table", "column", "who", "why")
        .to_dicts()
    )
