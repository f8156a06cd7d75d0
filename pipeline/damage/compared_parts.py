"""Each rig's torn parts set against the reference's, where the two can be compared.

They can where the two were fished side by side (`pipeline.rates.support`), and where by the same
rule, tears in place of hours, their tears were on the same grounds and boats: at least half of
either's, and of each five in three trips. A rig that was so only in a part of the record is left
out. Which part is compared is settled by both rigs' tears together, which tells nothing of how
they differ; Holm's rule allows for all that are.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl

from pipeline.damage.against_reference import AgainstReference, TearsByTrip, against_reference
from pipeline.rates.support import Conditions, conditions_met, support
from schemas.words import ALL_GROUNDS, UNKNOWN_CONDITIONS

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from numpy.typing import NDArray

    from pipeline.damage.found import TornPart

LEAST_COMPARED = 5
"""A part is compared where so many of the two rigs' tears name it (own judgement)."""

BEYOND_CHANCE = 0.05
"""A difference stands out if chance, with the many looks allowed for, makes it this rarely."""


@dataclass(frozen=True)
class _Pair:
    """The tears of a rig and the reference, by row, with the conditions of each."""

    rig: str
    reference: str
    row: NDArray[np.int64]
    met: Conditions

    def against(
        self, rows: Collection[int], errors: Literal["trip", "model"]
    ) -> AgainstReference | None:
        """The two compared in a part that those rows name; None where too few of them do."""
        named = np.isin(self.row, list(rows))
        own, other = (self._by_trip(name, named) for name in (self.rig, self.reference))
        both = (own.told.sum(axis=1) > 0) & (other.told.sum(axis=1) > 0)
        if own.named[both].sum() + other.named[both].sum() < LEAST_COMPARED:
            return None
        return against_reference(own, other, errors)

    def _by_trip(self, name: str, named: NDArray[np.bool_]) -> TearsByTrip:
        met = self.met
        own = (met.rig == met.rigs[name]) & met.alike[met.condition]
        shape = len(met.alike), 1 + int(met.trip.max())
        counts = np.zeros((2, *shape))
        for count, rows in zip(counts, (own & named, own), strict=True):
            np.add.at(count, (met.condition[rows], met.trip[rows]), 1.0)
        return TearsByTrip(*counts)


def rigs_side_by_side(sums: pl.DataFrame, reference: str) -> list[str]:
    """The rigs that were fished side by side with the reference over the whole record.

    `sums` are of hauls of which damage is known, as for `conditions_met`.
    """
    met = conditions_met(sums)
    others = [rig for rig in met.rigs if rig != reference]
    return [rig for rig in others if support(met, rig, reference).side_by_side]


def compare_parts(
    torn: Sequence[TornPart],
    tears: pl.DataFrame,
    side_by_side: Collection[str],
    reference: str,
    errors: Literal["trip", "model"],
) -> tuple[list[TornPart], list[str]]:
    """The parts with those of each rig set against the reference's, and the rigs that can't be.

    `tears` are the damaged hauls that name a part: row, rig_version, ground, vessel and trip.
    Rigs without a tear of which the place is told are in neither.
    """
    rigs = sorted(set(tears["rig_version"].to_list()) - {reference})
    pairs = {
        rig: pair
        for rig in rigs
        if rig in side_by_side and (pair := _pair(tears, rig, reference)) is not None
    }
    rows_of = {
        part.part: part.rows for part in torn if part.rig is None and part.ground == ALL_GROUNDS
    }
    compared = [
        replace(part, against=pairs[part.rig].against(rows_of[part.part], errors))
        if part.rig in pairs
        else part
        for part in torn
    ]
    return _allowed_for_many(compared), [rig for rig in rigs if rig not in pairs]


def _pair(tears: pl.DataFrame, rig: str, reference: str) -> _Pair | None:
    """The tears of the two; None where too few were on the same ground and boat."""
    own = tears.filter(pl.col("rig_version").is_in([rig, reference])).with_columns(
        hauls=pl.lit(1), tow_hours=pl.lit(1.0), stretch=pl.lit(UNKNOWN_CONDITIONS["stretch"])
    )
    met = conditions_met(own)
    if not support(met, rig, reference).side_by_side:
        return None
    return _Pair(rig, reference, own["row"].to_numpy(), met)


def _allowed_for_many(parts: list[TornPart]) -> list[TornPart]:
    """The parts with the chance of each comparison raised for how many there are (Holm 1979)."""
    chances = [part.against.chance for part in parts if part.against is not None]
    if not chances:
        return parts
    raised = iter(raised_for_many(chances))
    return [
        part if part.against is None else _marked(part, part.against, next(raised))
        for part in parts
    ]


def raised_for_many(chances: list[float]) -> list[float]:
    """Chances of comparisons made together, each raised by Holm's rule (1979)."""
    order = np.argsort(chances)
    still_held = np.arange(len(chances), 0, -1)
    raised = np.empty(len(chances))
    raised[order] = np.maximum.accumulate(still_held * np.take(chances, order)).clip(max=1.0)
    return raised.tolist()


def _marked(part: TornPart, against: AgainstReference, chance: float) -> TornPart:
    way = "more" if against.ratio is None or against.ratio > 1 else "less"
    out = way if chance < BEYOND_CHANCE else None
    return replace(part, chance_of_many=chance, stands_out=out)
