"""Counts with more scatter than chance, against print, a second program and plain integration."""

from __future__ import annotations

from math import exp, lgamma, log

import numpy as np
import pytest
import statsmodels.api as sm
from scipy.integrate import quad
from scipy.optimize import minimize

from pipeline.rates.poisson import fit_rates, solve
from pipeline.rates.shared_scatter import (
    GroupedRows,
    ScatterFit,
    fit_scatter,
    lot_size,
    rows_of,
)
from tests.outside.test_rate_model import deep_sea_fishing, published, ships


def errors(fit: ScatterFit) -> np.ndarray:
    return np.sqrt(np.diag(fit.covariance))


def fishing() -> ScatterFit:
    cells = deep_sea_fishing()
    return fit_scatter(rows_of(cells, 1.0, by_trip=False), solve(cells))


def test_deep_sea_fishing_has_the_published_negative_binomial() -> None:
    # Hilbe 2011; R's MASS::glm.nb printed eight digits: theta 1.8319961, alpha 0.5458527.
    expected, fit = published("deep_sea_fishing", "NB2"), fishing()
    assert fit.shape is not None
    assert fit.terms == tuple(expected["term"])
    assert fit.estimate == pytest.approx(expected["estimate"].to_numpy(), abs=1e-7)
    assert errors(fit) == pytest.approx(expected["std_error"].to_numpy(), abs=1e-8)
    assert fit.shape == pytest.approx(1.8319961, abs=1e-7)
    assert 1 / fit.shape == pytest.approx(0.5458527, abs=5e-8)


def test_deep_sea_fishing_is_what_statsmodels_gives() -> None:
    cells = deep_sea_fishing()
    model = sm.NegativeBinomial(cells.total, cells.design, exposure=cells.hours)
    theirs = model.fit(start_params=[-3.4, -1.0, 0.5], method="newton", disp=False, tol=1e-12)
    fit = fishing()
    assert fit.shape is not None
    assert [*fit.estimate, 1 / fit.shape] == pytest.approx(theirs.params, abs=1e-7)


def test_ships_have_no_finite_dispersion_and_fall_back_to_chance() -> None:
    # McCullagh & Nelder 1989, section 6.3.2: the likelihood grows as the dispersion goes to none.
    cells = ships()
    fit = fit_scatter(rows_of(cells, 1.0, by_trip=False), solve(cells))
    chance = fit_rates(cells, "model")
    assert fit.shape is None
    assert fit.estimate == pytest.approx(chance.estimate)
    assert fit.covariance == pytest.approx(chance.covariance)


PUMP_HOURS = (94.320, 15.720, 62.880, 125.760, 5.240, 31.440, 1.048, 1.048, 2.096, 10.480)
PUMP_FAILURES = (5, 1, 5, 14, 3, 19, 1, 1, 4, 22)


def test_pumps_have_the_published_gamma() -> None:
    # Gaver & O'Muircheartaigh 1987; by R's optim of the marginal likelihood, which stops early.
    pumps = GroupedRows(
        np.ones((1, 1)),
        ("intercept",),
        np.zeros(10, int),
        np.arange(10),
        np.array(PUMP_HOURS),
        np.array(PUMP_FAILURES, dtype=float),
    )
    fit = fit_scatter(pumps, np.array([0.0]))
    assert fit.shape == pytest.approx(0.82226869, abs=1e-6)
    assert fit.shape is not None
    assert fit.shape / np.exp(fit.estimate[0]) == pytest.approx(1.25895431, abs=1e-6)


def trips_of_pumps() -> GroupedRows:
    """The pumps' failures as five trips of two hauls, on two grounds."""
    return GroupedRows(
        np.array([[1.0, 0.0], [1.0, 1.0]]),
        ("intercept", "ground: stones"),
        np.tile([0, 1], 5),
        np.repeat(np.arange(5), 2),
        np.array(PUMP_HOURS),
        np.array(PUMP_FAILURES, dtype=float),
    )


def less_likely(parameters: np.ndarray, rows: GroupedRows) -> float:
    """Minus the log likelihood: each trip's factor integrated out by quadrature."""
    shape = float(np.exp(parameters[-1]))
    mean = rows.hours * np.exp(rows.design @ parameters[:-1])[rows.pattern]
    total = 0.0
    for trip in range(int(rows.group.max()) + 1):
        own = rows.group == trip
        hauls = list(zip(rows.total[own].tolist(), mean[own].tolist(), strict=True))

        def density(factor: float, hauls: list[tuple[float, float]] = hauls) -> float:
            """Of the trip's factor, by the gamma, times the chance of each haul, by Poisson."""
            of_factor = shape * log(shape) - lgamma(shape) + (shape - 1) * log(factor)
            of_hauls = sum(
                total * log(factor * mean) - factor * mean - lgamma(total + 1)
                for total, mean in hauls
            )
            return exp(of_factor - shape * factor + of_hauls)

        likely, _ = quad(density, 0, np.inf, epsabs=0, epsrel=1e-9, limit=500)
        total -= np.log(likely)
    return total


def test_a_factor_of_each_trip_is_where_the_integrated_likelihood_is_highest() -> None:
    rows = trips_of_pumps()
    fit = fit_scatter(rows, np.array([0.0, 0.0]))
    assert fit.shape is not None
    ours = np.array([*fit.estimate, np.log(fit.shape)])
    theirs = minimize(less_likely, ours + 0.05, args=(rows,), method="Nelder-Mead").x
    assert ours == pytest.approx(theirs, abs=2e-4)


def test_lots_are_as_large_as_the_amounts_that_counts_come_in() -> None:
    chance = np.random.default_rng(3)
    trip = np.repeat(np.arange(400), 10)
    mean = chance.gamma(4, 1, 400)[trip]
    lots = chance.poisson(mean * chance.gamma(5, 0.2, 400)[trip])
    assert lot_size(lots * 12.5, mean, trip) == pytest.approx(12.5, rel=0.06)
    assert lot_size(mean, mean, trip) is None
    assert lot_size(lots[:3] * 12.5, mean[:3], trip[:3]) is None
