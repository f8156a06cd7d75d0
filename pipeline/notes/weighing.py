"""What the words of a note weigh for and against each thing that it may tell.

The weights are learned from labelled notes (`python -m tests.notes.learn_weights`): of each word,
pair of words and piece of a word, and of each run of meanings that the word list gives them. What a
note weighs for an outcome is the sum of the weights of what stands in it, of each kind by itself
and divided by the length of the kind: log odds, as logistic regression has them (Cox 1958, "The
regression analysis of binary sequences"). What is rare counts for more (Spärck Jones 1972, "A
statistical interpretation of term specificity and its application in retrieval").
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from itertools import chain, repeat
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.notes.features import (
    course,
    meaning_of,
    meanings_of,
    pieces,
    runs_of_meanings,
    runs_of_words,
    words_of,
    written,
)
from pipeline.notes.remembered import Remembered

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterable, Mapping, Sequence

    from pipeline.notes.clauses import Clause, Item

KINDS = ("words", "meanings", "course", "letters")
"""The kinds of things that are weighed, each by itself."""

JOINT = " "
"""Between the words of a run, in the file of weights."""


Weighed = NDArray[np.float32]
"""The weights of some things for every outcome, summed; and last the sum of rarities squared."""

NEVER_SEEN = 0
"""The row of things that were never seen: they weigh nothing."""


class Scale(NamedTuple):
    """One kind of thing: the row of each in the weights of all kinds."""

    row_of: Mapping[Hashable, int]

    def row(self, thing: Hashable) -> int:
        """The row of a thing."""
        return self.row_of.get(thing, NEVER_SEEN)

    def rows(self, things: Iterable[Hashable]) -> list[int]:
        """The rows of some things, behind one that weighs nothing."""
        return [NEVER_SEEN, *map(self.row_of.get, things, repeat(NEVER_SEEN))]


class Weights(NamedTuple):
    """The outcomes, what each weighs before a word is read, and the scales of each kind.

    `weights` has for each thing its weights for every outcome, and last its rarity squared;
    `of_letters` what the letters of a word weigh together.
    """

    outcomes: Mapping[str, int]
    before: Weighed
    weights: Weighed
    words: Scale
    meanings: Scale
    course: Scale
    of_letters: Remembered[str, Weighed]

    def weigh(self, clauses: Sequence[Clause]) -> NoteWeighed:
        """What a note weighs for every outcome."""
        words = [words_of(clause) for clause in clauses]
        meanings = [meanings_of(clause) for clause in clauses]
        kinds = self._kinds(
            self.words.rows(chain.from_iterable(map(runs_of_words, words))),
            self.meanings.rows(
                run
                for of_clause, clause in zip(meanings, clauses, strict=True)
                for run in runs_of_meanings(of_clause, turned=clause.turned)
            ),
            self.course.rows(course(meanings)),
            chain.from_iterable(words),
        )
        lengths = np.sqrt(kinds[:, -1])
        lengths[lengths == 0] = 1
        scores = np.reciprocal(lengths) @ kinds[:, :-1] + self.before
        return NoteWeighed(self, clauses, scores.tolist(), lengths.tolist())

    def alone(self, saying: Item | str, outcome: int, lengths: Sequence[float]) -> float:
        """What one word or phrase of a note weighs by itself, for the outcome of that number."""
        words = [written(word) for word in ((saying,) if isinstance(saying, str) else saying.words)]
        weight = self.weights.item
        of_words = sum(weight(self.words.row((word,)), outcome) for word in words)
        of_meaning = weight(self.meanings.row((meaning_of(saying),)), outcome)
        of_letters = sum(self.of_letters[word].item(outcome) for word in words)
        kinds = (of_words, of_meaning, 0.0, of_letters)
        return sum(kind / length for kind, length in zip(kinds, lengths, strict=True))

    def _kinds(
        self, words: list[int], meanings: list[int], course: list[int], letters: Iterable[str]
    ) -> Weighed:
        """The weights of each of `KINDS` together, a row for each."""
        kinds = np.empty((len(KINDS), self.weights.shape[1]), np.float32)
        starts = [0, len(words), len(words) + len(meanings)]
        rows = self.weights.take(words + meanings + course, axis=0)
        np.add.reduceat(rows, starts, axis=0, out=kinds[:-1])
        np.add.reduce(
            [self.weights[NEVER_SEEN], *map(self.of_letters.__getitem__, letters)],
            axis=0,
            out=kinds[-1],
        )
        return kinds


class NoteWeighed(NamedTuple):
    """A note's score for every outcome, and the lengths of the kinds in it."""

    weights: Weights
    clauses: Sequence[Clause]
    scores: list[float]
    lengths: list[float]

    def score(self, outcome: str) -> float:
        """The log odds of an outcome."""
        return self.scores[self.weights.outcomes[outcome]]

    def heaviest(self, outcome: str, most: int) -> list[str]:
        """The words and phrases that weigh most for an outcome, at most so many, in their order."""
        at = self.weights.outcomes[outcome]
        every = [saying for clause in self.clauses for saying in clause.in_order]
        weighed = [self.weights.alone(saying, at, self.lengths) for saying in every]
        ranked = sorted(range(len(every)), key=lambda place: -weighed[place])[:most]
        note = self.clauses[0].note if self.clauses else ""
        return [_text(every[place], note) for place in sorted(ranked) if weighed[place] > 0]


def _text(saying: Item | str, note: str) -> str:
    """A word or phrase as it stands in the note."""
    return saying if isinstance(saying, str) else note[saying.start : saying.stop]


def weights_of(table: pl.DataFrame) -> Weights:
    """The weights in a table: `kind`, `thing`, `rarity`, and a column for every outcome.

    What an outcome weighs before a word is read stands in the row of kind `before`.
    """
    outcomes = table.columns[3:]
    before = table.filter(pl.col("kind") == "before").select(outcomes)
    things = table.filter(pl.col("kind") != "before")
    rarity = things["rarity"].to_numpy().astype(np.float32)
    each = things.select(outcomes).to_numpy().astype(np.float32)
    weights = np.zeros((len(things) + 1, len(outcomes) + 1), np.float32)
    weights[NEVER_SEEN + 1 :] = np.column_stack([each * rarity[:, None], rarity**2])
    words, meanings, course, letters = (Scale(_rows(things, kind)) for kind in KINDS)
    return Weights(
        {outcome: at for at, outcome in enumerate(outcomes)},
        before.to_numpy().astype(np.float32)[0],
        weights,
        words,
        meanings,
        course,
        Remembered(lambda word: weights.take(letters.rows(pieces(word)), axis=0).sum(axis=0)),
    )


def _rows(things: pl.DataFrame, kind: str) -> dict[Hashable, int]:
    """The row of each thing of a kind in the weights."""
    of_kind = things.with_row_index("at", offset=NEVER_SEEN + 1).filter(pl.col("kind") == kind)
    named = of_kind["thing"].to_list()
    names = named if kind == "letters" else [tuple(thing.split(JOINT)) for thing in named]
    return dict(zip(names, of_kind["at"].to_list(), strict=True))


@cache
def learned() -> Weights:
    """The weights of `weights.parquet`."""
    with (files(__package__) / "weights.parquet").open("rb") as file:
        return weights_of(pl.read_parquet(file))
