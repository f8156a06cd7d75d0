"""Rigs against the reference on a mix of grounds: rates standardised directly to that mix.

A rig that makes much of a difference on stones and none on sand makes another over a season of
much sand. So each rig has a rate of its own on each ground, adjusted for the other conditions, and
the rates are put together by the mix: the hours of the season on each ground, or what the season
names. With nothing to adjust for, that is direct standardisation as it is taught; it is also what
the model foretells of the two rigs' hauls, had all been fished with the one rig, on the mix.

Where either of the two was hardly fished on a ground, the rest of the mix is taken alone, and the
answer says so. It must be four fifths of the mix: then what is said can't be cut by more than a
fifth, if the rig makes no difference on the ground left out and the reference does there as on
the rest. That bound is this project's own judgement; no source.

Errors are those of `chosen_errors.py`, along the slope of the log ratio (the delta method). The mix
is taken as known. A rig that had none on a ground has the rate 0 there, which alone would add
nothing to the error; of events the variance of one event is added.

Sources: Fleiss, Levin & Paik, Statistical Methods for Rates and Proportions, 3rd ed. 2003, ch. 19
(direct standardisation; from memory); Fay & Feuer, Statistics in Medicine 16 (1997) 791 (one event
more where there are few; from memory).
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import partial
from itertools import chain
from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np
import polars as pl

from pipeline.rates.cell_fits import CELL, CellFit, cell_name
from pipeline.rates.cells import lay_out
from pipeline.rates.chosen_errors import choose_along
from pipeline.rates.evidence import LEAST_WITH_SOME
from pipeline.rates.fits import levels_with_some, with_terms
from pipeline.rates.limits import limits_of_fit
from pipeline.rates.numbered import by_outcome
from pipeline.rates.poisson import NARROWEST, WIDEST, NoFitError, fit_rates
from pipeline.rates.support import LEAST_HAULS, LEAST_TRIPS, to_compare
from pipeline.rates.verdict import verdict
from schemas.codes import Verdict
from schemas.outcomes import outcome
from schemas.words import ALL_GROUNDS, UNKNOWN_GROUND, WHOLE_RECORD, saying

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from numpy.typing import NDArray

    from pipeline.rates.effects import Effect
    from pipeline.rates.looks import Judging
    from pipeline.rates.numbered import Codes, Sums

OF_THE_SEASON = saying("of the season")
NAMED = saying("named by the season")

LEAST_OF_THE_MIX = 0.8
NOT_SIDE_BY_SIDE = saying("not side by side over the whole record")
LITTLE_SHARED = saying("too little of the mix was fished with both")
NONE_SEEN = saying("none recorded with one of them on these grounds")
NOT_TOLD = saying("too few trips, or not to be told from the other conditions")


@dataclass(frozen=True)
class OnTheMix:
    """One rig against the reference on a mix of grounds, as it goes into `findings.json`.

    `mix` is whose it is, `weights` the share of each ground in it. `grounds` are those that it was
    standardised over, `share` their part of the mix, `missing` the others. `rate` and
    `reference_rate` are per hour towed, under the conditions that both rigs met. `none_on` are the
    grounds on which one of the two had none. `reason` says why there is no ratio.
    """

    outcome: str
    rig: str
    reference: str
    mix: str
    weights: dict[str, float]
    grounds: list[str]
    missing: list[str]
    share: float
    rate: float | None = None
    reference_rate: float | None = None
    ratio: float | None = None
    low: float | None = None
    high: float | None = None
    log_ratio: float | None = None
    std_error: float | None = None
    freedom: float | None = None
    p_value: float | None = None
    errors: str | None = None
    errors_reason: str | None = None
    adjusted_for: list[str] = field(default_factory=list)
    none_on: list[str] = field(default_factory=list)
    verdict: Verdict = Verdict.TOO_LITTLE
    reason: str | None = None


def mixes_of(fished: pl.DataFrame, named: Mapping[str, float]) -> dict[str, dict[str, float]]:
    """The season's mix of grounds by hours towed, and the one that it names; shares that add to 1.

    `fished` has ground and tow_hours. Hours on ground that was not recorded are in no mix, and with
    fewer than two grounds the season has none.
    """
    hours = (
        fished.filter(pl.col("ground") != UNKNOWN_GROUND)
        .group_by("ground")
        .agg(pl.col("tow_hours").sum())
        .sort("ground")
    )
    mixes = {OF_THE_SEASON: dict(hours.iter_rows()), NAMED: named} if hours.height > 1 else {}
    return {name: _shares(mix) for name, mix in mixes.items() if mix}


def _shares(mix: Mapping[str, float]) -> dict[str, float]:
    whole = sum(mix.values())
    return {ground: part / whole for ground, part in sorted(mix.items()) if part > 0}


def find_on_the_mix(
    sums: pl.DataFrame | Mapping[str, Sums],
    effects: Sequence[Effect],
    adjust: Sequence[str],
    errors: Literal["trip", "model"],
    mixes: Mapping[str, Mapping[str, float]],
    judging: Judging,
) -> list[OnTheMix]:
    """Every rig against the reference on each mix, for every outcome.

    `sums` are those of `compare_rigs`, `effects` what came of it. A rig that was not side by side
    with the reference over the whole record has a reason in place of a ratio.
    """
    compared = [e for e in effects if e.ground == ALL_GROUNDS and e.part == WHOLE_RECORD and mixes]
    of_outcomes = by_outcome(sums)
    by_name: dict[str, list[Effect]] = {}
    for effect in compared:
        by_name.setdefault(effect.outcome, []).append(effect)

    def told(name: str) -> list[OnTheMix]:
        reference = by_name[name][0].reference
        of_outcome = to_compare(of_outcomes[name], reference)
        ladder = _Ladder(
            name,
            reference,
            of_outcome,
            [factor for factor in adjust if factor != "ground"],
            errors if outcome(name).counted else "trip",
            _met(of_outcome),
        )
        return [
            _on_the_mix(ladder, effect, whose, mix, judging)
            for effect in by_name[name]
            for whose, mix in mixes.items()
        ]

    return list(chain.from_iterable(map(told, by_name)))


class _Met(NamedTuple):
    """What one rig's hauls on one ground come to."""

    hauls: float = 0.0
    trips: int = 0
    with_some: float = 0.0
    hours: float = 0.0
    total: float = 0.0

    @property
    def enough(self) -> bool:
        """Whether it was fished there often enough to be held side by side."""
        return self.hauls >= LEAST_HAULS and self.trips >= LEAST_TRIPS


