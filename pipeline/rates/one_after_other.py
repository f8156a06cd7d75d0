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
    """Whether all boats that fished both changed once, and all the same way.

    A few hauls on the other side of the change are a try, and so is a rig of a few hauls. `hauls`
    are in the order of time, boat by boat.
    """
    of_rig = pl.col("rig_version") == rig
    hauls_of = {rig: of_rig.cum_sum(), reference: (~of_rig).cum_sum()}
    by_boat = (
        hauls.filter(pl.col("rig_version").is_in([rig, reference]))
        .group_by("vessel")
        .agg(
            pl.min_horizontal(of_rig.sum(), (~of_rig).sum()).alias("fewer"),
            _hauls_astray(hauls_of[rig], hauls_of[reference]).alias("from the reference"),
            _hauls_astray(hauls_of[reference], hauls_of[rig]).alias("from the rig"),
        )
        .filter(pl.col("fewer") >= TRY_HAULS)
    )
    ways = by_boat.select("from the reference", "from the rig") < TRY_HAULS
    return not by_boat.is_empty() and any(way.all() for way in ways)


def _hauls_astray(later: pl.Expr, earlier: pl.Expr) -> pl.Expr:
    """Of a boat, the hauls that lie on the wrong side of a change, wherever it is best put.

    Both are how many hauls of a rig there have been: those of the `later` one before the change,
    and those of the `earlier` one after it.
    """
    return (later + earlier.last() - earlier).min()
