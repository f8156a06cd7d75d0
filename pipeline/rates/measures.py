"""What a rig's measures do: the ratio of rates for each step more of diameter, weight, gap, slack.

Measures of a rig version differ between rigs only, and rigs differ in more than one measure. So
the rigs' own ratios come first, adjusted as ever, and a line is laid through them: how they
scatter about it says how sure it is, and with few rigs nothing is sure. The length difference
changes on one rig from haul to haul: there each rig is held against itself.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import reduce
from operator import or_
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

import numpy as np
import polars as pl

from pipeline.rates.behind import limits_behind, rates_behind_all
from pipeline.rates.cells import term
from pipeline.rates.fits import Question, fit_question
from pipeline.rates.limits import Limits, limits_of_fit
from pipeline.rates.looks import Judging
from pipeline.rates.poisson import CONFIDENCE, FARTHEST, interval
from pipeline.rates.pooling import pool
from pipeline.rates.support import compared_rigs, conditions_met, support
from pipeline.rates.tally import Tally, tally_by_rig
from pipeline.rates.verdict import verdict
from schemas.codes import MeasureWithout, OffTheLine, Verdict
from schemas.measures import LENGTH_DIFFERENCE, MEASURES, Measure
from schemas.outcomes import HEADLINES, outcome
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from pipeline.rates.behind import Behind
    from pipeline.rates.fits import Fitted
    from pipeline.rates.pooling import Pooled

    Floats = NDArray[np.float64]


LEAST_RIGS = 4
"""A line through three rigs has one rig to judge it by. Own judgement; no source."""

TOGETHER, PARTLY = 0.7, 0.5
"""Measures with this correlation over the rigs, or more, can't be told apart, or only partly.

