"""The section on what a rig's measures do: each step more of diameter, weight, gap, slack."""

from __future__ import annotations

from math import exp
from typing import TYPE_CHECKING

from reports.cells import outcomes_of
from reports.parts import Figure, Row, Section, Table
from reports.sentences import amount, factor_words, listed, span
from schemas.measures import Measure, measure

if TYPE_CHECKING:
    from pipeline.findings import Findings

ABOUT = (
    "Rigs differ in many ways at once. Here each rig's ratio to the reference, like for like, is "
    "laid against one of its measures, and a line is drawn through the rigs: how far they scatter "
    "about it says how sure it is. It can't tell whether it is the measure that does it or "
    "something that goes with it, the kind of gear above all. Measures that rise and fall together "
    "over the rigs are named and not told. The ground chain's difference changes on one rig from "
    "haul to haul; there each rig is held against itself."
)

WHY_UNTOLD = {
    "not measured": "not recorded",
    "too few rigs": "recorded of too few rigs",
    "rigs too alike in it": "too little difference to tell by",
    "too few trips": "too few trips",
}


def measures(findings: Findings) -> Section | None:
    """What can be told of the rigs' measures, outcome by outcome; None where nothing is known."""
    outcomes = outcomes_of(findings)
    effects = [effect for effect in findings["measures"] if effect["outcome"] in outcomes]
    if all(effect["cautions"] == ["not measured"] for effect in effects):
        return None
    clear = [effect for effect in effects if effect["verdict"] in {"lower", "higher"}]
    return Section(
        "measures",
        "What the measures of a rig do",
        [ABOUT],
        figures=[
            _figure(effect, outcomes[effect["outcome"]]) for effect in clear if effect["points"]
        ],
        tables=[
            _table(outcomes[name], [effect for effect in effects if effect["outcome"] == name])
            for name in dict.fromkeys(effect["outcome"] for effect in effects)
        ],
    )


def measure_claim(effect: Row, outcome: Row) -> str:
    """What a step of the measure went with, and how sure that is."""
    each = _each(measure(effect["measure"]))
    return (
        f"With {each}, {outcome['title'].lower()} was {amount(effect['ratio'], outcome)} "
        f"({span(effect['low'], effect['high'], outcome)})"
    )


def _each(of: Measure) -> str:
    return of.more.format(step=f"{of.step:g}")


def _figure(effect: Row, outcome: Row) -> Figure:
    of = measure(effect["measure"])
    return Figure(
        name=f"measure-{effect['measure']}-{effect['outcome']}".replace("_", "-"),
        kind="measure",
        outcome=effect["outcome"],
        of=effect["measure"],
        title=measure_claim(effect, outcome),
        caption=(
            f"Each rig's ratio to the reference, with its interval, by {of.title.lower()} "
            f"({of.unit}); the line has the slope that is told, through the rigs' middle."
        ),
        table=Table(
            f"{outcome['title']} by {of.title.lower()}",
            ["rig", of.unit, "times the reference"],
            [
                [point["rig"], f"{point['value']:g}", f"{exp(point['log_ratio']):.2f}"]
                for point in effect["points"]
            ],
        ),
    )


def _table(outcome: Row, effects: list[Row]) -> Table:
    return Table(
        f"{outcome['title']}: with each step more",
        ["with", "went", "rests on"],
        [[_each(measure(e["measure"])), _went(e, outcome), _rests_on(e)] for e in effects],
    )


def _went(effect: Row, outcome: Row) -> str:
    if effect["ratio"] is not None:
        doubt = "" if effect["verdict"] in {"lower", "higher"} else f"{effect['verdict']}: "
        limits = span(effect["low"], effect["high"], outcome)
        return f"{doubt}{amount(effect['ratio'], outcome)} ({limits})"
    if effect["moves_with"]:
        others = listed([measure(name).title.lower() for name in effect["moves_with"]])
        return f"can't be told apart from {others}, which goes with it"
    return next((WHY_UNTOLD[name] for name in effect["cautions"]), "too little to tell")


def _rests_on(effect: Row) -> str:
    if not effect["rigs"]:
        return "–"
    many = f"{len(effect['rigs'])} rig{'s' * (len(effect['rigs']) != 1)}"
    reach = f" from {effect['lowest']:.3g} to {effect['highest']:.3g} {effect['unit']}"
    factors = listed(factor_words(effect["adjusted_for"]))
    alike = f", like for like in {factors}" if factors else ""
    without = f"; without {listed(list(effect['left_out']))}" if effect["left_out"] else ""
    return f"{many}{reach}, {effect['hauls']:,} hauls, {effect['trips']:,} trips{alike}{without}"
