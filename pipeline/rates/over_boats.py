"""Do boats agree? Each boat's own ratio of two rigs, and one mean over the boats.

A ratio over all hauls treats a boat's trips as if they could have been any boat's; the mean over
boats asks what a boat like these would see. Each boat is compared with itself alone, by the same
steps as the season (`effects`), so that it must have fished both rigs side by side.

A boat with few trips is less sure of its error than the normal allows. So its error is taken as
its own 95 % interval has it: the half-width over the normal's. Own judgement; no source.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import partial
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

import numpy as np
import polars as pl

from pipeline.rates.behind import limits_behind
from pipeline.rates.cells import term
from pipeline.rates.effects import compare_rigs
from pipeline.rates.numbered import numbered
from pipeline.rates.poisson import CONFIDENCE, half_width
from pipeline.rates.pooled_mean import (
    differences,
    limits,
    means_without,
    pool_mean,
    share_beyond_chance,
    shrunken,
)
from pipeline.rates.verdict import verdict
from schemas.codes import BoatWithout, Caution, Verdict
from schemas.outcomes import HEADLINES, outcome
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.rates.behind import Behind
    from pipeline.rates.effects import Compared, Effect

TOLD = (None, BoatWithout.NONE_WITH_RIG, BoatWithout.NONE_WITH_REFERENCE)
"""With these a boat has limits of its own; with the first alone a ratio for the mean."""

BARS = (
    Caution.FEW_SIDE_BY_SIDE,
    Caution.NOT_SIDE_BY_SIDE,
    Caution.NONE_SEEN,
    Caution.SEPARATED,
    Caution.TOO_FEW_TRIPS,
    Caution.NOT_TOLD_APART,
)
BARS_OF_WEIGHTS = (Caution.FEW_WITH_SOME,)
"""What keeps a boat out of a mean; the first that holds is told."""

TOO_FEW_BOATS = "fewer than three boats with a ratio"
LEAST_BOATS = 3
"""Two boats have one difference to judge their spread by. Own judgement; no source."""

METHOD = saying(
    "mean of the boats' log ratios, each boat's error from its own interval; spread between boats "
    "by restricted maximum likelihood, interval by Knapp and Hartung and never less than the "
    "boats' errors allow"
)


@dataclass(frozen=True)
class BoatRatio:
    """One boat's own ratio of the rig to the reference, or why it has none.

    A boat that had no event with one of the two has exact limits, and no log ratio to go into a
    mean. `error_as_pooled` is the error of the log ratio in the mean, `shrunken_ratio` the boat's
    ratio drawn towards the mean, and `mean_without` the mean without the boat: null where there is
    no mean.
    """

    vessel: str
    part: str | None = None
    ratio: float | None = None
    low: float | None = None
    high: float | None = None
    log_ratio: float | None = None
    error_as_pooled: float | None = None
    adjusted_for: list[str] = field(default_factory=list)
    rig_hauls: int = 0
    rig_trips: int = 0
    reference_hauls: int = 0
    reference_trips: int = 0
    shrunken_ratio: float | None = None
    mean_without: float | None = None
    why_none: Caution | BoatWithout | None = None


@dataclass(frozen=True)
class BoatMean:
    """The mean over boats, and what a further boat might see.

    `spread` is τ² of the log ratios, `share_beyond_chance` I² as a share, `differences` Cochran's
    Q and `chance_of_as_much` its tail. `moved_most_by` is the boat whose leaving out moves the
    mean most, `without_low` to `without_high` the range of means with one boat left out.
    """

    ratio: float
    low: float
    high: float
    further_low: float
    further_high: float
    log_ratio: float
    std_error: float
    freedom: int
    spread: float
    share_beyond_chance: float
    differences: float
    chance_of_as_much: float
    without_low: float
    without_high: float
    moved_most_by: str
    verdict: Verdict


@dataclass(frozen=True)
class OverBoats:
    """A rig against the reference boat by boat, as it goes into `findings.json`.

    `why_no_mean` is for programs; pages tell of each boat why it is not in a mean.
    """

    outcome: str
    rig: str
    reference: str
    boats: list[BoatRatio]
    mean: BoatMean | None
    why_no_mean: str | None
    method: str = METHOD


def find_over_boats(
    sums: pl.DataFrame,
    fished: pl.DataFrame,
    reference: str,
    adjust: Sequence[str],
    errors: Literal["trip", "model"],
) -> list[OverBoats]:
    """Each rig against the reference over the boats, for each headline outcome, on all grounds.

    `sums` and the rest are as for `find_effects`. A season of one boat has nothing to pool: none.
    """
    boats = sums["vessel"].unique().sort().to_list()
    rigs = sorted(set(fished["rig_version"].to_list()) - {reference})
    if len(boats) < 2:
        return []
    factors = [name for name in adjust if name != "vessel"]
    found: list[OverBoats] = []
    for name in HEADLINES:
        of_outcome = sums.filter(pl.col("outcome") == name)
        if of_outcome.is_empty():
            continue
        once = outcome(name).counted and numbered(of_outcome).yes_or_no
        by_boat: list[dict[str, _Boat]] = []
        for boat in boats:
            own = of_outcome.filter(pl.col("vessel") == boat)
            used = own.select("rig_version", "ground").unique()
            compared = compare_rigs(
                own, used, reference, factors, errors, (ALL_GROUNDS,), with_models=False
            )
            by_boat.append({rig: _of_boat(boat, rig, reference, own, compared) for rig in rigs})
        found += [
            _over(name, rig, reference, [of[rig] for of in by_boat], once=once) for rig in rigs
        ]
    return found


class _Boat(NamedTuple):
    """A boat's ratio, and the limits of that of the rates behind, where it is of yes or no."""

    ratio: BoatRatio
    behind: Behind | None = None


