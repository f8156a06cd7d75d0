"""What the times of a note were spent on, settled between the rules and the learned weights."""

from __future__ import annotations

import pytest

from pipeline.notes.clauses import clauses_of
from pipeline.notes.harm import tellings
from pipeline.notes.hours import hours_of
from pipeline.notes.lexicon import built_in, plain
from pipeline.notes.reading import read_note
from pipeline.notes.spent import spells_of
from pipeline.notes.uses import USES, use_weights_of, wider
from tests.notes.learn_uses import TimeTold, times_told, uses_table
from tests.notes.test_labelled_notes import Label, labels


def times_of(label: Label) -> list[TimeTold]:
    clauses = clauses_of(plain(str(label["note"])), built_in())
    return times_told(label, tellings(clauses), clauses)


def label(note: str, damaged: str, mending: str | None, lost: str | None) -> Label:
    return {"note": note, "damaged": damaged, "mending_hours": mending, "hours_lost": lost}


@pytest.mark.parametrize(
    ("labelled", "uses"),
    [
        (label("belly torn, 2 hrs mending, 5 hrs lost", "yes", "2", "5"), ["mending", "lost"]),
        (label("tow of 4 hrs, wing torn, 1 hr", "yes", "1", None), ["other", "mending"]),
        (label("net fine, 3 hrs dodging", "no", None, "3"), ["lost"]),
        (label("belly torn, 2 hrs and 2 hrs", "yes", "2", "2"), []),
        (label("belly torn, 2 hrs mending", "yes", "7", None), []),
    ],
)
def test_what_a_time_was_spent_on_is_taken_where_the_label_leaves_one_way(
    labelled: Label, uses: list[str]
) -> None:
    assert [time.use for time in times_of(labelled)] == uses


def test_weights_tell_the_uses_that_they_were_learned_from() -> None:
    times = [time for each in labels("tuning_notes.csv")[::4] for time in times_of(each)]
    weights = use_weights_of(uses_table(times))
    right = [
        max(zip(weights.weigh(time.about), USES, strict=True))[1] == time.use for time in times
    ]
    assert len(right) > 200
    assert sum(right) / len(right) > 0.95


def test_a_word_nearby_is_a_word_on_that_side_as_well() -> None:
    assert wider(("word <1", "lost")) == [
        (where, "lost") for where in ("word <1", "word <3", "word <6", "word <", "word =")
    ]
    assert wider(("times", "2")) == [("times", "2")]


def test_hours_that_the_weights_overrule_are_a_guess() -> None:
    overruled = 0
    for each in labels("weighing_notes.csv")[::5]:
        note = plain(str(each["note"]))
        told = tellings(clauses_of(note, built_in()))
        spells = [spell for spell in spells_of(told) if not spell.elsewhere]
        if not spells:
            continue
        reading = read_note(str(each["note"]))
        by_rules = hours_of(told, spells, torn=reading.damaged.value == "yes")
        for rule, read in zip(by_rules, (reading.mending_hours, reading.hours_lost), strict=True):
            if rule.value != read.value:
                overruled += 1
                assert read.sure == "guess"
                assert all(word in note for word in read.words)
    assert overruled > 5
