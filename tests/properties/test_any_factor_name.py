"""A season may keep a column of any name and adjust for it: no name is the program's own."""

from __future__ import annotations

import numpy as np
import polars as pl
import pytest

from pipeline.rates.effects import find_effects


@pytest.mark.parametrize("name", ["cell", "place", "pattern", "row", "number", "rank", "all"])
def test_a_factor_is_adjusted_for_whatever_its_name(name: str) -> None:
    chance = np.random.default_rng(4)
    trip = np.arange(160) // 4
    sums = pl.DataFrame(
        {
            "outcome": "damage_events",
            "vessel": "Skua",
            "trip": trip,
            "rig_version": np.where(trip % 2, "discs", "bobbins"),
            "ground": "mud",
            "stretch": "2031 Q1",
            "band": np.where(chance.random(160) < 0.5, "low", "high"),
            "hauls": 1,
            "tow_hours": chance.uniform(1, 5, 160),
            "total": chance.poisson(1.0, 160).astype(float),
        }
    ).with_columns(
        pl.col("trip").cast(pl.String), hauls_with_some=(pl.col("total") > 0).cast(pl.Int64)
    )
    fished = sums.select("rig_version", "ground").unique()
    (plain,) = find_effects(sums, fished, "bobbins", ["band"], "trip", ["all"])
    renamed = sums.rename({"band": name})
    (found,) = find_effects(renamed, fished, "bobbins", [name], "trip", ["all"])
    assert found.adjusted_for == [name]
    assert (found.ratio, found.low, found.high) == (plain.ratio, plain.low, plain.high)
