"""Does a rig lose more of the small fish than of the large? The slope of its ratios over length.

Each band of length has a ratio of the rig to the reference, from a fit of its own, so that grounds
and weeks may have their own mix of sizes. A line through the logarithms of these over the log of
length says what twice the length makes of the ratio. The bands are of the same trips, so that the
line's error is found as theirs are: leaving out a trip moves all of them at once, and the line with
them. Each band counts by its own error. The degrees of freedom are those of the band that has
fewest. Within tows that fished both rigs the line is a term of what the two nets shared, each band
of each tow held to itself.

Catches compared by length are Holst & Revill, Fisheries Research 95 (2009) 254 (from memory): the
share of one gear in the catch of both as a curve of length, with errors between hauls. Here it is a
rate in place of a share, and errors are between trips.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from math import exp, log
from typing import TYPE_CHECKING

import numpy as np
import polars as pl

from pipeline.rates.cells import term
from pipeline.rates.net_sides import side_terms, sides_of
from pipeline.rates.poisson import CONFIDENCE, interval, moves_by_trip
from pipeline.rates.twin_tows import (
    LEAST_TOWS,
    TOW,
    by_leaving_out,
    is_beside_another_rig,
    numbered_by,
    of_both,
    pairs_in_one_tow,
)
from pipeline.rates.within_trips import shared_out
from schemas.codes import InTurn, NetSides, Verdict

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from pipeline.rates.effects import Effect
    from pipeline.rates.fits import Fitted
    from pipeline.rates.length_bands import LengthBand
    from pipeline.rates.looks import Judging
    from pipeline.rates.within_trips import Shared

LEAST_BANDS = 2


@dataclass(frozen=True)
class LengthSlope:
    """What twice the length makes of the ratio of a rig to the reference, from so many bands.

    Above 1 the rig keeps less of small fish than of large, as the reference does. `tows` are those
    that fished both at once, where it is of these. The verdict is by the limits `together`.
    """

    rig: str
    reference: str
    bands: int
    trips: int
    per_doubling: float
    low: float
    high: float
    slope: float
    std_error: float
    freedom: float
    tows: int | None = None
    low_together: float | None = None
    high_together: float | None = None
    verdict: Verdict = Verdict.TOO_LITTLE


def judged_slope(slope: LengthSlope, judging: Judging) -> LengthSlope:
    """The slope with its limits among all slopes, and what they say."""
    low, high = _limits(slope.slope, slope.std_error, slope.freedom, judging.confidence)
    says = Verdict.HIGHER if low > 1 else Verdict.LOWER if high < 1 else Verdict.TOO_LITTLE
    return replace(slope, low_together=low, high_together=high, verdict=says)


def find_slope(
    effects: Sequence[Effect], fitted: Mapping[str, Fitted], bands: Sequence[LengthBand]
) -> LengthSlope | None:
    """The slope of one rig's ratios; None where fewer than two bands have one with limits."""
    told = [e for e in effects if e.low is not None and e.side_by_side]
    if len(told) < LEAST_BANDS:
        return None
    length_of = {band.outcome: log(band.length_cm) for band in bands}
    moved = _moved([_moves(fitted[str(effect.model)], effect) for effect in told])
    log_ratio, error, freedom = (
        np.array([getattr(effect, name) for effect in told])
        for name in ("log_ratio", "std_error", "freedom")
    )
    share = _share_in_slope(np.array([length_of[e.outcome] for e in told]), error)
    line = float(share @ log_ratio), float(np.linalg.norm(moved @ share)), float(freedom.min())
    return _told((told[0].reference, told[0].rig), len(told), len(moved), line)


def _share_in_slope(length: NDArray[np.float64], error: NDArray[np.float64]) -> NDArray[np.float64]:
    """How much of each band's log ratio is in the slope of the line through all of them."""
    weight = error**-2
    from_middle = length - weight @ length / weight.sum()
    return np.asarray(weight * from_middle / (weight @ from_middle**2))


