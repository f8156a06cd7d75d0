"""The hauls that a map shows, those that lie too far off, and which are drawn as one."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from reports.haul_map.extent import Extent, extent_of, far_off, round_the_globe

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

DASHES_ACROSS = 44
"""Sound hauls with one rig that lie nearer than this part of the map's width are one dash."""


class Shown(NamedTuple):
    """The hauls on the map, with longitudes that don't jump at 180°, its edges, and the rest."""

    hauls: list[Row]
    extent: Extent
    far: list[Row]

    @property
    def in_cells(self) -> bool:
        """Whether there are so many hauls that they come counted in cells."""
        return any(row["cell_degrees"] for row in self.hauls)

    @property
    def torn_rigs(self) -> set[str]:
        """The rigs of which a damaged haul is on the map."""
        return {row["rig"] for row in self.hauls if row["damaged"]}


def shown_hauls(findings: Findings) -> Shown | None:
    """What the map shows; None where no position was recorded."""
    positions = findings.get("haul_positions")
    if not positions:
        return None
    alone = far_off(positions)
    far = [row for row, is_far in zip(positions, alone, strict=True) if is_far]
    near = [row for row, is_far in zip(positions, alone, strict=True) if not is_far]
    longitude = round_the_globe(np.array([row["longitude"] for row in near], float))
    hauls = [row | {"longitude": float(at)} for row, at in zip(near, longitude, strict=True)]
    latitude = np.array([row["latitude"] for row in near], float)
    return Shown(hauls, extent_of(latitude, longitude), far)


def in_dashes(shown: Shown) -> list[Row]:
    """The undamaged hauls of a rig that lie close by as one, in their middle.

    Damaged hauls stay as they are, so that each is seen.
    """
    cell = (shown.extent.east - shown.extent.west) / DASHES_ACROSS
    tall = (
        cell
        * (shown.extent.north - shown.extent.south)
        / ((shown.extent.east - shown.extent.west) * shown.extent.tall)
    )
    together: dict[tuple[object, ...], list[Row]] = {}
    for row in shown.hauls:
        if not row["damaged"]:
            place = row["latitude"] // tall, row["longitude"] // cell
            together.setdefault((row["rig"], row["damaged"], *place), []).append(row)
    dashes = [_one(rows) for rows in together.values()]
    return [*dashes, *(row for row in shown.hauls if row["damaged"])]


def rarest_last(rows: list[Row]) -> list[Row]:
    """The rows in the order of drawing: those of the rig with the fewest marks lie uppermost."""
    marks = Counter(row["rig"] for row in rows if row["damaged"])
    return sorted(rows, key=lambda row: -marks[row["rig"]])


def _one(rows: list[Row]) -> Row:
    hauls = sum(row["hauls"] for row in rows)
    return rows[0] | {
        "hauls": hauls,
        **{
            name: sum(row[name] * row["hauls"] for row in rows) / hauls
            for name in ("latitude", "longitude")
        },
    }