At 0.7 a measure that does nothing is told as clear in a quarter to two fifths of seasons if one
that goes with it halves the rate over the rigs (simulated; eight rigs). Own judgement.
"""

LEAST_ALIKE = 3
"""Two measures of fewer rigs always go together."""

LINE_THROUGH_RIGS = "line through the rigs' ratios, spread between rigs allowed for"
RIG_AGAINST_ITSELF = "Poisson rate model, each rig against itself, errors clustered by trip"


@dataclass(frozen=True)
class RigPoint:
    """A rig on the line: what it measures, and its ratio to the reference with its error."""

    rig: str
    value: float
    log_ratio: float
    std_error: float


@dataclass(frozen=True)
class MeasureEffect:
    """What a step of a measure does to an outcome, as it goes into `findings.json`.

    `spread` is how far the rigs' log ratios lie from the line beyond their own errors, as a
    standard deviation. `moves_with` names the measures that can't be told from this one,
    `partly_with` those that can in part, `left_out` the rigs that were fished and are not on the
    line, with why. `hauls` and `trips` are those of `rigs` that a model holds, if any.
    """

    outcome: str
    measure: str
    step: float
    unit: str
    ratio: float | None = None
    low: float | None = None
    high: float | None = None
    log_ratio: float | None = None
    std_error: float | None = None
    freedom: float | None = None
    spread: float | None = None
    lowest: float | None = None
    highest: float | None = None
    hauls: int = 0
    trips: int = 0
    rigs: list[str] = field(default_factory=list)
    points: list[RigPoint] = field(default_factory=list)
    left_out: dict[str, OffTheLine] = field(default_factory=dict)
    moves_with: list[str] = field(default_factory=list)
    partly_with: list[str] = field(default_factory=list)
    adjusted_for: list[str] = field(default_factory=list)
    method: str = LINE_THROUGH_RIGS
    verdict: Verdict | MeasureWithout = Verdict.TOO_LITTLE
    cautions: list[MeasureWithout] = field(default_factory=list)


def find_measure_effects(
    sums: pl.DataFrame,
    rig_measures: pl.DataFrame,
    reference: str,
    adjust: Sequence[str],
    errors: Literal["trip", "model"],
    judging: Judging | None = None,
) -> list[MeasureEffect]:
    """The effect of each measure on each headline outcome, over all grounds.

    `sums` are those of `find_effects` with `length_difference_percent`, the text of a number or
    "not recorded". `rig_measures` has rig_version and the columns of `MEASURES`, null where a
    rig's is not known. `judging` says what difference matters.
    """
    effects: list[MeasureEffect] = []
    for name in HEADLINES:
        of_outcome = sums.filter(pl.col("outcome") == name)
        if of_outcome.is_empty():
            continue
        told_by = errors if outcome(name).counted else "trip"
        question = Question(name, ALL_GROUNDS, reference, tuple(adjust), told_by)
        matters = (judging or Judging()).matters_of(name)
        effects += _between_rigs(question, of_outcome, rig_measures, matters)
        effects.append(_within_rigs(question, of_outcome, matters))
    return effects


def _between_rigs(
    question: Question, sums: pl.DataFrame, rig_measures: pl.DataFrame, matters: float
) -> Iterator[MeasureEffect]:
    fitted = fit_question(question, compared_rigs(sums, question.reference))
    usable, left_out = _rigs_to_use(question, sums, fitted)
    measured = rig_measures.filter(pl.col("rig_version").is_in(usable)).sort("rig_version")
    enough = {m.name: _enough(m, measured) for m in MEASURES}
    for measure in MEASURES:
        known = measured.drop_nulls(measure.name)
        unknown = set(usable) - set(known["rig_version"])
        stands = MeasureEffect(
            question.outcome,
            measure.name,
            measure.step,
            measure.unit,
            rigs=known["rig_version"].to_list(),
            left_out=left_out | dict.fromkeys(sorted(unknown), OffTheLine.NOT_MEASURED),
            **_span(known[measure.name]),
            **_size(sums.filter(pl.col("rig_version").is_in(known["rig_version"].to_list()))),
        )
        if fitted is None:
            yield _untold(stands, MeasureWithout.TOO_FEW_TRIPS)
            continue
        if (caution := enough[measure.name]) is not None:
            yield _untold(stands, caution)
            continue
        alike = {
            other.name: _alikeness(measured, measure.name, other.name)
            for other in MEASURES
            if other is not measure
        }
        stands = replace(
            stands,
            moves_with=[name for name, r in alike.items() if r >= TOGETHER],
            partly_with=[name for name, r in alike.items() if PARTLY <= r < TOGETHER],
        )
        if stands.moves_with:
            yield replace(stands, cautions=[MeasureWithout.MOVES_WITH])
        else:
            yield _line(stands, question, fitted, known, measure, matters)


def _rigs_to_use(
    question: Question, sums: pl.DataFrame, fitted: Fitted | None
) -> tuple[list[str], dict[str, OffTheLine]]:
    """The rigs whose ratio to the reference stands, and why each of the others is left out."""
    met = conditions_met(sums)
    counted = outcome(question.outcome).counted
    used: list[str] = [question.reference]
    left_out: dict[str, OffTheLine] = {}
    if fitted is None:
        return sums["rig_version"].unique().sort().to_list(), {}
    for rig in sums["rig_version"].unique().sort().to_list():
        if rig == question.reference:
            continue
        if not support(met, rig, question.reference).side_by_side:
            left_out[rig] = OffTheLine.NOT_SIDE_BY_SIDE
        elif not fitted.fit.effect(term("rig_version", rig), counted=counted):
            left_out[rig] = OffTheLine.NO_RATIO
        else:
            used.append(rig)
    return used, left_out


def _enough(measure: Measure, measured: pl.DataFrame) -> MeasureWithout | None:
    """Why nothing can be told of the measure from these rigs; None where something can."""
    values = measured[measure.name].drop_nulls()
    if values.is_empty():
        return MeasureWithout.NOT_MEASURED
    if len(values) < LEAST_RIGS:
        return MeasureWithout.TOO_FEW_RIGS
    spread = float(np.ptp(values.to_numpy()))
    alike = spread < measure.least_range or values.n_unique() < 3
    return MeasureWithout.TOO_ALIKE if alike else None


def _alikeness(measured: pl.DataFrame, one: str, other: str) -> float:
    """How closely two measures go together over the rigs that have both: their correlation.

    0 where fewer than three rigs have both, or one of them does not differ.
    """
    both = measured.select(one, other).drop_nulls()
    if both.height < LEAST_ALIKE or both[one].n_unique() < 2 or both[other].n_unique() < 2:
        return 0.0
    return abs(float(np.corrcoef(both[one], both[other])[0, 1]))


def _line(
    stands: MeasureEffect,
    question: Question,
    fitted: Fitted,
    known: pl.DataFrame,
    measure: Measure,
    matters: float,
) -> MeasureEffect:
    """The line through the rigs' log ratios: its slope for a step of the measure."""
    counted = outcome(question.outcome).counted
    rigs = known["rig_version"].to_list()
    terms = [term("rig_version", rig) for rig in rigs if rig != question.reference]
    estimate, of_terms = fitted.fit.effects(terms, counted=counted)
    log_ratio, covariance = _with_reference(rigs, question.reference, estimate, of_terms)
    steps = known[measure.name].to_numpy() / measure.step
    pooled = _slope(log_ratio, covariance, steps)

    def behind(confidence: float) -> tuple[float, float] | None:
        if (found := rates_behind_all(fitted, terms, of_terms)) is None:
            return None
        law = _slope(*_with_reference(rigs, question.reference, *found), steps)
        return interval(float(law.estimate[0]), law.std_error(0), law.freedom, confidence)

    points = [
        RigPoint(rig, float(value), float(ratio), float(error))
        for rig, value, ratio, error in zip(
            rigs, known[measure.name], log_ratio, np.sqrt(np.diag(covariance)), strict=True
        )
    ]
    return _told(
        replace(stands, points=points, spread=float(np.sqrt(pooled.spread))),
        float(pooled.estimate[0]),
        pooled.std_error(0),
        pooled.freedom,
        fitted,
        _Judged(matters, behind),
    )


