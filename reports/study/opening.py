"""The first screen of the study's page: what was compared, and the headline effects."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import outcomes_of, ratio_cell
from reports.parts import Row, Table
from reports.sentences import factor_words, listed
from reports.standing.section import p_cell
from reports.study.methods import headline_effects

if TYPE_CHECKING:
    from pipeline.findings import Findings


def what_was_compared(findings: Findings) -> str:
    """Which rigs, against which, in what, like for like in what, judged among how many."""
    season, looks = findings["season"], findings["standing"]["looks"]
    others = len(findings["rigs"]) - 1
    if not others:
        return f"Only one rig version was fished, {season['reference_rig']}: nothing is compared."
    outcomes = outcomes_of(findings)
    titles = [outcomes[name]["title"].lower() for name in season["headlines"] if name in outcomes]
    versions = "one rig version" if others == 1 else f"{others} rig versions"
    factors = listed(factor_words(season["adjusted_for"]))
    alike = f"like for like in {factors} as far as trips allow" if factors else "as they were"
    said = f"{versions} against {season['reference_rig']}, per hour towed, {alike}"
    if titles:
        said = f"{listed(titles)}: {said}"
    said = f"{said[:1].upper()}{said[1:]}."
    many = looks["comparisons"]
    if many < 2:
        return said
    together = "judged together" if looks["allowed_for"] else "each judged by itself"
    return f"{said} {many} headline comparisons, {together}."


def headline_table(findings: Findings) -> Table | None:
    """The headline effects over all grounds; None where there is none."""
    outcomes, heads = outcomes_of(findings), findings["season"]["headlines"]
    effects = sorted(
        headline_effects(findings), key=lambda e: (heads.index(e["outcome"]), e["rig"])
    )
    if not effects:
        return None
    together = findings["standing"]["looks"]["confidence"] * 100
    return Table(
        "Headline effects: the rate with a rig as a ratio to the reference's; the interval at 95 % "
        f"by itself, and at {together:.4g} %, as verdicts have it; hauls and trips with the rig "
        "and with the reference",
        ["rig", "of", "ratio", "95 %", f"{together:.4g} %", "p", "hauls", "trips", "verdict"],
        [_cells(effect, outcomes[effect["outcome"]]) for effect in effects],
    )


def _cells(effect: Row, outcome: Row) -> list[str]:
    return [
        effect["rig"],
        outcome["title"].lower(),
        ratio_cell(effect["ratio"]),
        _interval(effect["low"], effect["high"]),
        _interval(effect["low_together"], effect["high_together"]),
        p_cell(effect["p_value"]),
        f"{effect['rig_hauls']:,} / {effect['reference_hauls']:,}",
        f"{effect['rig_trips']:,} / {effect['reference_trips']:,}",
        effect["verdict"],
    ]


def _interval(low: float | None, high: float | None) -> str:
    return f"{ratio_cell(low)} to {ratio_cell(high)}"
