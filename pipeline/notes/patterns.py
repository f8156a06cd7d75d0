"""What the words of a note say three on end, by patterns learned from labelled notes.

Each word has a vector: its own, if it was seen often enough, and the sum of those of its pieces; so
has each meaning that the word list gives. A pattern weighs the vectors of three neighbours, and
where in a note it fits best counts for or against each thing that the note may tell (Kim 2014,
"Convolutional neural networks for sentence classification"; pieces: Bojanowski et al. 2017,
"Enriching word vectors with subword information", hashed as by Weinberger et al. 2009, "Feature
hashing for large scale multitask learning"). The weights of words by themselves (`weighing.py`)
know more words, the patterns know better what a word says beside its neighbours: they err apart.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, NamedTuple
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

from pipeline.notes.features import UNKNOWN, Sign, pieces, signs_of
from pipeline.notes.remembered import Remembered

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from pipeline.notes.clauses import Clause

Vectors = NDArray[np.float32]


class Found(NamedTuple):
    """What the patterns found in a note say: the log odds of every outcome."""

    outcomes: Mapping[str, int]
    scores: list[float]

    def score(self, outcome: str) -> float:
        """The log odds of an outcome."""
        return self.scores[self.outcomes[outcome]]


class Patterns(NamedTuple):
    """What is learned: the vectors of signs, the patterns, and what each says of each outcome.

    `patterns` has for each number of a vector what it gives every pattern, as the word before, the
    word itself and the word behind, side by side; `least` what each adds before a word is read.
    `nothing` is the vector of what stands before a note, and behind it.
    """

    outcomes: Mapping[str, int]
    of_sign: Remembered[Sign, Vectors]
    nothing: Vectors
    patterns: Vectors
    least: Vectors
    says: Vectors
    before: Vectors

    def find(self, clauses: Sequence[Clause]) -> Found:
        """What the patterns in a note say."""
        signs = map(self.of_sign.__getitem__, signs_of(clauses))
        fits = np.array([self.nothing, *signs, self.nothing]) @ self.patterns
        many = len(self.least)
        best = (fits[:-2, :many] + fits[1:-1, many : 2 * many] + fits[2:, 2 * many :]).max(axis=0)
        scores = np.maximum(best + self.least, 0) @ self.says + self.before
        return Found(self.outcomes, scores.tolist())


def pieces_of(word: str, among: int) -> list[int]:
    """The numbers of a word's pieces, hashed to be fewer than `among`."""
    return [crc32(piece.encode()) % among for piece in pieces(word)]


def patterns_of(arrays: Mapping[str, NDArray[np.generic]]) -> Patterns:
    """The patterns in a file that `tests/notes/learn_patterns.py` wrote.

    Vectors stand in it as whole numbers of steps; the step of each kind stands beside them.
    """
    vectors = {
        kind: arrays[kind].astype(np.float32) * arrays[f"{kind}_step"].astype(np.float32)
        for kind in ("words", "meanings", "pieces")
    }
    words, meanings = (
        dict[str, Vectors](zip(arrays[f"{kind}_named"].tolist(), vectors[kind], strict=True))
        for kind in ("words", "meanings")
    )
    nothing = np.zeros_like(vectors["meanings"][0])

    def vector(sign: Sign) -> Vectors:
        word, meaning = sign
        of_meaning = meanings.get(meaning, meanings[UNKNOWN])
        if not word:
            return of_meaning
        numbers = pieces_of(word, len(vectors["pieces"]))
        of_pieces = vectors["pieces"][numbers].sum(axis=0) / np.sqrt(len(numbers), dtype=np.float32)
        together: Vectors = words.get(word, nothing) + of_pieces + of_meaning
        return together

    return Patterns(
        {outcome: at for at, outcome in enumerate(arrays["outcomes"].tolist())},
        Remembered(vector),
        nothing,
        np.concatenate(list(arrays["patterns"].astype(np.float32)), axis=1),
        arrays["least"].astype(np.float32),
        arrays["says"].astype(np.float32),
        arrays["before"].astype(np.float32),
    )


@cache
def learned_patterns() -> Patterns:
    """The patterns of `patterns.npz`."""
    with (files(__package__) / "patterns.npz").open("rb") as file:
        return patterns_of(np.load(file))
