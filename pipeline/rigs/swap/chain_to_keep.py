"""How much chain keeps the weight in water what it was, when another rig weighs more or less.

Chain is reckoned in DIN 766, short link, in steel. Where it goes, along the fishing line or the
gear, is the skipper's choice: these are amounts.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import polars as pl

from pipeline.rigs.swap.weight_changes import WEIGHED_ALIKE_KG
from pipeline.rigs.weight.chains import TABLES, TableChain, links_per_m
from pipeline.rigs.weight.materials import MATERIALS
from pipeline.rigs.weight.rig_weights import SIDES

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pipeline.rigs.swap.weight_changes import WeightChange

Direction = Literal["add", "take off", "nothing", "unknown"]

USUAL_WIRE_MM = 13.0
"""The chain to reckon with where the rig carries none (common practice, no source)."""

CHAINS = TABLES["DIN 766"]


@dataclass(frozen=True)
class ChainAmount:
    """Chain for one side of a section, or for the whole: metres, and the whole number of links."""

    section: str
    sides: int | None
    direction: Direction
    metres: float
    links: int
    mass_air_kg: float


@dataclass(frozen=True)
class ChainSize:
    """What it takes in chain of one size; the last amount is that of the whole."""

    wire_mm: float
    pitch_mm: float
    kg_per_m_in_water: float
    amounts: tuple[ChainAmount, ...]


@dataclass(frozen=True)
class ChainToKeep:
    """The chain that makes up for a change in weight, in every size of the table.

    `direction` is that of the whole: nothing if the change does not exceed its own standard
    deviation, unknown if a rig could not be weighed wholly; `sizes` is empty then. `usual_mm` is
    the size that the new rig carries already (`carried`), else the usual one.
    """

    direction: Direction
    usual_mm: float
    carried: bool
    sizes: tuple[ChainSize, ...]


def chain_to_keep(changes: Iterable[WeightChange], carried_mm: float | None) -> ChainToKeep:
    """The chain that takes back these changes in weight, the last of which is the whole's.

    `carried_mm` is the wire of the chain that the new rig carries, if it carries any.
    """
    *_, whole = listed = tuple(changes)
    wanted_mm = USUAL_WIRE_MM if carried_mm is None else carried_mm
    nearest = min(CHAINS, key=lambda chain: abs(chain.link.wire_mm - wanted_mm))
    direction: Direction = _direction(whole.weight_change_kg or 0.0)
    if not whole.known:
        direction = "unknown"
    elif not whole.exceeds_its_error:
        direction = "nothing"
    settled = direction in {"nothing", "unknown"}
    sizes = () if settled else tuple(_size(chain, listed) for chain in CHAINS)
    return ChainToKeep(direction, float(nearest.link.wire_mm), carried_mm is not None, sizes)


def wire_it_carries_mm(rig: str, part_weights: pl.DataFrame | None) -> float | None:
    """The wire of the chain that the rig has most of by mass, or None if it has none.

    `part_weights` has the columns of `PART_WEIGHTS_SCHEMA`.
    """
    if part_weights is None:
        return None
    chains = part_weights.filter(
        pl.col("rig_version") == rig,
        pl.col("kind") == "chain",
        pl.col("diameter_mm").is_not_null(),
    )
    both_sides = pl.col("mass_air_kg") * pl.col("section").replace_strict(
        SIDES, return_dtype=pl.Int64
    )
    most = chains.group_by("diameter_mm").agg(both_sides.sum()).sort("mass_air_kg", "diameter_mm")
    return None if most.is_empty() else float(most["diameter_mm"][-1])


def _direction(change_kg: float) -> Direction:
    if abs(change_kg) <= WEIGHED_ALIKE_KG:
        return "nothing"
    return "take off" if change_kg > 0 else "add"


def _size(chain: TableChain, changes: Iterable[WeightChange]) -> ChainSize:
    kg_per_m = chain.kg_per_m * MATERIALS["steel"].share_kept
    amounts = (
        _amount(chain, kg_per_m, change)
        for change in changes
        if change.weight_change_kg is not None
    )
    return ChainSize(chain.link.wire_mm, chain.link.pitch_mm, kg_per_m, tuple(amounts))


def _amount(chain: TableChain, kg_per_m: float, change: WeightChange) -> ChainAmount:
    change_kg = change.weight_change_kg or 0.0
    metres = abs(change_kg) / kg_per_m
    return ChainAmount(
        section=change.section,
        sides=change.sides,
        direction=_direction(change_kg),
        metres=metres,
        links=round(metres * links_per_m(chain.link)),
        mass_air_kg=metres * chain.kg_per_m,
    )