def _slope(log_ratio: Floats, covariance: Floats, steps: Floats) -> Pooled:
    """The slope; against the first rig, as what is the same for all says nothing."""
    others = len(steps) - 1
    against = np.hstack([-np.ones((others, 1)), np.eye(others)])
    return pool(
        against @ log_ratio,
        against @ covariance @ against.T,
        (against @ steps)[:, None],
        against @ against.T,
    )


def _with_reference(
    rigs: Sequence[str], reference: str, estimate: Floats, covariance: Floats
) -> tuple[Floats, Floats]:
    """Log ratios of the rigs to the reference and their covariance; the reference's own is 0."""
    others = [at for at, rig in enumerate(rigs) if rig != reference]
    log_ratio = np.zeros(len(rigs))
    whole = np.zeros((len(rigs), len(rigs)))
    log_ratio[others] = estimate
    whole[np.ix_(others, others)] = covariance
    return log_ratio, whole


def _within_rigs(question: Question, sums: pl.DataFrame, matters: float) -> MeasureEffect:
    """The effect of the length difference, each rig held against itself."""
    measure = LENGTH_DIFFERENCE
    known = sums.with_columns(pl.col(measure.name).cast(pl.Float64, strict=False)).drop_nulls(
        measure.name
    )
    stands = MeasureEffect(
        question.outcome,
        measure.name,
        measure.step,
        measure.unit,
        method=RIG_AGAINST_ITSELF,
        rigs=known["rig_version"].unique().sort().to_list(),
        **_span(known[measure.name]),
        **_size(known),
    )
    if known.is_empty():
        return _untold(stands, MeasureWithout.NOT_MEASURED)
    if _range_within_rigs(known) < measure.least_range:
        return _untold(stands, MeasureWithout.TOO_ALIKE)
    some = known.filter(pl.col("total") > 0)
    most = (some if some.height else known).group_by("rig_version").agg(pl.col("tow_hours").sum())
    base = str(most.sort("tow_hours", "rig_version")["rig_version"][-1])
    asked = Question(
        question.outcome, ALL_GROUNDS, base, question.factors, question.errors, measure.name
    )
    fitted = fit_question(asked, known)
    counted = outcome(question.outcome).counted
    found = fitted.fit.effect(measure.name, counted=counted) if fitted else None
    if fitted is None or found is None:
        return _untold(stands, MeasureWithout.TOO_FEW_TRIPS)
    freedom = np.inf if question.errors == "model" else fitted.fit.trips - len(fitted.fit.terms)
    behind = limits_behind(fitted, measure.name, found[1], freedom)
    return _told(stands, *found, freedom, fitted, _Judged(matters, behind))


