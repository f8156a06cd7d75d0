"""The rigs that could not be held to the reference over all grounds, and which of two reasons."""

from __future__ import annotations

from typing import TYPE_CHECKING

from schemas.codes import Caution
from schemas.words import ALL_GROUNDS

if TYPE_CHECKING:
    from pipeline.findings import Findings


def rigs_apart(findings: Findings) -> tuple[list[str], list[str]]:
    """Those hardly fished side by side with it in a headline outcome, and those too seldom."""
    cautions: dict[str, set[str]] = {}
    for effect in findings["effects"]:
        if effect["ground"] == ALL_GROUNDS and effect["outcome"] in findings["season"]["headlines"]:
            cautions.setdefault(effect["rig"], set()).update(effect["cautions"])
    without = sorted(rig for rig, said in cautions.items() if Caution.NOT_SIDE_BY_SIDE in said)
    few = [rig for rig in without if Caution.FEW_SIDE_BY_SIDE in cautions[rig]]
    return [rig for rig in without if rig not in few], few
