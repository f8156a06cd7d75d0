"""Designs whose terms are any columns of numbers, as published fits have them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from pipeline.rates.design import Design

if TYPE_CHECKING:
    from numpy.typing import NDArray


def of_matrix(matrix: NDArray[np.float64]) -> Design:
    """The design that is this matrix of patterns × terms, each term a column of numbers."""
    patterns, terms = matrix.shape
    none = np.empty((0, patterns), dtype=np.int64)
    return Design(none, np.ascontiguousarray(matrix.T), np.arange(terms), terms)
