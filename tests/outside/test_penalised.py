"""Firth's penalised likelihood against cases worked out by hand and by brute force."""

from __future__ import annotations

import numpy as np
import polars as pl
import pytest
from scipy.optimize import minimize
from scipy.stats import binom, chi2

from pipeline.rates.cells import lay_out, term
from pipeline.rates.penalised import Penalised, penalised_fit


def fit_of(
    rows: list[tuple[str, str, float, float]], factors: tuple[str, ...] = ("ground",)
) -> Penalised:
    """The penalised ratio of "discs" to "bobbins"; a row is rig, ground, hours, events."""
    sums = pl.DataFrame(
        rows, schema=["rig_version", "ground", "tow_hours", "total"], orient="row"
    ).with_columns(pl.lit("one").alias("vessel"), pl.lit("1").alias("trip"), hauls=pl.lit(1))
    cells = lay_out(sums, "rig_version", "bobbins", factors, every_pattern=True)
    found = penalised_fit(cells, term("rig_version", "discs"))
    assert found is not None
    return found


SEASONS = 150

NONE_ANYWHERE = [("discs", "mud", 240.0, 0.0), ("bobbins", "mud", 310.0, 9.0)]
APART = [
    ("discs", "mud", 50.0, 0.0),
    ("bobbins", "mud", 80.0, 3.0),
    ("discs", "sand", 120.0, 0.0),
    ("bobbins", "sand", 60.0, 1.0),
    ("bobbins", "rocky", 20.0, 7.0),
]


def test_of_two_rates_half_an_event_is_added_to_each() -> None:
    # Firth 1993, section 4.2 (from memory): in a saturated log-linear model, a half to each cell.
    found = fit_of(NONE_ANYWHERE, ())
    assert found.log_ratio == pytest.approx(np.log((0.5 / 240) / (9.5 / 310)), rel=1e-9)


def height(design: np.ndarray, hours: np.ndarray, total: np.ndarray, at: np.ndarray) -> float:
    """The penalised log likelihood from its definition, by the eigenvalues of the information."""
    mean = hours * np.exp(design @ at)
    root = np.sqrt(mean)[:, None] * design
    sizes = np.linalg.svd(root, compute_uv=False)
    return float((total * np.log(mean) - mean).sum() + np.log(sizes).sum())


def highest(
    rows: list[tuple[str, str, float, float]], log_ratio: float | None
) -> tuple[float, np.ndarray]:
    """Its top, with the log ratio held where one is told, by a search that knows no slopes."""
    grounds = sorted({row[1] for row in rows})
    design = np.array(
        [[1.0, row[0] == "discs", *(row[1] == g for g in grounds[1:])] for row in rows], dtype=float
    )
    hours, total = (np.array([row[at] for row in rows]) for at in (2, 3))

    def beneath(free: np.ndarray) -> float:
        at = free if log_ratio is None else np.insert(free, 1, log_ratio)
        return -height(design, hours, total, at)

    start = np.zeros(design.shape[1] - (log_ratio is not None))
    start[0] = -3.0
    options = {"xatol": 1e-10, "fatol": 1e-13, "maxiter": 40_000, "maxfev": 40_000}
    for _ in range(3):
        found = minimize(beneath, start, method="Nelder-Mead", options=options)
        start = found.x
    return -float(found.fun), start


@pytest.mark.parametrize("rows", [NONE_ANYWHERE, APART], ids=["two rates", "three grounds"])
def test_top_and_limits_are_those_of_a_search_without_slopes(
    rows: list[tuple[str, str, float, float]],
) -> None:
    found = fit_of(rows)
    top, at = highest(rows, None)
    assert found.log_ratio == pytest.approx(at[1], abs=1e-5)
    low, high = found.limits(0.95)
    assert low is not None
    assert high is not None
    for limit in (low, high):
        assert 2 * (top - highest(rows, limit)[0]) == pytest.approx(chi2.ppf(0.95, 1), abs=1e-6)
    assert low < found.log_ratio < high
    assert found.p_value() == pytest.approx(chi2.sf(2 * (top - highest(rows, 0.0)[0]), 1), rel=1e-5)


def test_turned_round_it_is_one_over_the_ratio() -> None:
    turned = [(("bobbins", "discs")[row[0] == "bobbins"], *row[1:]) for row in APART]
    one, other = fit_of(APART), fit_of(turned)
    assert other.log_ratio == pytest.approx(-one.log_ratio, rel=1e-8)
    low, high = other.limits(0.95)
    assert low is not None
    assert high is not None
    assert (-high, -low) == pytest.approx(one.limits(0.95), rel=1e-7)


def test_limits_hold_the_truth_that_was_put_in_where_events_are_few() -> None:
    chance, held = np.random.default_rng(1), []
    rig, ground, depth = (each.ravel() for each in np.indices((2, 3, 2)))
    hours = np.array([40.0, 60.0])[rig] * np.array([1.0, 2.0, 0.5])[ground]
    mean = 0.02 * hours * np.array([1.0, 0.4])[rig] * np.array([1.0, 0.5, 4.0])[ground]
    for _ in range(SEASONS):
        events = chance.poisson(mean * np.array([1.0, 1.5])[depth]).astype(float)
        if events.sum() == 0:
            continue
        named = [("bobbins", "discs")[at] for at in rig]
        where = [f"{at} {deep}" for at, deep in zip(ground, depth, strict=True)]
        rows = list(zip(named, where, hours.tolist(), events.tolist(), strict=True))
        low, high = fit_of(rows).limits(0.95)
        held.append((low is None or low <= np.log(0.4)) and (high is None or high >= np.log(0.4)))
    # The count that a method which holds 93 % would fall short of once in 100,000.
    assert len(held) > 0.9 * SEASONS
    assert sum(held) >= binom.ppf(1e-5, len(held), 0.93)
