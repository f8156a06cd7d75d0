"""Errors by leaving out one trip at a time, and what they rest on.

Leaving out trip g moves the estimate by −(A − A_g)⁻¹ s_g to first order: one Newton step from the
full estimate, with A the information, A_g the trip's own and s_g its score. With the trip's rows
weighted by the root of their means, Z, and their Pearson residuals u, that is −A⁻¹Zᵀ(I − H)⁻¹u
with H = ZA⁻¹Zᵀ, so that only a matrix of a trip's few patterns is turned about. Rates multiply, so
that a trip which had much of the whole moves it by more than that: a second step is taken from
where the first ends. A third changes next to nothing, and where the rest has none of the outcome it
would go on for ever.

Variances so come by are too large in the mean, and the more so the fewer trips a rig was out on. So
what trips move is turned by W = (VM⁻¹)^½, the one matrix of its kind that does not depend on the
levels that terms are held against: M is what the first steps' variances are in the mean were every
row's variance its mean, and V = A⁻¹ what they ought to be then.

A trip that alone tells a direction of the coefficients leaves nothing to judge that by: its
residuals are all zero along it, so it is left out of the steps, and the terms that lie along it are
named by `alone`.

Sources: Bell & McCaffrey, Survey Methodology 28 (2002) 169 (residuals so adjusted, variances that
are right in the mean under the model, and the degrees of freedom); MacKinnon, Nielsen & Webb,
Journal of Applied Econometrics 38 (2023) 671 (the cluster jackknife, without refitting); Efron &
Stein, Annals of Statistics 9 (1981) 586 (that it is too wide); Imbens & Kolesár, Review of
Economics and Statistics 98 (2016) 701 (why such degrees of freedom, and not the number of
clusters). Pages from memory. That two steps do, and that W is put to a jackknife, is this project's
own judgement: `tests/calibration/RESULTS.md` has what it holds.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from pipeline.rates.cells import Cells
    from pipeline.rates.design import Design

    Floats = NDArray[np.float64]

ALONE = 1e-8
"""A direction in which the rest of the trips have less than this share of the information."""
AT_ONCE = 100_000
"""So many trips by patterns are worked out at once: more would not stay near the processor."""
FARTHEST = 5.0
"""The second step starts with no log rate farther off: a hundredfold says all there is."""


@dataclass(frozen=True)
class LeftOut:
    """How leaving out each trip moves the estimate.

    `weighted` is trips × patterns of a trip × terms, each trip filled up with rows of zeros;
    `pull` is of the same shape: how much each row's residual moves each coefficient, to one step,
    when its trip is left out. `moved` is trips × terms, to two steps; `turn` is W, terms × terms.
    `alone` says of each term whether one trip alone tells it.
    """

    bread: Floats
    weighted: Floats
    pull: Floats
    moved: Floats
    turn: Floats
    alone: NDArray[np.bool_]

    @property
    def covariance(self) -> Floats:
        """Of the coefficients: W (Σ d dᵀ) Wᵀ over what each trip moves them by."""
        turned = self.moved @ self.turn.T
        return np.asarray(turned.T @ turned)

    def freedom(self, direction: Floats) -> float:
        """The degrees of freedom of the variance of a mix of coefficients, by Satterthwaite's rule.

        `direction` has how much of each term is in it: one of one term for a coefficient alone.

        The variance is a sum of squares over trips. Its mean and its spread, were every row's
        variance its mean, are those of a chi-squared with (Σλ)²/Σλ² degrees of freedom, λ the
        eigenvalues of K = D − C A⁻¹ Cᵀ, trips × trips: D the squared length of each trip's pull,
        C what the pull has in common with the terms. They are never fewer than one.
        """
        pull = self.pull @ (direction @ self.turn)
        own = np.square(pull).sum(axis=1)
        common = np.squeeze(pull[:, None, :] @ self.weighted, axis=1)
        taken = (common @ self.bread * common).sum(axis=1)
        crossed = self.bread @ common.T @ common
        total = float(own.sum() - taken.sum())
        squares = float((own**2).sum() - 2 * (own * taken).sum() + np.trace(crossed @ crossed))
        return max(total**2 / squares, 1.0) if squares > 0 else 1.0

    def trips_alike(self, direction: Floats) -> float:
        """As how many alike trips they moved a mix of coefficients (`as_alike`)."""
        return as_alike(self.moved @ (direction @ self.turn))


def as_alike(moved: Floats) -> float:
    """As how many trips, alike and normal, these moved an estimate: of n such it is n in the mean.

    Of n normal numbers about nought Σd⁴/(Σd²)² is 3/(n + 2) in the mean (Geary, Biometrika 28
    (1936) 295; from memory). A few that moved it most make it more: they tell no more of how trips
    differ than so many alike would. Never fewer than one.
    """
    squares = np.square(moved)
    fourth = float(np.square(squares).sum())
    return max(3 * float(squares.sum()) ** 2 / fourth - 2, 1.0) if fourth > 0 else 1.0


def leave_out(cells: Cells, estimate: Floats, bread: Floats) -> LeftOut:
    """What each trip moves, by two steps from the full estimate; `bread` is A⁻¹."""
    rows = _rows_by_trip(cells)
    mean = rows.hours * np.exp(cells.coded.mix(estimate))[rows.pattern]
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
    first = np.einsum("gpk,gp->gk", pull, residual)
    upper: Floats = np.asarray(np.linalg.qr(weighted.reshape(-1, len(cells.terms)), mode="r"))
    return LeftOut(
        bread,
        weighted,
        pull,
        first
        + _second_step(rows, cells.coded, estimate, first, upper, np.asarray(lost.any(axis=1))),
        _turn(upper, np.einsum("gpk,gpl->kl", half, pull)),
        np.asarray((np.abs(turned[lost]) > np.sqrt(ALONE) * size).any(axis=0)),
    )


def _second_step(
    rows: _Rows,
    design: Design,
    estimate: Floats,
    first: Floats,
    upper: Floats,
    tells_alone: NDArray[np.bool_],
) -> Floats:
    """What each trip moves beyond its `first` step: trips × terms. RᵀR, `upper` squared, is A.

    The step is that of the rest's score and information where the first step ends. Along what a
    trip alone tells there is neither, so that of trips which do (`tells_alone`) ALONE times the
    whole information makes that no step at all.
    """
    axes = np.linalg.inv(upper)
    log_rate = design.mix(estimate)
    moved = np.empty_like(first)
    for trips in _few_at_once(len(first), len(design)):
        hours, total = (_of_rest(rows, amount, trips) for amount in (rows.hours, rows.total))
        off = np.clip(design.mix(first[trips].T), -FARTHEST, FARTHEST)
        mean = hours * np.exp(log_rate[:, None] - off)
        information = axes.T @ design.crossed_each(mean) @ axes
        information[tells_alone[trips]] += ALONE * np.eye(len(upper))
        score = axes.T @ design.sums(total - mean)
        moved[trips] = np.linalg.solve(information, score.T[:, :, None])[:, :, 0]
    return np.asarray(-moved @ axes.T)


def _few_at_once(trips: int, patterns: int) -> Iterator[slice]:
    """All trips, in turns of so few that what is worked out of them stays near the processor."""
    many = max(AT_ONCE // patterns, 1)
    return (slice(at, min(at + many, trips)) for at in range(0, trips, many))


def _of_rest(rows: _Rows, amount: Floats, trips: slice) -> Floats:
    """What all trips but one had of each pattern, for some of them: patterns × trips."""
    whole = np.bincount(rows.pattern, amount)
    within = slice(*np.searchsorted(rows.trip, (trips.start, trips.stop)))
    own = np.zeros((len(whole), trips.stop - trips.start))
    own[rows.pattern[within], rows.trip[within] - trips.start] = amount[within]
    return np.maximum(whole[:, None] - own, 0.0)


def _turn(upper: Floats, in_the_mean: Floats) -> Floats:
    """W = (VM⁻¹)^½ from R and M, which narrows and never widens: terms × terms.

    With V⁻¹ = RᵀR it is R⁻¹(RMRᵀ)^-½R. M falls short of V only along what one trip alone tells.
    """
    sizes, axes = np.linalg.eigh(upper @ in_the_mean @ upper.T)
    narrowed = axes / np.sqrt(np.maximum(sizes, 1.0)) @ axes.T
    return np.asarray(np.linalg.solve(upper, narrowed @ upper))


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