def _of_boat(boat: str, rig: str, reference: str, own: pl.DataFrame, compared: Compared) -> _Boat:
    """The boat's ratio, of its whole record or of the part in which it fished both."""
    of_rig = [effect for effect in compared.effects if effect.rig == rig]
    told = [effect for effect in of_rig if _why_none(effect) in TOLD]
    why_none: Caution | BoatWithout | None = _not_fished(rig, reference, own)
    if why_none is None:
        effect = (told or of_rig)[-1]
        why_none = _why_none(effect)
    if why_none not in TOLD:
        return _Boat(BoatRatio(boat, **_counts(own, rig, reference), why_none=why_none))
    ratio = BoatRatio(
        boat,
        effect.part,
        effect.ratio,
        effect.low,
        effect.high,
        adjusted_for=effect.adjusted_for,
        rig_hauls=effect.rig_hauls,
        rig_trips=effect.rig_trips,
        reference_hauls=effect.reference_hauls,
        reference_trips=effect.reference_trips,
        why_none=why_none,
    )
    if not effect.ratio or effect.high is None:
        return _Boat(ratio)
    error = float(np.log(effect.high / effect.ratio)) / half_width(np.inf)
    fitted = None if effect.model is None else compared.fitted[effect.model]
    name = term("rig_version", rig)
    return _Boat(
        replace(ratio, log_ratio=effect.log_ratio, error_as_pooled=error),
        limits_behind(fitted, name, effect.std_error, effect.freedom),
    )


def _counts(own: pl.DataFrame, rig: str, reference: str) -> dict[str, Any]:
    """Hauls and trips of either rig, of all that the boat fished."""
    return {
        f"{who}_{what}": int(number)
        for who, name in (("rig", rig), ("reference", reference))
        for of in [own.filter(pl.col("rig_version") == name)]
        for what, number in (("hauls", of["hauls"].sum()), ("trips", of["trip"].n_unique()))
    }


