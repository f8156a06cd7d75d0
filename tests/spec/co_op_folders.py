"""A folder of season folders, written as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.spec.season_texts import SeasonText, valid_season
from tests.spec.text_tables import rows_of

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path


def one_of(*vessels: str) -> SeasonText:
    """The valid season's rows of these boats."""
    season = valid_season()
    for name, (headers, *rows) in season.tables.items():
        if "vessel" in headers:
            at = headers.index("vessel")
            season.tables[name] = [headers, *(row for row in rows if row[at] in vessels)]
    if "Gull" not in vessels:
        del season.tables["corrections"]
    return season


def write_seasons(folder: Path, given: Mapping[str, str], settings: str = "") -> Path:
    """Write tables of text, each under `SEASON/TABLE`, as season folders in `folder`."""
    seasons: dict[str, SeasonText] = {}
    for name, text in given.items():
        season, _, table = name.partition("/")
        headers, rows = rows_of(text)
        seasons.setdefault(season, SeasonText({})).tables[table] = [headers, *rows]
    return write_season_texts(folder, seasons, settings)


def write_season_texts(folder: Path, seasons: Mapping[str, SeasonText], settings: str = "") -> Path:
    folder.mkdir()
    for name, season in seasons.items():
        season.write_csv(folder / name)
    if settings:
        (folder / "season.toml").write_text(settings, encoding="utf-8")
    return folder
