"""Each rig against the reference: ratios of rates, adjusted for the conditions they met."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
import polars as pl

from pipeline.rates.cells import term
from pipeline.rates.exact import limits_without_events
from pipeline.rates.fits import Fitted, Question, fit_question
from pipeline.rates.poisson import interval
from pipeline.rates.rate_table import ALL_GROUNDS
from pipeline.rates.support import Conditions, Support, both_in_use, conditions_met, support
from pipeline.rates.verdict import verdict
from schemas.outcomes import outcome

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

NOT_SIDE_BY_SIDE = "not side by side"
FEW_TRIPS = "few trips"
FEW_HAULS = "few hauls"
NONE_SEEN = "none seen"
FEW_WITH_SOME = "seen in few hauls"
TOO_FEW_TRIPS = "too few trips to adjust"
NOT_TOLD_APART = "bound up with the conditions"
NOT_FISHED_BOTH = "not both fished there"

FEW = 10
LEAST_WITH_SOME = 5
"""Fewer hauls with any of the outcome on either side settle nothing, whatever the interval says."""

WHOLE_RECORD = "whole record"
NO_COMPARISON = "no comparison"
UNTOLD: dict[str, Any] = {
    **dict.fromkeys(("ratio", "low", "high", "log_ratio", "std_error")),
    "method": NO_COMPARISON,
    "adjusted_for": [],
}
"""What is said of two rigs that can't be told apart from the conditions they met."""


@dataclass(frozen=True)
class Effect:
    """One rig against the reference, as it goes into `findings.json`."""

    outcome: str
    rig: str
    reference: str
    ground: str
    part: str
    ratio: float | None
    low: float | None
    high: float | None
    log_ratio: float | None
    std_error: float | None
    raw_ratio: float | None
    method: str
    adjusted_for: list[str]
    hauls: int
    trips: int
    vessels: int
    rig_hauls: int
    rig_trips: int
    reference_hauls: int
    reference_trips: int
    shared_hours: float
    shared_hours_reference: float
    verdict: str
    cautions: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Backing:
    """What a comparison of a rig with the reference can rest on, in the record and in a part.

    `part` is the support over `stretches` alone, those in which both rigs were in use; it is
    there only where the whole record will not do and the part will.
    """

    whole: Support
    part: Support | None
    stretches: tuple[str, ...]


def find_effects(
    sums: pl.DataFrame,
    fished: pl.DataFrame,
    reference: str,
    adjust: Sequence[str],
    errors: Literal["trip", "model"],
    over: Sequence[str] | None = None,
) -> list[Effect]:
    """Every rig against the reference, for every outcome, over all grounds and on each.

    `sums` has outcome, vessel, trip, hauls, hauls_with_some, tow_hours, total, rig_version,
    ground, stretch and the factors. `fished` has rig_version and ground: what was fished where,
    whether or not anything was recorded of it. Standard errors from the model are for counted
    events alone; those of weights, hours and money would change with the unit. `over` names the
    grounds where not all are wanted.
    """
    effects: list[Effect] = []
    grounds = fished["ground"].unique().sort().to_list()
    for ground in over or (ALL_GROUNDS, *(grounds if len(grounds) > 1 else ())):
        over_all = ground == ALL_GROUNDS
        there = sums if over_all else sums.filter(pl.col("ground") == ground)
        used = fished if over_all else fished.filter(pl.col("ground") == ground)
        rigs = sorted(set(used["rig_version"].to_list()) - {reference})
        for (name,), of_outcome in there.sort("outcome").group_by("outcome", maintain_order=True):
            told_by = errors if outcome(str(name)).counted else "trip"
            question = Question(str(name), ground, reference, tuple(adjust), told_by)
            met = conditions_met(of_outcome)
            effects += _answers(question, of_outcome, {r: back(met, r, reference) for r in rigs})
    return effects


def back(met: Conditions, rig: str, reference: str) -> Backing:
    """What the comparison of the two rigs can rest on, under these conditions."""
    whole = support(met, rig, reference)
    if whole.side_by_side:
        return Backing(whole, None, ())
    stretches = both_in_use(met, rig, reference)
    part = support(met, rig, reference, stretches)
    return Backing(whole, part if part.side_by_side else None, stretches)


def _answers(
    question: Question, sums: pl.DataFrame, backings: dict[str, Backing]
) -> Iterator[Effect]:
    """The effects of all rigs, from one fit of them together; of a part of the record at need."""
    together, tallies = fit_question(question, sums), _tally(sums)
    for rig, backing in backings.items():
        whole = _effect(question, sums, tallies, rig, together, backing.whole, WHOLE_RECORD)
        if backing.whole.side_by_side:
            yield whole
        elif backing.part is None:
            yield replace(whole, **UNTOLD)
        else:
            yield whole
            part = sums.filter(
                pl.col("stretch").is_in(list(backing.stretches))
                & pl.col("rig_version").is_in([rig, question.reference])
            )
            span = " to ".join(dict.fromkeys((backing.stretches[0], backing.stretches[-1])))
            yield _effect(
                question, part, _tally(part), rig, fit_question(question, part), backing.part, span
            )


