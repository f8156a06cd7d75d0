"""Rigs that were fished one after the other, once and for all: time is in what sets them apart.

Two rigs of one boat, ground and quarter count as side by side though the one may have been put
away before the other was rigged. Whatever changed with the weeks is then laid to the rig, and no
model can tell the two apart. Where a boat went back, or another changed the other way about, it
can.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any, ClassVar, Protocol, TypeVar

import polars as pl

from pipeline.rates.spells import IN_TIME, TRY_HAULS
from schemas.codes import Caution

if TYPE_CHECKING:
    from collections.abc import Sequence


class OfTwoRigs(Protocol):
    """What was found of a rig held to a reference, as a dataclass."""

    __dataclass_fields__: ClassVar[dict[str, Any]]

    @property
    def rig(self) -> str:
        """The rig."""
        ...

    @property
    def reference(self) -> str:
        """What it was held to."""
        ...

    @property
    def cautions(self) -> list[Caution]:
        """What it is to be taken with."""
        ...


Held = TypeVar("Held", bound=OfTwoRigs)


def marked(found: Sequence[Held], hauls: pl.DataFrame) -> list[Held]:
    """What was found of rigs, that of rigs fished one after the other with that caution.

    `hauls` has a row a dated haul: vessel, trip, haul, shot_at, rig_version.
    """
    in_time = hauls.sort(IN_TIME)
    pairs = {(each.rig, each.reference) for each in found}
    after = {pair for pair in pairs if were_one_after_other(in_time, *pair)}
    return [_with_caution(each) if (each.rig, each.reference) in after else each for each in found]


def _with_caution(each: Held) -> Held:
    if Caution.NOT_SIDE_BY_SIDE in each.cautions:
        return each
    return replace(each, cautions=[*each.cautions, Caution.ONE_AFTER_OTHER])


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
