"""Rigs that were fished side by side, but not in the hauls that tell of an outcome.

Only hauls that recorded an outcome count where it is asked whether two rigs were side by side.
Where all hauls together would do, it is not more fishing in turn that is wanted, but
more of the record.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import polars as pl

from pipeline.rates.support import conditions_met, support
from schemas.codes import Caution
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.rates.effects import Effect


def with_untold_hauls(effects: Sequence[Effect], fished: pl.DataFrame) -> list[Effect]:
    """The effects, with a caution on those whose rigs were side by side but for what is untold.

    `fished` has the sums of all hauls, as `conditions_met` wants them.
    """
    return [
        replace(each, cautions=[*each.cautions, Caution.UNTOLD_SIDE_BY_SIDE])
        if not each.side_by_side and _were_side_by_side(each, fished)
        else each
        for each in effects
    ]


def _were_side_by_side(effect: Effect, fished: pl.DataFrame) -> bool:
    on_all = effect.ground == ALL_GROUNDS
    there = fished if on_all else fished.filter(pl.col("ground") == effect.ground)
    return support(conditions_met(there), effect.rig, effect.reference).side_by_side
