"""Volumes of discs, wheels and bobbins with a bore, solid or hollow, in dm³ from mm.

Sources: solid geometry. A ball drilled through its middle keeps π h³/6, where h is the length of
the hole; stretched along the hole by w / D it is a bobbin of width w. That a bobbin is such a
rounded body, between a ball and a barrel, is common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt
from typing import Literal

from pipeline.rigs.weight.materials import SEA_WATER_T_PER_M3

MM3_PER_DM3 = 1_000_000

Shape = Literal["cylinder", "bobbin"]


@dataclass(frozen=True)
class Solid:
    """A body on an axle, in mm: a cylinder (disc, wheel, spacer) or a rounded bobbin.

    Raises `ValueError` if the bore leaves nothing of it, or a size is not positive.
    """

    shape: Shape
    diameter_mm: float
    width_mm: float
    bore_mm: float = 0.0

    def __post_init__(self) -> None:
        """See that there is something left round the bore."""
        if not 0 <= self.bore_mm < self.diameter_mm or self.width_mm <= 0:
            message = (
                f"no body is {self.diameter_mm:g} mm across and {self.width_mm:g} mm wide "
                f"with a bore of {self.bore_mm:g} mm"
            )
            raise ValueError(message)

    @property
    def volume_dm3(self) -> float:
        """Volume of a solid one, without the bore."""
        round_bore_mm2 = self.diameter_mm**2 - self.bore_mm**2
        if self.shape == "cylinder":
            return pi / 4 * round_bore_mm2 * self.width_mm / MM3_PER_DM3
        stretched = self.width_mm / self.diameter_mm
        return pi / 6 * sqrt(round_bore_mm2) ** 3 * stretched / MM3_PER_DM3

    def shell_dm3(self, wall_mm: float) -> float:
        """Volume of the wall of a hollow one, the tube round its bore included.

        A wall too thick to leave a hollow gives the solid.
        """
        return self.volume_dm3 - self._hollow_dm3(wall_mm)

    def _hollow_dm3(self, wall_mm: float) -> float:
        both = 2 * wall_mm
        tube_mm = self.bore_mm + both if self.bore_mm > 0 else 0.0
        across, wide = self.diameter_mm - both, self.width_mm - both
        if wide <= 0 or across <= tube_mm:
            return 0.0
        return Solid(self.shape, across, wide, tube_mm).volume_dm3


def sealed_share(mass_kg: float, solid: Solid) -> float:
    """Share of its weight that a hollow body keeps in sea water if no water gets in.

    It displaces its whole volume: 1 − ρw V / m. One that floods keeps its material's share.
    """
    return 1 - SEA_WATER_T_PER_M3 * solid.volume_dm3 / mass_kg
