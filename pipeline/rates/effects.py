"""Each rig against the reference: ratios of rates, adjusted for the conditions they met."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field, replace
from functools import cached_property, partial
from itertools import product
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
import polars as pl

from pipeline.rates.cells import term
from pipeline.rates.chosen_errors import ChosenErrors, choose_errors
from pipeline.rates.fits import Fitted, Question, fit_question
from pipeline.rates.limits import Limits, limits_of_fit
from pipeline.rates.looks import Judging
from pipeline.rates.model_table import ModelTable, model_name, table_of
from pipeline.rates.numbered import by_outcome
from pipeline.rates.separated import limits_of_separated
from pipeline.rates.support import Backing, Support, backings
from pipeline.rates.tally import Tally, raw_ratio, tally_by_rig
from pipeline.rates.verdict import verdict
from schemas.codes import Caution, ErrorsBy, Verdict
from schemas.outcomes import HEADLINES, outcome
from schemas.words import ALL_GROUNDS, WHOLE_RECORD

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from pipeline.rates.numbered import Sums


FEW = 10
LEAST_WITH_SOME = 5
"""Fewer hauls with any of the outcome on either side settle nothing, whatever the interval says;
nor, where a haul has it once at most, do fewer without any."""

NO_COMPARISON = "no comparison"
UNTOLD: dict[str, Any] = {
    **asdict(Limits()),
    **dict.fromkeys(("errors", "errors_reason")),
    "method": NO_COMPARISON,
    "adjusted_for": [],
    "model": None,
}
"""What is said of two rigs that can't be told apart from the conditions they met."""


@dataclass(frozen=True)
class Effect:
    """One rig against the reference, as it goes into `findings.json`.

    `errors` says how the error was come by and `errors_reason` why so; `freedom` is that of t, and
    None where the interval is by the normal, or there is none. `verdict` is the one that stands; of
    a headline finding it allows for all of them, as do `p_adjusted` and the limits `together`,
    which others do not have. `verdict_alone` is that of its own 95 % interval. `model` names the
    table of the model that it is from; hauls, trips and boats are those in it, `raw_ratio` is of
    all that recorded the outcome. `shared_hours_reference`, the reference's under conditions that
    both met, is for programs; no page tells it.
    """

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
    freedom: float | None
    p_value: float | None
    p_adjusted: float | None
    low_together: float | None
    high_together: float | None
    errors: ErrorsBy | None
    errors_reason: str | None
    raw_ratio: float | None
    method: str
    adjusted_for: list[str]
    model: str | None
    hauls: int
    trips: int
    vessels: int
    rig_hauls: int
    rig_trips: int
    reference_hauls: int
    reference_trips: int
    rig_total: float
    reference_total: float
    shared_hours: float
    shared_hours_reference: float
    verdict: Verdict
    verdict_alone: Verdict
    cautions: list[Caution] = field(default_factory=list)

    @property
    def side_by_side(self) -> bool:
        """Whether the two were fished side by side, so that the ratio stands for the rig."""
        return Caution.NOT_SIDE_BY_SIDE not in self.cautions


@dataclass(frozen=True)
class Compared:
    """What came of comparing the rigs: effects, tables of their models and, by name, the fits."""

    effects: list[Effect] = field(default_factory=list)
    models: list[ModelTable] = field(default_factory=list)
    fitted: dict[str, Fitted] = field(default_factory=dict)


def find_effects(
    sums: pl.DataFrame | Mapping[str, Sums],
    fished: pl.DataFrame,
    reference: str,
    adjust: Sequence[str],
    errors: Literal["trip", "model"],
    over: Sequence[str] | None = None,
    judging: Judging | None = None,
) -> list[Effect]:
    """The effects alone of `compare_rigs`."""
    compared = compare_rigs(
        sums, fished, reference, adjust, errors, over, judging, with_models=False
    )
    return compared.effects


