"""The words by which a season's notes are read: its own, then the built-in ones."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.intake.toml_file import read_toml
from pipeline.notes.own_words import lexicon_with

if TYPE_CHECKING:
    from pathlib import Path

    from pipeline.notes.lexicon import Lexicon


def words_in(file: Path | None) -> Lexicon | None:
    """The lexicon with the words in the file; None, for the built-in one, without a file.

    Raises `SeasonUnusableError` with a sentence for each thing in it that can't be used.
    """
    return None if file is None else lexicon_with(read_toml(file), file.name)
