"""Each rig against the reference: ratios of rates, adjusted for the conditions they met."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
import polars as pl

from pipeline.rates.cells import lay_out, term
from pipeline.rates.exact import ratio_limits
from pipeline.rates.poisson import NoFitError, RateFit, fit_rates
from pipeline.rates.rate_table import ALL_GROUNDS
from pipeline.rates.support import Support, both_in_use, support
from pipeline.rates.verdict import verdict
from schemas.outcomes import outcome

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

NOT_SIDE_BY_SIDE = "not side by side"
FEW_TRIPS = "few trips"
FEW_HAULS = "few hauls"
NONE_SEEN = "none seen"
NOT_FISHED_BOTH = "not both fished there"

FEW = 10
WHOLE_RECORD = "whole record"
NO_COMPARISON = "no comparison"
UNTOLD: dict[str, Any] = {
    **dict.fromkeys(("ratio", "low", "high", "log_ratio", "std_error")),
    "method": NO_COMPARISON,
}
"""What is said of two rigs that can't be told apart from the conditions they met."""


@dataclass(frozen=True)
class Question:
    """What is compared: an outcome on a ground, adjusted for some factors."""

    outcome: str
    ground: str
    reference: str
    factors: tuple[str, ...]
    errors: Literal["trip", "model"]


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
    hauls: int
    trips: int
    vessels: int
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
    conditions: pl.DataFrame,
    reference: str,
    adjust: Sequence[str],
    errors: Literal["trip", "model"],
) -> list[Effect]:
    """Every rig against the reference, for every outcome, over all grounds and on each.

    `sums` has outcome, vessel, trip, hauls, tow_hours, total, rig_version, ground, stretch and
    the factors; `conditions` is as `support` takes it.
    """
    effects: list[Effect] = []
    grounds = sorted(conditions["ground"].unique().to_list())
    for ground in (ALL_GROUNDS, *(grounds if len(grounds) > 1 else ())):
        here = ground == ALL_GROUNDS
        met = conditions if here else conditions.filter(pl.col("ground") == ground)
        there = sums if here else sums.filter(pl.col("ground") == ground)
        rigs = sorted(set(met["rig_version"].to_list()) - {reference})
        backings = {rig: back(met, rig, reference) for rig in rigs}
        for (name,), of_outcome in there.sort("outcome").group_by("outcome", maintain_order=True):
            question = Question(str(name), ground, reference, tuple(adjust), errors)
            effects += _answers(question, of_outcome, backings)
    return effects


def back(conditions: pl.DataFrame, rig: str, reference: str) -> Backing:
    """What the comparison of the two rigs can rest on, under these conditions."""
    whole = support(conditions, rig, reference)
    if whole.side_by_side:
        return Backing(whole, None, ())
    stretches = both_in_use(conditions, rig, reference)
    part = support(conditions, rig, reference, stretches)
    return Backing(whole, part if part.side_by_side else None, stretches)


def _answers(
    question: Question, sums: pl.DataFrame, backings: dict[str, Backing]
) -> Iterator[Effect]:
    """The effects of all rigs, from one fit of them together; of a part of the record at need."""
    together, tallies = _fit(question, sums), _tally(sums)
    for rig, backing in backings.items():
        whole = _effect(question, tallies, rig, together, backing.whole, WHOLE_RECORD)
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
            yield _effect(question, _tally(part), rig, _fit(question, part), backing.part, span)


@dataclass(frozen=True)
class Tally:
    """What one rig's hauls come to."""

    hauls: int = 0
    hours: float = 0.0
    total: float = 0.0
    trips: frozenset[tuple[str, str]] = frozenset()

    def __or__(self, other: Tally) -> Tally:
        return Tally(
            self.hauls + other.hauls,
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
        pl.col("hauls", "tow_hours", "total").sum(), pl.struct("vessel", "trip").unique()
    )
    return {
        rig: Tally(
            int(hauls), hours, total, frozenset((trip["vessel"], trip["trip"]) for trip in trips)
        )
        for rig, hauls, hours, total, trips in by_rig.iter_rows()
    }


def _fit(question: Question, sums: pl.DataFrame) -> tuple[RateFit, tuple[str, ...]] | None:
    """The fit over all rigs that have some of the outcome, and the factors it is adjusted for.

    A level without any of the outcome tells nothing of the ratios of others: its own mean goes
    to zero. Such levels are left out, which is the limit of the fit.
    """
    over_all = question.ground == ALL_GROUNDS
    factors = [name for name in question.factors if over_all or name != "ground"]
    seen = _levels_with_some(sums, ["rig_version", *factors])
    rigs = seen["rig_version"].unique().to_list()
    if question.reference not in rigs or len(rigs) < 2:
        return None
    factors = [name for name in factors if seen[name].n_unique() > 1]
    try:
        cells = lay_out(seen, "rig_version", question.reference, factors)
        return fit_rates(cells, question.errors), tuple(factors)
    except NoFitError:
        return None


def _levels_with_some(sums: pl.DataFrame, columns: list[str]) -> pl.DataFrame:
    while True:
        some = pl.all_horizontal(pl.col("total").sum().over(column) > 0 for column in columns)
        kept = sums.filter(some)
        if kept.height == sums.height:
            return kept
        sums = kept


def _effect(
    question: Question,
    tallies: dict[str, Tally],
    rig: str,
    fitted: tuple[RateFit, tuple[str, ...]] | None,
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
    if question.errors == "trip" and len(pair.trips) < FEW:
        cautions.append(FEW_TRIPS)
    if min(backing.shared_hauls) < FEW:
        cautions.append(FEW_HAULS)
    ratio = low = high = log_ratio = std_error = None
    method = NO_COMPARISON
    found = fitted[0].effect(term("rig_version", rig)) if fitted and both else None
    if fitted and found:
        log_ratio, std_error = found
        ratio = float(np.exp(log_ratio))
        low, high = fitted[0].interval(log_ratio, std_error)
        method = _method(fitted[1], question.errors)
    elif outcome(question.outcome).counted and both and own.total * other.total == 0:
        ratio = _raw_ratio(own, other)
        low, high = ratio_limits(own.total, own.hours, other.total, other.hours)
        cautions.append(NONE_SEEN)
        method = "exact limits, not adjusted"
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
        hauls=pair.hauls,
        trips=len(pair.trips),
        vessels=pair.vessels,
        shared_hours=backing.shared_hours[0],
        shared_hours_reference=backing.shared_hours[1],
        verdict=verdict(low, high, side_by_side=backing.side_by_side),
        cautions=cautions,
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
