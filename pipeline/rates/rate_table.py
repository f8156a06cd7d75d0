"""Rates per tow hour as they were, by outcome, ground and rig: nothing adjusted."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal, NamedTuple

import numpy as np
import polars as pl

from pipeline.rates.exact import rate_limits, rate_limits_in_clumps
from pipeline.rates.leave_out import ALONE, FARTHEST, as_alike
from pipeline.rates.numbered import Codes, by_outcome, grouped
from pipeline.rates.poisson import NARROWEST, interval
from pipeline.rates.support import LEAST_TRIPS
from schemas.outcomes import outcome
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from numpy.typing import NDArray

    from pipeline.rates.numbered import Rows, Sums


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


def rate_table(
    sums: pl.DataFrame | Mapping[str, Sums], errors: Literal["trip", "model"]
) -> pl.DataFrame:
    """The rate of every outcome for every rig, over all grounds and on each.

    `sums` has outcome, vessel, trip, rig_version, ground, hauls, tow_hours, total. The columns
    are those of `RATE_SCHEMA`; limits that can't be given are null.
    """
    rows = [
        row
        for name, of_outcome in by_outcome(sums).items()
        for row in _rates_by_rig(name, of_outcome, errors)
    ]
    rows.sort(key=lambda row: (row["outcome"], row["ground"], row["rig"]))
    return pl.DataFrame(rows, schema=RATE_SCHEMA)


def _rates_by_rig(
    name: str, sums: Sums, errors: Literal["trip", "model"]
) -> Iterator[dict[str, Any]]:
    """The rate of an outcome for every rig, over all grounds and on each."""
    for place in sums.rows.once("fished by trip", lambda: [*_fished_by_trip(sums.rows)]):
        total = np.bincount(place.cell, sums.total, len(place.hours)).astype(float)
        for part, (ground, rig) in place.parts:
            yield {
                "outcome": name,
                "ground": ground,
                "rig": rig,
                "hauls": int(place.hauls[part].sum()),
                "trips": len(place.hours[part]),
                **rate_of(total[part], place.hours[part], errors, counted=outcome(name).counted),
            }


class _ByTrip(NamedTuple):
    """The rows by ground, rig and trip.

    `cell` is each row's, in that order; `hauls` and `hours` are those of each cell. `parts` has
    which cells are of each ground and rig.
    """

    cell: NDArray[np.int64]
    hauls: NDArray[np.float64]
    hours: NDArray[np.float64]
    parts: list[tuple[slice, tuple[str, str]]]


def _fished_by_trip(rows: Rows) -> Iterator[_ByTrip]:
    """The rows by rig and trip over all grounds, and on each."""
    rig, ground = rows.codes("rig_version"), rows.codes("ground")
    trip = Codes(range(int(rows.trips.max(initial=-1)) + 1), rows.trips)
    for where in (Codes([ALL_GROUNDS], np.zeros_like(ground.codes)), ground):
        cell, first = grouped([where, rig, trip])
        of_rig, starts = np.unique(
            where.codes[first] * len(rig.words) + rig.codes[first], return_index=True
        )
        ends = np.append(starts[1:], len(first))
        yield _ByTrip(
            cell,
            np.bincount(cell, rows.hauls).astype(float),
            np.bincount(cell, rows.hours).astype(float),
            [
                (
                    slice(start, end),
                    (where.words[at // len(rig.words)], rig.words[at % len(rig.words)]),
                )
                for at, start, end in zip(of_rig, starts, ends, strict=True)
            ],
        )


def rate_of(
    total: NDArray[np.float64],
    hours: NDArray[np.float64],
    errors: Literal["trip", "model"],
    *,
    counted: bool,
) -> dict[str, float | None]:
    """The rate over trips and its limits, by leaving out one trip at a time as for ratios.

    `counted` events take exact limits where errors are from the model, else the wider. Where the
    trips can't tell how unlike they are, what fell in a trip is taken to come as one clump.
    """
    whole, time = float(total.sum()), float(hours.sum())
    low, high = _limits_by_trip(total, hours, counted=counted) if whole > 0 else (None, None)
    if counted:
        exact = rate_limits(whole, time)
        if errors == "model":
            low, high = exact
        elif low is None or high is None:
            low, high = rate_limits_in_clumps(total, time)
        else:
            low, high = min(low, exact[0]), max(high, exact[1])
    return {"tow_hours": time, "total": whole, "rate": whole / time, "low": low, "high": high}


def _limits_by_trip(
    total: NDArray[np.float64], hours: NDArray[np.float64], *, counted: bool
) -> tuple[float, float] | tuple[None, None]:
    """The 95 % limits of a rate over trips that had some: a model of one term; None if untold.

    Each trip is left out as `leave_out` does it, for which with one term nothing need be turned
    about. Where one trip had all, the rate without it goes to nought for ever, and nothing is told.
    """
    if len(total) < LEAST_TRIPS or (total > 0).sum() < 2:
        return None, None
    rate, whole = total.sum() / hours.sum(), total.sum()
    mean = rate * hours
    left = 1 - mean / whole
    if (left < ALONE).any():
        return None, None
    moved = (total - mean) / (whole * left)
    rest = rate * (hours.sum() - hours) * np.exp(-np.clip(moved, -FARTHEST, FARTHEST))
    moved -= (whole - total - rest) / rest
    too_wide = max(float((mean / left).sum()) / whole, 1.0)
    std_error = float(np.sqrt((moved**2).sum() / too_wide))
    if std_error <= NARROWEST:
        return None, None
    freedom = _freedom(mean / whole)
    if not counted:
        freedom = min(freedom, as_alike(moved))
    return interval(float(np.log(rate)), std_error, freedom)


def _freedom(share: NDArray[np.float64]) -> float:
    """The degrees of freedom of `LeftOut`, where each trip is expected to have a share of all."""
    own = share / (1 - share) ** 2
    taken = own * share
    squares = float((own**2).sum() - 2 * (own * taken).sum() + taken.sum() ** 2)
    return max(float(own.sum() - taken.sum()) ** 2 / squares, 1.0) if squares > 0 else 1.0
