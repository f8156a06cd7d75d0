"""Whatever stands in a damage note, it is read without a crash and without hours below nothing."""

from __future__ import annotations

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.notes.read_notes import read_notes
from pipeline.notes.reading import Reading, read_note
from pipeline.notes.times import MOST_HOURS

ODD_NOTES = {
    "100,000 letters": "torn " * 20_000,
    "100,000 letters without a blank": "x" * 100_000,
    "control characters": "belly\x00torn\x07\x1b[31m 2\x0bhrs\x7f mend",
    "right to left": "\u202eنزع\u202c belly torn \u05e7\u05e8\u05d5\u05e2",
    "emoji": "🐟🐟 net 👍🏽 🦈",
    "digits only": "0123456789" * 5,
    "a formula": "=HYPERLINK(\"x\";1/0)+cmd|' /C calc'!A0",
    "a script tag": "<script>alert('belly torn')</script>",
    "300 durations": " ".join(f"{hours} hrs mending" for hours in range(300)),
    "300 durations and a tear": "belly torn, " + ", ".join(["1h30 mend"] * 300),
    "more hours than a year has": "belly torn, 9999 hrs mending",
    "a range that runs backwards": "belly torn, 5-2 hrs mending",
    "no time of day": "belly torn 2999 to 9999",
    "fractions alone": "½ ¼ ¾ ⅔ ½½½ hrs",
    "stops alone": "?!.;,,--//||",
    "half a surrogate": "belly torn \ud800",
    "figures of another script": "belly torn, ٣ hrs, 三 hrs, ² hrs mending",
}


def holds(reading: Reading) -> bool:
    told = (reading.mending_hours.value, reading.hours_lost.value)
    hours = [each for each in told if each is not None]
    known = reading.damaged.value in {"yes", "no", None}
    return known and all(0 <= each <= MOST_HOURS for each in hours)


@pytest.mark.parametrize("note", ODD_NOTES.values(), ids=ODD_NOTES.keys())
def test_an_odd_note_is_read(note: str) -> None:
    assert holds(read_note(note))


@pytest.mark.parametrize("odd", ["digits only", "emoji", "right to left", "stops alone"])
def test_a_sign_that_is_no_word_is_no_damage(odd: str) -> None:
    note = ODD_NOTES[odd].replace("belly torn", "")
    assert read_note(note).damaged.value != "yes"


def test_a_tear_behind_control_characters_is_still_a_tear() -> None:
    reading = read_note(ODD_NOTES["control characters"])
    assert (reading.damaged.value, reading.parts.value) == ("yes", ("belly",))


@pytest.mark.parametrize("times", [1, 20, 150])
def test_what_is_said_again_and_again_tells_no_more(times: int) -> None:
    reading = read_note("belly torn. " * times)
    assert (reading.damaged.value, reading.parts.value) == ("yes", ("belly",))
    assert reading.cause.value == ()


def test_three_hundred_durations_are_no_damage() -> None:
    reading = read_note(" ".join(f"{hours} hrs" for hours in range(300)))
    assert (reading.damaged.value, reading.mending_hours.value) == (None, None)


@pytest.mark.parametrize(
    ("note", "hours"),
    [
        ("codend burst 30 min, wing ripped 1 hr", 1.5),
        ("wing torn 2 hrs, belly torn 2 hrs", 4.0),
        ("wing torn 1 hr and belly ripped 2 hrs", 3.0),
        ("belly torn, 3 hrs mend (0400-0700)", 3.0),
        ("belly gone in 30", None),
        ("wing torn, sewn in 40", 0.6667),
    ],
)
def test_how_times_of_mending_add_up(note: str, hours: float | None) -> None:
    assert read_note(note).mending_hours.value == hours


def test_hours_beyond_any_trip_are_not_taken() -> None:
    reading = read_note(ODD_NOTES["more hours than a year has"])
    assert (reading.damaged.value, reading.mending_hours.value) == ("yes", None)


@settings(deadline=None)
@given(st.text())
def test_any_note_at_all_is_read(note: str) -> None:
    assert holds(read_note(note))


@settings(deadline=None)
@given(
    st.lists(
        st.sampled_from(
            ["torn", "no", "belly", "2 hrs", "1½", "0640", "-", "lost", "mend", "?", "but", "skate"]
        )
    )
)
def test_any_words_of_the_trade_in_any_order_are_read(words: list[str]) -> None:
    assert holds(read_note(" ".join(words)))


def test_one_note_is_read_alike_in_every_row_and_without_hours_where_no_damage() -> None:
    written = ["belly torn, 2 hrs mend", None, "no damage, 2 hrs mending gear", "came fast"]
    notes = pl.DataFrame({"row": range(8), "damage_note": written * 2})
    read = read_notes(notes)
    assert read["row"].to_list() == list(range(8))
    assert read["damaged"].to_list() == ["yes", None, "no", None] * 2
    assert read["mending_hours"].to_list() == [2.0, None, None, None] * 2
