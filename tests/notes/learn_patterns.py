"""Learns the patterns of words of `pipeline/notes/patterns.py`, from labelled notes.

`python -m tests.notes.learn_weights` calls it. The patterns, the vectors that they look at and what
they say of each outcome are learned together, by small steps against the error in some notes at a
time (Kingma and Ba 2015, "Adam: a method for stochastic optimization"). Numbers of a vector and
patterns are left out at random, and words known are taken for unknown (Srivastava et al. 2014,
"Dropout: a simple way to prevent neural networks from overfitting"): else they would know by heart.
"""

from __future__ import annotations

from collections import Counter
from itertools import chain
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_matrix

from pipeline.notes.features import UNKNOWN, signs_of
from pipeline.notes.patterns import pieces_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from pipeline.notes.clauses import Clause

Floats = NDArray[np.float32]
Whole = NDArray[np.int_]
Which = NDArray[np.bool_]

OF_NEIGHBOURS = 3
"""A pattern looks at a word, the one before it and the one behind it."""
NUMBERS, PATTERNS, PIECES = 64, 128, 8192
"""So many numbers are a vector; so many patterns look at them; to so many pieces are hashed."""
SEEN_IN = 2
"""A word or meaning has a vector of its own that stands in so many notes."""
ROUNDS, AT_A_TIME = 8, 64
"""So often every note is learned from, so many at a time."""
STEP, FIRST_STEPS, LAST_STEP = 0.003, 200, 0.01
"""The size of a step, how many grow up to it, and how small it gets, as a share of it."""
LEFT_OUT, WORDS_LEFT_OUT = 0.3, 0.2
"""The share of numbers and patterns, and of known words, that is left out at random."""
OLD, OLD_SQUARES, LITTLE = np.float32(0.9), np.float32(0.999), np.float32(1e-8)
"""How slowly the mean slope and its mean square change, as Kingma and Ba have it."""
LARGEST = 127
"""Vectors are written in steps, at most so many each way."""
AT_ONCE = 256
"""So many notes are weighed at once."""
EVERY = slice(None)


class Asked(NamedTuple):
    """What is to be learned of each note: rows are notes, columns outcomes.

    One of the first `answers` outcomes holds; of the others each may, where the note is `torn`.
    """

    outcomes: list[str]
    answers: int
    holds: Floats
    torn: Which


class Read(NamedTuple):
    """Notes as vectors are looked up: each note's words and meanings by number.

    `own` has which vector of its own each word has, 0 for none; `pieces` which it is made of.
    """

    words: list[Whole]
    meanings: list[Whole]
    own: Whole
    pieces: csr_matrix
    own_named: list[str]
    meanings_named: list[str]


def read(notes: Sequence[Sequence[Clause]], learned: Which) -> Read:
    """The signs of notes by number; those of the notes learned from have vectors of their own."""
    signs = [signs_of(clauses) for clauses in notes]
    of_learned = [each for each, of in zip(signs, learned, strict=True) if of]
    own = ["", *_often({word for word, _ in each if word} for each in of_learned)]
    meanings = _often({meaning for _, meaning in each} for each in of_learned)
    words = sorted({word for each in signs for word, _ in each})
    number, of_own, of_meaning = (
        {name: at for at, name in enumerate(names)} for names in (words, own, meanings)
    )
    return Read(
        [np.array([number[word] for word, _ in each]) for each in signs],
        [
            np.array([of_meaning.get(name, of_meaning[UNKNOWN]) for _, name in each])
            for each in signs
        ],
        np.array([of_own.get(word, 0) for word in words]),
        _by_pieces(words),
        own[1:],
        meanings,
    )


def _often(named: Iterable[set[str]]) -> list[str]:
    counts = Counter(chain.from_iterable(named))
    return sorted(name for name, count in counts.items() if count >= SEEN_IN or name == UNKNOWN)


def _by_pieces(words: list[str]) -> csr_matrix:
    """Words by the pieces of each, so weighed that long and short words count alike."""
    numbers = [pieces_of(word, PIECES) if word else [] for word in words]
    many = np.array([len(each) for each in numbers])
    weights = np.repeat(1 / np.sqrt(np.maximum(many, 1)), many).astype(np.float32)
    columns = np.array(list(chain.from_iterable(numbers)), dtype=int)
    ends = np.concatenate([[0], np.cumsum(many)])
    return csr_matrix((weights, columns, ends), shape=(len(words), PIECES))


class Looked(NamedTuple):
    """Some notes on their way through: what was looked up, and what came of it.

    `places` are the rows of the signs in `vectors`; a blank row stands before and behind a note.
    """

    lengths: Whole
    places: Whole
    word_of_sign: Whole
    words: Whole
    meanings: Whole
    pieces: csr_matrix
    known: Floats
    kept: Floats
    vectors: Floats
    fits: Floats
    best: Floats


