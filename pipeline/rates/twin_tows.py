"""Two rigs in one tow, as a boat that tows two nets fishes them: each tow held to itself.

Ground, weather, hour, speed and boat are the same for both nets, so that nothing needs to be held
alike. Given what a tow had in all, only how its two nets shared it is looked at, as within trips
(`within_trips.py`). Tows are left out in turn for the error, or trips where there are enough; where
not, how far the two rigs differ from trip to trip is not in the interval. Where few tows had any of
what is counted, the limits are exact ones: that both nets of a tow are alike in all else makes
these wider than they need be, never narrower. Sides are held alike where that can be told
(`net_sides.py`).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from itertools import combinations
from math import exp
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
import polars as pl

from pipeline.rates.evidence import Evidence
from pipeline.rates.exact import ratio_limits
from pipeline.rates.net_sides import is_nearer_port, place_from_port, side_terms, sides_of
from pipeline.rates.poisson import CONFIDENCE, interval
from pipeline.rates.tally import Tally, raw_ratio
from pipeline.rates.within_trips import LEAST_OF_BOTH, Shared, shared_out
from schemas.codes import InTurn, NetSides, TowsWithout, Verdict
from schemas.outcomes import HEADLINES, outcome

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    from pipeline.rates.looks import Judging

    Limits = Callable[[float], tuple[float, float | None]]

LEAST_TOWS = 6
"""Of fewer tows there is no ratio (own judgement; no source)."""
TOW = ["vessel", "shot_at"]
"""Nets that a boat shot at one time were towed side by side."""
BOTH = 2


@dataclass(frozen=True)
class TwinTows:
    """What two rigs had in the tows that fished both at once.

    Of `tows`, on `trips`, as many as the next three say had some with one rig `alone`, with the
    reference alone, or with both. `low` and `high` end the 95 % interval of the ratio; `left_out`
    says by what it was found, null where the limits are exact; `sides` what was made of the nets'
    sides, and in `nearer_port` tows the rig was nearer port than the other. The verdict is by the
    limits `together`, `verdict_alone` by the 95 % interval.
    """

    outcome: str
    rig: str
    reference: str
    tows: int
    trips: int
    alone: int
    reference_alone: int
    both: int
    nearer_port: int
    sides: NetSides
    ratio: float | None = None
    low: float | None = None
    high: float | None = None
    low_together: float | None = None
    high_together: float | None = None
    left_out: InTurn | None = None
    verdict: Verdict = Verdict.TOO_LITTLE
    verdict_alone: Verdict = Verdict.TOO_LITTLE
    why_none: TowsWithout | None = None


def find_twin_tows(
    hauls: pl.DataFrame, reference: str, judging: Judging, outcomes: Sequence[str] = HEADLINES
) -> list[TwinTows]:
    """Every two rigs that were fished in one tow, by each outcome: the headlines, if left out.

    `hauls` has a row a dated haul: vessel, trip, shot_at, net_side, rig_version, tow_hours, and a
    column for each outcome, null where it was not recorded. `reference` is the rig that others are
    held against; of two others the second by name is held against the first.
    """
    nets = hauls.filter(is_beside_another_rig())
    return [
        _held(nets, pair, name, judging)
        for pair in pairs_in_one_tow(nets, reference)
        for name in outcomes
        if nets[name].is_not_null().any()
    ]


def is_beside_another_rig() -> pl.Expr:
    """Whether a net was shot at the time of another, of another rig, of its boat.

    A shot at midnight sharp is most often a day without its time.
    """
    shot = pl.col("shot_at")
    of_several = pl.col("rig_version").n_unique().over(TOW) >= BOTH
    return ((shot != shot.dt.truncate("1d")) & of_several).fill_null(value=False)


def pairs_in_one_tow(nets: pl.DataFrame, reference: str) -> list[tuple[str, str]]:
    """The rigs that shared a tow, two and two: the one held against, then the other."""
    together = nets.group_by(TOW).agg(pl.col("rig_version").unique())["rig_version"].to_list()
    found = {
        pair
        for rigs in together
        for pair in combinations(sorted(rigs, key=lambda rig: (rig != reference, rig)), BOTH)
    }
    return sorted(found, key=lambda pair: (pair[0] != reference, pair))


def _held(nets: pl.DataFrame, pair: tuple[str, str], name: str, judging: Judging) -> TwinTows:
    """The second of the two rigs held to the first, by one outcome."""
    reference, rig = pair
    shared = of_both(nets, pair, name)
    own, other = (_tally(shared.filter(rig_version=each)) for each in (rig, reference))
    some = shared.group_by(TOW).agg(
        (pl.col("total") > 0).filter(pl.col("rig_version") == each).any().alias(side)
        for each, side in ((rig, "own"), (reference, "other"))
    )
    told = TwinTows(
        name,
        rig,
        reference,
        tows=some.height,
        trips=shared.select("vessel", "trip").n_unique(),
        alone=some.filter(pl.col("own") & ~pl.col("other")).height,
        reference_alone=some.filter(pl.col("other") & ~pl.col("own")).height,
        both=some.filter(pl.col("own") & pl.col("other")).height,
        nearer_port=shared.filter(pl.col("nearer_port"), rig_version=rig).height,
        sides=sides_of(shared, rig),
    )
    once = outcome(name).counted and bool((shared["total"] <= shared["nets"]).all())
    evidence = Evidence(own, other, outcome(name).counted, once, partial(_of_one_alone, told))
    if why := _why_none(told, evidence):
        return replace(told, why_none=why)
    return _compared(told, shared, evidence, judging)


def of_both(nets: pl.DataFrame, pair: tuple[str, str], name: str) -> pl.DataFrame:
    """A row for each of the two rigs in each tow that recorded the outcome of both."""
    known = nets.filter(pl.col("rig_version").is_in(pair), pl.col(name).is_not_null())
    sums = known.group_by(*TOW, "trip", "rig_version").agg(
        pl.len().alias("nets"),
        pl.col("tow_hours").sum(),
        pl.col(name).cast(pl.Float64).sum().alias("total"),
        place_from_port().alias("place"),
    )
    of_both = pl.col("rig_version").n_unique().over(TOW) == BOTH
    return (
        sums.filter(of_both)
        .with_columns(is_nearer_port(TOW).alias("nearer_port"))
        .sort(*TOW, "rig_version")
    )


def _tally(shared: pl.DataFrame) -> Tally:
    """What the nets of one rig come to; of several of a rig in one tow, as one."""
    return Tally(
        hauls=shared.height,
        with_some=int((shared["total"] > 0).sum()),
        hours=float(shared["tow_hours"].sum()),
        total=float(shared["total"].sum()),
    )


def _why_none(told: TwinTows, evidence: Evidence) -> TowsWithout | None:
    """Why there is no ratio, where it need not be tried."""
    if told.tows < LEAST_TOWS:
        return TowsWithout.FEW_TOWS
    if not (evidence.own.with_some or evidence.other.with_some):
        return TowsWithout.NONE_SEEN
    if evidence.is_slight and not evidence.counted:
        return TowsWithout.FEW_WITH_SOME
    return None


def _compared(
    told: TwinTows, shared: pl.DataFrame, evidence: Evidence, judging: Judging
) -> TwinTows:
    """The ratio with its limits and what they say."""
    shares = partial(_shared_out, shared, told.rig, told.sides)
    found = None if evidence.is_slight else by_leaving_out(shares)
    if found is None and not evidence.counted:
        return replace(told, why_none=TowsWithout.FEW_WITH_SOME)
    if found is None and told.sides == NetSides.HELD:
        told = replace(told, sides=NetSides.CHANGED)
    ratio, limits = _by_number(evidence) if found is None else found.limits()
    says = partial(evidence.says, matters=judging.matters_of(told.outcome), exact=found is None)
    (low, high), together = limits(CONFIDENCE), limits(judging.confidence)
    return replace(
        told,
        ratio=ratio,
        low=low,
        high=high,
        low_together=together[0],
        high_together=together[1],
        left_out=found and found.left_out,
        verdict=says(*together, confidence=judging.confidence),
        verdict_alone=says(low, high),
    )


def _of_one_alone(told: TwinTows, confidence: float) -> tuple[float, float]:
    """The exact limits of how often the one net alone had some to how often the other alone had.

    Where a haul has it once at most, the ratio of rates is between this ratio and that of hauls
    with some: of tows that had some by rates m and θm the two are (exp(θm) - 1) / (exp(m) - 1) and
    (1 - exp(-θm)) / (1 - exp(-m)), either side of θ whatever m is, and so are they over tows that
    differ. Own algebra.
    """
    return ratio_limits((told.alone, 1.0), (told.reference_alone, 1.0), confidence)


class Found(NamedTuple):
    """A log ratio and its error, and what was left out for that, of so many."""

    left_out: InTurn
    log_ratio: float
    error: float
    lots: int

    def limits(self) -> tuple[float, Limits]:
        """The ratio, and its limits by how sure they are to be."""
        return exp(self.log_ratio), partial(interval, self.log_ratio, self.error, self.lots - 1.0)


def by_leaving_out(shares: Callable[[InTurn], Shared | None]) -> Found | None:
    """What is shared out with its error by tows, or that by trips where there are enough of them.

    Trips that differ make the error larger: one by few trips that is smaller is so by luck.
    """
    by_tows, by_trips = map(shares, InTurn)
    if by_tows is None or by_tows.by_trip is None or by_tows.trips < LEAST_OF_BOTH:
        return None
    if by_trips is None or by_trips.by_trip is None or by_trips.trips < LEAST_OF_BOTH:
        return Found(InTurn.TOWS, by_tows.log_ratio, by_tows.by_trip, by_tows.trips)
    error = max(by_tows.by_trip, by_trips.by_trip)
    return Found(InTurn.TRIPS, by_trips.log_ratio, error, by_trips.trips)


def _by_number(evidence: Evidence) -> tuple[float | None, Limits]:
    """The ratio of how often each had some, and its exact limits by how sure they are to be."""
    own, other = evidence.own, evidence.other
    events = (own.with_some, own.hours), (other.with_some, other.hours)

    def limits(confidence: float) -> tuple[float, float | None]:
        low, high = ratio_limits(*events, confidence)
        return low, high if other.with_some else None

    return raw_ratio(*(replace(each, total=each.with_some) for each in (own, other))), limits


def _shared_out(shared: pl.DataFrame, rig: str, sides: NetSides, left_out: InTurn) -> Shared | None:
    """How the tows were shared out between the two, leaving out trips in turn, or tows."""
    own = (shared["rig_version"] == rig).to_numpy().astype(np.float64)
    tow, trip = (numbered_by(shared, columns) for columns in (TOW, ["vessel", "trip"]))
    hours, total = shared["tow_hours"].to_numpy(), shared["total"].to_numpy()
    lots = trip if left_out == InTurn.TRIPS else tow
    return shared_out(np.column_stack([side_terms(shared, sides), own]), hours, total, tow, lots)


def numbered_by(rows: pl.DataFrame, columns: list[str]) -> NDArray[np.int64]:
    """A number from nought for what the rows have in the columns."""
    return rows.select(pl.struct(columns).rank("dense") - 1).to_series().cast(pl.Int64).to_numpy()
