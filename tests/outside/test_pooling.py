"""The line through estimates, on 13 trials of one treatment (Colditz et al. 1994)."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.rates.poisson import half_width
from pipeline.rates.pooling import pool

TRIALS = pl.read_csv(Path(__file__).parent / "data/bcg.csv")
LATITUDE = np.array([44, 55, 42, 52, 13, 44, 19, 13, 27, 42, 18, 33, 33], float)
"""Degrees from the equator of each trial: from memory, of the same data."""


def log_risk_ratios() -> tuple[np.ndarray, np.ndarray]:
    ill, well, ill_control, well_control = (
        TRIALS[name].to_numpy().astype(float) for name in ("tpos", "tneg", "cpos", "cneg")
    )
    treated, control = ill + well, ill_control + well_control
    log_ratio = np.log((ill / treated) / (ill_control / control))
    return log_ratio, np.diag(1 / ill - 1 / treated + 1 / ill_control - 1 / control)


def test_the_pooled_ratio_spread_and_limits_are_those_that_r_prints() -> None:
    """R 4, metafor: rma(yi, vi, method = "REML", test = "knha").

    R's scoring stops within 1e-5 of τ², so its last digits are not all good.
    """
    pooled = pool(*log_risk_ratios(), np.ones((13, 1)))
    reach = half_width(pooled.freedom) * np.sqrt(pooled.covariance[0, 0])
    assert pooled.estimate[0] == pytest.approx(-0.71453235, abs=1e-7)
    assert np.sqrt(pooled.covariance[0, 0]) == pytest.approx(0.18079175, abs=1e-7)
    assert pooled.spread == pytest.approx(0.31324333, abs=1e-6)
    assert pooled.estimate[0] - reach == pytest.approx(-1.10844372, abs=1e-7)
    assert pooled.estimate[0] + reach == pytest.approx(-0.32062097, abs=1e-7)


def test_the_line_over_latitude_is_the_one_in_print() -> None:
    """From memory, of the same data by REML: 0.2515 − 0.0291 a degree, τ² 0.0764."""
    pooled = pool(*log_risk_ratios(), np.column_stack([np.ones(13), LATITUDE]))
    assert pooled.estimate == pytest.approx([0.2515, -0.0291], abs=6e-5)
    assert pooled.spread == pytest.approx(0.0764, abs=6e-5)
    assert pooled.freedom == 11


@given(base=st.integers(0, 12))
@settings(deadline=None)
def test_the_slope_is_the_same_whichever_estimate_the_others_are_held_against(base: int) -> None:
    """As the rigs' ratios all share the reference's error, they are taken as contrasts."""
    log_ratio, covariance = log_risk_ratios()
    whole = pool(log_ratio, covariance, np.column_stack([np.ones(13), LATITUDE]))
    against = np.delete(np.eye(13), base, axis=0)
    against[:, base] = -1
    contrasts = pool(
        against @ log_ratio,
        against @ covariance @ against.T,
        (against @ LATITUDE)[:, None],
        against @ against.T,
    )
    assert contrasts.estimate[0] == pytest.approx(whole.estimate[1], rel=1e-7)
    assert contrasts.covariance[0, 0] == pytest.approx(whole.covariance[1, 1], rel=1e-7)
    assert contrasts.spread == pytest.approx(whole.spread, rel=1e-7)
    assert contrasts.freedom == whole.freedom


def test_estimates_that_agree_within_their_errors_have_no_spread() -> None:
    pooled = pool(np.array([0.1, 0.12, 0.09]), np.eye(3), np.ones((3, 1)))
    assert pooled.spread == 0.0
    assert pooled.estimate[0] == pytest.approx(0.31 / 3)
