"""What patterns of words say of a note, and how they are learned."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from pipeline.notes.clauses import Clause, clauses_of
from pipeline.notes.lexicon import built_in, plain
from pipeline.notes.patterns import learned_patterns, patterns_of
from tests.notes.learn_patterns import Asked, Learner, read
from tests.notes.test_labelled_notes import labels

ANSWERS = ("no", "unknown", "yes")
OUTCOMES = [f"damaged {answer}" for answer in ANSWERS]


def clauses(note: str) -> list[Clause]:
    return clauses_of(plain(note), built_in())


def learner_of(notes: list[list[Clause]], answers: list[str]) -> Learner:
    every = np.ones(len(notes), dtype=bool)
    holds = np.column_stack([np.array(answers) == answer for answer in ANSWERS])
    asked = Asked(OUTCOMES, len(ANSWERS), holds.astype(np.float32), every)
    learner = Learner(read(notes, every), asked)
    learner.learn(np.arange(len(notes)))
    return learner


@cache
def labelled() -> tuple[list[list[Clause]], list[str]]:
    some = labels("tuning_notes.csv")[::8]
    return [clauses(str(each["note"])) for each in some], [str(each["damaged"]) for each in some]


def test_patterns_say_of_a_note_what_they_said_when_they_were_learned() -> None:
    notes, answers = labelled()
    learner = learner_of(notes, answers)
    patterns = patterns_of(learner.arrays())
    said = np.array([patterns.find(note).scores for note in notes])
    assert said == pytest.approx(learner.scores(np.arange(len(notes))), abs=0.15)


def test_patterns_do_not_hang_on_chance() -> None:
    once, again = (learner_of(*labelled()).arrays() for _ in range(2))
    assert once.keys() == again.keys()
    assert all((once[name] == again[name]).all() for name in once)


def test_patterns_tell_words_in_one_order_from_the_same_in_another() -> None:
    one, other = clauses("zork blimp"), clauses("blimp zork")
    learner = learner_of([one, other] * 2000, ["yes", "no"] * 2000)
    patterns = patterns_of(learner.arrays())
    for note, answer in ((one, "yes"), (other, "no")):
        found = patterns.find(note)
        assert max(ANSWERS, key=lambda each: found.score(f"damaged {each}")) == answer


def test_a_word_that_nobody_ever_wrote_is_known_by_its_pieces() -> None:
    patterns = learned_patterns()
    of_pieces, of_nothing = (patterns.find(clauses(note)) for note in ("Rippedish", "ξψω"))
    assert of_pieces.score("damaged yes") > of_nothing.score("damaged yes")


def test_a_note_without_a_word_is_asked_as_well() -> None:
    assert len(learned_patterns().find([]).scores) == len(learned_patterns().outcomes)
