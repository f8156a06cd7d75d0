"""A headline from hauls alone that both rigs made under the same conditions.

The model compares all hauls of two rigs by what it is adjusted for; where they were fished on other
boats or in other years, it lays that to the rig. Here are only hauls on a ground, by a boat and in
a stretch of the record in which both rigs were fished, and these are held alike as far as the trips
allow.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from pipeline.rates.behind import limits_behind
from pipeline.rates.cells import term
from pipeline.rates.chosen_errors import ChosenErrors, choose_errors
from pipeline.rates.fits import Fitted, Question, fit_question
from pipeline.rates.headline_fits import evidence_in
from pipeline.rates.support import where_both_were
from pipeline.rates.tally import Tally, tally_by_rig
from pipeline.rates.ways import Way, as_told
from schemas.codes import CLEAR, OtherWay, WayNote
from schemas.outcomes import outcome
from schemas.words import CONDITIONS

if TYPE_CHECKING:
    from pipeline.rates.effects import Effect
    from pipeline.rates.headline_fits import HeadlineFit
    from pipeline.rates.looks import Judging
    from pipeline.rates.numbered import Sums


def side_by_side_only(headline: HeadlineFit, judging: Judging) -> Way:
    """The two rigs alone where both met the same conditions, and those held alike.

    With too few trips for an interval there is the ratio alone. As it has fewer hauls, a clear
    headline need be clear there by itself only.
    """
    effect = headline.effect
    held = tuple(dict.fromkeys((*headline.question.factors, *CONDITIONS)))
    question = replace(headline.question, factors=held)
    shared = where_both_were(headline.sums, effect.rig, effect.reference)
    fitted = fit_question(question, shared)
    found = _chosen(question, fitted, effect) if fitted else None
    if fitted is None or found is None:
        return _ratio_alone(replace(question, errors="model"), shared, effect.rig)
    name = term("rig_version", effect.rig)
    behind = limits_behind(fitted, name, found.std_error, found.freedom)
    way = as_told(
        Way(OtherWay.SIDE_BY_SIDE),
        headline,
        (found.log_ratio, found.std_error),
        judging,
        freedom=np.inf if found.freedom is None else found.freedom,
        evidence=evidence_in(fitted.in_model, effect, behind),
    )
    return replace(way, verdict=way.verdict_alone) if effect.verdict in CLEAR else way


def _chosen(question: Question, fitted: Fitted, effect: Effect) -> ChosenErrors | None:
    return choose_errors(
        fitted.fit,
        term("rig_version", effect.rig),
        asked=question.errors,
        counted=outcome(effect.outcome).counted,
        fewest_trips=min(tally.trips for tally in _pair(fitted, effect)),
    )


def _pair(fitted: Fitted, effect: Effect) -> list[Tally]:
    """What the hauls of the rig and of the reference come to, of those in the model."""
    tallies = tally_by_rig(fitted.in_model)
    return [tallies.get(rig, Tally()) for rig in (effect.rig, effect.reference)]


def _ratio_alone(question: Question, sums: Sums, rig: str) -> Way:
    """The ratio without limits, where there is one."""
    fitted = fit_question(question, sums)
    name = term("rig_version", rig)
    if fitted is None or name not in fitted.fit.terms:
        return Way(OtherWay.SIDE_BY_SIDE, note=WayNote.NOT_TOLD)
    at = fitted.fit.terms.index(name)
    if not fitted.fit.estimable[at]:
        return Way(OtherWay.SIDE_BY_SIDE, note=WayNote.NOT_TOLD)
    return Way(
        OtherWay.SIDE_BY_SIDE, ratio=float(np.exp(fitted.fit.estimate[at])), note=WayNote.NO_LIMITS
    )
