"""How fast a ground chain stretches against its traveller, and when they should be evened.

Taken for granted: one rate for all spells of a section on a boat; errors of measuring that are
independent, of one size, and the same in percent; chain and traveller exactly length for length
after an evening and when first fitted; a future fished like the past.
"""

from __future__ import annotations

from datetime import timedelta
from itertools import groupby
from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.rigs.stretching.stretch_line import UNKNOWN, Estimate, Spell, fit_line
from pipeline.rigs.weight.rig_weights import WHOLE
from schemas.words import SECTIONS

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date

EVEN_NOW = "even now"
CHECK_NOW = "check now"
EVEN_THEN = "even by the day of the limit"
NOT_IN_SIGHT = "no limit in sight"
TOO_FEW = "too few checks for a rate"
NOT_SURE = "too few checks for an interval"
GOES_ON = "goes on as a later version"

_ROUNDING = 1e-9
"""20.2 m on 20 m is 1 %, whatever a float makes of it."""

FRESH_HOURS = 12
"""A check is fresh while no more was fished since: about a day's fishing (own judgement)."""

HOURS_A_DAY = 24
MOST_DAYS_AHEAD = 730
"""Nothing is foretold for longer than two years (own judgement, no source)."""

STRETCH_SCHEMA: dict[str, pl.DataType] = {
    "vessel": pl.String(),
    "rig_version": pl.String(),
    "section": pl.String(),
    "checks": pl.Int64(),
    "percent_per_100_hours": pl.Float64(),
    "low": pl.Float64(),
    "high": pl.Float64(),
    "last_checked_on": pl.Datetime("us"),
    "last_difference_percent": pl.Float64(),
    "difference_now_percent": pl.Float64(),
    "difference_now_low": pl.Float64(),
    "difference_now_high": pl.Float64(),
    "latest_percent": pl.Float64(),
    "hours_now": pl.Float64(),
    "hours_since_check": pl.Float64(),
    "limit_percent": pl.Float64(),
    "hours_to_limit": pl.Float64(),
    "hours_to_limit_low": pl.Float64(),
    "hours_to_limit_high": pl.Float64(),
    "day_of_limit": pl.Date(),
    "earliest_day": pl.Date(),
    "latest_day": pl.Date(),
    "check_due": pl.Boolean(),
    "past_limit": pl.Boolean(),
    "advice": pl.List(pl.String()),
    "goes_on_as": pl.String(),
}
"""A row is a section, or the whole, of a rig version on a boat.

`checks` are those that were measured. `low` and `high` are 95 % limits, null where no check is
left over to tell the error. `last_difference_percent` is what the last check found, before
evening. `now` is the end of the boat's record; what stands there is foretold from the rate.
`latest_percent` is what to go by: as the last check left it where that is fresh or the rate is
hardly known, else what is foretold; where one of them is past the limit, that one.
Hours to the limit are fishing hours with that rig; they and the days are null where the chain was
not found to stretch. Past the limit, as measured or by a rate that is known, the hours are 0 and
the days null, as the day is now. `hours_to_limit_high` and `latest_day` are null where the
limit may never be reached.
Where the boat went on with a later version nothing is told of what is to come, but in which one
it is (`goes_on.py`). Days are null, too, where the rig lay idle at the end (`pace.py`).
Past the limit is an absolute difference: a traveller that is the longer by so much is past it too.
"""


def stretch(
    differences: pl.DataFrame,
    hours_now: pl.DataFrame,
    most_length_difference_percent: float,
    hours_between_length_checks: float,
) -> pl.DataFrame:
    """The rate of each section and each whole, and what to do, as `STRETCH_SCHEMA` has them.

    `differences` is of `length_differences`, `hours_now` of `hours_by_rig`; the two numbers are the
    season's settings of those names. A rig that was fished and never checked is a row too.
    """
    fished = {(row["vessel"], row["rig_version"]): row for row in hours_now.to_dicts()}
    lines = [(line, list(checks)) for line, checks in groupby(_in_order(differences), key=_line_of)]
    checked = {line[:2] for line, _ in lines}
    lines += [((*rig, WHOLE), []) for rig in fished if rig not in checked]
    rows = [
        dict(zip(("vessel", "rig_version", "section"), line, strict=True))
        | _row(
            checks,
            fished.get(line[:2]),
            most_length_difference_percent,
            hours_between_length_checks,
        )
        for line, checks in sorted(lines, key=lambda one: one[0][:2])
    ]
    return pl.DataFrame(rows, schema=STRETCH_SCHEMA)


def _in_order(differences: pl.DataFrame) -> list[dict[str, Any]]:
    """The checks by line and time, in whatever order they came."""
    order = pl.col("section").replace_strict(
        {word: place for place, word in enumerate((*SECTIONS, WHOLE))}, return_dtype=pl.Int64
    )
    return differences.sort("vessel", "rig_version", order, "checked_on").to_dicts()


def _line_of(check: dict[str, Any]) -> tuple[str, str, str]:
    return check["vessel"], check["rig_version"], check["section"]


