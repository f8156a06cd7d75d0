"""A headline found in another way, and what is told of it: ratio, limits, verdicts."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from pipeline.rates.poisson import interval

if TYPE_CHECKING:
    from pipeline.rates.evidence import Evidence
    from pipeline.rates.headline_fits import HeadlineFit
    from pipeline.rates.looks import Judging
    from schemas.codes import OtherWay, Verdict


@dataclass(frozen=True)
class Way:
    """A headline's ratio found in another way; `note` says why it has none, or what it fell to.

    The verdict is by the limits `together`, `verdict_alone` by the 95 % interval. `shape` is that
    of the factor which rows or trips share, `lot` the kilos that count as one.
    """

    way: OtherWay
    ratio: float | None = None
    low: float | None = None
    high: float | None = None
    low_together: float | None = None
    high_together: float | None = None
    verdict: Verdict | None = None
    verdict_alone: Verdict | None = None
    note: str | None = None
    shape: float | None = None
    lot: float | None = None


def as_told(
    way: Way,
    headline: HeadlineFit,
    found: tuple[float, float],
    judging: Judging,
    *,
    freedom: float | None = None,
    evidence: Evidence | None = None,
) -> Way:
    """The way with its ratio, its 95 % interval, and its verdict among all the headlines.

    `freedom` is that of t, and `evidence` what the way was seen by, where they are not the
    headline's.
    """
    says = partial(
        (evidence or headline.evidence).says, matters=judging.matters_of(headline.effect.outcome)
    )
    freedom = headline.freedom if freedom is None else freedom
    alone = interval(*found, freedom)
    together = interval(*found, freedom, judging.confidence)
    return replace(
        way,
        ratio=float(np.exp(found[0])),
        low=alone[0],
        high=alone[1],
        low_together=together[0],
        high_together=together[1],
        verdict=says(*together, confidence=judging.confidence),
        verdict_alone=says(*alone),
    )
