"""Does damage go with the hours towed? The slope of log hours in the model of damage.

A rate per hour takes it that a tow of twice the hours tears twice as often: a slope of 1. If the
net tears at shooting and hauling, a tow tears as often whatever its length: a slope of 0, and
damage is to be told per haul. The slope is that of the log of a haul's hours
beside the rig and the factors, with errors clustered by trip. Where no haul has damage twice, long
tows have it once at most as well, so the slope is by the law of such hauls (`yes_or_no.py`).

Source: McCullagh & Nelder, Generalized Linear Models, 2nd ed. 1989, section 6.3.2, where the
coefficient of the log of months in service is put to the same test.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl

from pipeline.rates.behind import rates_behind
from pipeline.rates.chosen_errors import choose_errors
from pipeline.rates.fits import Question, fit_question
from schemas.codes import HoursClaim, NoSlope
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    from collections.abc import Sequence

LOG_HOURS, PATTERN = "log_hours", "pattern"
STEP = 0.02
"""The log of hours goes in steps of one part in fifty, so that hauls can be summed: of a tow of
three hours that is under four minutes, and logs tell it no better."""


@dataclass(frozen=True)
class HoursSlope:
    """The slope of log hours in the damage model, and which claim holds; None with a reason."""

    slope: float | None
    low: float | None
    high: float | None
    claim: HoursClaim
    why: NoSlope | None
    hauls: int
    trips: int
    adjusted_for: list[str]


def hours_slope(
    hauls: pl.DataFrame,
    reference: str,
    adjust: Sequence[str],
    errors: Literal["trip", "model"],
) -> HoursSlope:
    """The slope over all hauls of which the damage is known.

    `hauls` has vessel, trip, tow_hours, amount, rig_version, ground and the factors, a row a haul.
    """
    trips = int(hauls.select(pl.struct("vessel", "trip").n_unique()).item())
    steps = (pl.col("tow_hours").log() / STEP).round()
    conditions = list(dict.fromkeys(("vessel", "trip", "rig_version", "ground", *adjust)))
    stepped = hauls.with_columns((steps * STEP).alias(LOG_HOURS)).with_columns(
        pl.struct(*conditions, LOG_HOURS).rank("dense").alias(PATTERN)
    )
    by_hours = stepped.group_by(PATTERN, *conditions, LOG_HOURS, maintain_order=True).agg(
        pl.len().alias("hauls"),
        (pl.col("amount") > 0).sum().alias("hauls_with_some"),
        pl.col("tow_hours").sum(),
        pl.col("amount").sum().alias("total"),
    )
    question = Question("damage_events", ALL_GROUNDS, reference, tuple(adjust), errors, LOG_HOURS)
    fitted = fit_question(question, by_hours)
    found = (
        choose_errors(fitted.fit, LOG_HOURS, asked=errors, counted=True, fewest_trips=trips)
        if fitted
        else None
    )
    if fitted is None or found is None:
        alike = by_hours[LOG_HOURS].n_unique() < 2
        why = NoSlope.ALL_AS_LONG if alike else NoSlope.TOO_LITTLE
        return HoursSlope(None, None, None, HoursClaim.NOT_TOLD, why, hauls.height, trips, [])
    if fitted.cells.yes_or_no:
        behind = rates_behind(fitted, LOG_HOURS, found.std_error)
        if behind is None:
            return HoursSlope(
                None, None, None, HoursClaim.NOT_TOLD, NoSlope.TOO_LITTLE, hauls.height, trips, []
            )
        found = replace(found, log_ratio=behind[0], std_error=behind[1])
    low, high = (float(np.log(limit)) + 1 for limit in found.limits)
    slope = found.log_ratio + 1
    factors = list(fitted.factors)
    return HoursSlope(slope, low, high, claim(low, high), None, hauls.height, trips, factors)


def claim(low: float, high: float) -> HoursClaim:
    """Which claim holds, from the slope's interval alone: 1 is per hour, 0 is per haul."""
    per_hour, per_haul = low <= 1 <= high, low <= 0 <= high
    if per_hour and per_haul:
        return HoursClaim.NOT_TOLD
    if per_hour:
        return HoursClaim.PER_HOUR
    return HoursClaim.PER_HAUL if per_haul else HoursClaim.NEITHER
