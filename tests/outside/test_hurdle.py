"""The ratio in two parts, against statsmodels on single hauls and the sandwich written out."""

from __future__ import annotations

import numpy as np
import polars as pl
import pytest
import statsmodels.api as sm

from pipeline.rates.fits import Question
from pipeline.rates.hurdle import hurdle_ratio, share_without
from tests.properties.test_rates_equal_statsmodels import design_of_hauls, random_hauls

TERMS = ("intercept", "rig_version: rig 1", "rig_version: rig 2", "ground: ground 1")


def moves(
    design: np.ndarray, amount: np.ndarray, offset: np.ndarray, trip: np.ndarray
) -> tuple[float, np.ndarray]:
    """The log ratio of rig 1 by statsmodels, and how far each trip moves it."""
    family = sm.families.Poisson()
    fit = sm.GLM(amount, design, family=family, offset=offset).fit(
        tol=1e-12, tol_criterion="params", maxiter=200
    )
    mean = fit.fittedvalues
    bread = np.linalg.inv(design.T @ (design * mean[:, None]))
    by_haul = (design * (amount - mean)[:, None]) @ bread[:, 1]
    return float(fit.params[1]), np.bincount(trip, by_haul, 30)


@pytest.mark.parametrize("seed", range(3))
def test_both_parts_together_are_those_of_single_hauls(seed: int) -> None:
    # Both parts by their own fit; the product's error from what each trip moves either part
    # (Cochran, Sampling Techniques, 3rd ed. 1977, ch. 6, from memory, for errors of products).
    hauls = random_hauls((3, 2, 30, 300), seed, "kilos")
    keys = ["vessel", "trip", "rig_version", "ground"]
    sums = (
        hauls.with_columns(hauls_with_some=(pl.col("total") > 0).cast(pl.Int64))
        .group_by(keys, maintain_order=True)
        .agg(pl.col("hauls", "hauls_with_some", "tow_hours", "total").sum())
    )
    question = Question("bottom_living_kg", "all", "rig 0", ("ground",), "trip")
    found = hurdle_ratio(question, sums, "rig 1")
    assert found is not None

    trip, total = hauls["trip"].cast(pl.Int64).to_numpy(), hauls["total"].to_numpy()
    design, some = design_of_hauls(hauls, TERMS), total > 0
    log_hours = np.log(hauls["tow_hours"].to_numpy())
    often, moved_often = moves(design, some.astype(float), log_hours, trip)
    much, moved_much = moves(design[some], total[some], np.zeros(int(some.sum())), trip[some])
    assert found[0] == pytest.approx(often + much, abs=1e-8)
    error = np.sqrt(((moved_often + moved_much) ** 2).sum() * 30 / 29)
    assert found[1] == pytest.approx(error, rel=1e-7)
    of_both = hauls.filter(pl.col("rig_version") != "rig 2")
    assert share_without(sums, ["rig 0", "rig 1"]) == pytest.approx(
        (of_both["total"] == 0).mean(), abs=1e-12
    )
