"""What a note says as a whole, by a small language model that was fitted to labelled notes.

The rules and weights know the words that somebody labelled; a model that has read much English
before knows something of the others: that a bosun is one of the crew, that a needle mends. It is
asked only of notes over which the rules, the weights of words and their patterns differ, as it
takes ten times as long as these.

Each piece of a word is a vector, which layer by layer takes up something of those pieces of the
note that matter to it (Vaswani et al. 2017, "Attention is all you need"; Devlin et al. 2019,
"BERT"); their mean and their largest numbers tell. It was begun from all-MiniLM-L6-v2 (Wang et al.
2020, "MiniLM"; Apache License 2.0), and `tests/notes/learn_gist.py` fitted it to our notes.
"""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from pipeline.notes.patterns import Found
from pipeline.notes.word_pieces import word_pieces

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

Floats = NDArray[np.float32]

HEADS = 12
"""So many ways in which a piece looks at the others."""
NUMBER, ANY_NUMBER = re.compile(r"\d[\d.,:]*\d|\d"), "2"
"""Whatever a number says of hours or of o'clock, all but nought say the same of damage: notes of a
log are often alike but for them, and notes not learned from are read as well so."""
MOST_REMEMBERED = 10_000
"""What so many notes said is remembered, and then the list begins anew."""
AT_ONCE = 16
"""So many notes about as long go through side by side, in half the time of one after the other."""
LITTLE = np.float32(1e-12)


class Step(NamedTuple):
    """A table that vectors go through, and what is added behind it."""

    table: Floats
    added: Floats

    def of(self, vectors: Floats) -> Floats:
        """The vectors on its other side."""
        through: Floats = vectors @ self.table
        through += self.added
        return through


class Layer(NamedTuple):
    """One layer: `looks` has what each piece seeks, shows and gives, side by side."""

    looks: Step
    takes_up: Step
    evened_first: Step
    widens: Step
    narrows: Step
    evened_last: Step

    def of(self, vectors: Floats, beyond: Floats) -> Floats:
        """The vectors of notes after this layer: notes by pieces by numbers.

        `beyond` is 0 for a piece of the note, and far below it where the note is at an end.
        """
        taken = self.takes_up.of(_looked_up(self.looks.of(vectors), beyond))
        vectors = _evened(vectors + taken, self.evened_first)
        widened = self.narrows.of(_bent(self.widens.of(vectors)))
        return _evened(vectors + widened, self.evened_last)


class Gist(NamedTuple):
    """The model: numbers of the pieces, their vectors in steps, and what comes behind them.

    Vectors are kept as small whole numbers, as there are many; `steps` has the step of each.
    """

    outcomes: Mapping[str, int]
    numbers: Mapping[str, int]
    vectors: NDArray[np.int8]
    steps: Floats
    places: Floats
    evened: Step
    layers: list[Layer]
    says: Step

    def find(self, notes: Sequence[str]) -> list[Found]:
        """What each of some plain notes says."""
        pieces = [word_pieces(note, self.numbers) for note in notes]
        by_length = sorted(range(len(notes)), key=lambda at: len(pieces[at]))
        scores = np.zeros((len(notes), len(self.outcomes)), np.float32)
        for start in range(0, len(notes), AT_ONCE):
            some = by_length[start : start + AT_ONCE]
            lengths = np.array([len(pieces[at]) for at in some])
            longest = lengths.max()
            padded = np.array([[*pieces[at], *[0] * (longest - len(pieces[at]))] for at in some])
            scores[some] = self.scores(padded, np.arange(longest) < lengths[:, None])
        return [Found(self.outcomes, each) for each in scores.tolist()]

    def scores(self, pieces: NDArray[np.int_], inside: NDArray[np.bool_]) -> Floats:
        """The log odds of every outcome, by the pieces of notes and which places hold one."""
        beyond = np.where(inside, np.float32(0), np.float32(-1e4))[:, None, None, :]
        of_pieces = self.vectors[pieces].astype(np.float32) * self.steps[pieces][..., None]
        vectors = _evened(of_pieces + self.places[: pieces.shape[1]], self.evened)
        for layer in self.layers:
            vectors = layer.of(vectors, beyond)
        held = inside[..., None]
        mean = (vectors * held).sum(axis=1) / held.sum(axis=1)
        largest = np.where(held, vectors, np.float32(-1e4)).max(axis=1)
        return self.says.of(np.concatenate([mean, largest], axis=1))


