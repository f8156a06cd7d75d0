"""Why an effect is believed: the whole table of the model that it came from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from pipeline.rates.cells import lay_out, term
from pipeline.rates.chosen_errors import choose_errors
from pipeline.rates.fits import fit_question
from pipeline.rates.leave_out import leave_out
from pipeline.rates.limits import limits_of_fit
from pipeline.rates.poisson import clustered, fit_rates, information
from pipeline.rates.support import to_compare
from schemas.codes import ErrorsBy
from schemas.outcomes import outcome
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from pipeline.rates.chosen_errors import ChosenErrors
    from pipeline.rates.fits import Fitted, Question
    from pipeline.rates.numbered import Sums
    from pipeline.rates.poisson import RateFit

CORRECTION = {
    ErrorsBy.TRIP: saying(
        "errors by leaving out one trip at a time, two Newton steps each: the squared changes, "
        "made to be the model's in the mean were each row's variance its mean"
    ),
    ErrorsBy.SANDWICH: saying(
        "errors clustered by trip, HC1: times G/(G − 1) and (n − 1)/(n − k) for G trips, n hauls "
        "and k terms"
    ),
    ErrorsBy.MODEL: saying("errors from the model: the inverse of the information"),
}
NEVER_LESS = saying("; of counted events such that no interval is narrower than by the model's own")
OF_YES_OR_NO = saying("; no haul had more than one, so that the model's own are with p(1 − p) each")
FREEDOM = {
    ErrorsBy.TRIP: saying(
        "t on the freedom that the trips have for each term, as it stands beside it"
    ),
    ErrorsBy.SANDWICH: saying(
        "t on the fewer trips of the two rigs less one for a rig, on all trips less one for other "
        "terms"
    ),
    ErrorsBy.MODEL: saying("the normal"),
}
WORKED_BY = {ErrorsBy.TRIP: leave_out, ErrorsBy.SANDWICH: clustered, ErrorsBy.MODEL: None}
SAME_FOR_ALL = saying("{}: the same for all that had any")
NOT_ON_RECORD = saying("{}: not recorded of any that had any")
TOO_FEW_TRIPS = saying("{}: too few trips to adjust for it")
NONE_THERE = saying("{} {}: none of the outcome there, which tells nothing of the ratios of others")
GIVEN_ALREADY = saying("{} {}: given already by the terms before it")
NOT_TOLD_APART = saying("{}: not to be told apart from {}")
APART = saying("rig_version {}: fewer than five hauls or three trips, which is too few to compare")
NOT_TOLD = saying(
    "rig_version {}: in the fit, but not side by side with the reference, so that no ratio is told"
)
WITH_OTHERS = saying("only told together with other terms")
NO_ERROR = saying("its error can't be told")
NOT_SIDE_BY_SIDE = saying("not side by side with the reference")
GOES_TO_NOUGHT = saying("{} hauls under conditions whose mean goes to nought, having none")
REASONS = (
    SAME_FOR_ALL,
    NOT_ON_RECORD,
    TOO_FEW_TRIPS,
    NONE_THERE,
    GIVEN_ALREADY,
    NOT_TOLD_APART,
    APART,
    NOT_TOLD,
    GOES_TO_NOUGHT,
)
"""Why something is not in a model."""

BLANKS = {"not recorded", "unknown"}
"""How hauls stand among the conditions that are blank in one."""

MOST_NAMED = 8
"""So many levels are named in a sentence; the rest are counted."""


@dataclass(frozen=True)
class ModelTerm:
    """One term: its log ratio with its error, `t` and what follows; None where it is not told.

    `untold` says why it is not.
    """

    term: str
    estimate: float | None
    std_error: float | None
    freedom: float | None
    t: float | None
    p_value: float | None
    ratio: float | None
    low: float | None
    high: float | None
    untold: str | None = None


@dataclass(frozen=True)
class ModelTable:
    """A model as a statistician would have it printed, as it goes into `findings.json`.

    `rig` is None where all rigs were fitted together. `asked_for` are the factors that it was to
    be adjusted for, `adjusted_for` those that it was; `left_out` says what is not in it, and why,
    of which `hauls_left_out` are of hauls that recorded the outcome.
    `code` is where it was worked out.
    """

    name: str
    outcome: str
    ground: str
    part: str
    rig: str | None
    reference: str
    formula: str
    errors: str
    freedom: str
    hauls: int
    trips: int
    tow_hours: float
    total: float
    asked_for: list[str]
    adjusted_for: list[str]
    left_out: list[str]
    hauls_left_out: list[str]
    terms: list[ModelTerm]
    code: list[str]


def model_name(question: Question, part: str, rig: str | None) -> str:
    """What effects call their model by."""
    return " · ".join([question.outcome, question.ground, part, *([rig] if rig else [])])


def table_of(
    question: Question,
    sums: Sums,
    fitted: Fitted,
    part: str,
    rig: str | None,
    fewest_trips: Mapping[str, int],
) -> ModelTable:
    """The table of a fit on these sums; `fewest_trips` has the rigs whose ratios may be told."""
    fit = fitted.fit
    counted = outcome(question.outcome).counted
    how = _how(question, fit)
    seen = fitted.seen
    compared = to_compare(sums, question.reference)
    not_compared = sorted(
        set(sums.codes("rig_version").words) - set(compared.codes("rig_version").words)
    )
    without = [
        *([APART.format(_few(not_compared))] if not_compared else []),
        *_hauls_left_out(question, compared, fitted),
    ]
    rigs = set(seen.codes("rig_version").words) - {question.reference}
    apart = sorted(rigs - set(fewest_trips))
    hidden = {term("rig_version", rig) for rig in apart}
    trips = {term("rig_version", rig): count for rig, count in fewest_trips.items()}
    return ModelTable(
        name=model_name(question, part, rig),
        outcome=question.outcome,
        ground=question.ground,
        part=part,
        rig=rig,
        reference=question.reference,
        formula=formula(question, fitted.factors),
        errors="".join(_errors(how, counted=counted, yes_or_no=fitted.cells.yes_or_no)),
        freedom=FREEDOM[how],
        hauls=fit.hauls,
        trips=fit.trips,
        tow_hours=float(seen.rows.hours.sum()),
        total=float(seen.total.sum()),
        asked_for=list(question.factors),
        adjusted_for=list(fitted.factors),
        left_out=[
            *without,
            *_terms_left_out(question, fitted),
            *([NOT_TOLD.format(_few(apart))] if apart else []),
        ],
        hauls_left_out=without,
        terms=[
            _term(
                name,
                None
                if name in hidden
                else choose_errors(
                    fit,
                    name,
                    asked=question.errors,
                    counted=counted,
                    fewest_trips=trips.get(name, fit.trips),
                ),
                _why_untold(fit, name, hidden),
            )
            for name in fit.terms
        ],
        code=[
            _place(function)
            for function in (fit_question, lay_out, fit_rates, information, WORKED_BY[how])
            if function is not None
        ]
        + [_place(choose_errors)],
    )


def _errors(how: ErrorsBy, *, counted: bool, yes_or_no: bool) -> list[str]:
    """The sentence on the errors, in the parts that it is made of."""
    return [
        CORRECTION[how],
        *([NEVER_LESS] if counted else []),
        *([OF_YES_OR_NO] if counted and yes_or_no else []),
    ]


def _how(question: Question, fit: RateFit) -> ErrorsBy:
    """How the errors of the fit were come by."""
    if question.errors == "model":
        return ErrorsBy.MODEL
    return ErrorsBy.SANDWICH if fit.left_out is None else ErrorsBy.TRIP


def formula(question: Question, factors: tuple[str, ...]) -> str:
    """The model in words."""
    named = outcome(question.outcome)
    unit = f" ({named.unit})" if named.unit else ""
    right = " + ".join(["intercept", "rig_version", *factors])
    return (
        f"log of mean {named.title.lower()}{unit} = log of hours towed + {right}; "
        "Poisson likelihood"
    )


def _why_untold(fit: RateFit, name: str, hidden: set[str]) -> str:
    """Why a term is not told, where it is not."""
    if name in hidden:
        return NOT_SIDE_BY_SIDE
    return NO_ERROR if fit.estimable[fit.terms.index(name)] else WITH_OTHERS


def _term(name: str, found: ChosenErrors | None, why_not: str) -> ModelTerm:
    if found is None:
        return ModelTerm(name, *(None,) * 8, why_not)
    freedom = np.inf if found.freedom is None else found.freedom
    limits = limits_of_fit(found.log_ratio, found.std_error, freedom, None)
    return ModelTerm(
        name,
        limits.log_ratio,
        limits.std_error,
        limits.freedom,
        found.log_ratio / found.std_error,
        limits.p_value,
        limits.ratio,
        limits.low,
        limits.high,
    )


def _hauls_left_out(question: Question, sums: Sums, fitted: Fitted) -> list[str]:
    """Which hauls that recorded the outcome are not in the model, and why, a sentence each.

    Levels are those of all factors asked for: of one that was left with a single level as well.
    """
    seen, said = fitted.seen, []
    for column in ("rig_version", *question.factors):
        without = sorted(set(sums.codes(column).words) - set(seen.codes(column).words))
        if without:
            said.append(NONE_THERE.format(column, _few(without)))
    zero = int(seen.rows.hauls.sum()) - fitted.fit.hauls
    if zero:
        said.append(GOES_TO_NOUGHT.format(f"{zero:,}"))
    return said


def _terms_left_out(question: Question, fitted: Fitted) -> list[str]:
    """Which levels and factors the model has no term for, and why, a sentence each."""
    seen, said = fitted.seen, []
    for column in ("rig_version", *fitted.factors):
        levels = seen.codes(column).words
        base = question.reference if column == "rig_version" else None
        bound = [
            level
            for level in levels
            if level != (base or levels[0]) and term(column, level) not in fitted.fit.terms
        ]
        if bound and len(levels) > 1:
            said.append(GIVEN_ALREADY.format(column, _few(bound)))
    said += [NOT_TOLD_APART.format(factor, _goes_with(factor, fitted)) for factor in fitted.bound]
    for factor in question.factors:
        named = factor in fitted.factors or factor in fitted.bound
        if named or (factor == "ground" and question.ground != ALL_GROUNDS):
            continue
        said.append(_why_not_adjusted(seen.codes(factor).words).format(factor))
    return said


def _goes_with(factor: str, fitted: Fitted) -> str:
    """The one term's factor that gives all of this one, if there is one; else all of them."""
    levels = fitted.seen.codes(factor).codes
    for other in (*fitted.factors, "rig_version"):
        codes = fitted.seen.codes(other).codes
        if len(np.unique(np.column_stack([codes, levels]), axis=0)) == len(np.unique(codes)):
            return other
    return ", ".join(fitted.factors)


def _why_not_adjusted(levels: Sequence[str]) -> str:
    """Why a factor with these levels is not in the model."""
    if len(levels) > 1:
        return TOO_FEW_TRIPS
    return NOT_ON_RECORD if BLANKS.issuperset(levels) else SAME_FOR_ALL


def _few(levels: list[str]) -> str:
    more = len(levels) - MOST_NAMED
    return ", ".join(levels[:MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def _place(function: Callable[..., object]) -> str:
    return f"{function.__module__}.{function.__qualname__}"
