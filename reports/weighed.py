"""Which part of a catch its weights are of, as the report says it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.language import say
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings

TOGETHER = saying("kept and discarded together")
ALONE = {
    ("kept_kg",): saying("what was kept alone, as what was thrown back is nowhere written"),
    ("discarded_kg",): saying("what was thrown back alone, as what was kept is nowhere written"),
}


def weighed_words(findings: Findings) -> str:
    """Whether the fish that was kept and what was thrown back are both in the weights."""
    return say(ALONE.get(tuple(findings["weighed"]), TOGETHER))
