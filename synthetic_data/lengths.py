"""Lengths of a few species, measured on a part of the hauls.

The fish of a haul weigh what was caught. A rig that loses bottom-living fish loses the small ones
first: against the reference its catch in number goes with a power of length, the higher the more it
loses. Of a large catch a half is measured, or a quarter, or less, and that share is written down.
"""

from math import log
from typing import NamedTuple

import numpy as np
import polars as pl
from numpy.typing import NDArray

from synthetic_data.fleet import Boat
from synthetic_data.scene import BOTTOM_LIVING, RIG_VERSIONS

Floats = NDArray[np.float64]

_SHARE_OF_HAULS = 0.5
_CLASS_CM = 2
_TRIP_SPREAD = 0.04
_POWER_OF_LOSS = 5.0


class _Sizes(NamedTuple):
    """Lengths of a species as they are on the ground, and the weight of a fish of 1 cm.

    ``most`` is about the most of it that are measured of one haul.
    """

    code: str
    mean_cm: float
    spread_cm: float
    grams: float
    most: int


_MEASURED = (_Sizes("PLE", 29, 5.5, 0.0100, 24), _Sizes("HAD", 36, 6.0, 0.0085, 10))


def per_doubling(code: str) -> dict[str, float]:
    """Return by rig what twice the length makes of its catch in number against the reference's."""
    return {
        rig.name: round(2 ** float(power), 4)
        for rig, power in zip(RIG_VERSIONS, _powers(code), strict=True)
    }


def true_lengths() -> dict[str, dict[str, float]]:
    """Return what is true of the sizes that each rig loses, by species."""
    return {f"per_doubling_of_length.{sizes.code}": per_doubling(sizes.code) for sizes in _MEASURED}


def lengths_table(
    hauls: pl.DataFrame, catches: pl.DataFrame, fleet: list[Boat], rng: np.random.Generator
) -> pl.DataFrame:
    """Return the lengths in the template's columns, all text, in the order of the hauls."""
    valid = pl.Series(rng.random(hauls.height) < _SHARE_OF_HAULS) & hauls["valid"]
    chosen = hauls.with_row_index("haul_row").with_columns(pl.col("haul_row").cast(pl.Int64))
    chosen = chosen.filter(valid).select("haul_row", "boat", "trip", "haul", "trip_row", "rig")
    measured = pl.concat(_measured(chosen, catches, sizes, rng) for sizes in _MEASURED)
    return measured.sort("haul_row", maintain_order=True).select(
        pl.col("boat").replace_strict(range(len(fleet)), [b.name for b in fleet]).alias("vessel"),
        pl.col("trip", "haul").cast(pl.String),
        "species",
        pl.lit("codend").alias("where"),
        pl.col("length_cm", "count", "share_measured").cast(pl.String),
    )


def _powers(code: str) -> Floats:
    """Power of length by which each rig's catch in number goes, in the order of the rigs."""
    bottom_living = code in {species.code for species in BOTTOM_LIVING}
    return np.array([-_POWER_OF_LOSS * log(r.bottom_living) * bottom_living for r in RIG_VERSIONS])


def _measured(
    hauls: pl.DataFrame, catches: pl.DataFrame, sizes: _Sizes, rng: np.random.Generator
) -> pl.DataFrame:
    """Measure one species: a row for each length class of each of these hauls that caught some."""
    kg = pl.col("kept_kg") + pl.col("discarded_kg")
    own = catches.filter(species=sizes.code).select("haul_row", kg.alias("kg"))
    caught = hauls.join(own, on="haul_row", maintain_order="left")
    low, high = sizes.mean_cm - 3 * sizes.spread_cm, sizes.mean_cm + 3 * sizes.spread_cm
    classes = np.arange(int(low), int(high) + 1, _CLASS_CM)
    trip = caught["trip_row"].to_numpy()
    means = sizes.mean_cm * np.exp(rng.normal(0, _TRIP_SPREAD, int(trip.max()) + 1))[trip]
    number = np.exp(-(((classes - means[:, None]) / sizes.spread_cm) ** 2) / 2)
    number *= (classes / sizes.mean_cm) ** _powers(sizes.code)[caught["rig"].to_numpy()][:, None]
    grams = (number * sizes.grams * classes.astype(float) ** 3).sum(axis=1)
    number *= (caught["kg"].to_numpy() * 1000 / grams)[:, None]
    halvings = np.ceil(np.log2(np.maximum(number.sum(axis=1) / sizes.most, 1)))
    share = 0.5**halvings
    count = rng.poisson(number * share[:, None])
    haul, length = np.nonzero(count)
    return caught[haul].with_columns(
        pl.lit(sizes.code).alias("species"),
        pl.Series("length_cm", classes[length]),
        pl.Series("count", count[haul, length]),
        pl.Series("share_measured", share[haul]),
    )
