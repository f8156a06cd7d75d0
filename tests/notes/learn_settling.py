"""Learns how much each reader of notes counts where they are not of one mind.

`python -m tests.notes.learn_weights` calls it. It is learned on notes from which no weight, pattern
or gist was (`SETTLED_BY`), and on those that the rules were tuned to, lest what they were tuned to
be overruled; by logistic regressions: of the answers on damage, and of all parts or all causes at
once.
"""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from sklearn.linear_model import LogisticRegression

from pipeline.notes.gist import gists_of
from pipeline.notes.lexicon import built_in, plain
from pipeline.notes.reading import draft_of, wants_gist
from pipeline.notes.settling import ANSWERS, said_of_damage, said_of_name, spoken_of
from tests.notes.notes_to_learn import OUTCOMES, SECTIONS, has, labels_once, labels_to_settle

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from tests.notes.test_labelled_notes import Label

    Numbers = NDArray[np.float64]

READERS = ("score", "pattern", "gist")
SAID_OF_DAMAGE = [f"{answer} {sure}" for answer in ANSWERS for sure in ("guess", "likely", "sure")]
SAID_OF_NAMES = ["another", "guess", "left out", "likely", "none", "sure"]
"""What the rules may say of damage, and of a part or a cause."""
LOOSENESS = 1.0
"""The inverse of the penalty."""


class SaidByRules(NamedTuple):
    """What the rules say of a note: of damage, and by section of every part and cause."""

    damage: str
    names: dict[str, dict[str, str]]


class Settled(NamedTuple):
    """A labelled note from which nothing else is learned, and what each reader makes of it.

    Scores are the log odds of `OUTCOMES`: by the words' weight, by their patterns, by the gist.
    """

    label: Label
    said: SaidByRules
    scores: Numbers


def said_by_rules(label: Label) -> SaidByRules:
    """What the rules say of a labelled note."""
    draft = draft_of(plain(str(label["note"])), built_in())
    names = {
        section: {
            name: said_of_name(name, ruled, spoken_of(section, draft.clauses)) for name in every
        }
        for section, every, ruled in draft.names
    }
    return SaidByRules(said_of_damage(draft.by_rules), names)


def notes_to_settle() -> Iterator[Settled]:
    """The notes over which rules, weights and patterns differ."""
    tuned_to = (each.label for each in labels_once() if each.rules_saw and "parts" in each.label)
    for label in chain(labels_to_settle(), tuned_to):
        text = plain(str(label["note"]))
        draft = draft_of(text, built_in())
        if not wants_gist(draft):
            continue
        readers = [each for each in (draft.weighed, draft.found, *gists_of([text])) if each]
        scores = [[reader.score(outcome) for outcome in OUTCOMES] for reader in readers]
        yield Settled(label, said_by_rules(label), np.array(scores))


def settling_of_damage(settled: list[Settled]) -> Iterator[str]:
    """What settles damage, as `settling.toml` has it."""
    many = len(ANSWERS)
    table = np.column_stack(
        [
            *(np.array([note.scores[at, :many] for note in settled]) for at in range(len(READERS))),
            *([note.said.damage == one for note in settled] for one in SAID_OF_DAMAGE),
        ]
    )
    answers = np.array([note.label["damaged"] for note in settled])
    fit = _regression(table, answers)
    for at, answer in enumerate(fit.classes_):
        for start, reader in enumerate(READERS):
            yield f"[{reader}.{answer}]"
            yield from (
                f"{of} = {fit.coef_[at, start * many + k]:.3f}" for k, of in enumerate(ANSWERS)
            )
            yield ""
    for k, one in enumerate(SAID_OF_DAMAGE, start=len(READERS) * many):
        yield f'[answers."{one}"]'
        adds = fit.coef_[:, k] + fit.intercept_
        yield from (f"{of} = {adds[at]:.3f}" for at, of in enumerate(fit.classes_))
        yield ""


def settling_of_names(settled: list[Settled]) -> Iterator[str]:
    """What settles parts and causes likewise."""
    torn = [note for note in settled if note.label["damaged"] == "yes"]
    by_reader = {reader: [f"[by_{reader}]"] for reader in READERS}
    for section, (column, names) in SECTIONS.items():
        rows, holds = [], []
        for at, name in enumerate(names):
            told = [note.said.names[section][name] for note in torn]
            outcome = OUTCOMES.index(f"{section} {name}")
            rows.append(
                np.column_stack(
                    [
                        np.array([note.scores[:, outcome] for note in torn]),
                        *([each == one for each in told] for one in SAID_OF_NAMES),
                        *(np.full(len(torn), at == other) for other in range(len(names))),
                    ]
                )
            )
            holds.append(has(torn, column, name))
        fit = _regression(np.vstack(rows), np.concatenate(holds))
        weights = fit.coef_[0]
        of_said = weights[len(READERS) :]
        for at, lines in enumerate(by_reader.values()):
            lines.append(f"{section} = {weights[at]:.3f}")
        yield f"[names.{section}]"
        yield from (
            f'"{one}" = {of_said[k] + fit.intercept_[0]:.3f}' for k, one in enumerate(SAID_OF_NAMES)
        )
        yield ""
        yield f"[each.{section}]"
        yield from (
            f"{name} = {of_said[len(SAID_OF_NAMES) + k]:.3f}" for k, name in enumerate(names)
        )
        yield ""
    for lines in by_reader.values():
        yield from (*lines, "")


def _regression(table: Numbers, answers: NDArray[np.generic]) -> LogisticRegression:
    return LogisticRegression(C=LOOSENESS, max_iter=5000).fit(table, answers)
