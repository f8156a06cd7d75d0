"""Damage that a log tells as yes or no: what ratios of hauls with damage hide of tears."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.rates.planning import HALVING
from pipeline.rates.verdict import as_hauls
from reports.language import say
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings

DAMAGE = "damage_events"
MUCH = 0.55
"""A halving that reads as this or more is worth a word. Own judgement; no source."""

DRAWN_TOGETHER = saying(
    "The log says of a haul only whether the net was damaged, and {percent:.0f} % of "
    "{reference}'s hauls had damage: tears half as often would read as {reads:.2f} times."
)


def share_damaged(findings: Findings) -> float | None:
    """The share of the reference's hauls with damage, where no haul has it twice; else None."""
    models = findings["diagnostics"]["models"]
    if not any(m["outcome"] == DAMAGE and m["yes_or_no"] for m in models):
        return None
    of_reference = (DAMAGE, ALL_GROUNDS, findings["season"]["reference_rig"])
    shares = [
        rate["total"] / rate["hauls"]
        for rate in findings["rates"]
        if (rate["outcome"], rate["ground"], rate["rig"]) == of_reference and rate["total"]
    ]
    return shares[0] if shares else None


def halving_reads(share: float) -> float:
    """How a halving of tears reads as a ratio of hauls with damage, hauls being alike."""
    return as_hauls(HALVING, share)


def drawn_together(findings: Findings) -> list[str]:
    """That ratios of damage are drawn towards 1, where they are much."""
    share = share_damaged(findings)
    if share is None or (reads := halving_reads(share)) < MUCH:
        return []
    reference = findings["season"]["reference_rig"]
    return [say(DRAWN_TOGETHER, percent=100 * share, reference=reference, reads=reads)]