def _looked_up(looks: Floats, beyond: Floats) -> Floats:
    """For each piece what the others give it, by how well they show what it seeks."""
    notes, pieces, three = looks.shape
    size = three // 3 // HEADS
    seeks, shows, gives = looks.reshape(notes, pieces, 3, HEADS, size).transpose(2, 0, 3, 1, 4)
    fits = seeks @ shows.swapaxes(-1, -2) / np.sqrt(size, dtype=np.float32) + beyond
    shares = np.exp(fits - fits.max(axis=-1, keepdims=True))
    shares /= shares.sum(axis=-1, keepdims=True)
    given: Floats = (shares @ gives).transpose(0, 2, 1, 3).reshape(notes, pieces, three // 3)
    return given


def _bent(vectors: Floats) -> Floats:
    """What is below nought nearly left out.

    Hendrycks and Gimpel 2016, "Gaussian error linear units", in their form with a tangent.
    """
    size = np.sqrt(2 / np.pi).astype(np.float32)
    bent: Floats = np.tanh(size * (vectors + np.float32(0.044715) * vectors * vectors * vectors))
    bent += np.float32(1)
    bent *= np.float32(0.5) * vectors
    return bent


def _evened(vectors: Floats, by: Step) -> Floats:
    """Every vector about nought and of one size (Ba et al. 2016, "Layer normalization")."""
    about: Floats = vectors - vectors.mean(axis=-1, keepdims=True)
    about /= np.sqrt((about * about).mean(axis=-1, keepdims=True) + LITTLE)
    about *= by.table
    about += by.added
    return about


def gist_of(arrays: Mapping[str, NDArray[np.generic]]) -> Gist:
    """The model in a file that `tests/notes/learn_gist.py` wrote.

    Tables stand in it as whole numbers of steps, one step for each column.
    """

    def step(name: str) -> Step:
        table = arrays[f"{name}.table"].astype(np.float32)
        if f"{name}.steps" in arrays:
            table *= arrays[f"{name}.steps"].astype(np.float32)
        return Step(table, arrays[f"{name}.added"].astype(np.float32))

    many = sum(name.endswith(".looks.table") for name in arrays)
    return Gist(
        {outcome: at for at, outcome in enumerate(arrays["outcomes"].tolist())},
        {piece: at for at, piece in enumerate(arrays["pieces"].tolist())},
        arrays["vectors"].astype(np.int8, copy=False),
        arrays["steps"].astype(np.float32),
        arrays["places"].astype(np.float32),
        step("evened"),
        [Layer(*(step(f"{at}.{name}") for name in Layer._fields)) for at in range(many)],
        step("says"),
    )


@cache
def learned_gist() -> Gist:
    """The model of `gist.npz`."""
    with (files(__package__) / "gist.npz").open("rb") as file:
        return gist_of(np.load(file))


_known: dict[str, Found] = {}
"""What notes said that were asked of before, by their words."""


def gists_of(notes: Sequence[str]) -> list[Found]:
    """What each of some plain notes says as a whole, numbers aside."""
    alike = [NUMBER.sub(_as_any, note) for note in notes]
    if len(_known) > MOST_REMEMBERED:
        _known.clear()
    fresh = [note for note in dict.fromkeys(alike) if note not in _known]
    if fresh:
        _known.update(zip(fresh, learned_gist().find(fresh), strict=True))
    return [_known[note] for note in alike]


def _as_any(number: re.Match[str]) -> str:
    return number[0] if set(number[0]) == {"0"} else ANY_NUMBER
