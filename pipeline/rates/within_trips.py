"""A headline from trips alone in which both rigs were fished, each trip held to itself.

What sets one trip apart from another falls out: the weeks, the weather, the boat, and whatever else
nobody wrote down of it. Looked at is only how what a trip had was shared out between the two rigs,
with what the headline holds alike held alike within the trip. That is the Poisson model with an
effect of its own for each trip, which is the same as given what each trip had in all (Hausman, Hall
& Griliches, Econometrica 52 (1984) 909). It asks no law but that of the mean, so that it holds of
weights too (Wooldridge, Journal of Econometrics 90 (1999) 77). Both from memory.

The error is found by leaving out one trip at a time, one Newton step each, with t on the trips less
one; of counts it is never less than by the model's own law.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import polars as pl

from pipeline.rates.fits import levels_with_some
from pipeline.rates.headline_fits import evidence_in
from pipeline.rates.numbered import numbered
from pipeline.rates.support import LEAST_TRIPS
from pipeline.rates.ways import Way, as_told
from schemas.codes import CLEAR, OtherWay, Verdict, WayNote
from schemas.outcomes import outcome

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pipeline.rates.effects import Effect
    from pipeline.rates.headline_fits import HeadlineFit
    from pipeline.rates.looks import Judging
    from pipeline.rates.numbered import Sums

    Floats = NDArray[np.float64]
    Numbers = NDArray[np.int64]

LEAST_OF_BOTH = 6
"""With fewer trips that fished both there are no limits (own judgement; no source)."""
OF_TRIP, BOTH = "of_trip", 2
MOST_STEPS, CLOSE_ENOUGH, LONGEST_STEP = 60, 1e-10, 2.0
TOLD_APART = 1e-9
"""A term of which less than this part is not given by others is not told from them."""


class Shared(NamedTuple):
    """A term's log ratio, its error by what was left out in turn and by the model.

    `trips` are those that tell of it, or whatever else was left out.
    """

    log_ratio: float
    by_trip: float | None
    from_model: float
    trips: int


def within_trips(headline: HeadlineFit, judging: Judging) -> Way:
    """The two rigs within the trips that fished both.

    These are seldom many. Where a headline is clear, a ratio on its side of 1 that is not clear by
    itself says nothing against it, and has no verdict.
    """
    effect = headline.effect
    factors = headline.question.factors
    both = _of_both(headline.sums, effect.rig, effect.reference)
    if both.is_empty():
        return Way(OtherWay.WITHIN_TRIPS, note=WayNote.NO_TRIP_FISHED_BOTH)
    seen = levels_with_some(numbered(both), ["rig_version", *factors, OF_TRIP])
    found = _shared_out(seen, effect.reference, factors)
    if found is None or found.trips < LEAST_TRIPS:
        return Way(OtherWay.WITHIN_TRIPS, note=WayNote.NOT_TOLD)
    if found.by_trip is None or found.trips < LEAST_OF_BOTH:
        return Way(
            OtherWay.WITHIN_TRIPS,
            ratio=float(np.exp(found.log_ratio)),
            note=WayNote.FEW_FISHED_BOTH,
        )
    floor = found.from_model if outcome(effect.outcome).counted and not seen.yes_or_no else 0.0
    way = as_told(
        Way(OtherWay.WITHIN_TRIPS),
        headline,
        (found.log_ratio, max(found.by_trip, floor)),
        judging,
        freedom=found.trips - 1.0,
        evidence=evidence_in(seen, effect, headline.evidence.behind),
    )
    return of_few(way, effect)


def of_few(way: Way, effect: Effect) -> Way:
    """The way as told beside a headline which rests on far more: a clear one needs it alone clear.

    One that points the same way, and is not clear by itself, says nothing against it.
    """
    if effect.verdict not in CLEAR or way.verdict is None:
        return way
    way = replace(way, verdict=way.verdict_alone)
    alike = way.ratio is not None and (way.ratio < 1) == (effect.verdict == Verdict.LOWER)
    if way.verdict_alone not in CLEAR and alike:
        return replace(way, verdict=None, note=WayNote.POINTS_ALIKE)
    return way


def _of_both(sums: pl.DataFrame, rig: str, reference: str) -> pl.DataFrame:
    """The sums of the two rigs in trips that fished both, with a number for each trip."""
    pair = sums.filter(pl.col("rig_version").is_in([rig, reference])).with_columns(
        pl.struct("vessel", "trip").rank("dense").cast(pl.String).alias(OF_TRIP)
    )
    return pair.filter(pl.col("rig_version").n_unique().over(OF_TRIP) == BOTH)


def _shared_out(seen: Sums, reference: str, factors: Sequence[str]) -> Shared | None:
    """How the sums of each trip are shared out between the rigs; None where it can't be told."""
    rigs = seen.codes("rig_version")
    if len(rigs.words) < BOTH:
        return None
    held = [
        seen.codes(factor).codes == level
        for factor in factors
        for level in range(1, len(seen.codes(factor).words))
    ]
    of_rig = rigs.codes != rigs.words.index(reference)
    design = np.stack([*held, of_rig], axis=1).astype(np.float64)
    return shared_out(design, seen.rows.hours, seen.total, seen.codes(OF_TRIP).codes)


