"""The terms of a model over patterns, kept as one number a factor and not as noughts and ones.

A pattern has one level of each factor. So what a fit asks of its design is to be had from a sparse
matrix: the sum over patterns of a weight, by the level of a factor or by the levels of two. That
takes as long as there are patterns, however many levels there are.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np
from scipy.sparse import coo_array, csc_array, csr_array

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

    @cached_property
    def sparse(self) -> csr_array:
        """Patterns × terms, without the noughts."""
        terms, values = self._terms_and_values
        return _by_pattern(terms, values, self.terms)

    @property
    def _terms_and_values(self) -> tuple[Numbers, Floats]:
        """The terms of each pattern and their values there: patterns × factors and slopes."""
        of_slopes = np.broadcast_to(self.slope_terms[:, None], self.slopes.shape)
        ones = np.ones(self.place.shape)
        return np.vstack([self.place, of_slopes]).T, np.vstack([ones, self.slopes]).T

    @cached_property
    def _by_term(self) -> csc_array:
        """Terms × patterns."""
        return self.sparse.T

    @cached_property
    def _by_two_terms(self) -> csc_array:
        """The product of each two terms, once, in a square of terms laid out in a row.

        That is terms² × patterns, the first of the two terms the lower.
        """
        terms, values = self._terms_and_values
        one, other = np.triu_indices(terms.shape[1])
        first = np.minimum(terms[:, one], terms[:, other])
        second = np.maximum(terms[:, one], terms[:, other])
        square = np.where(second < self.terms, first * self.terms + second, self.terms**2)
        return _by_pattern(square, values[:, one] * values[:, other], self.terms**2).T

    def mix(self, coefficients: Floats) -> Floats:
        """The mix of the columns by these coefficients: a log rate for each pattern.

        Coefficients may be several columns, terms × columns, and so may what comes of them.
        """
        return np.asarray(self.sparse @ coefficients)

    def sums(self, weight: Floats) -> Floats:
        """The sum of the weights over the patterns of each term, Xᵀw; of one column or several."""
        return np.asarray(self._by_term @ weight)

    def sums_by(self, weight: Floats, pattern: Numbers, group: Numbers) -> Floats:
        """The sums of the weights of rows, by group and term: groups × terms.

        Each row is of a pattern and of a group; groups are numbered from nought.
        """
        groups = int(group.max(initial=-1)) + 1
        by_pattern = coo_array((weight, (group, pattern)), (groups, len(self)))
        return np.asarray((by_pattern.tocsr() @ self.sparse).toarray())

    def crossed(self, weight: Floats) -> Floats:
        """The sum of the weights over the patterns that two terms share: Xᵀ diag(w) X."""
        return np.asarray(self.crossed_each(weight[:, None])[0])

    def crossed_each(self, weights: Floats) -> Floats:
        """Xᵀ diag(w) X for each column of weights, patterns × columns: columns × terms × terms."""
        above = (self._by_two_terms @ weights).T.reshape(-1, self.terms, self.terms)
        whole = above + above.transpose(0, 2, 1)
        diagonal = np.arange(self.terms)
        whole[:, diagonal, diagonal] /= 2
        return np.asarray(whole)

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
        for one, other in combinations(self.place, 2):
            first[:] = -1
            first[one * (self.terms + 1) + other] = every
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


def _by_pattern(columns: Numbers, values: Floats, size: int) -> csr_array:
    """A matrix of patterns × size with a few values a pattern; a column beyond it has none."""
    there = columns < size
    ends = np.append(0, np.cumsum(there.sum(axis=1)))
    return csr_array((values[there], columns[there], ends), (len(columns), size))


def told_apart(design: Design, among: NDArray[np.bool_] | None = None) -> bool:
    """Whether every term is told from the others beyond all doubt, by the Gram matrix alone.

    `among` marks the patterns that are asked; left out, it is all of them.
    On the diagonal of its Cholesky factor stands what each column adds to those before it, to
    within the root of a double's accuracy. Where it says no, the columns themselves must be asked.
    """
    asked = np.ones(len(design)) if among is None else among.astype(np.float64)
    gram = design.crossed(asked)
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