def _range_within_rigs(known: pl.DataFrame) -> float:
    """How far the difference goes on one rig of one boat: between the middle 80 % of the hours.

    Of all rigs together, each about its own mean on its boat.
    """
    name, hours = LENGTH_DIFFERENCE.name, pl.col("tow_hours")
    own_mean = ((pl.col(name) * hours).sum() / hours.sum()).over("vessel", "rig_version")
    about = known.select((pl.col(name) - own_mean).alias(name), "tow_hours").sort(name)
    inner = about.filter((hours.cum_sum() / hours.sum()).is_between(0.1, 0.9))[name]
    return float(np.ptp(inner.to_numpy())) if len(inner) else 0.0


class _Judged(NamedTuple):
    """What a verdict on a measure is by: what matters, and the limits of the rates behind."""

    matters: float
    behind: Behind

    def verdict(self, limits: Limits, steps: float, *, once: bool) -> Verdict:
        """The verdict over so many steps, the whole range, as a step may be a small part of it.

        An interval so wide that the range would multiply it beyond all numbers tells nothing.
        """
        if limits.low is None or limits.high is None:
            return Verdict.TOO_LITTLE

        def over_the_range(of_a_step: tuple[float, float]) -> tuple[float, float]:
            low, high = np.exp(np.clip(steps * np.log(of_a_step), -FARTHEST, FARTHEST))
            return float(low), float(high)

        def behind() -> tuple[float, float] | None:
            return (found := self.behind(CONFIDENCE)) and over_the_range(found)

        return verdict(
            *over_the_range((limits.low, limits.high)),
            can_tell=True,
            matters=self.matters,
            behind=behind if once else None,
        )


def _told(
    stands: MeasureEffect,
    log_ratio: float,
    std_error: float,
    freedom: float,
    fitted: Fitted,
    judged: _Judged,
) -> MeasureEffect:
    limits = limits_of_fit(log_ratio, std_error, freedom, None)
    by_rig = tally_by_rig(fitted.in_model)
    held = reduce(or_, (by_rig.get(rig, Tally()) for rig in stands.rigs))
    steps = ((stands.highest or 0.0) - (stands.lowest or 0.0)) / stands.step
    once = fitted.cells.yes_or_no and outcome(stands.outcome).counted
    return replace(
        stands,
        **limits.alone,
        verdict=judged.verdict(limits, steps, once=once),
        adjusted_for=list(fitted.factors),
        hauls=held.hauls,
        trips=held.trips,
    )


def _untold(stands: MeasureEffect, caution: MeasureWithout) -> MeasureEffect:
    """With why nothing is told of it, which is no verdict where nobody measured."""
    said = caution if caution == MeasureWithout.NOT_MEASURED else stands.verdict
    return replace(stands, cautions=[caution], verdict=said)


def _span(values: pl.Series) -> dict[str, Any]:
    """The lowest and highest of the values, None where there are none."""
    return {"lowest": values.min(), "highest": values.max()}


def _size(sums: pl.DataFrame) -> dict[str, Any]:
    """How many hauls and trips the sums are of."""
    trips = sums.select(pl.struct("vessel", "trip").n_unique()).item() if sums.height else 0
    return {"hauls": int(sums["hauls"].sum()), "trips": int(trips)}
