"""A ratio of rates is the same in grams as in tonnes, however long the record."""

from __future__ import annotations

from itertools import product

import numpy as np
import polars as pl
import pytest

from pipeline.rates.cells import lay_out, term
from pipeline.rates.poisson import fit_rates


def catches(scale: float) -> pl.DataFrame:
    """Kilos of 2 rigs on 3 grounds over 40 trips, from a fixed seed, in some unit."""
    chance = np.random.default_rng(11)
    rows = [
        {
            "vessel": "Skua",
            "trip": str(trip),
            "rig": rig,
            "ground": ground,
            "hauls": 4,
            "tow_hours": float(chance.uniform(1, 12)),
            "total": float(chance.gamma(1.5, 200)) * scale,
        }
        for trip, rig, ground in product(range(40), ("discs", "bobbins"), ("mud", "sand", "hard"))
    ]
    return pl.DataFrame(rows)


@pytest.mark.parametrize("scale", [1e-6, 1e-3, 1e3, 1e6, 1e9])
def test_a_ratio_has_no_unit(scale: float) -> None:
    told = []
    for unit in (1.0, scale):
        fit = fit_rates(lay_out(catches(unit), "rig", "bobbins", ["ground"]), "trip")
        told.append(fit.effect(term("rig", "discs")))
    assert told[0] is not None
    assert told[1] == pytest.approx(told[0], rel=1e-9)