def _met(sums: Sums) -> dict[str, _Met]:
    """By rig and ground together, what its hauls there come to."""
    cell, rows = sums.codes(CELL), sums.rows
    trips = rows.once("trips of cells", lambda: _trips_of(cell, rows.trips))
    hauls, some, hours, total = (
        np.bincount(cell.codes, each, len(cell.words)).tolist()
        for each in (rows.hauls, sums.with_some, rows.hours, sums.total)
    )
    return dict(zip(cell.words, map(_Met, hauls, trips, some, hours, total), strict=True))


def _trips_of(cell: Codes, trip: NDArray[np.int64]) -> list[int]:
    """How many trips each cell was fished on."""
    marked = np.zeros((len(cell.words), int(trip.max(initial=-1)) + 1), dtype=bool)
    marked[cell.codes, trip] = True
    return [int(each) for each in marked.sum(axis=1)]


@dataclass(frozen=True)
class _Ladder:
    """The fits of an outcome, from all factors down to none; what each rig met on each ground."""

    outcome: str
    reference: str
    sums: Sums
    factors: list[str]
    errors: Literal["trip", "model"]
    met: dict[str, _Met]
    made: dict[int, CellFit | None] = field(default_factory=dict)

    def fits(self) -> Iterator[CellFit]:
        """Each fit that there is; the last named factor is given up first."""
        for many in range(len(self.factors), -1, -1):
            if many not in self.made:
                self.made[many] = self._fit(self.factors[:many])
            fitted = self.made[many]
            if fitted is not None:
                yield fitted

    def _fit(self, factors: list[str]) -> CellFit | None:
        seen = levels_with_some(self.sums, [CELL, *factors])
        own = seen.only("rig_version", [self.reference]).codes(CELL).words
        if not own:
            return None
        base = max(own, key=lambda cell: (self.met[cell].total, cell))
        telling = [name for name in factors if len(seen.codes(name).words) > 1]
        try:
            cells = lay_out(seen, CELL, base, telling)
            fit = fit_rates(cells, self.errors)
        except NoFitError:
            return None
        of_row = seen.rows.taken(cells.row).codes(CELL)
        held = with_terms(telling, seen, cells)
        return CellFit(fit, held, cells, seen, base=base, of_row=of_row)


