"""How far the hauls that nobody knows of could move the findings on damage.

A ratio of two rigs is largest if the rig's unknown hauls were all damaged and the reference's all
sound, and least the other way about; the truth lies between, as far as the hauls themselves go,
whatever the reason why a note was left out. The unknown hauls of other rigs stay left out. Manski,
Partial Identification of Probability Distributions, 2003, ch. 1.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, Literal

import polars as pl

from pipeline.rates.effects import find_effects
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.rates.effects import Effect
    from pipeline.rates.looks import Judging
    from schemas.codes import Verdict

DAMAGE = "damage_events"
MOST, LEAST = "most", "least"
"""The ends of a ratio: the rig's unknown hauls damaged, the reference's sound; or contrariwise."""


@dataclass(frozen=True)
class SupposedEffect:
    """A rig against the reference over all grounds, at one end of what unknown hauls allow."""

    supposed: str
    rig: str
    reference: str
    part: str
    ratio: float | None
    low: float | None
    high: float | None
    low_together: float | None
    high_together: float | None
    verdict: Verdict


OF_EFFECT = tuple(each.name for each in fields(SupposedEffect) if each.name != "supposed")
"""What is told of a supposed effect as it stands in the effect itself."""


def suppose(
    sums: pl.DataFrame,
    unknown: pl.DataFrame,
    recorded: Sequence[Effect],
    adjust: Sequence[str],
    errors: Literal["trip", "model"],
    judging: Judging | None = None,
) -> list[SupposedEffect]:
    """The effects on damage at both ends of what the unknown hauls allow, rig by rig.

    `sums` as `find_effects` has them; `unknown` has the same columns but for outcome,
    hauls_with_some and total; `recorded` are the effects without the unknown hauls, and `judging`
    is by what they were judged. None is given where no haul is unknown.
    """
    known = sums.filter(pl.col("outcome") == DAMAGE)
    compared = {
        effect.rig: effect.reference
        for effect in recorded
        if effect.outcome == DAMAGE and effect.ground == ALL_GROUNDS and effect.low is not None
    }
    return [
        SupposedEffect(end, **{name: getattr(e, name) for name in OF_EFFECT})
        for rig, reference in compared.items()
        for end, damaged in ((LEAST, reference), (MOST, rig))
        if not unknown.is_empty()
        for e in find_effects(
            pl.concat(
                [known, counted(unknown, {rig, reference}, {damaged}, known.columns)],
                how="vertical_relaxed",
            ),
            pl.DataFrame({"rig_version": [rig, reference], "ground": ALL_GROUNDS}),
            reference,
            adjust,
            errors,
            (ALL_GROUNDS,),
            judging,
        )
    ]


def counted(
    unknown: pl.DataFrame, rigs: set[str], damaged: set[str], columns: list[str]
) -> pl.DataFrame:
    """The unknown hauls of some rigs as sums of damage: all of them, of the `damaged` rigs."""
    events = pl.when(pl.col("rig_version").is_in(damaged)).then("hauls").otherwise(0)
    return (
        unknown.filter(pl.col("rig_version").is_in(rigs))
        .with_columns(
            pl.lit(DAMAGE).alias("outcome"),
            events.alias("hauls_with_some"),
            events.cast(pl.Float64).alias("total"),
        )
        .select(columns)
    )
