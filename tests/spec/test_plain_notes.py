"""Notes that are read as they stand: see `plain_notes.md`."""

from __future__ import annotations

import pytest

from pipeline.notes.own_words import lexicon_with
from pipeline.notes.reading import read_note
from tests.spec.text_tables import page_text, rows_of

NOT_TOLD = "not told"


def rows(heading: str) -> list[list[str]]:
    return rows_of(page_text("plain_notes.md", heading))[1]


@pytest.mark.parametrize(("note", "damage", "hours"), rows("Damage, and the hours of mending"))
def test_damage_and_hours(note: str, damage: str, hours: str) -> None:
    reading = read_note(note)
    assert (reading.damaged.value or NOT_TOLD) == damage
    assert reading.mending_hours.value == (pytest.approx(float(hours), abs=0.01) if hours else None)


@pytest.mark.parametrize(
    ("section", "group", "own", "note", "damage", "parts", "cause"), rows("Own words go first")
)
def test_own_words_go_first(
    section: str, group: str, own: str, note: str, damage: str, parts: str, cause: str
) -> None:
    reading = read_note(note, lexicon_with({section: {group: [own]}}, "note_words.toml"))
    assert (reading.damaged.value or NOT_TOLD) == damage
    assert ";".join(reading.parts.value) == parts
    assert ";".join(reading.cause.value) == cause
