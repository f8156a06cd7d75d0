"""The terms of a model over patterns, kept as one number a factor and not as noughts and ones.

A pattern has one level of each factor. So what a fit asks of its design is to be had by counting:
the sum over patterns of a weight, by the level of a factor or by the levels of two. That takes as
long as there are patterns, however many levels there are.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations, combinations_with_replacement
from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import csr_array

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Numbers = NDArray[np.int64]

RANK_TOLERANCE = 1e-9
WELL_APART = 1e-3
"""A column of which so large a part is not given by others is told from them without a doubt."""
FEW_PATTERNS = 500
"""So few are all looked at, where a design's relations are sought: it takes no time."""


@dataclass(frozen=True)
class Design:
    """Which term each pattern has of each factor, and the terms that are columns of numbers.

    `place` is factors × patterns: the number of the pattern's term, or `terms` where the level is
    the one that others are held against. `slopes` is columns × patterns, the values of the terms
    numbered by `slope_terms`; no such term is in `place`. `terms` is how many there are.
    """

    place: Numbers
    slopes: Floats
    slope_terms: Numbers
    terms: int

    def __len__(self) -> int:
        """How many patterns there are."""
        return int(self.place.shape[1])

    @cached_property
    def matrix(self) -> Floats:
        """Patterns × terms."""
        whole = np.zeros((len(self), self.terms + 1))
        every = np.arange(len(self))
        for of_factor in self.place:
            whole[every, of_factor] = 1.0
        whole[:, self.slope_terms] = self.slopes.T
        return whole[:, :-1]

    def at(self, patterns: Numbers | NDArray[np.bool_]) -> Design:
        """The same terms over some of the patterns."""
        return replace(self, place=self.place[:, patterns], slopes=self.slopes[:, patterns])

    def keep(self, terms: Sequence[int]) -> Design:
        """These terms alone, in ascending order."""
        to = np.full(self.terms + 1, len(terms))
        to[list(terms)] = np.arange(len(terms))
        kept = to[self.slope_terms] < len(terms)
        return Design(to[self.place], self.slopes[kept], to[self.slope_terms][kept], len(terms))

    def mix(self, coefficients: Floats) -> Floats:
        """The mix of the columns by these coefficients: a log rate for each pattern."""
        beside = np.append(coefficients, 0.0)
        mixed = np.zeros(len(self))
        for of_factor in self.place:
            mixed += beside[of_factor]
        return np.asarray(mixed + coefficients[self.slope_terms] @ self.slopes)

    def sums(self, weight: Floats) -> Floats:
        """The sum of the weights over the patterns of each term: Xᵀw."""
        summed = np.zeros(self.terms + 1)
        for of_factor in self.place:
            summed += np.bincount(of_factor, weight, self.terms + 1)
        summed[self.slope_terms] = self.slopes @ weight
        return summed[:-1]

    def sums_by(self, weight: Floats, pattern: Numbers, group: Numbers) -> Floats:
        """The sums of the weights of rows, by group and term: groups × terms.

        Each row is of a pattern and of a group; groups are numbered from nought.
        """
        size = self.terms + 1
        groups = int(group.max(initial=-1)) + 1
        start = group * size
        at = np.concatenate([start + of_factor[pattern] for of_factor in self.place] or [start[:0]])
        summed = np.bincount(at, np.tile(weight, len(self.place)), groups * size)
        # Of no weights at all they are counted in whole numbers.
        by_term: Floats = summed.reshape(groups, size).astype(np.float64)
        for term, slope in zip(self.slope_terms, self.slopes, strict=True):
            by_term[:, term] = np.bincount(group, weight * slope[pattern], groups)
        return by_term[:, :-1]

    def crossed(self, weight: Floats) -> Floats:
        """The sum of the weights over the patterns that two terms share: Xᵀ diag(w) X."""
        size = self.terms + 1
        count = len(self.place) * (len(self.place) - 1) // 2
        above = np.bincount(self.pairs.ravel(), np.tile(weight, count), size**2)
        # Of no weights at all they are counted in whole numbers.
        square: Floats = above.reshape(size, size).astype(np.float64)
        whole = square + square.T
        for of_factor in self.place:
            whole[np.diag_indices(size)] += np.bincount(of_factor, weight, size)
        for at, slope in zip(self.slope_terms, self.slopes, strict=True):
            whole[at, :-1] = whole[:-1, at] = self.sums(weight * slope)
        return whole[:-1, :-1]

    @cached_property
    def pairs(self) -> Numbers:
        """The cell of the square of terms in which each pattern stands, for each two factors."""
        size = self.terms + 1
        of_two = [first * size + second for first, second in combinations(self.place, 2)]
        return np.array(of_two, dtype=np.int64).reshape(-1, len(self))

    def crossed_each(self, weights: Floats) -> Floats:
        """Xᵀ diag(w) X for each row of weights, rows × patterns: rows × terms × terms."""
        size = self.terms + 1
        above = (self._products @ weights.T).T.reshape(-1, size, size)
        whole = above + above.transpose(0, 2, 1)
        diagonal = np.arange(size)
        whole[:, diagonal, diagonal] /= 2
        return np.asarray(whole[:, :-1, :-1])

    @cached_property
    def _products(self) -> csr_array:
        """The product of each two terms, once, as a row of the square of terms; by pattern."""
        size, every = self.terms + 1, np.arange(len(self))
        ones = np.ones(len(self))
        parts = [(place, ones) for place in self.place]
        parts += [
            (np.full(len(self), at), slope)
            for at, slope in zip(self.slope_terms, self.slopes, strict=True)
        ]
        of_two = [
            (np.minimum(one, other) * size + np.maximum(one, other), value * also)
            for (one, value), (other, also) in combinations_with_replacement(parts, 2)
        ]
        rows, values = (np.concatenate(each) for each in zip(*of_two, strict=True))
        return csr_array((values, (rows, np.tile(every, len(of_two)))), (size**2, len(self)))

    def telling(self) -> Numbers:
        """So few patterns that every other is a mix of them, with the same relations of terms.

        One pattern for each two levels that meet nearly always does; what is still outside of
        their mixes is added.
        """
        if len(self.slope_terms) or len(self) <= FEW_PATTERNS:
            return np.arange(len(self))
        first = np.full((self.terms + 1) ** 2, -1)
        every = np.arange(len(self))
        for of_factor in self.place:
            first[of_factor] = every
        rows = np.unique(first[first >= 0])
        for of_two in self.pairs:
            first[:] = -1
            first[of_two] = every
            rows = np.union1d(rows, first[first >= 0])
        while True:
            apart = null_space(self.at(rows).matrix)
            if not apart.shape[1]:
                return rows
            beyond = np.zeros(len(self), dtype=bool)
            for direction in apart.T:
                beyond |= np.abs(self.mix(direction)) > RANK_TOLERANCE
            if not beyond.any():
                return rows
            rows = np.union1d(rows, np.flatnonzero(beyond)[: self.terms])


def told_apart(design: Design) -> bool:
    """Whether every term is told from the others beyond all doubt, by the Gram matrix alone.

    On the diagonal of its Cholesky factor stands what each column adds to those before it, to
    within the root of a double's accuracy. Where it says no, the columns themselves must be asked.
    """
    gram = design.crossed(np.ones(len(design)))
    size = np.sqrt(np.diag(gram))
    if not size.all():
        return False
    try:
        factor = np.linalg.cholesky(gram / np.outer(size, size))
    except np.linalg.LinAlgError:
        return False
    return bool((np.diag(factor) > WELL_APART).all())


def null_space(matrix: Floats) -> Floats:
    """The directions of the coefficients that no row of the matrix tells: terms × directions."""
    terms = matrix.shape[1]
    tall = np.vstack([matrix, np.zeros((max(terms - len(matrix), 0), terms))])
    _, sizes, rows = np.linalg.svd(np.linalg.qr(tall, mode="r"))
    rank = int((sizes > sizes.max(initial=0.0) * RANK_TOLERANCE).sum())
    return np.asarray(rows[rank:].T)
