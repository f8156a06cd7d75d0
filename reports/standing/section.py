"""The section "How far this stands": all headline comparisons, by themselves and together."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import figure_of, outcomes_of, p_cell
from reports.language import say
from reports.parts import Section, table_of
from reports.sentences import is_clear_alone, is_told, listed, title_of
from reports.standing.sentences import looks_words
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings

HOW = saying(
    "Each headline comparison is given an equal part of the one chance in twenty (Bonferroni), "
    "which holds however they hang together, and gives intervals that agree with the verdicts. "
    "p is of no difference, from t with the freedom shown beside it; from the normal where a dash "
    "stands there, or exact where one of the two had none. The ratios with both their intervals "
    "stand in the first table of this page."
)
WHOLE = saying(
    "The whole model behind a figure, term by term, is in findings.json under standing, models, "
    "and is printed by 'rigseason report SEASON --show-model damage_events'."
)


def how_far_this_stands(findings: Findings) -> Section | None:
    """The section; None where there is no headline comparison."""
    outcomes = outcomes_of(findings)
    effects = [e for e in findings["effects"] if e["p_adjusted"] is not None and is_told(e)]
    if not effects:
        return None
    only = [e for e in effects if is_clear_alone(e)]
    said = [looks_words(findings)]
    if only:
        named = [
            say("{rig} in {outcome}", rig=e["rig"], outcome=title_of(outcomes[e["outcome"]]))
            for e in only
        ]
        said.append(
            say(
                "Clear by itself and not among all of them: {rigs}. It may well be so; to be sure "
                "of it takes more hauls, or a season fished to settle that one question.",
                rigs=listed(named),
            )
        )
    return Section(
        "how-far-this-stands",
        say("How far this stands"),
        paragraphs=said,
        tables=[
            table_of(
                say("The headline comparisons, each by itself and all together"),
                effects,
                [
                    (say("rig"), lambda effect: effect["rig"]),
                    (say("of"), lambda effect: title_of(outcomes[effect["outcome"]])),
                    (say("freedom"), figure_of("freedom", ".0f")),
                    (say("p"), lambda effect: p_cell(effect["p_value"])),
                    (say("p together"), lambda effect: p_cell(effect["p_adjusted"])),
                ],
            )
        ],
        points=[say(HOW), say(WHOLE)],
    )
