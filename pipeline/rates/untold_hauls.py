"""Rigs that were fished side by side, but not in the hauls that tell of an outcome.

Only hauls that recorded an outcome count where it is asked whether two rigs were side by side.
Where all hauls together would do, it is not more fishing in turn that is wanted, but
more of the record.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import polars as pl

from pipeline.rates.support import conditions_met, support
from schemas.codes import Caution
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.rates.effects import Effect
    from pipeline.rates.support import Conditions


def with_untold_hauls(effects: Sequence[Effect], fished: pl.DataFrame) -> list[Effect]:
    """The effects, with a caution on those whose rigs were side by side but for what is untold.

    `fished` has the sums of all hauls, as `conditions_met` wants them.
    """

    @cache
    def met_on(ground: str) -> Conditions:
        there = fished if ground == ALL_GROUNDS else fished.filter(pl.col("ground") == ground)
        return conditions_met(there)

    def were_side_by_side(effect: Effect) -> bool:
        return support(met_on(effect.ground), effect.rig, effect.reference).side_by_side

    return [
        replace(each, cautions=[*each.cautions, Caution.UNTOLD_SIDE_BY_SIDE])
        if not each.side_by_side and were_side_by_side(each)
        else each
        for each in effects
    ]
