"""Damage that a log tells as yes or no: what ratios of hauls with damage hide of tears."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from reports.cells import over_all_grounds
from reports.language import say
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings

DAMAGE = "damage_events"
MUCH = 0.55
"""A halving that reads as this or more is worth a word. Own judgement; no source."""

DRAWN_TOGETHER = saying(
    "The log says of a haul only whether the net was damaged, and {percent:.0f} % of "
    "{reference}'s hauls had damage: tears half as often would read as {reads:.2f} times."
)


class OfReference(NamedTuple):
    """The share of the reference's hauls with damage; how half as many tears would read there."""

    share: float
    halving_reads: float


def of_reference(findings: Findings) -> OfReference | None:
    """What yes or no makes of the reference's damage, where no haul has it twice; else None."""
    reads = [
        model["halving_reads"]
        for model in findings["diagnostics"]["models"]
        if model["outcome"] == DAMAGE and model["yes_or_no"] and model["halving_reads"]
    ]
    if not reads:
        return None
    shares = [
        rate["total"] / rate["hauls"]
        for rate in over_all_grounds(findings["rates"], DAMAGE)
        if rate["rig"] == findings["season"]["reference_rig"] and rate["total"]
    ]
    return OfReference(shares[0], reads[0]) if shares else None


def drawn_together(findings: Findings) -> list[str]:
    """That ratios of damage are drawn towards 1, where they are much."""
    found = of_reference(findings)
    if found is None or found.halving_reads < MUCH:
        return []
    reference = findings["season"]["reference_rig"]
    percent, reads = 100 * found.share, found.halving_reads
    return [say(DRAWN_TOGETHER, percent=percent, reference=reference, reads=reads)]
