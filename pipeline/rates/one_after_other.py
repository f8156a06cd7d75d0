"""Rigs that were fished one after the other, once and for all: time is in what sets them apart.

Two rigs of one boat, ground and quarter count as side by side though the one may have been put
away before the other was rigged. Whatever changed with the weeks is then laid to the rig, and no
model can tell the two apart. Where a boat went back, or another changed the other way about, it
can.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import polars as pl

from pipeline.rates.spells import IN_TIME, TRY_HAULS
from schemas.codes import Caution

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.rates.effects import Effect


def marked(effects: Sequence[Effect], hauls: pl.DataFrame) -> list[Effect]:
    """The effects, those of rigs that were fished one after the other with that caution.

    `hauls` has a row a dated haul: vessel, trip, haul, shot_at, rig_version.
    """
    in_time = hauls.sort(IN_TIME)
    pairs = {(effect.rig, effect.reference) for effect in effects}
    after = {pair for pair in pairs if were_one_after_other(in_time, *pair)}
    return [
        replace(effect, cautions=[*effect.cautions, Caution.ONE_AFTER_OTHER])
        if (effect.rig, effect.reference) in after and effect.side_by_side
        else effect
        for effect in effects
    ]


def were_one_after_other(hauls: pl.DataFrame, rig: str, reference: str) -> bool:
    """Whether all boats that fished both changed once, and all the same way; tries are passed over.

    `hauls` are in the order of time, boat by boat.
    """
    of_one = pl.struct("vessel", "rig_version").rle_id().alias("spell")
    spells = (
        hauls.filter(pl.col("rig_version").is_in([rig, reference]))
        .group_by("vessel", "rig_version", of_one, maintain_order=True)
        .agg(pl.len().alias("hauls"))
        .filter(pl.col("hauls") >= TRY_HAULS)
        .unique(of_one, maintain_order=True)
    )
    turns = spells.group_by("vessel").agg("rig_version")["rig_version"].to_list()
    ways = {tuple(rigs) for rigs in turns if len(set(rigs)) > 1}
    return ways in ({(rig, reference)}, {(reference, rig)})
