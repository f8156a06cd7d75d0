"""The section "How far this stands": all headline comparisons, by themselves and together."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import outcomes_of, ratio_cell
from reports.parts import Row, Section, Table
from reports.sentences import is_clear_alone, is_told, listed
from reports.standing.sentences import looks_words

if TYPE_CHECKING:
    from pipeline.findings import Findings

HOW = (
    "Each headline comparison is given an equal part of the one chance in twenty (Bonferroni), "
    "which holds however they hang together, and gives intervals that agree with the verdicts. "
    "p is of no difference, from t with the freedom shown beside it, or exact where one of the two "
    "had none."
)
WHOLE = (
    "The whole model behind a figure, term by term, is in findings.json under standing, models, "
    "and is printed by 'rigseason report SEASON --show-model damage_events'."
)
SMALLEST_P = 0.001


def how_far_this_stands(findings: Findings) -> Section | None:
    """The section; None where there is no headline comparison."""
    outcomes = outcomes_of(findings)
    effects = [e for e in findings["effects"] if e["p_adjusted"] is not None and is_told(e)]
    if not effects:
        return None
    only = [e for e in effects if is_clear_alone(e)]
    said = [looks_words(findings)]
    if only:
        named = [f"{e['rig']} in {outcomes[e['outcome']]['title'].lower()}" for e in only]
        said.append(
            f"Clear by itself and not among all of them: {listed(named)}. It may well be so; to "
            "be sure of it takes more hauls, or a season fished to settle that one question."
        )
    return Section(
        "how-far-this-stands",
        "How far this stands",
        paragraphs=said,
        tables=[
            Table(
                "The headline comparisons, each by itself and all together",
                [
                    "rig",
                    "of",
                    "ratio",
                    "from",
                    "to",
                    "together from",
                    "together to",
                    "freedom",
                    "p",
                    "p together",
                    "verdict",
                ],
                [_cells(e, outcomes[e["outcome"]]) for e in effects],
            )
        ],
        points=[HOW, WHOLE],
    )


def _cells(effect: Row, outcome: Row) -> list[str]:
    limits = ("ratio", "low", "high", "low_together", "high_together")
    return [
        effect["rig"],
        outcome["title"].lower(),
        *(ratio_cell(effect[name]) for name in limits),
        "–" if effect["freedom"] is None else f"{effect['freedom']:.0f}",
        p_cell(effect["p_value"]),
        p_cell(effect["p_adjusted"]),
        effect["verdict"],
    ]


def p_cell(p_value: float | None) -> str:
    """A p-value to three decimals."""
    if p_value is None:
        return "–"
    return f"< {SMALLEST_P}" if p_value < SMALLEST_P else f"{p_value:.3f}"
