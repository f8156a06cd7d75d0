"""Errors by leaving out one cluster at a time, straight from their definition, row by row.

Slow and plain, to hold `pipeline/rates/leave_out.py` to. Sources as there.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


def one_step_errors(
    design: Floats, total: Floats, mean: Floats, cluster: NDArray[np.int64]
) -> Floats:
    """Leave out each cluster and take one Newton step from the estimate that `mean` is of."""
    clusters = np.unique(cluster)
    steps = []
    for one in clusters:
        rest = cluster != one
        information = design[rest].T @ (design[rest] * mean[rest, None])
        steps.append(np.linalg.pinv(information) @ design[rest].T @ (total - mean)[rest])
    return np.sqrt((len(clusters) - 1) / len(clusters) * np.square(steps).sum(axis=0))


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
    moved = []
    for one in np.unique(cluster):
        own = cluster == one
        pull = np.linalg.pinv(left[np.ix_(own, own)], rcond=1e-8) @ rows[own] @ bread[:, at]
        moved.append(pull @ left[own])
    sizes = np.linalg.eigvalsh(np.array(moved) @ np.array(moved).T)
    return float(sizes.sum() ** 2 / np.square(sizes).sum())