class _AtRates(NamedTuple):
    """What falls to each row of what its trip had, and each row's terms about their trip's mean."""

    expected: Floats
    about_mean: Floats


def shared_out(
    design: Floats,
    hours: Floats,
    total: Floats,
    trip: Numbers,
    left_out: Numbers | None = None,
) -> Shared | None:
    """How totals are shared out within trips by the last term of a design, rows × terms.

    `trip` numbers the trip of each row from nought, or the tow, and `left_out` what is left out in
    turn for the error, where that is something else which holds several of them. None where the
    trips do not tell the term from the others, or where one of them has no finite value.
    """
    design = design[:, _told_apart(design, hours, total, trip)]
    at = np.zeros(design.shape[1])
    for _ in range(MOST_STEPS if design.size else 0):
        expected, about_mean = _at(at, design, hours, total, trip)
        information = about_mean.T @ (expected[:, None] * about_mean)
        try:
            step = np.linalg.solve(information, about_mean.T @ (total - expected))
        except np.linalg.LinAlgError:
            return None
        longest = np.abs(step).max()
        if longest < CLOSE_ENOUGH:
            turns = trip if left_out is None else left_out
            return _with_errors(float(at[-1]), expected, about_mean, total, turns)
        at += step * min(1.0, LONGEST_STEP / longest)
    return None


def _at(at: Floats, design: Floats, hours: Floats, total: Floats, trip: Numbers) -> _AtRates:
    """Each row's part of its trip by these log rates."""
    part = hours * np.exp(design @ at)
    part /= np.bincount(trip, part)[trip]
    means = [np.bincount(trip, part * term)[trip] for term in design.T]
    return _AtRates(part * np.bincount(trip, total)[trip], design - np.stack(means, axis=1))


def _told_apart(design: Floats, hours: Floats, total: Floats, trip: Numbers) -> list[int]:
    """The terms that are not given by those before them; none at all if the last is."""
    expected, about_mean = _at(np.zeros(design.shape[1]), design, hours, total, trip)
    scaled = np.sqrt(expected)[:, None] * about_mean
    kept: list[int] = []
    for term in range(design.shape[1]):
        given, *_ = np.linalg.lstsq(scaled[:, kept], scaled[:, term])
        rest = scaled[:, term] - scaled[:, kept] @ given
        if rest @ rest > TOLD_APART * (design[:, term] @ (expected * design[:, term])):
            kept.append(term)
    return kept if design.shape[1] - 1 in kept else []


def _with_errors(
    log_ratio: float, expected: Floats, about_mean: Floats, total: Floats, trip: Numbers
) -> Shared | None:
    """The errors of the last term: by leaving out each trip that tells of it, and by the model.

    None where the terms can no longer be told apart at the end, as where one ran off for ever.
    """
    trips = int(trip.max()) + 1
    terms = about_mean.shape[1]
    scores = np.zeros((trips, terms))
    np.add.at(scores, trip, about_mean * (total - expected)[:, None])
    of_trip = np.zeros((trips, terms, terms))
    np.add.at(of_trip, trip, expected[:, None, None] * about_mean[:, :, None] * about_mean[:, None])
    whole = of_trip.sum(axis=0)
    sizes = np.sqrt(np.diag(whole))
    if not (sizes > 0).all() or np.linalg.cond(whole / np.outer(sizes, sizes)) > 1 / TOLD_APART:
        return None
    from_model = float(np.sqrt(np.linalg.inv(whole)[-1, -1]))
    tells = of_trip[:, -1, -1] > TOLD_APART * whole[-1, -1]
    try:
        moved = np.linalg.solve(whole - of_trip, scores[:, :, None])[:, -1, 0]
    except np.linalg.LinAlgError:
        return Shared(log_ratio, None, from_model, int(tells.sum()))
    many = int(tells.sum())
    by_trip = float(np.sqrt((moved**2).sum() * (many - 1) / many))
    return Shared(log_ratio, by_trip if np.isfinite(by_trip) else None, from_model, many)
