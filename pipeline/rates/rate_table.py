"""Rates per tow hour as they were, by outcome, ground and rig: nothing adjusted."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl

from pipeline.rates.cells import Cells
from pipeline.rates.exact import rate_limits
from pipeline.rates.leave_out import leave_out
from pipeline.rates.poisson import NARROWEST, interval
from pipeline.rates.support import LEAST_TRIPS
from schemas.outcomes import outcome

if TYPE_CHECKING:
    from numpy.typing import NDArray

ALL_GROUNDS = "all"

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
    """The rate over trips and its limits, by leaving out one trip at a time as for ratios.

    `counted` events take exact limits where errors are from the model, else the wider.
    """
    whole, time = float(total.sum()), float(hours.sum())
    low, high = _limits_by_trip(total, hours) if whole > 0 else (None, None)
    if counted:
        exact = rate_limits(whole, time)
        if low is None or high is None or errors == "model":
            low, high = exact
        else:
            low, high = min(low, exact[0]), max(high, exact[1])
    return {"tow_hours": time, "total": whole, "rate": whole / time, "low": low, "high": high}


def _limits_by_trip(
    total: NDArray[np.float64], hours: NDArray[np.float64]
) -> tuple[float, float] | tuple[None, None]:
    """The 95 % limits of a rate over trips that had some: a model of one term; None if untold.

    Where one trip had all, the rate without it goes to nought for ever, and nothing is told.
    """
    trips = len(total)
    if trips < LEAST_TRIPS or (total > 0).sum() < 2:
        return None, None
    one = Cells(
        design=np.ones((1, 1)),
        terms=("rate",),
        estimable=np.ones(1, dtype=bool),
        row=np.arange(trips),
        pattern=np.zeros(trips, dtype=np.int64),
        trip=np.arange(trips),
        hauls=np.ones(trips),
        hours=hours,
        total=total,
    )
    log_rate = np.log([total.sum() / hours.sum()])
    left_out = leave_out(one, log_rate, np.full((1, 1), 1 / total.sum()))
    std_error = float(np.sqrt(left_out.covariance[0, 0]))
    if std_error <= NARROWEST or left_out.alone[0]:
        return None, None
    return interval(float(log_rate[0]), std_error, left_out.freedom(np.ones(1)))