def compare_rigs(
    sums: pl.DataFrame | Mapping[str, Sums],
    fished: pl.DataFrame,
    reference: str,
    adjust: Sequence[str],
    errors: Literal["trip", "model"],
    over: Sequence[str] | None = None,
    judging: Judging | None = None,
    *,
    with_models: bool = True,
) -> Compared:
    """Every rig against the reference, for every outcome, over all grounds and on each.

    `sums` has outcome, vessel, trip, hauls, hauls_with_some, tow_hours, total, rig_version,
    ground, stretch and the factors. `fished` has rig_version and ground: what was fished where,
    whether or not anything was recorded of it. Standard errors from the model are for counted
    events alone; those of weights, hours and money would change with the unit. `over` names the
    grounds where not all are wanted. `judging` says among how many headline comparisons these
    stand; left out, each is by itself. `with_models` is whether the models' tables are wanted.
    """
    compared = Compared()
    judging = judging or Judging()
    grounds = fished["ground"].unique().sort().to_list()
    of_outcomes = by_outcome(sums)
    used = {ALL_GROUNDS: fished} | {
        ground: fished.filter(pl.col("ground") == ground) for ground in grounds
    }
    rigs = {
        ground: sorted(set(there["rig_version"].to_list()) - {reference})
        for ground, there in used.items()
    }

    def answered(asked: tuple[str, str]) -> tuple[list[Effect], list[_Fit]]:
        ground, name = asked
        of_outcome = of_outcomes[name]
        there = of_outcome if ground == ALL_GROUNDS else of_outcome.only("ground", [ground])
        if not len(there):
            return [], []
        told_by = errors if outcome(name).counted else "trip"
        question = Question(name, ground, reference, tuple(adjust), told_by)
        backed = backings(there, rigs[ground], reference)
        return _answers(question, there, backed, judging)

    wanted = over or (ALL_GROUNDS, *(grounds if len(grounds) > 1 else ()))
    for effects, fits in map(answered, product(wanted, of_outcomes)):
        compared.effects.extend(effects)
        for fit in fits:
            if with_models and fit.fitted is not None:
                table = fit.table(fit.fitted)
                compared.models.append(table)
                compared.fitted[table.name] = fit.fitted
    return compared


def _answers(
    question: Question, sums: Sums, backed: dict[str, Backing], judging: Judging
) -> tuple[list[Effect], list[_Fit]]:
    """The effects of all rigs, from one fit of them together; of a part of the record at need."""
    told = [rig for rig, backing in backed.items() if backing.whole.side_by_side]
    together = _Fit(question, sums, fit_question(question, sums), WHOLE_RECORD, None, told, judging)
    effects, fits = [], [together]
    for rig, backing in backed.items():
        whole = _effect(together, rig, backing.whole)
        effects.append(whole if backing.side_by_side else replace(whole, **UNTOLD))
        if backing.part is not None:
            pair = sums.only("rig_version", [rig, question.reference])
            part = pair.only("stretch", backing.stretches)
            span = " to ".join(dict.fromkeys((backing.stretches[0], backing.stretches[-1])))
            alone = _Fit(question, part, fit_question(question, part), span, rig, [rig], judging)
            effects.append(_effect(alone, rig, backing.part))
            fits.append(alone)
    return effects, fits


@dataclass(frozen=True)
class _Fit:
    """A fit with what it was asked, of which part of the record, and how it is judged.

    `rig` is None where all rigs were fitted together; `told` are the rigs that stand side by side
    with the reference in this part, so that their ratios may be told.
    """

    question: Question
    sums: Sums
    fitted: Fitted | None
    part: str
    rig: str | None
    told: list[str]
    judging: Judging

    @cached_property
    def tallies(self) -> dict[str, Tally]:
        """What the hauls of each rig come to."""
        return tally_by_rig(self.sums)

    @cached_property
    def tallies_in_model(self) -> dict[str, Tally]:
        """What those hauls of each rig come to that the fit rests on; nothing without a fit."""
        if self.fitted is None:
            return {}
        in_model = self.fitted.in_model
        return self.tallies if len(in_model) == len(self.sums) else tally_by_rig(in_model)

    def fewest_trips(self, rig: str) -> int:
        """The trips of the rig or of the reference, whichever had fewer."""
        pair = (self.tallies.get(name, Tally()) for name in (rig, self.question.reference))
        return min(tally.trips for tally in pair)

    def chosen(self, rig: str) -> ChosenErrors | None:
        """The rig's log ratio with the error that the rule gives it; None where it has none."""
        if self.fitted is None:
            return None
        return choose_errors(
            self.fitted.fit,
            term("rig_version", rig),
            asked=self.question.errors,
            counted=outcome(self.question.outcome).counted,
            fewest_trips=self.fewest_trips(rig),
        )

    def table(self, fitted: Fitted) -> ModelTable:
        """The model's table, where there is a fit."""
        trips = {rig: self.fewest_trips(rig) for rig in self.told}
        return table_of(self.question, self.sums, fitted, self.part, self.rig, trips)


@dataclass(frozen=True)
class _Answer:
    """The limits of a ratio, by which method and errors, adjusted for what; and the cautions.

    `from_fit` is whether the ratio is that of the fit, so that it rests on the hauls in the model.
    """

    limits: Limits
    method: str
    adjusted_for: tuple[str, ...]
    cautions: list[Caution]
    errors: ErrorsBy | None = None
    errors_reason: str | None = None
    from_fit: bool = False


