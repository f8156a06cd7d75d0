"""What a fit says of one rig: its ratio and limits, by which errors, or why it has none."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from pipeline.rates.cells import term
from pipeline.rates.chosen_errors import choose_errors
from pipeline.rates.evidence import LEAST_WITH_SOME
from pipeline.rates.limits import Limits, limits_of_fit
from pipeline.rates.model_table import table_of
from pipeline.rates.separated import limits_of_separated
from pipeline.rates.tally import Tally, tally_by_rig
from schemas.codes import Caution, ErrorsBy
from schemas.outcomes import HEADLINES, outcome
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    from pipeline.rates.chosen_errors import ChosenErrors
    from pipeline.rates.fits import Fitted, Question
    from pipeline.rates.looks import Judging
    from pipeline.rates.model_table import ModelTable
    from pipeline.rates.numbered import Sums
    from pipeline.rates.support import Support

FEW = 10
NO_COMPARISON = "no comparison"

METHOD_WORDS = {
    ErrorsBy.TRIP: "by leaving out one trip at a time",
    ErrorsBy.SANDWICH: "clustered by trip",
    ErrorsBy.MODEL: "from the model",
}


@dataclass(frozen=True)
class RigsFit:
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
class Answer:
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


def answer_for(fit: RigsFit, rig: str, backing: Support) -> Answer:
    """What a fit says of a rig, or exact or penalised limits say, or why nothing does."""
    question, fitted = fit.question, fit.fitted
    own, other = (fit.tallies.get(name, Tally()) for name in (rig, question.reference))
    both = bool(own.hauls and other.hauls)
    cautions = [] if backing.side_by_side else [Caution.NOT_SIDE_BY_SIDE]
    if backing.met_enough and not backing.side_by_side:
        cautions.append(Caution.FEW_SIDE_BY_SIDE)
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
        return Answer(
            limits, method, fitted.factors, cautions, found.errors, found.reason, from_fit=True
        )
    why = _why_no_fit(fit, rig, own, other, side_by_side=backing.side_by_side) if both else None
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
            return Answer(
                said.limits, said.method, said.factors, cautions, said.errors, said.reason
            )
    return Answer(Limits(), NO_COMPARISON, (), cautions)


def _why_no_fit(
    fit: RigsFit, rig: str, own: Tally, other: Tally, *, side_by_side: bool
) -> Caution | None:
    """Why the fit does not tell the rig's ratio, though both rigs were fished.

    Of one that was not side by side with the reference that is reason enough.
    """
    if own.total * other.total == 0:
        return Caution.NONE_SEEN
    if not side_by_side:
        return None
    if fit.fitted is None:
        return Caution.TOO_FEW_TRIPS
    cells, name = fit.fitted.cells, term("rig_version", rig)
    finite = name in cells.terms and bool(cells.estimable[cells.terms.index(name)])
    return Caution.NOT_TOLD_APART if finite else Caution.SEPARATED


def _method(factors: tuple[str, ...], errors: ErrorsBy) -> str:
    adjusted = f"adjusted for {', '.join(factors)}" if factors else "not adjusted"
    return f"Poisson rate model, {adjusted}, errors {METHOD_WORDS[errors]}"
