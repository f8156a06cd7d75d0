"""One mean of several estimates, how far they differ beyond chance, and what another would show.

The mean itself, its error and the spread τ² are those of `pooling`, with a column of ones.

Sources: Cochran, Biometrics 10 (1954) 101 (Q); Higgins & Thompson, Statistics in Medicine 21 (2002)
1539, eq. 9 (the typical variance, by which R's metafor tells I²); Higgins, Thompson &
Spiegelhalter, J. R. Stat. Soc. A 172 (2009) 137 (limits for a further one; metafor has t with n − 1
for them); Raudenbush & Bryk, J. Educ. Stat. 10 (1985) 75 (shrunken estimates).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from scipy.special import chdtrc

from pipeline.rates.poisson import half_width
from pipeline.rates.pooling import Pooled, pool

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


def pool_mean(y: Floats, variance: Floats) -> Pooled:
    """The mean of n independent estimates, each with the variance beside it; n is 2 or more."""
    return pool(y, np.diag(variance), np.ones((len(y), 1)))


def limits(
    mean: float, std_error: float, freedom: float, spread: float = 0.0
) -> tuple[float, float]:
    """The 95 % limits of a mean; with its `spread` τ², those for a further one of its kind.

    By t, or by the normal where `freedom` is infinite.
    """
    reach = half_width(freedom) * float(np.sqrt(std_error**2 + spread))
    return mean - reach, mean + reach


def differences(y: Floats, variance: Floats) -> tuple[float, float]:
    """Cochran's Q, and how often chance alone would bring as much of it or more."""
    weight = 1 / variance
    about = y - (weight @ y) / weight.sum()
    q = float(weight @ about**2)
    return q, float(chdtrc(len(y) - 1, q))


def share_beyond_chance(spread: float, variance: Floats) -> float:
    """I²: of all that such estimates differ, the share that is their own spread, 0 to 1."""
    weight = 1 / variance
    typical = (len(variance) - 1) * weight.sum() / (weight.sum() ** 2 - (weight**2).sum())
    return float(spread / (spread + typical))


def shrunken(y: Floats, variance: Floats, mean: float, spread: float) -> Floats:
    """Each estimate drawn towards the mean, the more the less sure it is (BLUP)."""
    return mean + spread / (spread + variance) * (y - mean)


def means_without(y: Floats, variance: Floats) -> Floats:
    """For each of three or more estimates, the mean of the others."""
    others = [np.arange(len(y)) != at for at in range(len(y))]
    return np.array([pool_mean(y[rest], variance[rest]).estimate[0] for rest in others])