def _effect(fit: _Fit, rig: str, backing: Support) -> Effect:
    """The answer for one rig from a fit, or limits where it had none of the outcome."""
    question, judging = fit.question, fit.judging
    answer = _answer(fit, rig, backing)
    recorded = [fit.tallies.get(name, Tally()) for name in (rig, question.reference)]
    resting = fit.tallies_in_model if answer.from_fit else fit.tallies
    own, other = (resting.get(name, Tally()) for name in (rig, question.reference))
    pair = own | other
    limits = answer.limits
    share = other.share_with_some if fit.sums.yes_or_no else None
    hours_alone = share is not None and pair.without < LEAST_WITH_SOME
    few = hours_alone or Caution.FEW_WITH_SOME in answer.cautions
    can_tell = backing.side_by_side and not few
    matters = judging.matters_of(question.outcome)
    judged = partial(verdict, can_tell=can_tell, matters=matters, share=share)
    alone = judged(limits.low, limits.high)
    fitted = limits.log_ratio is not None
    return Effect(
        outcome=question.outcome,
        rig=rig,
        reference=question.reference,
        ground=question.ground,
        part=fit.part,
        **vars(limits),
        errors=answer.errors,
        errors_reason=answer.errors_reason,
        raw_ratio=raw_ratio(*recorded),
        method=answer.method,
        adjusted_for=list(answer.adjusted_for),
        model=model_name(question, fit.part, fit.rig) if fitted else None,
        hauls=pair.hauls,
        trips=pair.trips,
        vessels=pair.vessels,
        rig_hauls=own.hauls,
        rig_trips=own.trips,
        reference_hauls=other.hauls,
        reference_trips=other.trips,
        rig_total=own.total,
        reference_total=other.total,
        shared_hours=backing.shared_hours[0],
        shared_hours_reference=backing.shared_hours[1],
        verdict=alone
        if limits.p_adjusted is None
        else judged(limits.low_together, limits.high_together),
        verdict_alone=alone,
        cautions=answer.cautions,
    )


def _answer(fit: _Fit, rig: str, backing: Support) -> _Answer:
    """What a fit says of a rig, or exact or penalised limits say, or why nothing does."""
    question, fitted = fit.question, fit.fitted
    own, other = (fit.tallies.get(name, Tally()) for name in (rig, question.reference))
    both = bool(own.hauls and other.hauls)
    cautions = [] if backing.side_by_side else [Caution.NOT_SIDE_BY_SIDE]
    if not both:
        cautions.append(Caution.NOT_FISHED_BOTH)
    if question.errors == "trip" and fit.fewest_trips(rig) < FEW:
        cautions.append(Caution.FEW_TRIPS)
    if min(backing.shared_hauls) < FEW:
        cautions.append(Caution.FEW_HAULS)
    counted = outcome(question.outcome).counted
    headline = question.outcome in HEADLINES and question.ground == ALL_GROUNDS
    judging = fit.judging if headline and backing.side_by_side else None
    found = fit.chosen(rig)
    if fitted and found and both:
        if min(own.with_some, other.with_some) < LEAST_WITH_SOME:
            cautions.append(Caution.FEW_WITH_SOME)
        freedom = np.inf if found.freedom is None else found.freedom
        limits = limits_of_fit(found.log_ratio, found.std_error, freedom, judging)
        method = _method(fitted.factors, found.errors)
        return _Answer(
            limits, method, fitted.factors, cautions, found.errors, found.reason, from_fit=True
        )
    why = _why_no_fit(fit, rig, own, other) if both else None
    cautions += [why] if why else []
    if counted and why in {Caution.NONE_SEEN, Caution.SEPARATED}:
        said = limits_of_separated(
            fit.sums,
            question.factors,
            rig,
            question.reference,
            judging,
            trips_alike=question.errors == "model",
        )
        if said is not None:
            return _Answer(
                said.limits, said.method, said.factors, cautions, said.errors, said.reason
            )
    return _Answer(Limits(), NO_COMPARISON, (), cautions)


def _why_no_fit(fit: _Fit, rig: str, own: Tally, other: Tally) -> Caution:
    """Why the fit does not tell the rig's ratio, though both rigs were fished."""
    if own.total * other.total == 0:
        return Caution.NONE_SEEN
    if fit.fitted is None:
        return Caution.TOO_FEW_TRIPS
    cells, name = fit.fitted.cells, term("rig_version", rig)
    finite = name in cells.terms and bool(cells.estimable[cells.terms.index(name)])
    return Caution.NOT_TOLD_APART if finite else Caution.SEPARATED


METHOD_WORDS = {
    ErrorsBy.TRIP: "by leaving out one trip at a time",
    ErrorsBy.SANDWICH: "clustered by trip",
    ErrorsBy.MODEL: "from the model",
}


def _method(factors: tuple[str, ...], errors: ErrorsBy) -> str:
    adjusted = f"adjusted for {', '.join(factors)}" if factors else "not adjusted"
    return f"Poisson rate model, {adjusted}, errors {METHOD_WORDS[errors]}"