def _moves(fitted: Fitted, effect: Effect) -> dict[tuple[str, str], float]:
    """How far leaving out each trip moves a band's log ratio, such that its error is their norm."""
    fit, cells = fitted.fit, fitted.cells
    if fit.left_out is None:
        moved = moves_by_trip(cells, fit.estimate)
    else:
        moved = fit.left_out.moved @ fit.left_out.turn.T
    own = moved[:, fit.terms.index(term("rig_version", effect.rig))]
    own = own * (effect.std_error or 0.0) / np.linalg.norm(own)
    number, row = np.unique(cells.trip, return_index=True)
    vessel, trip = (fitted.in_model.codes(name) for name in ("vessel", "trip"))
    return {
        (vessel.words[vessel.codes[at]], trip.words[trip.codes[at]]): float(own[of_trip])
        for of_trip, at in zip(number, row, strict=True)
    }


def _moved(moves: Sequence[Mapping[tuple[str, str], float]]) -> NDArray[np.float64]:
    """The moves of all bands, trips × bands: a trip that is not in a band's fit moves it not."""
    trips = sorted(set().union(*moves))
    return np.array([[of_band.get(trip, 0.0) for of_band in moves] for trip in trips])


def find_slopes_in_tows(
    hauls: pl.DataFrame, reference: str, bands: Sequence[LengthBand]
) -> list[LengthSlope]:
    """The slope of each two rigs that were fished in one tow, within these tows.

    `hauls` has a column for each band, and those of `find_twin_tows`.
    """
    nets = hauls.filter(is_beside_another_rig())
    found = (_in_tows(nets, pair, bands) for pair in pairs_in_one_tow(nets, reference))
    return [slope for slope in found if slope is not None]


def _in_tows(
    nets: pl.DataFrame, pair: tuple[str, str], bands: Sequence[LengthBand]
) -> LengthSlope | None:
    of_bands = [
        of_both(nets, pair, band.outcome).with_columns(
            pl.lit(band.outcome).alias("band"), pl.lit(log(band.length_cm)).alias("length")
        )
        for band in bands
    ]
    shared = pl.concat(of_bands)
    tows = shared.select(TOW).n_unique()
    sides = sides_of(shared.unique([*TOW, "rig_version"]), pair[1])
    shares = partial(_shares, shared, pair[1], sides)
    found = by_leaving_out(shares) if tows >= LEAST_TOWS else None
    if found is None:
        return None
    trips = shared.select("vessel", "trip").n_unique()
    line = found.log_ratio, found.error, found.lots - 1.0
    return _told(pair, len(bands), trips, line, tows)


def _shares(shared: pl.DataFrame, rig: str, sides: NetSides, left_out: InTurn) -> Shared | None:
    """How the fish of each tow and band were shared out, by the rig and by its slope, the last."""
    own = (shared["rig_version"] == rig).to_numpy().astype(np.float64)
    length = shared["length"].to_numpy()
    of_length = own * (length - length.mean())
    design = np.column_stack([side_terms(shared, sides), own, of_length])
    hours, total = shared["tow_hours"].to_numpy(), shared["total"].to_numpy()
    lots = numbered_by(shared, ["vessel", "trip"] if left_out == InTurn.TRIPS else TOW)
    return shared_out(design, hours, total, numbered_by(shared, [*TOW, "band"]), lots)


def _told(
    pair: tuple[str, str],
    bands: int,
    trips: int,
    line: tuple[float, float, float],
    tows: int | None = None,
) -> LengthSlope:
    """The slope of a line with its error and the freedom of t, of the second rig to the first."""
    low, high = _limits(*line, CONFIDENCE)
    reference, rig = pair
    doubled = exp(line[0] * log(2))
    return LengthSlope(rig, reference, bands, trips, doubled, low, high, *line, tows)


def _limits(slope: float, error: float, freedom: float, confidence: float) -> tuple[float, float]:
    """The limits of what twice the length makes of the ratio."""
    return interval(slope * log(2), error * log(2), freedom, confidence)
