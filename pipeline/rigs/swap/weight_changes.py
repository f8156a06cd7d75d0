"""How the weight of each section and of the whole changes from one rig to another, and how surely.

Errors as `rig_weights` has them within one rig: pieces of one kind, material and diameter share
the error of their mass, and parts of one material with one kept share the error of that share.
From rig to rig they share it too, so that what both have drops out and a rule that is wrong is
wrong for both; but pieces whose masses differ were weighed or worked out twice, and share none.
The sums of shared errors add as squares.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from math import hypot, isclose
from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.rigs.weight.parts import BY_LENGTH
from pipeline.rigs.weight.rig_weights import SIDES, WHOLE

if TYPE_CHECKING:
    from collections.abc import Sequence

Row = dict[str, Any]
Times = tuple[int, Row]
"""A row, and how often it is there."""

WEIGHED_ALIKE_KG = 0.05
"""Weights that differ by no more are the same: they are shown to 0.1 kg."""

SURE_SDS = 1.96
"""So many standard deviations either way hold the true value 19 times in 20."""

SAME_PIECE_WITHIN = 0.01
"""Masses of one piece that differ by less are one mass, rounded (own judgement, no source)."""


@dataclass(frozen=True)
class WeightChange:
    """Of one side of a section, or of the whole; None is not known.

    Weights are in sea water, masses in air. `from_at_least` and `to_at_least` say which of the
    two could not be weighed wholly and weighs at least what is said; a change is not known then.
    """

    section: str
    sides: int | None
    weight_from_kg: float | None
    weight_to_kg: float | None
    weight_change_kg: float | None
    weight_change_sd_kg: float | None
    weight_from_kg_per_m: float | None
    weight_to_kg_per_m: float | None
    mass_from_kg: float | None
    mass_to_kg: float | None
    mass_change_kg: float | None
    from_at_least: bool
    to_at_least: bool

    @property
    def known(self) -> bool:
        """Whether both were weighed wholly."""
        return self.weight_change_kg is not None

    @property
    def exceeds_its_error(self) -> bool:
        """Whether it is known, and larger than its own standard deviation."""
        return self.exceeds(1.0)

    def exceeds(self, sds: float) -> bool:
        """Whether the change in water is known, and larger than so many standard deviations."""
        least_kg = max(WEIGHED_ALIKE_KG, sds * (self.weight_change_sd_kg or 0.0))
        return abs(self.weight_change_kg or 0.0) > least_kg

    @property
    def surely_in_water_kg(self) -> float:
        """What it surely weighs more in water, below 0 less; 0 if neither is known."""
        return self._surely(self.weight_from_kg, self.weight_to_kg)

    @property
    def surely_in_air_kg(self) -> float:
        """What it surely weighs more in air, below 0 less; 0 if neither is known."""
        return self._surely(self.mass_from_kg, self.mass_to_kg)

    def _surely(self, before: float | None, after: float | None) -> float:
        """What could not be weighed is taken to weigh something, in water too."""
        more = difference(before, after) or 0.0
        unsure = self.from_at_least if more > 0 else self.to_at_least
        return 0.0 if unsure else more


def weight_changes(
    from_rig: str, to_rig: str, rig_weights: pl.DataFrame, part_weights: pl.DataFrame | None
) -> tuple[WeightChange, ...]:
    """The change of each section that either rig has, and last of the whole.

    The tables are those of `RIG_WEIGHTS_SCHEMA` and `PART_WEIGHTS_SCHEMA`. Without the parts
    nobody knows what both rigs have in common, and their errors are taken to be independent.
    """
    before, after = (_by_section(rig_weights, rig) for rig in (from_rig, to_rig))
    changes = []
    for section in (*SIDES, WHOLE):
        old, new = before.get(section), after.get(section)
        if section == WHOLE or old or new:
            sd_kg = _change_sd_kg(section, from_rig, to_rig, (old, new), part_weights)
            changes.append(_change(section, old or {}, new or {}, sd_kg))
    return tuple(changes)


def change_error_kg(old: Sequence[Times], new: Sequence[Times]) -> float:
    """One standard deviation of the weight in water of the new parts less the old ones'.

    Each row of `PART_WEIGHTS_SCHEMA` comes with how often it is there. Rows that could not be
    weighed count for nothing.
    """
    errors = []
    old_pieces, new_pieces = _errors_by_piece(old), _errors_by_piece(new)
    for piece in old_pieces | new_pieces:
        before_kg, one_before_kg = old_pieces.get(piece, (0.0, 0.0))
        after_kg, one_after_kg = new_pieces.get(piece, (0.0, 0.0))
        same = isclose(one_before_kg, one_after_kg, rel_tol=SAME_PIECE_WITHIN)
        errors += [after_kg - before_kg] if same else [before_kg, after_kg]
    old_shares, new_shares = _errors_by_share(old), _errors_by_share(new)
    for share in old_shares | new_shares:
        errors.append(new_shares.get(share, 0.0) - old_shares.get(share, 0.0))
    return hypot(*errors)


def _errors_by_piece(parts: Sequence[Times]) -> dict[object, tuple[float, float]]:
    """By kind, material and diameter the error from the mass, and the mass of one in kg.

    That of one metre, for chain, wire and rope.
    """
    error_kg: dict[object, float] = defaultdict(float)
    mass_kg: dict[object, float] = defaultdict(float)
    count: dict[object, float] = defaultdict(float)
    for times, part in _weighed(parts):
        piece = part["kind"], part["material"], part["diameter_mm"]
        along_m = part["length_m"] if part["kind"] in BY_LENGTH else None
        error_kg[piece] += times * part["mass_sd_kg"] * part["share_kept"]
        mass_kg[piece] += times * part["mass_air_kg"]
        count[piece] += times * part["pieces"] * (along_m or 1)
    return {piece: (error_kg[piece], mass_kg[piece] / (count[piece] or 1)) for piece in count}


def _errors_by_share(parts: Sequence[Times]) -> dict[object, float]:
    """By material and kept share the error from that share."""
    error_kg: dict[object, float] = defaultdict(float)
    for times, part in _weighed(parts):
        error_kg[part["material"], part["share_kept"]] += (
            times * part["mass_air_kg"] * part["share_sd"]
        )
    return error_kg


def _weighed(parts: Sequence[Times]) -> list[Times]:
    return [(times, part) for times, part in parts if part["weight_water_kg"] is not None]


def _by_section(rig_weights: pl.DataFrame, rig: str) -> dict[str, Row]:
    rows = rig_weights.filter(pl.col("rig_version") == rig).to_dicts()
    return {row["section"]: row for row in rows}


def _change_sd_kg(
    section: str,
    from_rig: str,
    to_rig: str,
    weighed: tuple[Row | None, Row | None],
    part_weights: pl.DataFrame | None,
) -> float | None:
    old, new = weighed
    if not old or not new:
        return None
    if from_rig == to_rig:
        return 0.0
    if part_weights is None:
        return hypot(old["weight_sd_kg"], new["weight_sd_kg"])
    return change_error_kg(
        _parts_in(section, from_rig, part_weights), _parts_in(section, to_rig, part_weights)
    )


def _parts_in(section: str, rig: str, part_weights: pl.DataFrame) -> list[Times]:
    """The rig's parts in one side of a section; in the whole, as often as it has each."""
    parts = part_weights.filter(pl.col("rig_version") == rig).to_dicts()
    if section == WHOLE:
        return [(SIDES[part["section"]], part) for part in parts]
    return [(1, part) for part in parts if part["section"] == section]


def _change(section: str, old: Row, new: Row, sd_kg: float | None) -> WeightChange:
    weight_from, weight_to = old.get("weight_water_kg"), new.get("weight_water_kg")
    mass_from, mass_to = old.get("mass_air_kg"), new.get("mass_air_kg")
    from_at_least, to_at_least = (bool(row.get("at_least", True)) for row in (old, new))
    wholly = not from_at_least and not to_at_least
    return WeightChange(
        section=section,
        sides=SIDES.get(section),
        weight_from_kg=weight_from,
        weight_to_kg=weight_to,
        weight_change_kg=difference(weight_from, weight_to) if wholly else None,
        weight_change_sd_kg=sd_kg if wholly else None,
        weight_from_kg_per_m=old.get("weight_water_kg_per_m"),
        weight_to_kg_per_m=new.get("weight_water_kg_per_m"),
        mass_from_kg=mass_from,
        mass_to_kg=mass_to,
        mass_change_kg=difference(mass_from, mass_to) if wholly else None,
        from_at_least=from_at_least,
        to_at_least=to_at_least,
    )


def difference(before: float | None, after: float | None) -> float | None:
    """What it has become more by, or None if one of the two is not known."""
    return None if before is None or after is None else after - before