def _row(
    checks: list[dict[str, Any]], fished: dict[str, Any] | None, limit: float, between: float
) -> dict[str, object]:
    """The columns after the names, of one section or one whole."""
    last = checks[-1] if checks else None
    hours_checked = last["hours"] if last else 0.0
    hours_now = fished["hours"] if fished else hours_checked
    spells = _spells(checks)
    line = fit_line(spells)
    slope = line.slope() if line else UNKNOWN
    pivot = spells[-1].pivot if spells else None
    now = line.at(pivot, hours_now) if line and pivot else UNKNOWN
    hours_since = hours_now - hours_checked
    left, sure_now = _left(last), None if _hardly_known(slope) else now.value
    known = left is not None or now.value is not None
    past = _past(left, limit) or _past(sure_now, limit) if known else None
    until = line.until(limit, pivot, hours_now) if line and pivot else UNKNOWN
    until = Estimate(0.0, None, None) if past else _foretold(until)
    due = hours_since > between or (_past(now.value, limit) and not past)
    return {
        "checks": sum(len(spell.hours) for spell in spells),
        **_named("percent_per_100_hours", "low", "high", [_times_100(rate) for rate in slope]),
        "last_checked_on": last["checked_on"] if last else None,
        "last_difference_percent": last["difference_percent"] if last else None,
        **_named("difference_now_percent", "difference_now_low", "difference_now_high", now),
        "latest_percent": _latest(left, now.value, limit, slope, hours_since),
        "hours_now": hours_now,
        "hours_since_check": hours_since,
        "limit_percent": limit,
        **_named("hours_to_limit", "hours_to_limit_low", "hours_to_limit_high", until),
        **_days(UNKNOWN if past else until, fished),
        "check_due": due,
        "past_limit": past,
        "advice": _advice(slope, until, past=bool(past), due=due),
        "goes_on_as": None,
    }


def _spells(checks: list[dict[str, Any]]) -> list[Spell]:
    """The spells in their order; the last of them is the one that goes on now."""
    spells = []
    for _, in_spell in groupby(checks, key=lambda check: check["spell"]):
        rows = list(in_spell)
        start = rows[0]["hours"] - rows[0]["hours_in_spell"] if rows[0]["starts_even"] else None
        measured = [row for row in rows if row["difference_percent"] is not None]
        spells.append(
            Spell(
                start,
                tuple(row["hours"] for row in measured),
                tuple(row["difference_percent"] for row in measured),
            )
        )
    if checks and checks[-1]["ends_spell"]:
        spells.append(Spell(checks[-1]["hours"] if checks[-1]["evened"] else None, (), ()))
    return spells


def _left(last: dict[str, Any] | None) -> float | None:
    """The difference that the last check left; None where only a part of it was evened."""
    if last is None or (last["ends_spell"] and not last["evened"]):
        return None
    return 0.0 if last["evened"] else last["difference_percent"]


def _hardly_known(slope: Estimate) -> bool:
    """Whether the rate may as well be nothing: what is foretold from it settles nothing."""
    return slope.low is not None and slope.low < 0


def _past(percent: float | None, limit: float) -> bool:
    return percent is not None and abs(percent) > limit - _ROUNDING


def _latest(
    left: float | None, now: float | None, limit: float, slope: Estimate, hours_since: float
) -> float | None:
    """The difference to go by, as it was left or as it is foretold for now."""
    if left is None or now is None:
        return now if left is None else left
    if _hardly_known(slope):
        return left
    known = (left, now) if hours_since <= FRESH_HOURS else (now, left)
    return next((percent for percent in known if _past(percent, limit)), known[0])


def _foretold(until: Estimate) -> Estimate:
    """Without what lies further ahead than anybody could fish in the days that are foretold.

    What should be past by a rate that is hardly known, and was not found so, may be now.
    """
    most_hours = MOST_DAYS_AHEAD * HOURS_A_DAY
    return Estimate(*(max(0.0, h) if h is not None and h <= most_hours else None for h in until))


def _days(until: Estimate, fished: dict[str, Any] | None) -> dict[str, date | None]:
    """The day on which each number of fishing hours is reached at the boat's pace."""
    names = ("day_of_limit", "earliest_day", "latest_day")
    if fished is None or fished["hours_per_day"] is None:
        return dict.fromkeys(names)
    days = [None if hours is None else hours / fished["hours_per_day"] for hours in until]
    return {
        name: (fished["record_ends"] + timedelta(days=ahead)).date()
        if ahead is not None and ahead <= MOST_DAYS_AHEAD
        else None
        for name, ahead in zip(names, days, strict=True)
    }


def _advice(slope: Estimate, until: Estimate, *, past: bool, due: bool) -> list[str]:
    """What to do first, then what the record does not say."""
    told = {
        EVEN_NOW: past,
        CHECK_NOW: due,
        EVEN_THEN: not past and until.value is not None,
        NOT_IN_SIGHT: not past and slope.value is not None and until.value is None,
        TOO_FEW: slope.value is None,
        NOT_SURE: slope.value is not None and slope.low is None,
    }
    return [advice for advice, holds in told.items() if holds]


def _times_100(rate: float | None) -> float | None:
    return None if rate is None else 100 * rate


def _named(
    value: str, low: str, high: str, estimate: Iterable[float | None]
) -> dict[str, float | None]:
    return dict(zip((value, low, high), estimate, strict=True))
