"""Does the rate model fit? How far hauls and trips scatter, where it is off, what it rests on."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl
from scipy.special import chdtri

from pipeline.rates.behind import hauls_of_rig
from pipeline.rates.fits import Fitted, Question, fit_question
from pipeline.rates.headline_fits import HeadlineFit, fitted_hauls, question_of
from pipeline.rates.hours_slope import HoursSlope, hours_slope
from pipeline.rates.influence import InfluentialTrip, influential_trips
from pipeline.rates.planning import HALVING
from pipeline.rates.residuals import SEED, ResidualGroup, by_groups, quantile_residuals, summed_up
from pipeline.rates.support import compared_rigs
from pipeline.rates.unknowns import DAMAGE
from pipeline.rates.yes_or_no import chance_of_some
from schemas.codes import NoModel
from schemas.outcomes import HEADLINES, outcome
from schemas.words import WHOLE_RECORD

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.rates.headline_fits import HeadlineFit

LEAST_SPARE, ONE_IN_TWENTY = 1.0, 0.05
BEYOND = 2.0
"""Of standard normal residuals one in twenty-two lies further off than this."""


@dataclass(frozen=True)
class ModelCheck:
    """How well the model of an outcome fits its hauls; for `findings.json`.

    `part` is the part of the record that it is of: the one that the headlines come from.
    `dispersion` is Pearson's statistic by its degrees of freedom over single hauls, 1 for events
    that scatter by chance alone, in kg for weights. `trips_against_hauls` is the same over whole
    trips, as a multiple of that of hauls: above 1, hauls of a trip are alike, unless chance alone
    goes as far, which in one of twenty seasons goes beyond `by_chance`. `yes_or_no` is whether no
    haul had more than one, so that chance is that of one or none, and `halving_reads` then how half
    the rate of the reference would read. `share_beyond_two`, of residuals, is for programs; no page
    tells it.
    """

    outcome: str
    part: str
    why: NoModel | None
    hauls: int
    trips: int
    dispersion: float | None = None
    trips_against_hauls: float | None = None
    by_chance: float | None = None
    residual_seed: int = SEED
    residuals: ResidualGroup | None = None
    share_beyond_two: float | None = None
    groups: list[ResidualGroup] = field(default_factory=list)
    yes_or_no: bool = False
    halving_reads: float | None = None


@dataclass(frozen=True)
class Diagnostics:
    """Everything that is found of how the models of the headlines fit."""

    models: list[ModelCheck]
    influential_trips: list[InfluentialTrip]
    hours: HoursSlope | None


def find_diagnostics(
    headlines: Sequence[HeadlineFit],
    sums: pl.DataFrame,
    hauls: pl.DataFrame,
    reference: str,
    adjust: Sequence[str],
    errors: Literal["trip", "model"],
) -> Diagnostics:
    """The checks of each headline's model, the trips it rests on, and the slope of log hours.

    `sums` as for `find_effects`, with pattern; `hauls` has outcome, vessel, trip, haul, shot_at,
    ground, tow_hours, amount, pattern and the conditions, a row a haul.
    """
    damage = hauls.filter(pl.col("outcome") == DAMAGE)
    compared = compared_rigs(sums.filter(pl.col("outcome") == DAMAGE), reference)
    models = []
    for name in HEADLINES:
        of_outcome = hauls.filter(pl.col("outcome") == name)
        if of_outcome.height:
            question = question_of(name, reference, adjust, errors)
            part, fitted = _model_of(name, headlines) or (
                WHOLE_RECORD,
                fit_question(
                    question, compared_rigs(sums.filter(pl.col("outcome") == name), reference)
                ),
            )
            models.append(check_model(question, part, fitted, of_outcome))
    return Diagnostics(
        models,
        influential_trips(headlines),
        hours_slope(
            damage.filter(pl.col("rig_version").is_in(compared["rig_version"].implode())),
            reference,
            adjust,
            errors,
        )
        if damage.height
        else None,
    )


def _model_of(name: str, headlines: Sequence[HeadlineFit]) -> tuple[str, Fitted] | None:
    """The fit that headlines of the outcome come from, of the whole record if any does."""
    told = [
        (each.effect.part, each.fitted)
        for each in headlines
        if each.effect.outcome == name and each.fitted is not None
    ]
    return min(told, key=lambda each: each[0] != WHOLE_RECORD, default=None)


def check_model(
    question: Question, part: str, fitted: Fitted | None, hauls: pl.DataFrame
) -> ModelCheck:
    """How the hauls lie about the fit; those of levels with none of the outcome are left out."""
    name = question.outcome
    if fitted is None:
        return ModelCheck(name, part, NoModel.NO_FIT, hauls.height, _trips(hauls))
    placed = fitted_hauls(fitted, hauls)
    counted = outcome(name).counted
    yes_or_no = counted and fitted.cells.yes_or_no
    if yes_or_no:
        placed = placed.with_columns(mean=pl.Series(chance_of_some(placed["mean"].to_numpy())))
    chance = (1 - pl.col("mean")) if yes_or_no else pl.lit(1.0)
    placed = placed.with_columns(variance=pl.col("mean") * chance)
    amount, mean = placed["amount"].to_numpy(), placed["mean"].to_numpy()
    dispersion = _by_freedom(placed, placed.height - len(fitted.fit.terms))
    by_trip = placed.group_by("number", maintain_order=True).agg(
        pl.col("amount", "mean", "variance").sum()
    )
    spare = spare_trips(fitted, placed)
    of_trips = _by_freedom(by_trip, spare)
    of_reference = hauls_of_rig(fitted, question.reference) if yes_or_no else None
    residual = quantile_residuals(amount, mean, counted=counted, yes_or_no=yes_or_no)
    told = placed.with_columns(residual=pl.Series(residual))
    return ModelCheck(
        outcome=name,
        part=part,
        why=None,
        hauls=placed.height,
        trips=_trips(placed),
        dispersion=dispersion,
        trips_against_hauls=of_trips / dispersion if of_trips and dispersion else None,
        by_chance=float(chdtri(spare, ONE_IN_TWENTY)) / spare if of_trips else None,
        residuals=summed_up("all", "all", told),
        share_beyond_two=float((np.abs(residual) > BEYOND).mean()),
        groups=by_groups(told),
        yes_or_no=yes_or_no,
        halving_reads=of_reference.reads(HALVING) if of_reference else None,
    )


def _trips(hauls: pl.DataFrame) -> int:
    return int(hauls.select(pl.struct("vessel", "trip").n_unique()).item())


def spare_trips(fitted: Fitted, hauls: pl.DataFrame) -> float:
    """The degrees of freedom of Pearson's statistic over trips, were hauls independent.

    `hauls` are those of the fit, with the number of their trip, pattern, mean and variance. Each
    trip counts for what the fit leaves of its scatter: a term that differs within trips takes next
    to nothing from their totals. Of the residuals of a fit, y - μ, that of a trip's total has the
    variance v - 2s'A⁻¹u + s'A⁻¹BA⁻¹s, with s and u the sums of μx and of the variance times x over
    its hauls, A and B those of μxx' and of the variance times xx' over all (to the first order).
    """
    cells = fitted.cells
    place = (
        fitted.seen.rows.frame[cells.row]
        .select("pattern")
        .with_columns(place=pl.Series(cells.pattern))
    )
    sums = (
        hauls.group_by("number", "pattern", maintain_order=True)
        .agg(pl.col("mean", "variance").sum())
        .join(place.unique("pattern"), on="pattern")
    )
    terms = cells.design[sums["place"].to_numpy()]
    trip = sums["number"].to_numpy()
    of_mean, of_variance = (sums[name].to_numpy()[:, None] * terms for name in ("mean", "variance"))
    inverse = np.linalg.pinv(terms.T @ of_mean)
    by_mean, by_variance = (
        np.stack([np.bincount(trip, column) for column in each.T], axis=1)
        for each in (of_mean, of_variance)
    )
    moved = by_mean @ inverse
    variance = np.bincount(trip, sums["variance"].to_numpy())
    taken = 2 * (moved * by_variance).sum(axis=1) - ((moved @ (terms.T @ of_variance)) * moved).sum(
        axis=1
    )
    return float((1 - taken / variance).sum())


def _by_freedom(told: pl.DataFrame, spare: float) -> float | None:
    """Pearson's statistic by its degrees of freedom; none where there are hardly any to spare."""
    beyond = (pl.col("amount") - pl.col("mean")) ** 2 / pl.col("variance")
    return float(told.select(beyond.sum()).item()) / spare if spare >= LEAST_SPARE else None
