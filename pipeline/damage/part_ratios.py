"""Each rig against the reference, like for like, in one part of what damage costs.

How much when: the log-link quasi-Poisson fit of `pipeline.rates` on the damaged hauls, with the
events of a haul in place of its hours, and errors by trip; adjusted for as many factors
as the damaged hauls will bear. How often the net is damaged is the effect on `damage_events`, and
not told again; of stones and mud both parts are told here. Whether two rigs can be compared at all
is judged by all that they fished, not by their damaged hauls alone.

Source: Gourieroux, Monfort & Trognon, Econometrica 52 (1984) 701 (amounts with a Poisson fit).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING

import numpy as np
import polars as pl

from pipeline.damage.two_parts import COSTS, DEBRIS
from pipeline.rates.answers import FEW
from pipeline.rates.behind import limits_behind
from pipeline.rates.cells import term
from pipeline.rates.chosen_errors import choose_errors
from pipeline.rates.evidence import LEAST_WITH_SOME
from pipeline.rates.fits import Question, fit_question, per_event
from pipeline.rates.looks import Judging
from pipeline.rates.poisson import CONFIDENCE
from pipeline.rates.support import LEAST_TRIPS, back, compared_rigs, conditions_met
from pipeline.rates.verdict import verdict
from schemas.codes import Caution, Verdict
from schemas.words import ALL_GROUNDS, WHOLE_RECORD

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from pipeline.rates.fits import Fitted
    from pipeline.rates.support import Backing

OFTEN, MUCH = "how often", "how much when"


@dataclass(frozen=True)
class PartRatio:
    """One rig against the reference in one part of an amount, over all grounds.

    `part` is of the amount, `record_part` the part of the record. Hauls are those with an event,
    and trips those that the part can tell of: for how much when, those with an event.
    """

    amount: str
    part: str
    rig: str
    reference: str
    record_part: str
    ratio: float | None
    low: float | None
    high: float | None
    adjusted_for: list[str]
    rig_hauls: int
    rig_trips: int
    reference_hauls: int
    reference_trips: int
    verdict: Verdict
    cautions: list[Caution] = field(default_factory=list)


@dataclass(frozen=True)
class _Count:
    """How many hauls of a rig had an event, and of how many trips the part tells."""

    hauls: int
    trips: int


@dataclass(frozen=True)
class _Part:
    """What is asked of one part: its sums, the rigs in its model, and what all were fished by."""

    question: Question
    part: str
    sums: pl.DataFrame
    rigs: list[str]
    backings: dict[str, Backing]
    matters: float


def find_part_ratios(
    sums: pl.DataFrame,
    damage_sums: pl.DataFrame,
    fished: pl.DataFrame,
    reference: str,
    adjust: Sequence[str],
    judging: Judging | None = None,
) -> list[PartRatio]:
    """Every rig against the reference, in how much when of each amount, and of debris how often.

    `sums` and `damage_sums` are as for `find_two_parts`, with stretch, hauls and the factors to
    `adjust` for; `fished` has the rig_version of all that was fished; `judging` says which
    difference matters. Errors are clustered by trip.
    """
    rigs = sorted(set(fished["rig_version"].to_list()) - {reference})
    damage = sums.filter(pl.col("outcome") == "damage_events")
    debris = sums.filter(pl.col("outcome") == DEBRIS)
    with_debris = debris.filter(pl.col("hauls_with_some") > 0)
    asked = [
        *(
            (amount, MUCH, damage, per_event(damage_sums.filter(pl.col("outcome") == amount)))
            for amount in COSTS
        ),
        (DEBRIS, OFTEN, debris, debris.with_columns(total=pl.col("hauls_with_some").cast(float))),
        (DEBRIS, MUCH, debris, per_event(with_debris.with_columns(events="hauls_with_some"))),
    ]
    found: list[PartRatio] = []
    for amount, part, all_fished, of_part in asked:
        if of_part.is_empty():
            continue
        met = conditions_met(all_fished)
        backings = {rig: back(met, rig, reference) for rig in rigs}
        question = Question(amount, ALL_GROUNDS, reference, tuple(adjust), "trip")
        matters = (judging or Judging()).matters_of(amount)
        in_model = compared_rigs(all_fished, reference)["rig_version"].unique().to_list()
        found += _answers(_Part(question, part, of_part, in_model, backings, matters))
    return found


def _answers(part: _Part) -> Iterator[PartRatio]:
    together = fit_question(part.question, part.sums.filter(pl.col("rig_version").is_in(part.rigs)))
    for rig, backing in part.backings.items():
        if backing.whole.side_by_side or backing.part is None:
            yield _ratio(part, rig, part.sums, together, WHOLE_RECORD)
            continue
        within = part.sums.filter(
            pl.col("stretch").is_in(list(backing.stretches))
            & pl.col("rig_version").is_in([rig, part.question.reference])
        )
        span = " to ".join(dict.fromkeys((backing.stretches[0], backing.stretches[-1])))
        yield _ratio(part, rig, within, fit_question(part.question, within), span)


def _ratio(
    part: _Part, rig: str, sums: pl.DataFrame, fitted: Fitted | None, record_part: str
) -> PartRatio:
    """The ratio of the rig to the reference from the fit, or why there is none."""
    backing, reference = part.backings[rig], part.question.reference
    side_by_side = backing.side_by_side
    own, other = (_count(sums, name, part.part) for name in (rig, reference))
    fewest_trips = min(own.trips, other.trips)
    counted = part.part == OFTEN
    found = (
        choose_errors(
            fitted.fit,
            term("rig_version", rig),
            asked=part.question.errors,
            counted=counted,
            fewest_trips=fewest_trips,
        )
        if fitted
        else None
    )
    limits: tuple[float | None, ...] = (None, None, None)
    cautions: list[Caution] = []
    if not side_by_side:
        cautions.append(Caution.NOT_SIDE_BY_SIDE)
    elif not own.hauls or not other.hauls:
        cautions.append(Caution.NONE_SEEN)
    elif found is None or fewest_trips < LEAST_TRIPS:
        cautions.append(
            Caution.NOT_TOLD_APART if fitted and found is None else Caution.TOO_FEW_TRIPS
        )
    else:
        limits = float(np.exp(found.log_ratio)), *found.limits
        cautions += [Caution.FEW_TRIPS] if fewest_trips < FEW else []
        cautions += [Caution.FEW_WITH_SOME] if min(own.hauls, other.hauls) < LEAST_WITH_SOME else []
    ratio, low, high = limits
    told = ratio is not None
    behind = limits_behind(
        fitted,
        term("rig_version", rig),
        None if found is None else found.std_error,
        None if found is None else found.freedom,
    )
    return PartRatio(
        part.question.outcome,
        part.part,
        rig,
        reference,
        record_part,
        ratio,
        low,
        high,
        list(fitted.factors) if fitted and told else [],
        own.hauls,
        own.trips,
        other.hauls,
        other.trips,
        verdict(
            low,
            high,
            can_tell=told and Caution.FEW_WITH_SOME not in cautions,
            matters=part.matters,
            behind=partial(behind, CONFIDENCE) if counted else None,
        ),
        cautions,
    )


def _count(sums: pl.DataFrame, rig: str, part: str) -> _Count:
    """For how much when every haul of the sums has an event; for how often all trips count."""
    hauls = "hauls_with_some" if part == OFTEN else "hauls"
    of_rig = sums.filter(pl.col("rig_version") == rig)
    trips = of_rig.select(pl.struct("vessel", "trip").n_unique()).item()
    return _Count(int(of_rig[hauls].sum()), int(trips))
