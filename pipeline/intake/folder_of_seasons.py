"""Find the season folders in a folder of them: what a co-op hands over."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pipeline.intake.file_names import ENDINGS, SETTINGS, WORKBOOKS
from pipeline.intake.not_read import beside_seasons, not_read
from pipeline.intake.season_folder import (
    SeasonFolder,
    has_hauls,
    open_season,
    settings_file_of,
)
from pipeline.intake.settings import read_settings
from pipeline.intake.whole_settings import differing_settings, handed_down, whole_settings
from pipeline.problems import SeasonUnusableError
from schemas.words import saying

if TYPE_CHECKING:
    from pathlib import Path

    from schemas.settings import Settings

REPORT = "run.json"
"""A folder with this file is a report, and no season."""
NOT_OF_THE_WHOLE = "notes"

LEFT_OUT = saying("{} is left out, as it can't be used: {}.")
AND_MORE = saying("{} (and {} more; see rigseason check {})")
NO_SEASON = saying("{} is left out, as it has no hauls.csv, season.toml or workbook.")
REASONS = (NO_SEASON,)


def open_seasons(path: Path) -> SeasonFolder:
    """Find a season's settings and tables, or those of each season folder in a folder of them.

    Of such a folder, `settings` are those that hold for all of its seasons; one that can't be
    opened is named under `left_out`. Raises `SeasonUnusableError` where nothing can be used.
    """
    folders = season_folders(path)
    if not folders:
        season = open_season(path)
        return replace(season, not_read=not_read(season))
    settings_file = settings_file_of(path)
    top = read_settings(settings_file)
    _need_no_mapping(top)
    opened, left_out = [], _strangers(path, folders)
    for folder in folders:
        try:
            season = open_season(folder)
        except SeasonUnusableError as error:
            left_out.append(why_left_out(folder, error))
        else:
            opened.append(replace(season, settings=handed_down(top, season.settings)))
    if not opened:
        raise SeasonUnusableError([f"No season folder in {path.name} can be used.", *left_out])
    of_each = {season.path.name: season.settings for season in opened}
    return SeasonFolder(
        path,
        whole_settings(top, of_each, path.resolve().name),
        settings_file,
        tables=(),
        seasons=tuple(opened),
        left_out=tuple(left_out),
        together=differing_settings(top, of_each),
        not_read=(
            *beside_seasons(path),
            *(told for season in opened for told in not_read(season, f"{season.path.name}/")),
        ),
    )


def season_folders(path: Path) -> tuple[Path, ...]:
    """The season folders in a folder that is no season itself, by name; else none."""
    if not path.is_dir() or has_hauls(path):
        return ()
    return tuple(sorted(filter(_looks_like_a_season, _folders_in(path))))


def why_left_out(folder: Path, error: SeasonUnusableError) -> str:
    """One sentence on a season that can't be used, with the first of its problems."""
    first, *others = error.sentences
    why = first.removesuffix(".")
    told = AND_MORE.format(why, len(others), folder) if others else why
    return LEFT_OUT.format(folder.name, told)


def _looks_like_a_season(folder: Path) -> bool:
    """Whether it has hauls, settings or a workbook, whatever they say."""
    names = {file.name.lower() for file in folder.iterdir()}
    return bool(
        names & {SETTINGS, *(f"hauls{ending}" for ending in ENDINGS)}
        or any(name.endswith(WORKBOOKS) for name in names)
    )


def _folders_in(path: Path) -> list[Path]:
    return [each for each in path.iterdir() if each.is_dir() and not each.name.startswith(".")]


def _strangers(path: Path, folders: tuple[Path, ...]) -> list[str]:
    """A sentence on each further folder with files in it that is neither a season nor a report."""
    return [
        NO_SEASON.format(folder.name)
        for folder in sorted(_folders_in(path))
        if folder not in folders
        and any(file.is_file() for file in folder.iterdir())
        and not (folder / REPORT).exists()
    ]


def _need_no_mapping(top: Settings) -> None:
    """Raise `SeasonUnusableError` if the settings of the whole say how to read a table."""
    told = [*top.tables, *([NOT_OF_THE_WHOLE] if "notes" in top.model_fields_set else [])]
    if told:
        raise SeasonUnusableError(
            f"season.toml: [{name}] says how one season was kept; put it in the season.toml of "
            "that season's own folder."
            for name in told
        )
