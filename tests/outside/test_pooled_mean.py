"""The mean over boats, on 13 trials of one treatment (Colditz et al. 1994).

R 4.2.2, metafor 3.8-1: rma(yi, vi, method = "REML"), with test = "z" and "knha", predict and blup.
R's scoring stops within 1e-5 of τ², so its last digits are not all good.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import chi2

from pipeline.rates.pooled_mean import (
    differences,
    limits,
    means_without,
    pool_mean,
    share_beyond_chance,
    shrunken,
)
from tests.outside.test_pooling import log_risk_ratios

SHRUNKEN = [
    *(-0.8002335746, -1.2517060273, -0.9869031305, -1.3978977058, -0.2873797943, -0.7845715341),
    *(-1.2439635154, 0.0028792498, -0.5068363534, -1.2471730390, -0.3536583978, -0.2847336582),
    -0.1467430482,
]
BY_ERRORS = {
    "std_error": 0.17978153,
    "limits": (-1.06689768, -0.36216702),
    "further": (-1.86669235, 0.43762765),
}
BY_SCATTER = {
    "std_error": 0.18079175,
    "limits": (-1.10844372, -0.32062097),
    "further": (-1.99601697, 0.56695227),
}


def trials() -> tuple[np.ndarray, np.ndarray]:
    log_ratio, covariance = log_risk_ratios()
    return log_ratio, np.diag(covariance)


@pytest.mark.parametrize("printed", [BY_ERRORS, BY_SCATTER], ids=["plain", "Knapp and Hartung"])
def test_limits_of_the_mean_and_of_a_further_one(printed: dict[str, tuple[float, float]]) -> None:
    pooled = pool_mean(*trials())
    plain = printed is BY_ERRORS
    freedom = np.inf if plain else pooled.freedom
    error = float(np.sqrt((pooled.by_errors if plain else pooled.covariance)[0, 0]))
    mean = float(pooled.estimate[0])
    assert mean == pytest.approx(-0.71453235, abs=1e-7)
    assert error == pytest.approx(printed["std_error"], abs=1e-7)
    assert limits(mean, error, freedom) == pytest.approx(printed["limits"], abs=2e-7)
    further = limits(mean, error, freedom, pooled.spread)
    assert further == pytest.approx(printed["further"], abs=1e-6)


def test_the_error_that_is_told_is_that_of_the_scatter_where_it_is_the_wider() -> None:
    pooled = pool_mean(*trials())
    assert pooled.std_error(0) == pytest.approx(BY_SCATTER["std_error"], abs=1e-7)


def test_how_much_the_trials_differ() -> None:
    y, variance = trials()
    spread = pool_mean(y, variance).spread
    assert spread == pytest.approx(0.31324333, abs=1e-6)
    assert 100 * share_beyond_chance(spread, variance) == pytest.approx(92.22138607, abs=1e-5)
    q, chance = differences(y, variance)
    assert q == pytest.approx(152.23300808, abs=1e-8)
    assert chance == pytest.approx(chi2.sf(q, 12))


def test_each_trial_drawn_to_the_mean() -> None:
    y, variance = trials()
    pooled = pool_mean(y, variance)
    drawn = shrunken(y, variance, float(pooled.estimate[0]), pooled.spread)
    assert drawn == pytest.approx(SHRUNKEN, abs=5e-7)


def test_the_mean_without_one_is_that_of_the_others() -> None:
    y, variance = trials()
    without = means_without(y, variance)
    assert len(without) == 13
    assert without[4] == pool_mean(np.delete(y, 4), np.delete(variance, 4)).estimate[0]
