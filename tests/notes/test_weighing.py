"""What the words of a note weigh, and how it is settled with what the rules say."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from pipeline.notes.clauses import clauses_of
from pipeline.notes.lexicon import built_in, plain
from pipeline.notes.reading import read_note, read_several
from pipeline.notes.settling import settling
from pipeline.notes.weighing import learned, weights_of
from tests.notes.learn_weights import (
    Note,
    by_things,
    fingerprint,
    fits,
    learnable_notes,
    learned_from,
    weights_table,
)


@cache
def notes_to_learn() -> list[Note]:
    """Of so many notes that may be learned from every tenth."""
    return list(learnable_notes(every=10))


def test_the_weights_were_learned_from_these_notes_and_this_word_list() -> None:
    """Where this fails: `python -m tests.notes.learn_weights`."""
    assert settling().learned_from == fingerprint()


def test_a_note_weighs_what_the_regression_says_of_it() -> None:
    notes = notes_to_learn()[::10]
    every = np.ones(len(notes), dtype=bool)
    table, things = by_things(notes, every)
    of_all = fits(table, notes, every)
    weights = weights_of(weights_table(of_all, things))
    expected = {outcome: table @ each[:-1] + each[-1] for outcome, each in of_all.items()}
    for at, note in enumerate(notes):
        weighed = weights.weigh(note.clauses)
        for outcome in weights.outcomes:
            assert weighed.score(outcome) == pytest.approx(expected[outcome][at], abs=0.15)


def test_what_is_learned_does_not_hang_on_chance() -> None:
    notes = notes_to_learn()[::10]
    every = np.ones(len(notes), dtype=bool)
    once, again = (weights_table(*learned_from(notes, every)) for _ in range(2))
    assert once.equals(again)


def test_a_word_that_nobody_ever_wrote_weighs_by_its_letters_only() -> None:
    weighed = learned().weigh(clauses_of(plain("Rippedish"), built_in()))
    of_nothing = learned().weigh(clauses_of(plain("ξψω"), built_in()))
    assert weighed.score("damaged yes") > of_nothing.score("damaged yes")


@pytest.mark.parametrize(
    ("note", "damaged", "cause"),
    [
        ("wing is like a lace curtain after that wee reef", "yes", ("hard_ground",)),
        ("whole net looks brand new, grand tow", "no", ()),
        ("price of hake is a joke", None, ()),
    ],
)
def test_a_note_without_a_known_word_of_harm_is_read_by_its_weight(
    note: str, damaged: str | None, cause: tuple[str, ...]
) -> None:
    reading = read_note(note)
    assert (reading.damaged.value, reading.cause.value) == (damaged, cause)


def test_what_the_weight_alone_says_is_a_guess_and_names_words_of_the_note() -> None:
    notes = [str(each.label["note"]) for each in notes_to_learn()[::9]]
    overruled = [
        (note, reading.damaged)
        for note, reading in zip(notes, read_several(notes), strict=True)
        if reading.damaged.sure == "guess" and reading.damaged.value
    ]
    assert len(overruled) > 10
    assert all(word in plain(note) for note, told in overruled for word in told.words)


@pytest.mark.parametrize("note", ["hole in net", "net damaged again", "some damage to the gear"])
def test_harm_to_the_net_is_no_harm_to_all_of_it(note: str) -> None:
    reading = read_note(note)
    assert (reading.damaged.value, reading.parts.value, reading.cause.value) == ("yes", (), ())