def _not_fished(rig: str, reference: str, own: pl.DataFrame) -> BoatWithout | None:
    """Which of the two the boat did not fish, as far as the outcome was recorded."""
    if own.is_empty():
        return BoatWithout.NOT_RECORDED
    has_rig, has_reference = (name in own["rig_version"] for name in (rig, reference))
    if has_rig and has_reference:
        return None
    if has_reference:
        return BoatWithout.RIG_NOT_FISHED
    return BoatWithout.REFERENCE_NOT_FISHED if has_rig else BoatWithout.NEITHER_FISHED


def _why_none(effect: Effect) -> Caution | BoatWithout | None:
    """Why the effect does not go into a mean; None where it does.

    Few events do not bar a boat, as to leave it out for them would be to choose by the answer:
    its error says how little it knows. Of weights a few hauls tell no error.
    """
    untold = BARS if outcome(effect.outcome).counted else (*BARS, *BARS_OF_WEIGHTS)
    why = next((caution for caution in untold if caution in effect.cautions), None)
    if why != Caution.NONE_SEEN:
        return why
    if effect.ratio == 0:
        return BoatWithout.NONE_WITH_RIG
    return BoatWithout.NONE_WITH_REFERENCE if effect.low else Caution.NONE_SEEN


def _over(name: str, rig: str, reference: str, each: list[_Boat], *, once: bool) -> OverBoats:
    """The boats' ratios with their mean, where there are enough of them.

    `once` is whether no haul had more than one.
    """
    boats = [boat.ratio for boat in each]
    told = [boat for boat in boats if boat.log_ratio is not None]
    if len(told) < LEAST_BOATS:
        return OverBoats(name, rig, reference, boats, None, TOO_FEW_BOATS)
    y = np.array([boat.log_ratio for boat in told], dtype=float)
    variance = np.array([boat.error_as_pooled for boat in told], dtype=float) ** 2
    pooled = pool_mean(y, variance)
    mean, std_error = float(pooled.estimate[0]), pooled.std_error(0)
    low, high = np.exp(limits(mean, std_error, pooled.freedom))
    further_low, further_high = np.exp(limits(mean, std_error, pooled.freedom, pooled.spread))
    drawn = np.exp(shrunken(y, variance, mean, pooled.spread))
    without = means_without(y, variance)
    q, chance = differences(y, variance)
    of_boat = {
        boat.vessel: replace(
            boat, shrunken_ratio=float(drawn[at]), mean_without=float(np.exp(without[at]))
        )
        for at, boat in enumerate(told)
    }
    found = BoatMean(
        ratio=float(np.exp(mean)),
        low=float(low),
        high=float(high),
        further_low=float(further_low),
        further_high=float(further_high),
        log_ratio=mean,
        std_error=std_error,
        freedom=pooled.freedom,
        spread=pooled.spread,
        share_beyond_chance=share_beyond_chance(pooled.spread, variance),
        differences=q,
        chance_of_as_much=chance,
        without_low=float(np.exp(without.min())),
        without_high=float(np.exp(without.max())),
        moved_most_by=told[int(np.abs(without - mean).argmax())].vessel,
        verdict=verdict(
            float(low),
            float(high),
            can_tell=True,
            matters=outcome(name).matters,
            behind=partial(_mean_behind, each) if once else None,
        ),
    )
    boats = [of_boat.get(boat.vessel, boat) for boat in boats]
    return OverBoats(name, rig, reference, boats, found, None)


def _mean_behind(boats: Sequence[_Boat]) -> tuple[float, float] | None:
    """The limits of the mean of the boats' ratios of rates; None where a boat's can't be told."""
    limited = [
        boat.behind and boat.behind(CONFIDENCE)
        for boat in boats
        if boat.ratio.log_ratio is not None
    ]
    told = [np.log(each) for each in limited if each is not None]
    if len(told) < len(limited):
        return None
    low, high = np.array(told).T
    pooled = pool_mean((low + high) / 2, ((high - low) / 2 / half_width(np.inf)) ** 2)
    least, most = np.exp(limits(float(pooled.estimate[0]), pooled.std_error(0), pooled.freedom))
    return float(least), float(most)
