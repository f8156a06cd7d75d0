"""Errors by leaving out one cluster at a time, straight from their definition, row by row.

Slow and plain, to hold `pipeline/rates/leave_out.py` to. Sources as there.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


def left_out_errors(
    design: Floats, total: Floats, mean: Floats, cluster: NDArray[np.int64]
) -> Floats:
    """The errors of all coefficients: the root of the sum of what clusters moved them, squared."""
    return np.sqrt(np.square(left_out_moves(design, total, mean, cluster)).sum(axis=0))


def left_out_moves(
    design: Floats, total: Floats, mean: Floats, cluster: NDArray[np.int64]
) -> Floats:
    """Leave out each cluster and take two Newton steps from the estimate that `mean` is of.

    What they move is turned so that the first steps' covariance is the model's in the mean:
    clusters × coefficients.
    """
    steps = [_two_steps(design, total, mean, cluster != one) for one in np.unique(cluster)]
    return np.asarray(np.array(steps) @ turn(design, mean, cluster).T)


def normal_clusters(moved: Floats) -> float:
    """Of how many normal clusters the fourth powers of unit moves would add up to these.

    They add up to 3 / (n + 2) in the mean: Geary, Biometrika 28 (1936) 295; from memory.
    """
    unit = moved / np.linalg.norm(moved)
    return float(3 / (unit**4).sum() - 2)


def _two_steps(design: Floats, total: Floats, mean: Floats, rest: NDArray[np.bool_]) -> Floats:
    moved = np.zeros(design.shape[1])
    for _ in range(2):
        now = (mean * np.exp(design @ moved))[rest]
        information = design[rest].T @ (design[rest] * now[:, None])
        moved = moved + np.linalg.pinv(information) @ design[rest].T @ (total[rest] - now)
    return moved


def turn(design: Floats, mean: Floats, cluster: NDArray[np.int64]) -> Floats:
    """The root of what the first steps' covariance ought to be by what it is in the mean.

    No direction is widened by it.
    """
    rows = design * np.sqrt(mean)[:, None]
    ought = np.linalg.inv(rows.T @ rows)
    left = np.eye(len(rows)) - rows @ ought @ rows.T
    is_now = np.zeros_like(ought)
    for one in np.unique(cluster):
        own = cluster == one
        pull = np.linalg.pinv(left[np.ix_(own, own)], rcond=1e-8) @ rows[own] @ ought
        moved = pull.T @ left[own]
        is_now += moved @ moved.T
    sizes, axes = np.linalg.eig(is_now @ rows.T @ rows)
    narrowed = axes / np.sqrt(np.maximum(sizes.real, 1.0)) @ np.linalg.inv(axes)
    return np.asarray(narrowed.real)


def satterthwaite_freedom(
    design: Floats, mean: Floats, cluster: NDArray[np.int64], at: int
) -> float:
    """The freedom of a coefficient's variance where each row's own variance is its mean.

    The coefficient moves by a vector times the residuals of each cluster; that vector times what
    the fit leaves of all rows is one row of a matrix, whose square has the eigenvalues asked for.
    """
    rows = design * np.sqrt(mean)[:, None]
    bread = np.linalg.inv(rows.T @ rows)
    left = np.eye(len(rows)) - rows @ bread @ rows.T
    turned = bread @ turn(design, mean, cluster)[at]
    moved = []
    for one in np.unique(cluster):
        own = cluster == one
        pull = np.linalg.pinv(left[np.ix_(own, own)], rcond=1e-8) @ rows[own] @ turned
        moved.append(pull @ left[own])
    sizes = np.linalg.eigvalsh(np.array(moved) @ np.array(moved).T)
    return float(sizes.sum() ** 2 / np.square(sizes).sum())
