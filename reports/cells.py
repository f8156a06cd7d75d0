"""How a value stands in a cell of a table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.sentences import GROUND_WORDS

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row


def outcomes_of(findings: Findings) -> dict[str, Row]:
    """The outcomes that were recorded, by name."""
    return {outcome["name"]: outcome for outcome in findings["outcomes"]}


def short_ground(ground: str) -> str:
    """The ground without its preposition."""
    return GROUND_WORDS.get(ground, ground).removeprefix("on ")


def ratio_cell(value: float | None) -> str:
    """A ratio to two decimals; a dash where there is none."""
    return "–" if value is None else f"{value:.2f}"


def rate_cell(value: float | None) -> str:
    """A rate to three figures; a dash where there is none."""
    return "–" if value is None else f"{value:.3g}"
