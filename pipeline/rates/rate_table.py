"""Rates per tow hour as they were, by outcome, ground and rig: nothing adjusted."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl

from pipeline.rates.exact import rate_limits
from pipeline.rates.poisson import NARROWEST, half_width
from pipeline.rates.support import LEAST_TRIPS
from schemas.outcomes import outcome

if TYPE_CHECKING:
    from numpy.typing import NDArray

ALL_GROUNDS = "all"
FEW_EVENTS = 10

RATE_SCHEMA: dict[str, pl.DataType] = {
    "outcome": pl.String(),
    "ground": pl.String(),
    "rig": pl.String(),
    "hauls": pl.Int64(),
    "trips": pl.Int64(),
    "tow_hours": pl.Float64(),
    "total": pl.Float64(),
    "rate": pl.Float64(),
    "low": pl.Float64(),
    "high": pl.Float64(),
}


def rate_table(sums: pl.DataFrame, errors: Literal["trip", "model"]) -> pl.DataFrame:
    """The rate of every outcome for every rig, over all grounds and on each.

    `sums` has outcome, vessel, trip, rig_version, ground, hauls, tow_hours, total. The columns
    are those of `RATE_SCHEMA`; limits that can't be given are null.
    """
    by_trip = ["vessel", "trip"]
    over_all = sums.with_columns(pl.lit(ALL_GROUNDS).alias("ground"))
    cells = (
        pl.concat([over_all, sums])
        .group_by("outcome", "ground", "rig_version", *by_trip)
        .agg(pl.col("hauls", "tow_hours", "total").sum())
        .sort("outcome", "ground", "rig_version", *by_trip)
    )
    rows = [
        {
            "outcome": name,
            "ground": ground,
            "rig": rig,
            "hauls": int(part["hauls"].sum()),
            "trips": part.height,
            **rate_of(
                part["total"].to_numpy(),
                part["tow_hours"].to_numpy(),
                errors,
                counted=outcome(str(name)).counted,
            ),
        }
        for (name, ground, rig), part in cells.group_by(
            "outcome", "ground", "rig_version", maintain_order=True
        )
    ]
    return pl.DataFrame(rows, schema=RATE_SCHEMA)


def rate_of(
    total: NDArray[np.float64],
    hours: NDArray[np.float64],
    errors: Literal["trip", "model"],
    *,
    counted: bool,
) -> dict[str, float | None]:
    """The rate over trips and its limits.

    They are those of a log rate whose error is clustered by trip, with t on trips − 1. `counted`
    events take exact limits where there are few of them or errors are from the model, else the
    wider.
    """
    whole, time, trips = float(total.sum()), float(hours.sum()), len(total)
    rate = whole / time
    limits: tuple[float | None, float | None] = (None, None)
    if whole > 0 and trips >= LEAST_TRIPS:
        left_over = total - rate * hours
        std_error = float(np.sqrt((left_over**2).sum() * trips / (trips - 1))) / whole
        reach = float(np.exp(half_width(trips - 1) * std_error))
        limits = (rate / reach, rate * reach) if std_error > NARROWEST else (None, None)
    if counted:
        exact = rate_limits(whole, time)
        few = whole < FEW_EVENTS or limits[0] is None or limits[1] is None
        if few or errors == "model":
            limits = exact
        elif limits[0] is not None and limits[1] is not None:
            limits = (min(limits[0], exact[0]), max(limits[1], exact[1]))
    low, high = limits
    return {"tow_hours": time, "total": whole, "rate": rate, "low": low, "high": high}
