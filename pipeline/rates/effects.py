"""Each rig against the reference: ratios of rates, adjusted for the conditions they met."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field, replace
from functools import partial
from itertools import product
from typing import TYPE_CHECKING, Any, Literal

import polars as pl

from pipeline.rates.answers import NO_COMPARISON, RigsFit, answer_for
from pipeline.rates.behind import limits_behind
from pipeline.rates.cells import term
from pipeline.rates.evidence import Evidence
from pipeline.rates.fits import Fitted, Question, fit_question
from pipeline.rates.limits import Limits
from pipeline.rates.looks import Judging
from pipeline.rates.model_table import ModelTable, model_name
from pipeline.rates.numbered import by_outcome
from pipeline.rates.support import Backing, Support, backings, to_compare
from pipeline.rates.tally import Tally, raw_ratio
from schemas.codes import Caution, ErrorsBy, Verdict
from schemas.outcomes import outcome
from schemas.words import ALL_GROUNDS, WHOLE_RECORD

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from pipeline.rates.numbered import Sums

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

    def answered(asked: tuple[str, str]) -> tuple[list[Effect], list[RigsFit]]:
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
            if fit.fitted is not None:
                compared.fitted[model_name(fit.question, fit.part, fit.rig)] = fit.fitted
                if with_models:
                    compared.models.append(fit.table(fit.fitted))
    return compared


def _answers(
    question: Question, sums: Sums, backed: dict[str, Backing], judging: Judging
) -> tuple[list[Effect], list[RigsFit]]:
    """The effects of all rigs, from one fit of them together; of a part of the record at need."""
    told = [rig for rig, backing in backed.items() if backing.whole.side_by_side]
    fitted = fit_question(question, to_compare(sums, question.reference))
    together = RigsFit(question, sums, fitted, WHOLE_RECORD, None, told, judging)
    effects, fits = [], [together]
    for rig, backing in backed.items():
        whole = _effect(together, rig, backing.whole)
        effects.append(whole if backing.side_by_side else replace(whole, **UNTOLD))
        if backing.part is not None:
            pair = sums.only("rig_version", [rig, question.reference])
            part = pair.only("stretch", backing.stretches)
            span = " to ".join(dict.fromkeys((backing.stretches[0], backing.stretches[-1])))
            alone = RigsFit(question, part, fit_question(question, part), span, rig, [rig], judging)
            effects.append(_effect(alone, rig, backing.part))
            fits.append(alone)
    return effects, fits


def _effect(fit: RigsFit, rig: str, backing: Support) -> Effect:
    """The answer for one rig from a fit, or limits where it had none of the outcome."""
    question, judging = fit.question, fit.judging
    answer = answer_for(fit, rig, backing)
    recorded = [fit.tallies.get(name, Tally()) for name in (rig, question.reference)]
    resting = fit.tallies_in_model if answer.from_fit else fit.tallies
    own, other = (resting.get(name, Tally()) for name in (rig, question.reference))
    pair = own | other
    limits = answer.limits
    counted = outcome(question.outcome).counted
    behind = limits_behind(fit.fitted, term("rig_version", rig), limits.std_error, limits.freedom)
    judged = partial(
        Evidence(own, other, counted, fit.sums.yes_or_no, behind).says,
        matters=judging.matters_of(question.outcome),
        side_by_side=backing.side_by_side,
        exact=not answer.from_fit,
    )
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
        else judged(limits.low_together, limits.high_together, confidence=judging.confidence),
        verdict_alone=alone,
        cautions=answer.cautions,
    )
