"""Each headline ratio again in other ways, to see whether what is said of the rig changes.

The ways: by a law that lets counts scatter more than chance; with trip as a random effect; without
the longest and the heaviest hauls; without catches so far beyond the others that they may be slips
of the pen, where there are such; only where the two rigs were fished side by side, with ground,
boat and stretch held alike; only within the trips that fished both, or the tows that fished both at
once; with the hauls that nobody knows of counted as sound, and each haul as damaged or not; and for
weights in two parts. Each has the interval of its own model, with t on the trips as the headline
has it, so that only the way differs; side by side and within trips there are fewer of them, and t
is on those. That of each haul as damaged or not is as much wider as trips made the headline's.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl

from pipeline.rates.behind import rates_behind
from pipeline.rates.cells import term
from pipeline.rates.effects import Effect, find_effects
from pipeline.rates.headline_fits import HeadlineFit, fitted_hauls, is_headline
from pipeline.rates.hurdle import LEAST_WITHOUT, hurdle_ratio, share_without
from pipeline.rates.looks import Judging
from pipeline.rates.poisson import NoFitError
from pipeline.rates.shared_scatter import ScatterFit, fit_scatter, lot_size, rows_of
from pipeline.rates.side_by_side import side_by_side_only
from pipeline.rates.unknowns import DAMAGE, counted
from pipeline.rates.ways import Way, as_told
from pipeline.rates.within_trips import of_few, within_trips
from schemas.codes import CLEAR, CONTRARY, OtherWay, Stands, Verdict, WayNote
from schemas.hauls import HAUL_KEY
from schemas.outcomes import HEADLINES, outcome
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.rates.twin_tows import TwinTows

KEPT_SHARE = 0.95
"""The longest hauls left out are those beyond this share of all, the heaviest of their rig's."""

COUNTED = [name for name in HEADLINES if outcome(name).counted]
"""The headlines that no weight goes into."""

TOLD = ("ratio", "low", "high", "low_together", "high_together", "verdict", "verdict_alone")
"""What a way tells as the headline does, under the same names."""


@dataclass(frozen=True)
class Sensitivity:
    """A headline as it is told, in other ways, and whether it stands; for `findings.json`.

    `changed_by` names the ways whose verdict is not the headline's.
    """

    outcome: str
    rig: str
    reference: str
    part: str
    ratio: float | None
    low: float | None
    high: float | None
    low_together: float | None
    high_together: float | None
    verdict: Verdict
    verdict_alone: Verdict
    stands: Stands
    changed_by: list[OtherWay]
    ways: list[Way] = field(default_factory=list)


@dataclass(frozen=True)
class OtherSums:
    """The season in other ways: sums as `find_effects` takes them, and single hauls.

    `hauls` has outcome, vessel, trip, haul, pattern, tow_hours, amount; `trimmed` are the sums
    without the longest and heaviest hauls, None where none is left out; `unknown` are the hauls of
    which nobody knows if the net was damaged, without outcome and total; `twin_tows` what two rigs
    had in the tows that fished both at once; `without_far` the sums of weights without hauls whose
    catch is far beyond the others, None where there is none.
    """

    hauls: pl.DataFrame
    trimmed: pl.DataFrame | None
    unknown: pl.DataFrame
    twin_tows: Sequence[TwinTows] = ()
    without_far: pl.DataFrame | None = None


def stand(told: Verdict, others: Sequence[Verdict]) -> Stands:
    """Whether a verdict stands, from it and those found in other ways alone.

    A clear difference `fades` where another way finds none, and `turns` where one finds the
    contrary; one that another way alone finds `appears`.
    """
    if not others:
        return Stands.NOT_TRIED
    if told not in CLEAR:
        return Stands.HOLDS if CLEAR.isdisjoint(others) else Stands.APPEARS
    if CONTRARY[told] in others:
        return Stands.TURNS
    return Stands.HOLDS if set(others) == {told} else Stands.FADES


