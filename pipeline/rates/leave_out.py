"""Errors by leaving out one trip at a time, and what they rest on.

Leaving out trip g moves the estimate by −(A − A_g)⁻¹ s_g to first order: one Newton step from the
full estimate, with A the information, A_g the trip's own and s_g its score. With the trip's rows
weighted by the root of their means, Z, and their Pearson residuals u, that is −A⁻¹Zᵀ(I − H)⁻¹u
with H = ZA⁻¹Zᵀ, so that only a matrix of a trip's few patterns is turned about.

A trip that alone tells a direction of the coefficients leaves nothing to judge that by: its
residuals are all zero along it, so it is left out of the step, and the terms that lie along it are
named by `alone`.

Sources: Bell & McCaffrey, Survey Methodology 28 (2002) 169 (the residuals so adjusted, and the
degrees of freedom); MacKinnon, Nielsen & Webb, Journal of Applied Econometrics 38 (2023) 671 (the
cluster jackknife, without refitting); Imbens & Kolesár, Review of Economics and Statistics 98
(2016) 701 (why such degrees of freedom, and not the number of clusters). Pages from memory.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pipeline.rates.cells import Cells

    Floats = NDArray[np.float64]

ALONE = 1e-8
"""A direction in which the rest of the trips have less than this share of the information."""


@dataclass(frozen=True)
class LeftOut:
    """How leaving out each trip moves the estimate.

    `weighted` is trips × patterns of a trip × terms, each trip filled up with rows of zeros;
    `pull` is of the same shape: how much each row's residual moves each coefficient when its trip
    is left out. `moved` is trips × terms, `alone` says of each term whether one trip alone tells
    it.
    """

    bread: Floats
    weighted: Floats
    pull: Floats
    moved: Floats
    alone: NDArray[np.bool_]

    @property
    def covariance(self) -> Floats:
        """Of the coefficients: (G − 1)/G Σ d dᵀ over what each of G trips moves them by."""
        trips = len(self.moved)
        return np.asarray((trips - 1) / trips * self.moved.T @ self.moved)

    def freedom(self, direction: Floats) -> float:
        """The degrees of freedom of the variance of a mix of coefficients, by Satterthwaite's rule.

        `direction` has how much of each term is in it: one of one term for a coefficient alone.

        The variance is a sum of squares over trips. Its mean and its spread, were every row's
        variance its mean, are those of a chi-squared with (Σλ)²/Σλ² degrees of freedom, λ the
        eigenvalues of K = D − C A⁻¹ Cᵀ, trips × trips: D the squared length of each trip's pull,
        C what the pull has in common with the terms. They are never fewer than one.
        """
        within = np.flatnonzero(direction)
        pull = self.pull[:, :, within] @ direction[within]
        own = np.square(pull).sum(axis=1)
        common = np.squeeze(pull[:, None, :] @ self.weighted, axis=1)
        taken = (common @ self.bread * common).sum(axis=1)
        crossed = self.bread @ common.T @ common
        total = float(own.sum() - taken.sum())
        squares = float((own**2).sum() - 2 * (own * taken).sum() + np.trace(crossed @ crossed))
        return max(total**2 / squares, 1.0) if squares > 0 else 1.0


def leave_out(cells: Cells, estimate: Floats, bread: Floats) -> LeftOut:
    """What each trip moves, by one step from the full estimate; `bread` is A⁻¹."""
    rows = _rows_by_trip(cells)
    mean = rows.hours * np.exp(cells.design @ estimate)[rows.pattern]
    root = np.sqrt(mean)
    shape = (cells.trip_count, int(rows.place.max()) + 1)
    weighted = np.zeros((*shape, len(cells.terms)))
    weighted[rows.trip, rows.place] = cells.design[rows.pattern] * root[:, None]
    residual = np.zeros(shape)
    residual[rows.trip, rows.place] = (rows.total - mean) / root
    half = weighted @ bread
    left, axes = np.linalg.eigh(np.eye(shape[1]) - half @ weighted.transpose(0, 2, 1))
    lost = left < ALONE
    inverse = np.where(lost, 0.0, 1 / np.where(lost, 1.0, left))
    turned = axes.transpose(0, 2, 1) @ half
    pull = (axes * inverse[:, None, :]) @ turned
    size = np.sqrt(np.diag(bread))
    return LeftOut(
        bread,
        weighted,
        pull,
        np.einsum("gpk,gp->gk", pull, residual),
        np.asarray((np.abs(turned[lost]) > np.sqrt(ALONE) * size).any(axis=0)),
    )


@dataclass(frozen=True)
class _Rows:
    """Sums by trip and pattern of the model, and the place of each among its trip's."""

    trip: NDArray[np.int64]
    place: NDArray[np.int64]
    pattern: NDArray[np.int64]
    hours: Floats
    total: Floats


def _rows_by_trip(cells: Cells) -> _Rows:
    """The sums that the model can't tell apart put together, in the order of trips."""
    size = len(cells.design)
    keys, group = np.unique(cells.trip * size + cells.pattern, return_inverse=True)
    _, trip = np.unique(keys // size, return_inverse=True)
    return _Rows(
        trip,
        np.arange(len(keys)) - np.searchsorted(trip, trip),
        keys % size,
        np.bincount(group, cells.hours).astype(float),
        np.bincount(group, cells.total).astype(float),
    )
