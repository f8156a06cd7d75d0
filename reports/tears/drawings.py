"""The net of each rig that is drawn, in one scale of shades for all of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.net_drawing.legend import legend
from reports.net_drawing.shades import shades_of
from reports.net_drawing.views import from_above, from_below
from reports.net_drawing.words import PartRate
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.findings import Findings
    from reports.parts import Row

MOST_DRAWN = 12
"""So many rigs are drawn, those fished longest; the others are told in the table."""


def net_drawings(findings: Findings) -> dict[str, list[str]]:
    """For each rig that is drawn its net from above, from below, and the key, as SVG."""
    damage = findings.get("damage")
    if not damage or not any(part["hauls"] for part in damage["parts"]):
        return {}
    parts = {rig["rig"]: parts_of(damage, rig["rig"]) for rig in drawn_rigs(damage)}
    shades = shades_of((part["per_100_h"], part["hauls"]) for of in parts.values() for part in of)
    return {
        rig: [
            from_above(rig, _rates(torn), shades),
            from_below(rig, _rates(torn), shades),
            legend(rig, shades),
        ]
        for rig, torn in parts.items()
    }


def fished_rigs(damage: Row) -> list[Row]:
    """The rigs over all grounds, those fished longest first."""
    rigs = [row for row in damage["fished"] if row["rig"] is not None]
    return sorted(rigs, key=lambda row: (-row["tow_hours"], row["rig"]))


def drawn_rigs(damage: Row) -> list[Row]:
    """Those of them that are drawn."""
    return fished_rigs(damage)[:MOST_DRAWN]


def parts_of(damage: Row, rig: str) -> list[Row]:
    """The parts with one rig over all grounds."""
    return [
        part for part in damage["parts"] if part["rig"] == rig and part["ground"] == ALL_GROUNDS
    ]


def _rates(parts: Sequence[Row]) -> dict[str, PartRate]:
    return {
        part["part"]: PartRate(
            part["per_100_h"], part["port_per_100_h"], part["starboard_per_100_h"]
        )
        for part in parts
    }
