"""What runs through the middle of a ground gear and is measured against its traveller."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reports.language import say
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Mapping

STRANDS = {
    "chain": saying("ground chain"),
    "wire": saying("wire"),
    "rope": saying("rope"),
}
THE_STRANDS = {
    "chain": saying("the ground chain"),
    "wire": saying("the wire"),
    "rope": saying("the rope"),
}


def strand(rig: Mapping[str, Any]) -> str:
    """What it is called: a ground chain, unless the rig's parts say that it is wire or rope."""
    return say(STRANDS[_kind(rig)])


def the_strand(rig: Mapping[str, Any]) -> str:
    """The same with its article."""
    return say(THE_STRANDS[_kind(rig)])


def _kind(rig: Mapping[str, Any]) -> str:
    """The kind of which most runs along the gear; where two are as long, the chain."""
    metres = dict.fromkeys(STRANDS, 0.0)
    for part in rig["parts"]:
        if part["kind"] in metres:
            metres[part["kind"]] += part["length_m"] or 0.0
    return max(metres, key=lambda kind: metres[kind])
