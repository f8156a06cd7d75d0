"""What the words of a note weigh for and against each thing that it may tell.

The weights are learned from labelled notes (`python -m tests.notes.learn_weights`): of each word,
pair of words and piece of a word, and of each run of meanings that the word list gives them. What a
note weighs for an outcome is the sum of the weights of what stands in it, of each kind by itself
and divided by the length of the kind: log odds, as logistic regression has them (Cox 1958, "The
regression analysis of binary sequences"). What is rare counts for more (Spärck Jones 1972, "A
statistical interpretation of term specificity and its application in retrieval").
"""

from __future__ import annotations

import math
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


class Scale(NamedTuple):
    """One kind of thing: for each its row, and there its weights and last its rarity squared.

    Row 0 is of things that were never seen, and weighs nothing.
    """

    row_of: Mapping[Hashable, int]
    weights: Weighed

    def weigh(self, things: Iterable[Hashable]) -> Weighed:
        """Some things together."""
        rows = list(map(self.row_of.get, things, repeat(0)))
        weighed: Weighed = self.weights.take(rows, axis=0).sum(axis=0)
        return weighed


class Weights(NamedTuple):
    """The outcomes, what each weighs before a word is read, and the scales of each kind.

    `of_letters` is what the letters of a word weigh together.
    """

    outcomes: Mapping[str, int]
    before: Weighed
    words: Scale
    meanings: Scale
    course: Scale
    of_letters: Remembered[str, Weighed]

    def weigh(self, clauses: Sequence[Clause]) -> NoteWeighed:
        """What a note weighs for every outcome."""
        words = [words_of(clause) for clause in clauses]
        meanings = [meanings_of(clause) for clause in clauses]
        kinds = (
            self.words.weigh(chain.from_iterable(map(runs_of_words, words))),
            self.meanings.weigh(
                run
                for of_clause, clause in zip(meanings, clauses, strict=True)
                for run in runs_of_meanings(of_clause, turned=clause.turned)
            ),
            self.course.weigh(course(meanings)),
            self._letters(chain.from_iterable(words)),
        )
        lengths = [math.sqrt(kind[-1]) or 1.0 for kind in kinds]
        return NoteWeighed(self, clauses, self._together(kinds, lengths).tolist(), lengths)

    def alone(self, saying: Item | str, lengths: Sequence[float]) -> Weighed:
        """What one word or phrase of a note weighs by itself, for every outcome."""
        words = (saying,) if isinstance(saying, str) else saying.words
        kinds = (
            self.words.weigh((written(word),) for word in words),
            self.meanings.weigh([(meaning_of(saying),)]),
            self.course.weigh(()),
            self._letters(map(written, words)),
        )
        return self._together(kinds, lengths) - self.before

    def _together(self, kinds: Iterable[Weighed], lengths: Iterable[float]) -> Weighed:
        """The weights of all kinds, each divided by its length."""
        total = self.before.copy()
        for kind, length in zip(kinds, lengths, strict=True):
            total += kind[:-1] / length
        return total

    def _letters(self, words: Iterable[str]) -> Weighed:
        """The letters of some words."""
        of_words = [self.of_letters[word] for word in words]
        weighed: Weighed = np.add.reduce(of_words) if of_words else self.course.weigh(())
        return weighed


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
        weighed = [float(self.weights.alone(saying, self.lengths)[at]) for saying in every]
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
    scales = {kind: _scale(table, kind) for kind in KINDS}
    return Weights(
        {outcome: at for at, outcome in enumerate(outcomes)},
        before.to_numpy().astype(np.float32)[0],
        scales["words"],
        scales["meanings"],
        scales["course"],
        Remembered(lambda word: scales["letters"].weigh(pieces(word))),
    )


def _scale(table: pl.DataFrame, kind: str) -> Scale:
    table = table.filter(pl.col("kind") == kind)
    rarity = table["rarity"].to_numpy().astype(np.float32)
    weights = table.select(table.columns[3:]).to_numpy().astype(np.float32)
    things: list[str] = table["thing"].to_list()
    row_of: dict[Hashable, int] = {
        thing if kind == "letters" else tuple(thing.split(JOINT)): row
        for row, thing in enumerate(things, start=1)
    }
    by_row = np.zeros((len(things) + 1, weights.shape[1] + 1), np.float32)
    by_row[1:] = np.column_stack([weights * rarity[:, None], rarity**2])
    return Scale(row_of, by_row)


@cache
def learned() -> Weights:
    """The weights of `weights.parquet`."""
    with (files(__package__) / "weights.parquet").open("rb") as file:
        return weights_of(pl.read_parquet(file))
