"""How a value stands in a cell of a table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.language import number, say
from reports.sentences import GROUND_NAMES

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row


def outcomes_of(findings: Findings) -> dict[str, Row]:
    """The outcomes that were recorded, by name."""
    return {outcome["name"]: outcome for outcome in findings["outcomes"]}


def short_ground(ground: str) -> str:
    """The ground without its preposition."""
    return say(GROUND_NAMES[ground]) if ground in GROUND_NAMES else ground


def ratio_cell(value: float | None) -> str:
    """A ratio to two decimals; a dash where there is none."""
    return "–" if value is None else number(value, ".2f")


def rate_cell(value: float | None) -> str:
    """A rate to three figures; a dash where there is none."""
    return "–" if value is None else number(value, ".3g")
