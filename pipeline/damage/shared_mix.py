"""The fishing over which two rigs are told in money: the reference's, where the rig was as well.

A rig that never fished the rocks is not told over them. The conditions are those at the head of
`pipeline/rates/support.py`: same ground, same boat, same stretch of the record, met by both rigs in
every outcome. The hours that the reference was towed there make up the mix, so that what is told
is what the other rig would have done in them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import polars as pl

from schemas.words import CONDITIONS, UNKNOWN_CONDITIONS

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pipeline.damage.money_fits import MoneyFit

RIG = "rig_version"

LEAST_COVERED = 0.1
"""Less than this share of the reference's hours is not told of.

A rig on trial is told over what it was tried on, and the report says how much of the reference's
fishing that is; of less than a tenth a few of the reference's trips decide, and hardly anything of
its fishing is answered. This project's own judgement; no source.
"""


@dataclass(frozen=True)
class Mix:
    """Conditions and the `share` of the hours in each, and how many hours these are of how many."""

    shares: pl.DataFrame
    hours: float
    reference_hours: float

    @property
    def covers(self) -> float:
        """The share of the reference's hours that the mix is made of."""
        return self.hours / self.reference_hours if self.reference_hours else 0.0


def shared_mix(
    sums: Mapping[str, pl.DataFrame], fit: MoneyFit, rig: str, reference: str
) -> Mix | None:
    """The mix of two rigs; None where it is less of the reference's fishing than the bound.

    Each table of `sums` has rig_version, ground, vessel, stretch, tow_hours and the fit's factors.
    """
    names = list(fit.factors) or ["ground"]
    own = next(iter(sums.values())).filter(pl.col(RIG) == reference)
    there = own
    for part in sums.values():
        for name in (rig, reference):
            met = part.filter((pl.col(RIG) == name) & _known(part))
            there = there.join(met, on=CONDITIONS, how="semi", maintain_order="left")
    for model in fit.models.values():
        there = there.join(model.met, on=names, how="semi", maintain_order="left")
    hours = float(there["tow_hours"].sum())
    mix = there.group_by(names).agg(pl.col("tow_hours").sum() / hours).sort(names)
    found = Mix(mix.rename({"tow_hours": "share"}), hours, float(own["tow_hours"].sum()))
    return found if found.covers >= LEAST_COVERED else None


def _known(sums: pl.DataFrame) -> pl.Expr:
    """Whether a condition is known; what nobody recorded at all is taken to be alike."""
    known = pl.lit(value=True)
    for column, word in UNKNOWN_CONDITIONS.items():
        if (sums[column] != word).any():
            known &= pl.col(column) != word
    return known
