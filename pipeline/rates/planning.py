"""Too little to tell: what this season could have shown, and how many hauls would show it.

A difference is shown where the whole interval of its ratio lies on its own side of 1. The chance of
that is taken from the noncentral t (Johnson, Kotz & Balakrishnan, Continuous Univariate
Distributions, vol. 2, 2nd ed. 1995, ch. 31), with the error and the freedom that the ratio had. How
many hauls are wanted follows from how much more the ratio's error was than bare chance would have
made it, which counts what trips, other factors and lopsided sharing cost; with bare chance and many
trips it is the usual sum for two Poisson rates (Breslow & Day, Statistical Methods in Cancer
Research, vol. 2, 1987, ch. 7).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, exp, log
from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import brentq
from scipy.special import nctdtr, ndtr

from pipeline.rates.behind import hauls_of_rig
from pipeline.rates.poisson import CONFIDENCE, FARTHEST, half_width
from pipeline.rates.support import LEAST_HAULS, LEAST_TRIPS
from schemas.codes import Caution
from schemas.outcomes import outcome
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from pipeline.rates.behind import RigHauls
    from pipeline.rates.effects import Effect
    from pipeline.rates.fits import Fitted
    from pipeline.rates.looks import Judging

POWER = 0.8
HALVING = 0.5
MOST_HAULS = 1e7
"""More hauls than that are never fished; own judgement."""
CERTAIN = 30.0
"""So many half-widths from 1 it is shown for certain, whatever the freedom."""

NO_RATIO, TOO_MANY = "no ratio to plan by", "more hauls than are ever fished"


@dataclass(frozen=True)
class Conditions:
    """What planning takes from the season for one rig and the reference.

    `excess` is the variance of the log ratio over that of bare chance; `per_haul` the outcome in
    a haul of the reference; `trips_per_haul` of both; `by_trips` whether errors rest on trips;
    where no haul had it more than once, `law` is of the reference's hauls, which are as unlike as
    the season's were.
    """

    excess: float
    per_haul: float
    trips_per_haul: float
    by_trips: bool
    law: RigHauls | None = None

    def reads(self, ratio: float) -> float:
        """The ratio as it is told: of hauls with some where a haul has it once at most."""
        return self.law.reads(ratio) if self.law else ratio

    def by_chance(self, ratio: float) -> float:
        """The variance by bare chance of that ratio's log from one haul of each rig."""
        if self.law:
            return self.law.variance(ratio) + self.law.variance(1.0)
        return 1 / (ratio * self.per_haul) + 1 / self.per_haul


@dataclass(frozen=True)
class Planned:
    """What the season could have shown of a rig against the reference, over all grounds.

    `lower` and `higher` are the ratios nearest to 1 that it had a chance of `power` to show, at
    the `confidence` asked of it, of hauls with some where a haul has it once at most; `could_show`
    says whether those are as near as a halving, and as what matters, of the outcome itself;
    `halving_reads` and `matters_reads` are how these two read as the outcome is told. Hauls for
    them are of each rig, and there were `trips_per_haul` of each. Where one of the two had none, or
    too few hauls to be compared, they are what bare chance would want (`by_chance`), and nothing is
    told of this season. `missing` says why a number is not given.
    """

    outcome: str
    rig: str
    reference: str
    part: str
    power: float
    confidence: float
    lower: float | None
    higher: float | None
    could_show_halving: bool
    hauls_for_halving: int | None
    matters: float
    could_show_what_matters: bool
    hauls_for_what_matters: int | None
    trips_per_haul: float | None
    halving_reads: float
    matters_reads: float
    by_chance: bool
    missing: str | None


def plan(
    effects: Sequence[Effect], judging: Judging, once: Mapping[str, Fitted] | None = None
) -> list[Planned]:
    """What the season could have shown, for each effect over all grounds that has limits.

    Also what is wanted for those seen with the reference alone, or in too few hauls. `once` has,
    by their names, the models in which no haul had the outcome more than once.
    """
    return [
        _planned(effect, judging, (once or {}).get(effect.model or ""))
        for effect in effects
        if effect.ground == ALL_GROUNDS
        and ((effect.low is not None and effect.side_by_side) or _is_left_to_chance(effect))
    ]


def _is_left_to_chance(effect: Effect) -> bool:
    """Whether nothing but the reference's rate can be planned by; of weights it tells no chance."""
    too_few = Caution.FEW_SIDE_BY_SIDE in effect.cautions
    none = effect.side_by_side and effect.low is not None
    known = outcome(effect.outcome).counted and effect.reference_total > 0
    return known and effect.std_error is None and (none or too_few)


