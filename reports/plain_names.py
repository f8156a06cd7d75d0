"""Rigs and boats whose names are bare numbers, told as what they are.

"64 caught less than 129" reads as fish; "rig 64" does not. Only the pages say so: the files beside
them hold the names as they stand in the record.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from reports.language import say
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pipeline.findings import Findings

BARE_NUMBER = re.compile(r"\d+(?:[.,/-]\d+)*")
RIG, BOAT = saying("rig {number}"), saying("boat {number}")
OF_A_RIG = {
    "rig",
    "rig_version",
    "reference",
    "reference_rig",
    "rig_before",
    "rig_after",
    "changed_from",
}
OF_A_BOAT = {"vessel", "vessels"}
"""What findings call a rig or a boat; a number in another cell means another thing."""
BY_RIG = {"left_out"}
"""What is told by rig, its name before it."""


def plainly_named(findings: Findings) -> Findings:
    """The findings with "rig 64" for a rig called 64, and "boat 23" for a boat called 23."""
    rigs = _told(RIG, [rig["rig_version"] for rig in findings["rigs"]])
    vessels = findings["season"].get("vessels", [])
    boats = _told(BOAT, vessels)
    if not rigs and not boats:
        return findings
    return {name: _with_names(part, name, rigs, boats) for name, part in findings.items()}


def _told(words: str, names: list[str]) -> dict[str, str]:
    """What each name that is a bare number is called."""
    return {name: say(words, number=name) for name in names if BARE_NUMBER.fullmatch(name)}


def _with_names(
    value: object,
    key: str,
    rigs: Mapping[str, str],
    boats: Mapping[str, str],
) -> object:
    """What stands under a key, with the names in it told."""
    if isinstance(value, dict):
        of_a_boat = {"group"} if value.get("by") == "vessel" else set()
        return {
            (rigs.get(name, name) if key in BY_RIG else name): _with_names(
                each, "vessel" if name in of_a_boat else name, rigs, boats
            )
            for name, each in value.items()
        }
    if isinstance(value, list):
        return [_with_names(each, key, rigs, boats) for each in value]
    if not isinstance(value, str):
        return value
    if key in OF_A_RIG:
        return rigs.get(value, value)
    return boats.get(value, value) if key in OF_A_BOAT else value