@dataclass(frozen=True)
class Tally:
    """What one rig's hauls come to."""

    hauls: int = 0
    with_some: int = 0
    hours: float = 0.0
    total: float = 0.0
    trips: frozenset[tuple[str, str]] = frozenset()

    def __or__(self, other: Tally) -> Tally:
        return Tally(
            self.hauls + other.hauls,
            self.with_some + other.with_some,
            self.hours + other.hours,
            self.total + other.total,
            self.trips | other.trips,
        )

    @property
    def vessels(self) -> int:
        """How many boats fished it."""
        return len({vessel for vessel, _ in self.trips})


def _tally(sums: pl.DataFrame) -> dict[str, Tally]:
    by_rig = sums.group_by("rig_version").agg(
        pl.col("hauls", "hauls_with_some", "tow_hours", "total").sum(),
        pl.struct("vessel", "trip").unique(),
    )
    return {
        rig: Tally(int(hauls), int(some), hours, total, frozenset(map(_name_of, trips)))
        for rig, hauls, some, hours, total, trips in by_rig.iter_rows()
    }


def _name_of(trip: dict[str, str]) -> tuple[str, str]:
    return trip["vessel"], trip["trip"]


def _effect(
    question: Question,
    sums: pl.DataFrame,
    tallies: dict[str, Tally],
    rig: str,
    fitted: Fitted | None,
    backing: Support,
    part: str,
) -> Effect:
    """The answer for one rig from a fit, or exact limits where it had none of the outcome."""
    own, other = tallies.get(rig, Tally()), tallies.get(question.reference, Tally())
    pair = own | other
    both = bool(own.hauls and other.hauls)
    cautions = [] if backing.side_by_side else [NOT_SIDE_BY_SIDE]
    if not both:
        cautions.append(NOT_FISHED_BOTH)
    fewest_trips = min(len(own.trips), len(other.trips))
    if question.errors == "trip" and fewest_trips < FEW:
        cautions.append(FEW_TRIPS)
    if min(backing.shared_hauls) < FEW:
        cautions.append(FEW_HAULS)
    counted = outcome(question.outcome).counted
    ratio = low = high = log_ratio = std_error = None
    method = NO_COMPARISON
    adjusted_for: tuple[str, ...] = ()
    found = fitted.fit.effect(term("rig_version", rig), counted=counted) if fitted else None
    if fitted and found and both:
        log_ratio, std_error = found
        ratio = float(np.exp(log_ratio))
        freedom = np.inf if question.errors == "model" else fewest_trips - 1
        low, high = interval(log_ratio, std_error, freedom)
        method, adjusted_for = _method(fitted.factors, question.errors), fitted.factors
        if min(own.with_some, other.with_some) < LEAST_WITH_SOME:
            cautions.append(FEW_WITH_SOME)
    elif counted and both and own.total * other.total == 0:
        ratio = 0.0 if other.total > 0 else None
        low, high = _exact_limits(question, sums, rig)
        cautions.append(NONE_SEEN)
        method, adjusted_for = "exact limits, stratum by stratum", question.factors
    elif both and own.total * other.total == 0:
        cautions.append(NONE_SEEN)
    elif both:
        cautions.append(TOO_FEW_TRIPS if fitted is None else NOT_TOLD_APART)
    return Effect(
        outcome=question.outcome,
        rig=rig,
        reference=question.reference,
        ground=question.ground,
        part=part,
        ratio=ratio,
        low=low,
        high=high,
        log_ratio=log_ratio,
        std_error=std_error,
        raw_ratio=_raw_ratio(own, other),
        method=method,
        adjusted_for=list(adjusted_for),
        hauls=pair.hauls,
        trips=len(pair.trips),
        vessels=pair.vessels,
        rig_hauls=own.hauls,
        rig_trips=len(own.trips),
        reference_hauls=other.hauls,
        reference_trips=len(other.trips),
        shared_hours=backing.shared_hours[0],
        shared_hours_reference=backing.shared_hours[1],
        verdict=verdict(
            low,
            high,
            can_tell=backing.side_by_side and FEW_WITH_SOME not in cautions,
            matters=outcome(question.outcome).matters,
        ),
        cautions=cautions,
    )


def _exact_limits(
    question: Question, sums: pl.DataFrame, rig: str
) -> tuple[float | None, float | None]:
    """Exact limits of the ratio, compared within each pattern of factors that both rigs met."""
    hours = (
        sums.group_by(list(question.factors) or pl.lit("all").alias("all"))
        .agg(
            *(
                pl.col(column).filter(pl.col("rig_version") == name).sum().alias(f"{column} {who}")
                for column in ("tow_hours", "total")
                for who, name in (("own", rig), ("reference", question.reference))
            )
        )
        .filter((pl.col("tow_hours own") > 0) & (pl.col("tow_hours reference") > 0))
    )
    return limits_without_events(
        hours["total own"].to_numpy(),
        hours["tow_hours own"].to_numpy(),
        hours["total reference"].to_numpy(),
        hours["tow_hours reference"].to_numpy(),
    )


def _raw_ratio(own: Tally, other: Tally) -> float | None:
    """The ratio of the two rates as they were."""
    if not own.hours or not other.hours or other.total <= 0:
        return None
    return (own.total / own.hours) / (other.total / other.hours)


def _method(factors: tuple[str, ...], errors: str) -> str:
    adjusted = f"adjusted for {', '.join(factors)}" if factors else "not adjusted"
    clustered = "clustered by trip" if errors == "trip" else "from the model"
    return f"Poisson rate model, {adjusted}, errors {clustered}"