def find_sensitivity(
    headlines: Sequence[HeadlineFit],
    sums: pl.DataFrame,
    other: OtherSums,
    fished: pl.DataFrame,
    judging: Judging | None = None,
) -> list[Sensitivity]:
    """Every headline in every way that it can be found; `fished` as for `find_effects`.

    The verdicts of all ways allow for as many headline comparisons as the headline's own does.
    """
    judging = judging or Judging()
    if not headlines:
        return []
    trimmed = _effects(headlines, other.trimmed, fished, judging)
    without_far = _effects(headlines, other.without_far, fished, judging)
    known = sums.filter(pl.col("outcome") == DAMAGE)
    rigs = set(fished["rig_version"].to_list())
    sound = (
        None
        if other.unknown.is_empty() or known.is_empty()
        else pl.concat(
            [known, counted(other.unknown, rigs, set(), known.columns)], how="vertical_relaxed"
        )
    )
    as_sound = _effects(headlines, sound, fished, judging)
    scattered = _Scattered(other.hauls, judging)
    found = []
    for headline in headlines:
        effect = headline.effect
        ways = [
            scattered.way(headline, by_trip=False),
            scattered.way(headline, by_trip=True),
            _again(OtherWay.TRIMMED, effect, trimmed, WayNote.NONE_LEFT_OUT),
            side_by_side_only(headline, judging),
            within_trips(headline, judging),
            *_within_tows(effect, other.twin_tows),
        ]
        if effect.outcome == DAMAGE:
            ways.append(_each_haul_once(headline, judging))
            ways.append(_again(OtherWay.UNKNOWN_SOUND, effect, as_sound, WayNote.NO_UNKNOWN))
        if not outcome(effect.outcome).counted:
            ways.append(_two_parts(headline, judging))
            if without_far is not None:
                ways.append(_again(OtherWay.WITHOUT_FAR, effect, without_far, WayNote.NOT_TOLD))
        found.append(_gathered(effect, ways))
    return found


def _gathered(effect: Effect, ways: list[Way]) -> Sensitivity:
    said = {way.way: way.verdict for way in ways if way.verdict is not None}
    return Sensitivity(
        effect.outcome,
        effect.rig,
        effect.reference,
        effect.part,
        effect.ratio,
        effect.low,
        effect.high,
        effect.low_together,
        effect.high_together,
        effect.verdict,
        effect.verdict_alone,
        stand(effect.verdict, list(said.values())),
        [way for way, verdict in said.items() if verdict != effect.verdict],
        ways,
    )


def _within_tows(effect: Effect, twin_tows: Sequence[TwinTows]) -> list[Way]:
    """The headline's two rigs in the tows that fished both at once, where there are such.

    Where the headline is not clear, these may be: they are told by themselves, and try nothing.
    """
    ways = [
        Way(
            OtherWay.WITHIN_TOWS,
            tows.ratio,
            tows.low,
            tows.high,
            tows.low_together,
            tows.high_together,
            tows.verdict,
            tows.verdict_alone,
        )
        for tows in twin_tows
        if (tows.outcome, tows.rig, tows.reference)
        == (effect.outcome, effect.rig, effect.reference)
        and tows.why_none is None
    ]
    if effect.verdict in CLEAR:
        return [of_few(way, effect) for way in ways]
    return [replace(way, verdict=None, note=WayNote.OF_ITS_OWN) for way in ways]


def without_the_most(hauls: pl.DataFrame) -> pl.DataFrame | None:
    """The sums by trip and pattern of all but the longest and heaviest hauls of each outcome.

    `hauls` has outcome, vessel, trip, pattern, rig_version, tow_hours, catch_kg, amount, a row a
    haul. The heaviest are those of each rig: of all together they would be those of the rig that
    catches more, and its ratio fall by that. A haul whose catch is not known counts by its hours
    alone. None where no haul is left out.
    """
    longest, heaviest = (
        pl.col(name) > pl.col(name).quantile(KEPT_SHARE).over(among)
        for name, among in (("tow_hours", ["outcome"]), ("catch_kg", ["outcome", "rig_version"]))
    )
    kept = hauls.filter(~(longest | heaviest.fill_null(value=False)))
    return None if kept.height == hauls.height else _summed(kept)


def without_far_catches(hauls: pl.DataFrame, far: pl.DataFrame) -> pl.DataFrame | None:
    """The sums of the weights of all hauls but those of `far` (vessel, trip, haul).

    `hauls` as for `without_the_most`. None where no haul is left out.
    """
    weighed = hauls.filter(~pl.col("outcome").is_in(COUNTED))
    kept = weighed.join(far, on=HAUL_KEY, how="anti")
    return None if kept.height == weighed.height else _summed(kept)


def _summed(hauls: pl.DataFrame) -> pl.DataFrame:
    return hauls.group_by("outcome", "vessel", "trip", "pattern", maintain_order=True).agg(
        pl.len().cast(pl.Int64).alias("hauls"),
        (pl.col("amount") > 0).sum().cast(pl.Int64).alias("hauls_with_some"),
        pl.col("tow_hours").sum(),
        pl.col("amount").sum().alias("total"),
    )


def _effects(
    headlines: Sequence[HeadlineFit],
    sums: pl.DataFrame | None,
    fished: pl.DataFrame,
    judging: Judging,
) -> list[Effect] | None:
    if sums is None:
        return None
    first = headlines[0].question
    errors: Literal["trip", "model"] = (
        "model" if any(each.question.errors == "model" for each in headlines) else "trip"
    )
    of_headlines = sums.filter(pl.col("outcome").is_in(HEADLINES))
    return find_effects(
        of_headlines, fished, first.reference, first.factors, errors, (ALL_GROUNDS,), judging
    )