def _planned(effect: Effect, judging: Judging, once: Fitted | None) -> Planned:
    confidence = judging.confidence if effect.p_adjusted is not None else CONFIDENCE
    matters = judging.matters_of(effect.outcome)
    lower = higher = halving = mattering = None
    shows_halving = shows_mattering = False
    missing: str | None = NO_RATIO
    by_chance = _is_left_to_chance(effect)
    seen = _seen(effect, once) if effect.std_error is not None or by_chance else None
    if seen is not None:
        halving = hauls_wanted(HALVING, seen, confidence)
        mattering = hauls_wanted(1 / matters, seen, confidence)
        missing = TOO_MANY if halving is None or mattering is None else None
    if seen is not None and effect.std_error is not None:
        freedom = np.inf if effect.freedom is None else effect.freedom
        away = smallest_shown(effect.std_error, freedom, confidence)
        lower, higher = exp(-min(away, FARTHEST)), exp(min(away, FARTHEST))
        shows_halving = lower >= seen.reads(HALVING)
        shows_mattering = lower >= seen.reads(1 / matters)
    return Planned(
        effect.outcome,
        effect.rig,
        effect.reference,
        effect.part,
        POWER,
        confidence,
        lower,
        higher,
        shows_halving,
        halving,
        matters,
        shows_mattering,
        mattering,
        trips_per_haul=seen.trips_per_haul if seen else None,
        halving_reads=seen.reads(HALVING) if seen else HALVING,
        matters_reads=seen.reads(1 / matters) if seen else 1 / matters,
        by_chance=by_chance,
        missing=missing,
    )


def _seen(effect: Effect, once: Fitted | None) -> Conditions | None:
    """What the season had: its error beside that of bare chance, its rate, its trips.

    None of yes or no where the law of such hauls can't tell the two apart.
    """
    chance = 1 / effect.rig_total + 1 / effect.reference_total if effect.std_error else 1.0
    law = None
    if once is not None:
        own, law = (hauls_of_rig(once, rig) for rig in (effect.rig, effect.reference))
        if own is None or law is None:
            return None
        chance = own.variance(1.0) / effect.rig_hauls + law.variance(1.0) / effect.reference_hauls
    excess = effect.std_error**2 / chance if effect.std_error is not None else 1.0
    hauls = effect.rig_hauls + effect.reference_hauls
    return Conditions(
        excess=excess,
        per_haul=effect.reference_total / effect.reference_hauls,
        trips_per_haul=(effect.rig_trips + effect.reference_trips) / hauls,
        by_trips=effect.freedom is not None,
        law=law,
    )


def power_to_show(away: float, freedom: float, confidence: float) -> float:
    """The chance that a ratio so many standard errors from 1 is shown to lie on its side."""
    edge = half_width(freedom, confidence)
    away = min(away, CERTAIN * edge)
    below = ndtr(edge - away) if np.isinf(freedom) else nctdtr(freedom, away, edge)
    return float(1 - below)


def smallest_shown(std_error: float, freedom: float, confidence: float) -> float:
    """The log ratio, either way, that had a chance of four in five to be shown."""
    far = half_width(freedom, confidence) + 1.0
    while power_to_show(far, freedom, confidence) < POWER:
        far *= 2
    away = brentq(lambda away: power_to_show(away, freedom, confidence) - POWER, 0.0, far)
    return float(away) * std_error


def hauls_wanted(ratio: float, seen: Conditions, confidence: float) -> int | None:
    """How many hauls of each rig have a chance of four in five to show this ratio.

    With n hauls of each, at this season's rate and trips of as many hauls, the variance of the log
    ratio is the season's excess times what bare chance makes it, and n's trips less one are the
    freedom. Never fewer hauls and trips than it takes to be compared at all; None where they are
    more than are ever fished.
    """

    def power(hauls: float) -> float:
        variance = seen.excess * seen.by_chance(ratio) / hauls
        freedom = hauls * seen.trips_per_haul - 1 if seen.by_trips else np.inf
        return power_to_show(abs(log(seen.reads(ratio))) / variance**0.5, freedom, confidence)

    enough = fewest = max(LEAST_HAULS, LEAST_TRIPS / seen.trips_per_haul)
    while power(enough) < POWER:
        enough *= 2
        if enough > MOST_HAULS:
            return None
    if enough > fewest:
        enough = float(brentq(lambda hauls: power(hauls) - POWER, enough / 2, enough))
    return ceil(enough)
