"""The words by which a season's notes are read: its own, then the built-in ones."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.intake.toml_file import read_toml
from pipeline.notes.own_words import lexicon_with
from pipeline.notes.read_notes import read_notes

if TYPE_CHECKING:
    from pathlib import Path

    from pipeline.intake.season_folder import SeasonFolder
    from pipeline.notes.lexicon import Lexicon
    from pipeline.rows import CheckedSeason


def words_in(file: Path | None) -> Lexicon | None:
    """The lexicon with the words in the file; None, for the built-in one, without a file.

    Raises `SeasonUnusableError` with a sentence for each thing in it that can't be used.
    """
    return None if file is None else lexicon_with(read_toml(file), file.name)


def readings_of(folder: SeasonFolder, season: CheckedSeason) -> pl.DataFrame:
    """The readings of `read_notes` of every haul's note, each by the words of its own season."""
    words = {each.path.name: words_in(each.note_words_file) for each in folder.seasons}
    whole = words_in(folder.note_words_file)
    return pl.concat(
        read_notes(each.tables["hauls"].select("row", "damage_note"), words.get(each.name, whole))
        for each in season.seasons
    )
