"""The headline effects over all grounds, each with the fit that it comes from."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl

from pipeline.rates.behind import limits_behind
from pipeline.rates.cells import term
from pipeline.rates.evidence import Evidence
from pipeline.rates.fits import Fitted, Question, fit_question
from pipeline.rates.numbered import numbered
from pipeline.rates.support import back, compared_rigs, conditions_met
from pipeline.rates.tally import Tally, tally_by_rig
from schemas.codes import Caution
from schemas.hauls import HAUL_KEY
from schemas.outcomes import HEADLINES, outcome
from schemas.words import ALL_GROUNDS, WHOLE_RECORD

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.rates.behind import Behind
    from pipeline.rates.effects import Effect
    from pipeline.rates.numbered import Sums


@dataclass(frozen=True)
class HeadlineFit:
    """An effect as it is told, the sums that it rests on, and their fit; None where it has none."""

    effect: Effect
    question: Question
    sums: pl.DataFrame
    fitted: Fitted | None

    @property
    def freedom(self) -> float:
        """The degrees of freedom of its interval: as for the effect itself."""
        return float(np.inf) if self.effect.freedom is None else self.effect.freedom

    @cached_property
    def evidence(self) -> Evidence:
        """What was seen with its two rigs."""
        effect = self.effect
        name = term("rig_version", effect.rig)
        behind = limits_behind(self.fitted, name, effect.std_error, effect.freedom)
        return evidence_in(numbered(self.sums), effect, behind)


def evidence_in(sums: Sums, effect: Effect, behind: Behind | None) -> Evidence:
    """What these sums have of the two rigs of an effect; `behind` as for `Evidence`."""
    tallies = tally_by_rig(sums)
    own, other = (tallies.get(rig, Tally()) for rig in (effect.rig, effect.reference))
    return Evidence(own, other, outcome(effect.outcome).counted, sums.yes_or_no, behind)


def headline_fits(
    effects: Sequence[Effect],
    sums: pl.DataFrame,
    adjust: Sequence[str],
    errors: Literal["trip", "model"],
) -> list[HeadlineFit]:
    """The headline effects that are told, each outcome in turn; the arguments as `find_effects`."""
    found: list[HeadlineFit] = []
    for name in HEADLINES:
        told = [effect for effect in effects if effect.outcome == name and is_headline(effect)]
        if not told:
            continue
        of_outcome = sums.filter(pl.col("outcome") == name)
        question = question_of(name, told[0].reference, adjust, errors)
        compared = compared_rigs(of_outcome, question.reference)
        together = fit_question(question, compared)
        for effect in told:
            if effect.part == WHOLE_RECORD:
                found.append(HeadlineFit(effect, question, compared, together))
            else:
                within = _in_part(of_outcome, effect)
                found.append(HeadlineFit(effect, question, within, fit_question(question, within)))
    return found


def question_of(
    name: str, reference: str, adjust: Sequence[str], errors: Literal["trip", "model"]
) -> Question:
    """The question of a headline: errors from the model are for counted events alone."""
    told_by = errors if outcome(name).counted else "trip"
    return Question(name, ALL_GROUNDS, reference, tuple(adjust), told_by)


def is_headline(effect: Effect) -> bool:
    """Whether it is a headline over all grounds whose limits tell anything."""
    over_all = effect.outcome in HEADLINES and effect.ground == ALL_GROUNDS
    told = effect.low is not None and (effect.low > 0 or effect.high is not None)
    return over_all and told and Caution.NOT_SIDE_BY_SIDE not in effect.cautions


def fitted_hauls(fitted: Fitted, hauls: pl.DataFrame) -> pl.DataFrame:
    """The hauls that a fit is of, in the order of boat, trip and haul, with their `mean` by it.

    `hauls` has vessel, trip, haul, pattern and tow_hours; those of levels without any of the
    outcome are not in the fit. `number` is that of the trip.
    """
    cells = fitted.cells
    rate = np.exp(cells.coded.mix(fitted.fit.estimate))[cells.pattern]
    rates = fitted.seen.rows.frame[cells.row].select("pattern").with_columns(rate=pl.Series(rate))
    return (
        hauls.join(rates.unique("pattern"), on="pattern", how="inner")
        .sort(HAUL_KEY)
        .with_columns(
            mean=pl.col("rate") * pl.col("tow_hours"),
            number=(pl.struct("vessel", "trip").rank("dense") - 1).cast(pl.Int64),
        )
    )


def _in_part(sums: pl.DataFrame, effect: Effect) -> pl.DataFrame:
    """The sums of the two rigs in the stretches in which both were in use."""
    backing = back(conditions_met(sums), effect.rig, effect.reference)
    return sums.filter(
        pl.col("stretch").is_in(list(backing.stretches))
        & pl.col("rig_version").is_in([effect.rig, effect.reference])
    )