def _again(way: OtherWay, effect: Effect, others: list[Effect] | None, none: WayNote) -> Way:
    """The effect among those of other sums; of the same part of the record."""
    if others is None:
        return Way(way, note=none)
    for each in others:
        if (each.outcome, each.rig, each.part) == (effect.outcome, effect.rig, effect.part):
            if is_headline(each):
                return Way(way, **{name: getattr(each, name) for name in TOLD})
            return Way(way, note=", ".join(each.cautions) or WayNote.NOT_TOLD)
    return Way(way, note=WayNote.NOT_TOLD)


ScatterFound = tuple[ScatterFit | None, float | None, WayNote | None]
"""The fit, the lots that weights are told in, and why there is none."""


class _Scattered:
    """The fits with more scatter than chance, each made once for all rigs that it tells of."""

    def __init__(self, hauls: pl.DataFrame, judging: Judging) -> None:
        self._hauls = hauls
        self._judging = judging
        self._made: dict[tuple[int, bool], ScatterFound] = {}

    def way(self, headline: HeadlineFit, *, by_trip: bool) -> Way:
        way = OtherWay.RANDOM_TRIPS if by_trip else OtherWay.SCATTER
        if headline.fitted is None or headline.effect.log_ratio is None:
            return Way(way, note=WayNote.ONE_HAD_NONE)
        if outcome(headline.effect.outcome).counted and headline.fitted.cells.yes_or_no:
            return Way(way, note=WayNote.ONCE_AT_MOST)
        key = (id(headline.fitted), by_trip)
        if key not in self._made:
            self._made[key] = _scatter_fit(headline, self._hauls, by_trip=by_trip)
        fit, lot, why = self._made[key]
        found = fit.effect(term("rig_version", headline.effect.rig)) if fit else None
        if fit is None or found is None:
            return Way(way, note=why or WayNote.NOT_TOLD, lot=lot)
        fell = WayNote.NO_SCATTER if fit.shape is None else None
        return as_told(
            Way(way, note=fell, shape=fit.shape, lot=lot), headline, found, self._judging
        )


def _scatter_fit(headline: HeadlineFit, hauls: pl.DataFrame, *, by_trip: bool) -> ScatterFound:
    if headline.fitted is None:
        return None, None, WayNote.NO_FIT
    cells, start = headline.fitted.cells, headline.fitted.fit.estimate
    lot = None
    if not outcome(headline.effect.outcome).counted:
        of_outcome = hauls.filter(pl.col("outcome") == headline.effect.outcome)
        placed = fitted_hauls(headline.fitted, of_outcome)
        lot = lot_size(*(placed[name].to_numpy() for name in ("amount", "mean", "number")))
        if lot is None:
            return None, None, WayNote.NO_LOTS
        start = start - np.log(lot) * (np.array(cells.terms) == "intercept")
    try:
        return fit_scatter(rows_of(cells, lot or 1.0, by_trip=by_trip), start), lot, None
    except NoFitError:
        return None, lot, WayNote.NO_FIT


def _each_haul_once(headline: HeadlineFit, judging: Judging) -> Way:
    """The ratio of rates with each haul as damaged or not, by the law of such hauls."""
    effect, fitted = headline.effect, headline.fitted
    if fitted is None or effect.log_ratio is None or effect.std_error is None:
        return Way(OtherWay.YES_OR_NO, note=WayNote.ONE_HAD_NONE)
    found = rates_behind(fitted, term("rig_version", effect.rig), effect.std_error)
    if found is None:
        return Way(
            OtherWay.YES_OR_NO, note=WayNote.NOT_TOLD if fitted.as_yes_or_no else WayNote.NO_FIT
        )
    of_rates = replace(headline.evidence, once=False)
    return as_told(Way(OtherWay.YES_OR_NO), headline, found, judging, evidence=of_rates)


def _two_parts(headline: HeadlineFit, judging: Judging) -> Way:
    effect = headline.effect
    without = share_without(headline.sums, [effect.rig, effect.reference])
    if without < LEAST_WITHOUT:
        return Way(OtherWay.TWO_PARTS, note=WayNote.FEW_WITHOUT)
    found = hurdle_ratio(headline.question, headline.sums, effect.rig)
    if not found:
        return Way(OtherWay.TWO_PARTS, note=WayNote.NOT_TOLD)
    return as_told(Way(OtherWay.TWO_PARTS), headline, found, judging)
