"""Which labelled notes are learned from, which settle between readers, what is asked of each."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from pipeline.notes.lexicon import plain
from pipeline.notes.settling import ANSWERS
from schemas.words import CAUSES, NET_PARTS
from tests.notes.learn_patterns import Asked
from tests.notes.test_labelled_notes import held_out, labels, named
from tests.spec.test_notes import notes as spec_notes

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from typing import Protocol

    from numpy.typing import NDArray

    from tests.notes.test_labelled_notes import Label

    class HasLabel(Protocol):
        """A labelled note, whatever else is known of it."""

        @property
        def label(self) -> Label:
            """Its label."""


NEVER_TUNED_TO = ("weighing_notes.csv", "logged_notes.csv")
SETTLED_BY = ("further_logs.csv", "further_notes.csv")
SECTIONS = {"part": ("parts", NET_PARTS), "cause": ("cause", CAUSES)}
OUTCOMES = [
    *(f"damaged {answer}" for answer in ANSWERS),
    *(f"{section} {name}" for section, (_, names) in SECTIONS.items() for name in names),
]


class Labelled(NamedTuple):
    """A label, and whether the rules were tuned to its note."""

    label: Label
    rules_saw: bool


def labels_once() -> Iterator[Labelled]:
    """Every note that may be learned from, each once."""
    seen: set[str] = set()
    for labelled in _labels():
        note = str(labelled.label["note"])
        if note not in seen and plain(note):
            seen.add(note)
            yield labelled


def _labels() -> Iterator[Labelled]:
    yield from (Labelled(label, rules_saw=True) for label in labels("tuning_notes.csv"))
    yield from (
        Labelled(one, rules_saw=True) for one in labels("labelled_notes.csv") if not held_out(one)
    )
    for name in NEVER_TUNED_TO:
        yield from (Labelled(label, rules_saw=False) for label in labels(name))
    for note, damage, _ in spec_notes():
        damaged = "unknown" if damage == "unsure" else damage
        yield Labelled({"note": note, "damaged": damaged}, rules_saw=True)


def labels_to_settle() -> Iterator[Label]:
    """The notes from which nothing is learned but how much each reader counts."""
    learned = {plain(str(each.label["note"])) for each in labels_once()}
    for label in chain.from_iterable(map(labels, SETTLED_BY)):
        if plain(str(label["note"])) not in learned:
            yield label


def has(notes: Sequence[HasLabel], column: str, name: str) -> NDArray[np.bool_]:
    """Of each note whether its label names it."""
    return np.array([column in one.label and name in named(one.label, column) for one in notes])


def asked_of(notes: Sequence[HasLabel]) -> Asked:
    """What is to be learned of each note."""
    answers = np.array([note.label["damaged"] for note in notes])
    every = [(column, name) for column, names in SECTIONS.values() for name in names]
    holds = [*(answers == answer for answer in ANSWERS), *(has(notes, *each) for each in every)]
    torn = (answers == "yes") & np.array(["parts" in note.label for note in notes])
    return Asked(OUTCOMES, len(ANSWERS), np.column_stack(holds).astype(np.float32), torn)
