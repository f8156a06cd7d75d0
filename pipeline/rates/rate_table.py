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
    of_rig, by_trip = ["outcome", "ground", "rig_version"], ["vessel", "trip"]
    amounts = ["hauls", "tow_hours", "total"]
    # Of millions of sums, words are slow to group by: they are numbered first.
    numbered = sums.select(*of_rig, pl.col(by_trip).cast(pl.Categorical), *amounts)
    each = numbered.group_by(*of_rig, *by_trip, maintain_order=True).agg(pl.col(amounts).sum())
    over_all = (
        each.group_by("outcome", "rig_version", *by_trip, maintain_order=True)
        .agg(pl.col(amounts).sum())
        .with_columns(pl.lit(ALL_GROUNDS).alias("ground"))
        .select(each.columns)
    )
    cells = pl.concat([over_all, each])
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
        for (name, ground, rig), part in sorted(
            cells.partition_by(of_rig, maintain_order=True, as_dict=True).items()
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
