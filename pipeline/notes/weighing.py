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
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import polars as pl
from numpy.typing import NDArray

from pipeline.notes.features import course, pieces, runs_of_meanings, runs_of_words, sayings
from pipeline.notes.remembered import Remembered

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterable, Mapping, Sequence

    from pipeline.notes.clauses import Clause
    from pipeline.notes.features import Saying

KINDS = ("words", "meanings", "course", "letters")
"""The kinds of things that are weighed, each by itself."""

JOINT = " "
"""Between the words of a run, in the file of weights."""


Weighed = NDArray[np.float32]
"""The weights of some things for every outcome, summed; and last the sum of rarities squared."""


class Scale(NamedTuple):
    """One kind of thing: for each its row, and there its weights and last its rarity squared."""

    row_of: Mapping[Hashable, int]
    weights: Weighed

    def weigh(self, things: Iterable[Hashable]) -> Weighed:
        """Things that were never seen weigh nothing."""
        rows = [row for row in map(self.row_of.get, things) if row is not None]
        weighed: Weighed = self.weights[rows].sum(axis=0)
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
    letters: Scale
    of_letters: Remembered[Weighed]

    def weigh(self, clauses: Sequence[Clause]) -> NoteWeighed:
        """What a note weighs for every outcome."""
        said = [sayings(clause) for clause in clauses]
        kinds = (
            self.words.weigh(run for one in said for run in runs_of_words(one)),
            self.meanings.weigh(
                run
                for one, clause in zip(said, clauses, strict=True)
                for run in runs_of_meanings(one, turned=clause.turned)
            ),
            self.course.weigh(course(said)),
            self._letters([word for one in said for saying in one for word in saying.words]),
        )
        lengths = [math.sqrt(kind[-1]) or 1.0 for kind in kinds]
        return NoteWeighed(self, self._together(kinds, lengths), said, lengths)

    def alone(self, saying: Saying, lengths: Sequence[float]) -> Weighed:
        """What one word or phrase of a note weighs by itself, for every outcome."""
        kinds = (
            self.words.weigh((word,) for word in saying.words),
            self.meanings.weigh([(saying.meaning,)]),
            self.course.weigh(()),
            self._letters(saying.words),
        )
        return self._together(kinds, lengths) - self.before

    def _together(self, kinds: Iterable[Weighed], lengths: Iterable[float]) -> Weighed:
        """The weights of all kinds, each divided by its length."""
        total = self.before.copy()
        for kind, length in zip(kinds, lengths, strict=True):
            total += kind[:-1] / length
        return total

    def _letters(self, words: Sequence[str]) -> Weighed:
        """The letters of some words."""
        of_words = [self.of_letters[word] for word in words]
        weighed: Weighed = np.add.reduce(of_words) if of_words else self.letters.weigh(())
        return weighed


class NoteWeighed(NamedTuple):
    """A note's score for every outcome, what was said in each clause, and the kinds' lengths."""

    weights: Weights
    scores: Weighed
    said: list[list[Saying]]
    lengths: list[float]

    def score(self, outcome: str) -> float:
        """The log odds of an outcome."""
        return float(self.scores[self.weights.outcomes[outcome]])

    def heaviest(self, outcome: str, most: int) -> list[Saying]:
        """The words and phrases that weigh most for an outcome, at most so many, in their order."""
        at = self.weights.outcomes[outcome]
        every = [saying for clause in self.said for saying in clause]
        weighed = [float(self.weights.alone(saying, self.lengths)[at]) for saying in every]
        ranked = sorted(range(len(every)), key=lambda place: -weighed[place])[:most]
        return [every[place] for place in sorted(ranked) if weighed[place] > 0]


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
        scales["letters"],
        Remembered(lambda word: scales["letters"].weigh(pieces(word))),
    )


def _scale(table: pl.DataFrame, kind: str) -> Scale:
    table = table.filter(pl.col("kind") == kind)
    rarity = table["rarity"].to_numpy().astype(np.float32)
    weights = table.select(table.columns[3:]).to_numpy().astype(np.float32)
    things: list[str] = table["thing"].to_list()
    row_of: dict[Hashable, int] = {
        thing if kind == "letters" else tuple(thing.split(JOINT)): row
        for row, thing in enumerate(things)
    }
    return Scale(row_of, np.column_stack([weights * rarity[:, None], rarity**2]))


@cache
def learned() -> Weights:
    """The weights of `weights.parquet`."""
    with (files(__package__) / "weights.parquet").open("rb") as file:
        return weights_of(pl.read_parquet(file))
