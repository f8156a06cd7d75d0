"""The tables kept beside the deck log: boats, fittings, length checks and prices."""

import numpy as np
import polars as pl

from synthetic_data.fleet import Boat
from synthetic_data.rig_tables import SECTION_LENGTHS_M
from synthetic_data.scene import RIG_VERSIONS, SPECIES

_WEEKS_BETWEEN_CHECKS = 3
_STRETCH_PER_HOUR = 0.006 / 100
_EVENED_ABOVE = 0.009
_SHARE_TAKEN_OFF = 0.3
_HAS_TRAVELLER = ("rubber discs", "bobbins", "rockhopper")
_PRICE_SWING = (1.08, 0.97, 0.94, 1.03)


def vessels_table(fleet: list[Boat]) -> pl.DataFrame:
    """Return each boat's length and power."""
    return pl.DataFrame(
        {
            "vessel": [boat.name for boat in fleet],
            "length_m": [boat.length_m for boat in fleet],
            "power_kw": [boat.power_kw for boat in fleet],
        }
    )


def fittings_table(hauls: pl.DataFrame, rng: np.random.Generator) -> pl.DataFrame:
    """Return when each boat began to fish each rig version: shortly before the first shot."""
    begins = (pl.col("rig") != pl.col("rig").shift(1)) | (pl.col("boat") != pl.col("boat").shift(1))
    fittings = hauls.filter(begins.fill_null(value=True)).select(
        "boat", "rig", fitted_from=pl.col("shot_at").dt.offset_by("-20m")
    )
    # Some logs also say when the rig came off; in others the next fitting says it.
    said = pl.Series(rng.random(fittings.height) < _SHARE_TAKEN_OFF)
    return fittings.with_columns(
        fitted_to=pl.when(said).then(pl.col("fitted_from").shift(-1).over("boat"))
    )


def length_checks_table(
    hauls: pl.DataFrame, fittings: pl.DataFrame, rng: np.random.Generator
) -> pl.DataFrame:
    """Return ground chain and traveller as measured; the chain stretches until it is evened.

    A chain, a grass rope and a rope-rounded wire have no traveller to be measured against.
    """
    checks = (
        _check_days(hauls)
        .join_asof(
            fittings.select("boat", "rig", at="fitted_from").sort("at"),
            on="at", by="boat", check_sortedness=False,
        )
        .join_asof(
            _hours_fished(hauls), on="at", by=["boat", "rig"], check_sortedness=False
        )
        .drop_nulls("hours")
        .sort("boat", "at")
        .with_columns(stretch=pl.col("hours") * _STRETCH_PER_HOUR)
    )  # fmt: skip
    passed = (pl.col("stretch") / _EVENED_ABOVE).floor()
    evened = (passed > passed.shift(1, fill_value=0)).over("boat", "rig")
    at_last_evening = (
        pl.when("evened").then("stretch").shift(1).forward_fill().over("boat", "rig").fill_null(0.0)
    )
    measured = checks.with_columns(evened=evened).with_columns(
        stretch=pl.col("stretch") - at_last_evening
    )
    sections = pl.DataFrame(
        {
            "section": list(SECTION_LENGTHS_M),
            "new_m": list(SECTION_LENGTHS_M.values()),
            "section_row": range(len(SECTION_LENGTHS_M)),
        }
    )
    rows = measured.join(sections, how="cross").sort("at", "boat", "section_row")
    error_m = rng.normal(0, 0.008, (2, rows.height))
    return rows.with_columns(
        ground_chain_m=pl.col("new_m") * (1 + pl.col("stretch")) + pl.Series(error_m[0]),
        traveller_m=pl.col("new_m") + pl.Series(error_m[1]),
    ).filter(pl.col("rig").is_in(_rigs_with_a_traveller()))


def prices_table(first_year: int, last_year: int) -> pl.DataFrame:
    """Return each species' price from the first day of every quarter."""
    days = [
        (f"{year}-{3 * quarter + 1:02d}-01", swing)
        for year in range(first_year, last_year + 1)
        for quarter, swing in enumerate(_PRICE_SWING)
    ]
    return pl.DataFrame(
        {
            "species": [s.code for s in SPECIES for _ in days],
            "valid_from": [day for _ in SPECIES for day, _ in days],
            "price_per_kg": [f"{s.price_per_kg * swing:.2f}" for s in SPECIES for _, swing in days],
        }
    )


def _rigs_with_a_traveller() -> list[int]:
    """Return the numbers of the rig versions with discs or bobbins on a ground chain."""
    return [at for at, rig in enumerate(RIG_VERSIONS) if rig.ground_gear in _HAS_TRAVELLER]


def rig_names() -> pl.Series:
    """Return the rig versions' names in the order of their numbers."""
    return pl.Series([rig.name for rig in RIG_VERSIONS])


def _check_days(hauls: pl.DataFrame) -> pl.DataFrame:
    """Give every boat a check in each third week, at noon of the day after a haul."""
    period = pl.col("shot_at").dt.truncate(f"{_WEEKS_BETWEEN_CHECKS}w")
    return (
        hauls.group_by("boat", period.alias("period"))
        .agg(at=pl.col("shot_at").max().dt.truncate("1d").dt.offset_by("36h"))
        .drop("period")
        .sort("at", "boat")
    )


def _hours_fished(hauls: pl.DataFrame) -> pl.DataFrame:
    """Return the hours each boat has towed each rig up to and with each haul."""
    return hauls.select(
        "boat", "rig",
        at="shot_at",
        hours=(pl.col("tow_minutes") / 60).cum_sum().over("boat", "rig"),
    ).sort("at")  # fmt: skip