def _on_the_mix(
    ladder: _Ladder, effect: Effect, whose: str, mix: Mapping[str, float], judging: Judging
) -> OnTheMix:
    pair = (effect.rig, effect.reference)
    met = {
        (rig, ground): ladder.met.get(cell_name(rig, ground), _Met())
        for rig in pair
        for ground in mix
    }
    grounds = [ground for ground in mix if all(met[rig, ground].enough for rig in pair)]
    share = sum(mix[ground] for ground in grounds)
    told = OnTheMix(
        outcome=effect.outcome,
        rig=effect.rig,
        reference=effect.reference,
        mix=whose,
        weights=dict(mix),
        grounds=grounds,
        missing=[ground for ground in mix if ground not in grounds],
        share=share,
    )
    if not effect.side_by_side:
        return replace(told, reason=NOT_SIDE_BY_SIDE)
    if share < LEAST_OF_THE_MIX:
        return replace(told, reason=LITTLE_SHARED)
    if any(sum(met[rig, ground].total for ground in grounds) <= 0 for rig in pair):
        return replace(told, reason=NONE_SEEN)
    for fitted in ladder.fits():
        found = _from_fit(fitted, told, ladder, effect, judging)
        if found is not None:
            return found
    return replace(told, reason=NOT_TOLD)


def _from_fit(
    fitted: CellFit, told: OnTheMix, ladder: _Ladder, effect: Effect, judging: Judging
) -> OnTheMix | None:
    """The answer of a fit; None where it can't tell all of the rates that it takes."""
    pair = (told.rig, told.reference)
    met = {
        (rig, ground): ladder.met[cell_name(rig, ground)] for rig in pair for ground in told.grounds
    }
    some = {cell_name(*cell) for cell, own in met.items() if own.total > 0}
    if not all(fitted.tells(cell) for cell in some):
        return None
    elsewhere = fitted.elsewhere(sorted(some))
    counted = outcome(told.outcome).counted
    weights = [
        {cell_name(rig, g): told.weights[g] / told.share for g in told.grounds if met[rig, g].total}
        for rig in pair
    ]
    mixed = fitted.mixed(weights, fitted.fit.estimate)
    rates = [elsewhere * rate for rate in mixed.rates]
    none_there = [cell for cell, own in met.items() if own.total <= 0 and counted]
    more_variance = sum(
        (told.weights[ground] / told.share / met[rig, ground].hours / rates[pair.index(rig)]) ** 2
        for rig, ground in none_there
    )
    found = choose_along(
        fitted.fit,
        mixed.log_ratio,
        mixed.direction,
        asked=ladder.errors,
        counted=counted,
        fewest_trips=min(effect.rig_trips, effect.reference_trips),
        more_variance=more_variance,
    )
    if not NARROWEST < found.std_error < WIDEST:
        return None
    freedom = np.inf if found.freedom is None else found.freedom
    limits = limits_of_fit(found.log_ratio, found.std_error, freedom, None)
    often = min(sum(met[rig, g].with_some for g in told.grounds) for rig in pair)
    return replace(
        told,
        rate=rates[0],
        reference_rate=rates[1],
        **limits.alone,
        p_value=limits.p_value,
        errors=found.errors,
        errors_reason=found.reason,
        adjusted_for=list(fitted.factors),
        none_on=[g for g in told.grounds if any(met[rig, g].total <= 0 for rig in pair)],
        verdict=verdict(
            limits.low,
            limits.high,
            can_tell=often >= LEAST_WITH_SOME,
            matters=judging.matters_of(told.outcome),
            behind=partial(fitted.behind, weights, found, more_variance)
            if counted and ladder.sums.yes_or_no
            else None,
        ),
    )