class Learner:
    """What is learned, by name; and of each the mean slope so far, and its mean square."""

    def __init__(self, signs: Read, asked: Asked, seed: int = 0) -> None:
        self.signs, self.asked = signs, asked
        self.chance = np.random.default_rng(seed)
        self.steps = 0
        outcomes = len(asked.outcomes)
        of_pattern = np.sqrt(2 / (OF_NEIGHBOURS * NUMBERS))
        self.learned: dict[str, Floats] = {
            "words": self._any(0.1, len(signs.own_named) + 1, NUMBERS),
            "meanings": self._any(0.1, len(signs.meanings_named), NUMBERS),
            "pieces": self._any(0.1, PIECES, NUMBERS),
            "patterns": self._any(of_pattern, OF_NEIGHBOURS, NUMBERS, PATTERNS),
            "least": np.zeros(PATTERNS, np.float32),
            "says": self._any(0.1, PATTERNS, outcomes),
            "before": np.zeros(outcomes, np.float32),
        }
        self.slopes = {name: np.zeros_like(each) for name, each in self.learned.items()}
        self.squares = {name: np.zeros_like(each) for name, each in self.learned.items()}

    def _any(self, spread: float, *shape: int) -> Floats:
        return (self.chance.standard_normal(shape) * spread).astype(np.float32)

    def _some(self, shape: tuple[int, ...], left_out: float) -> Floats:
        """Of each number whether it is kept, and then so much the more of it."""
        kept = self.chance.random(shape, np.float32) >= left_out
        return kept.astype(np.float32) / np.float32(1 - left_out)

    def learn(self, which: Whole) -> None:
        """Go through these notes so often, in an order by chance, a step at a time.

        Answers of which one holds count by their differences: what all have is taken off.
        """
        last = ROUNDS * -(-len(which) // AT_A_TIME)
        for _ in range(ROUNDS):
            for some in _some_at_a_time(self.chance.permutation(which), AT_A_TIME):
                self.steps += 1
                growing = min(1.0, self.steps / FIRST_STEPS)
                self._step(some, STEP * growing * max(LAST_STEP, 1 - self.steps / last))
        for name in ("says", "before"):
            of_answers = self.learned[name][..., : self.asked.answers]
            of_answers -= of_answers.mean(axis=-1, keepdims=True)

    def scores(self, which: Whole) -> Floats:
        """The log odds of every outcome in some notes."""
        every = [
            np.maximum(self._look(some).best, 0) @ self.learned["says"] + self.learned["before"]
            for some in _some_at_a_time(which, AT_ONCE)
        ]
        return np.concatenate(every)

    def _look(self, which: Whole, *, learning: bool = False) -> Looked:
        signs, learned = self.signs, self.learned
        lengths = np.array([len(signs.words[at]) for at in which])
        ends = np.cumsum(lengths + 1)
        places = np.concatenate(
            [np.arange(end - length, end) for end, length in zip(ends, lengths, strict=True)]
        )
        words, word_of_sign = np.unique(
            np.concatenate([signs.words[at] for at in which]), return_inverse=True
        )
        meanings = np.concatenate([signs.meanings[at] for at in which])
        known = (signs.own[words] > 0).astype(np.float32)[:, None]
        if learning:
            known *= self.chance.random(known.shape, np.float32) >= WORDS_LEFT_OUT
        pieces = signs.pieces[words]
        of_words = learned["words"][signs.own[words]] * known + pieces @ learned["pieces"]
        vectors = np.zeros((ends[-1] + 1, NUMBERS), np.float32)
        vectors[places] = of_words[word_of_sign] + learned["meanings"][meanings]
        kept = self._some(vectors.shape, LEFT_OUT) if learning else np.ones_like(vectors)
        vectors *= kept
        before, itself, behind = learned["patterns"]
        fits = (vectors @ itself)[places]
        fits += (vectors @ before)[places - 1] + (vectors @ behind)[places + 1] + learned["least"]
        best = np.maximum.reduceat(fits, np.cumsum(lengths) - lengths)
        return Looked(
            lengths, places, word_of_sign, words, meanings, pieces, known, kept, vectors, fits, best
        )

    def _step(self, which: Whole, step: float) -> None:
        """One step against the error in some notes."""
        looked = self._look(which, learning=True)
        kept = self._some(looked.best.shape, LEFT_OUT)
        found = np.maximum(looked.best, 0) * kept
        error = self._error(which, found @ self.learned["says"] + self.learned["before"])
        of_best = (error @ self.learned["says"].T) * kept * (looked.best > 0)
        self._go("says", found.T @ error, step)
        self._go("before", error.sum(axis=0), step)
        note = np.repeat(np.arange(len(which)), looked.lengths)
        of_fits = np.zeros((len(looked.vectors), PATTERNS), np.float32)
        of_fits[looked.places] = of_best[note] * (looked.fits == looked.best[note])
        of_vectors = self._slopes_of_patterns(looked.vectors, of_fits, step)
        self._slopes_of_signs(looked, (of_vectors * looked.kept)[looked.places], step)

    def _error(self, which: Whole, scores: Floats) -> Floats:
        """How far the chances are off what holds, for every note and outcome."""
        answers, holds = self.asked.answers, self.asked.holds[which]
        chances = 1 / (1 + np.exp(-scores))
        odds = np.exp(scores[:, :answers] - scores[:, :answers].max(axis=1, keepdims=True))
        chances[:, :answers] = odds / odds.sum(axis=1, keepdims=True)
        error = (chances - holds) / np.float32(len(which))
        error[:, answers:] *= self.asked.torn[which][:, None]
        return error

    def _slopes_of_patterns(self, vectors: Floats, of_fits: Floats, step: float) -> Floats:
        """Move the patterns; and the slopes of the vectors that they look at."""
        before, itself, behind = self.learned["patterns"]
        of_vectors: Floats = of_fits @ itself.T
        of_vectors[:-1] += of_fits[1:] @ before.T
        of_vectors[1:] += of_fits[:-1] @ behind.T
        slopes = (vectors[:-1].T @ of_fits[1:], vectors.T @ of_fits, vectors[1:].T @ of_fits[:-1])
        self._go("patterns", np.stack(slopes), step)
        self._go("least", of_fits.sum(axis=0), step)
        return of_vectors

    def _slopes_of_signs(self, looked: Looked, of_signs: Floats, step: float) -> None:
        """Move the vectors of the words, meanings and pieces that stood in the notes."""
        of_words = _summed(looked.word_of_sign, of_signs, len(looked.words))
        own, which_own = np.unique(self.signs.own[looked.words], return_inverse=True)
        meanings, which_meaning = np.unique(looked.meanings, return_inverse=True)
        pieces, which_piece = np.unique(looked.pieces.indices, return_inverse=True)
        by_pieces = csr_matrix(
            (looked.pieces.data, which_piece, looked.pieces.indptr),
            shape=(len(looked.words), len(pieces)),
        )
        self._go("words", _summed(which_own, of_words * looked.known, len(own)), step, own)
        self._go("meanings", _summed(which_meaning, of_signs, len(meanings)), step, meanings)
        self._go("pieces", by_pieces.T @ of_words, step, pieces)

    def _go(self, name: str, slope: Floats, step: float, rows: Whole | slice = EVERY) -> None:
        """Move some rows of what is learned, by what their slope and the slopes before it say."""
        mean = OLD * self.slopes[name][rows] + (1 - OLD) * slope
        square = OLD_SQUARES * self.squares[name][rows] + (1 - OLD_SQUARES) * slope * slope
        self.slopes[name][rows], self.squares[name][rows] = mean, square
        size = np.sqrt(square / (1 - OLD_SQUARES**self.steps)) + LITTLE
        self.learned[name][rows] -= np.float32(step) * mean / (1 - OLD**self.steps) / size

    def arrays(self) -> dict[str, NDArray[np.generic]]:
        """The arrays that `patterns.patterns_of` reads."""
        in_steps = {
            "words": self.learned["words"][1:],
            "meanings": self.learned["meanings"],
            "pieces": self.learned["pieces"],
        }
        arrays: dict[str, NDArray[np.generic]] = {
            "outcomes": np.array(self.asked.outcomes),
            "words_named": np.array(self.signs.own_named),
            "meanings_named": np.array(self.signs.meanings_named),
        }
        for kind, vectors in in_steps.items():
            step = np.abs(vectors).max() / LARGEST
            arrays[kind] = np.round(vectors / step).astype(np.int8)
            arrays[f"{kind}_step"] = np.array(step, np.float32)
        halves = {
            name: self.learned[name].astype(np.float16)
            for name in ("patterns", "least", "says", "before")
        }
        return arrays | halves


def _some_at_a_time(which: Whole, many: int) -> Iterator[Whole]:
    return (which[at : at + many] for at in range(0, len(which), many))


def _summed(of: Whole, rows: Floats, many: int) -> Floats:
    """Rows summed by what each is of."""
    ones = np.ones(len(of), np.float32)
    summed: Floats = csr_matrix((ones, (of, np.arange(len(of)))), shape=(many, len(of))) @ rows
    return summed
