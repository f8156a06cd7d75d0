"""Residuals and the slope of log hours, against their definitions and statsmodels."""

from __future__ import annotations

import numpy as np
import polars as pl
import pytest
import statsmodels.api as sm
from scipy.special import stdtrit
from scipy.stats import kstest, norm, poisson

from pipeline.rates.hours_slope import STEP, hours_slope
from pipeline.rates.residuals import quantile_residuals
from tests.outside.left_out import left_out_errors, satterthwaite_freedom
from tests.outside.test_rate_model import DATA, rows_as_hauls
from tests.properties.test_rates_equal_statsmodels import design_of_hauls, random_hauls


def test_counts_drawn_from_the_law_have_standard_normal_residuals() -> None:
    # Dunn & Smyth 1996: exactly normal, whatever the mean, where the law holds.
    chance = np.random.default_rng(8)
    mean = chance.gamma(1, 0.4, 20_000)
    residual = quantile_residuals(chance.poisson(mean).astype(float), mean, counted=True)
    assert kstest(residual, "norm").pvalue > 0.01
    # Of the wrong law they are not.
    assert kstest(quantile_residuals(mean.round(), mean, counted=True), "norm").pvalue < 1e-6


def test_each_residual_lies_within_the_step_of_its_count() -> None:
    chance = np.random.default_rng(9)
    mean = chance.gamma(2, 1, 500)
    counts = chance.poisson(mean).astype(float)
    residual = quantile_residuals(counts, mean, counted=True)
    assert (residual >= norm.ppf(poisson.cdf(counts - 1, mean)) - 1e-9).all()
    assert (residual <= norm.ppf(poisson.cdf(counts, mean)) + 1e-9).all()


def test_weights_drawn_from_the_working_law_have_standard_normal_residuals() -> None:
    chance = np.random.default_rng(10)
    mean = chance.gamma(3, 20, 20_000)
    some = chance.random(20_000) < 0.8
    weights = np.where(some, chance.gamma(2.5, mean / 0.8 / 2.5), 0.0)
    residual = quantile_residuals(weights, mean, counted=False)
    assert residual.mean() == pytest.approx(0, abs=0.02)
    assert residual.std() == pytest.approx(1, abs=0.02)


def test_the_slope_is_that_of_statsmodels_on_single_hauls() -> None:
    hauls = random_hauls((3, 3, 24, 180), 4, "events").rename({"total": "amount"})
    found = hours_slope(hauls, "rig 0", ["ground"], "trip")
    terms = ("intercept", "rig_version: rig 1", "rig_version: rig 2", "ground: ground 1")
    design = design_of_hauls(hauls, (*terms, "ground: ground 2"))
    log_hours = np.log(hauls["tow_hours"].to_numpy())
    stepped = (log_hours / STEP).round() * STEP
    theirs = sm.GLM(
        hauls["amount"].to_numpy(),
        np.column_stack([design, stepped]),
        family=sm.families.Poisson(),
        offset=log_hours,
    ).fit(
        tol=1e-12,
        cov_type="cluster",
        cov_kwds={"groups": hauls["trip"].cast(pl.Int64).to_numpy(), "use_correction": True},
    )
    assert found.slope == pytest.approx(theirs.params[-1] + 1, abs=1e-7)
    # Of the hours as they are, the slope is the same but for the steps.
    unstepped = sm.GLM(
        hauls["amount"].to_numpy(),
        np.column_stack([design, log_hours]),
        family=sm.families.Poisson(),
    ).fit(tol=1e-12)
    assert found.slope == pytest.approx(unstepped.params[-1], abs=0.01)
    assert found.low is not None
    assert found.slope is not None
    rows = np.column_stack([design, stepped])
    trips, mean = hauls["trip"].cast(pl.Int64).to_numpy(), np.asarray(theirs.mu)
    amounts = hauls["amount"].to_numpy()
    by_trip = left_out_errors(rows, amounts, mean, trips)[-1]
    freedom = satterthwaite_freedom(rows, mean, trips, rows.shape[1] - 1)
    from_model = np.sqrt(np.linalg.inv(rows.T @ (rows * mean[:, None]))[-1, -1])
    reach = max(stdtrit(freedom, 0.975) * by_trip, stdtrit(np.inf, 0.975) * from_model)
    assert found.slope - found.low == pytest.approx(reach, rel=1e-6)


def test_ships_damage_goes_with_the_months_in_service() -> None:
    # McCullagh & Nelder 1989, section 6.3.2, from memory: the coefficient of the log of months is
    # 0.903 with an error of about 0.10 before over-dispersion, so 1 is within its interval.
    ships = rows_as_hauls(pl.read_csv(DATA / "ships.csv"), "service", "incidents").rename(
        {"type": "rig_version", "total": "amount"}
    )
    found = hours_slope(ships.with_columns(ground=pl.lit("sea")), "A", ["year", "period"], "model")
    assert found.slope == pytest.approx(0.903, abs=0.005)
    assert found.low is not None
    assert found.slope is not None
    assert (found.slope - found.low) / 1.959964 == pytest.approx(0.102, abs=0.002)
    assert found.claim == "per hour"
