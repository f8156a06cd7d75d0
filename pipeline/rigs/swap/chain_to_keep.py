"""How much chain keeps the weight in water what it was, when another rig weighs more or less.

Chain is reckoned in DIN 766, short link, in steel. Where it goes, along the fishing line or the
gear, is the skipper's choice: these are amounts.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from pipeline.rigs.swap.weight_changes import SURE_SDS, WEIGHED_ALIKE_KG
from pipeline.rigs.weight.chains import TABLES, TableChain, links_per_m
from pipeline.rigs.weight.materials import MATERIALS

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pipeline.rigs.swap.carried_chain import CarriedChain
    from pipeline.rigs.swap.weight_changes import WeightChange

Direction = Literal["add", "take off", "nothing", "unknown"]

USUAL_WIRE_MM = 13.0
"""The chain to reckon with where the rig carries none (common practice, no source)."""

CHAINS = TABLES["DIN 766"]


@dataclass(frozen=True)
class ChainAmount:
    """Chain for one side of a section, or for the whole: metres, and the whole number of links.

    `least_m` and `most_m` hold the true amount 19 times in 20; None if that is not known. A least
    of 0 says that none may be needed, or some the other way.
    """

    section: str
    sides: int | None
    direction: Direction
    metres: float
    least_m: float | None
    most_m: float | None
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
    the size that the new rig carries already (`carried`), else the usual one. The new rig's
    `spare_m` and `spare_kg` of chain, kg in sea water, are all that could come off; `gear_m` is
    the length of its gear, None if that is not known.
    """

    direction: Direction
    usual_mm: float
    carried: bool
    sizes: tuple[ChainSize, ...]
    spare_m: float
    spare_kg: float
    gear_m: float | None

    @property
    def usual_place(self) -> int:
        """Where the usual size stands among `sizes`, which must not be empty."""
        return [size.wire_mm for size in self.sizes].index(self.usual_mm)

    @property
    def usual(self) -> ChainSize:
        """What it takes in the usual size, where it takes any."""
        return self.sizes[self.usual_place]

    @property
    def neighbours(self) -> tuple[ChainSize, ...]:
        """The next smaller and the next larger size, where there are such."""
        at = self.usual_place
        return self.sizes[max(0, at - 1) : at] + self.sizes[at + 1 : at + 2]

    @property
    def can_come_off(self) -> Literal["none", "some", "all"]:
        """How much of the weight that is too much could come off in chain that is spare."""
        if self.spare_m == 0:
            return "none"
        wanted_kg = self.usual.amounts[-1].metres * self.usual.kg_per_m_in_water
        return "all" if self.spare_kg >= wanted_kg - WEIGHED_ALIKE_KG else "some"


def chain_to_keep(
    changes: Iterable[WeightChange], carried: CarriedChain, gear_m: float | None
) -> ChainToKeep:
    """The chain that takes back these changes in weight, the last of which is the whole's.

    `carried` is the chain of the new rig, `gear_m` the length of its gear.
    """
    *_, whole = listed = tuple(changes)
    direction: Direction = _direction(whole.weight_change_kg or 0.0)
    carried_mm = carried.most_mm
    if direction == "take off" and carried.spare_mm is not None:
        carried_mm = carried.spare_mm
    wanted_mm = USUAL_WIRE_MM if carried_mm is None else carried_mm
    nearest = min(CHAINS, key=lambda chain: abs(chain.link.wire_mm - wanted_mm))
    if not whole.known:
        direction = "unknown"
    elif not whole.exceeds_its_error:
        direction = "nothing"
    settled = direction in {"nothing", "unknown"}
    return ChainToKeep(
        direction=direction,
        usual_mm=float(nearest.link.wire_mm),
        carried=carried_mm is not None,
        sizes=() if settled else tuple(_size(chain, listed) for chain in CHAINS),
        spare_m=carried.spare_m,
        spare_kg=carried.spare_kg,
        gear_m=gear_m,
    )


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
    sd_kg = change.weight_change_sd_kg
    half_m = None if sd_kg is None else SURE_SDS * sd_kg / kg_per_m
    return ChainAmount(
        section=change.section,
        sides=change.sides,
        direction=_direction(change_kg),
        metres=metres,
        least_m=None if half_m is None else max(0.0, metres - half_m),
        most_m=None if half_m is None else metres + half_m,
        links=round(metres * links_per_m(chain.link)),
        mass_air_kg=metres * chain.kg_per_m,
    )
