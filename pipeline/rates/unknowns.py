"""How the findings on damage move if the hauls that nobody knows of were all damaged, or none.

The truth lies between the two, as far as the hauls themselves go: bounds without a guess at why a
note was left out. Manski, Partial Identification of Probability Distributions, 2003, ch. 1.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import polars as pl

from pipeline.rates.effects import find_effects
from pipeline.rates.rate_table import ALL_GROUNDS

if TYPE_CHECKING:
    from collections.abc import Sequence

DAMAGE = "damage_events"
SUPPOSED = {"damaged": 1, "sound": 0}
"""What the unknown hauls may be taken for, and the damage of each then."""


@dataclass(frozen=True)
class SupposedEffect:
    """A rig against the reference over all grounds, if the unknown hauls were all the one."""

    supposed: str
    rig: str
    reference: str
    part: str
    ratio: float | None
    low: float | None
    high: float | None
    verdict: str


def suppose(
    sums: pl.DataFrame,
    unknown: pl.DataFrame,
    fished: pl.DataFrame,
    reference: str,
    adjust: Sequence[str],
    errors: Literal["trip", "model"],
) -> list[SupposedEffect]:
    """The effects on damage with the unknown hauls taken for damaged, and for sound.

    `sums` as `find_effects` has them; `unknown` has the same columns but for outcome,
    hauls_with_some and total. None is given where no haul is unknown or damage was not recorded.
    """
    known = sums.filter(pl.col("outcome") == DAMAGE)
    if unknown.is_empty() or known.is_empty():
        return []
    told = []
    for supposed, events in SUPPOSED.items():
        counted = unknown.with_columns(
            pl.lit(DAMAGE).alias("outcome"),
            (pl.col("hauls") * events).alias("hauls_with_some"),
            (pl.col("hauls") * events).cast(pl.Float64).alias("total"),
        )
        whole = pl.concat([known, counted.select(known.columns)], how="vertical_relaxed")
        told += [
            SupposedEffect(supposed, e.rig, e.reference, e.part, e.ratio, e.low, e.high, e.verdict)
            for e in find_effects(whole, fished, reference, adjust, errors, (ALL_GROUNDS,))
        ]
    return told
