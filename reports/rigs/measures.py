"""The section on what a rig's measures do: each step more of diameter, weight, gap, slack."""

from __future__ import annotations

from math import exp
from typing import TYPE_CHECKING

from reports.cells import outcomes_of
from reports.parts import Figure, Row, Section, Table
from reports.ratio_words import amount, span
from reports.sentences import factor_words, listed
from schemas.measures import Measure, measure

if TYPE_CHECKING:
    from pipeline.findings import Findings

ABOUT = (
    "Rigs differ in many ways at once. Here each rig's ratio to the reference, like for like, is "
    "laid against one of its measures, and a line is drawn through the rigs; how far they scatter "
    "about it goes into how sure it is, and with four or five rigs that rests on two or three "
    "numbers. Each measure is taken alone, none is adjusted for the others, and rigs with larger "
    "parts are other kinds of gear besides, and heavier to handle. Among so many answers a clear "
    "one is now and then luck.",
    "The ground chain's difference changes on one rig from haul to haul; there each rig, on all "
    "its boats, is held against itself. A longer chain has also been fished longer since it was "
    "evened, and what tears a net can stretch a chain: this tells what went together, not what did "
    "it. Errors of the tape draw the ratio towards no difference.",
)

CAUGHT = "Bottom-living fish caught"

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
        "What went with the measures of a rig",
        list(ABOUT),
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
    of = measure(effect["measure"])
    what = CAUGHT if outcome["better"] == "higher" else outcome["title"]
    told = f"{amount(effect['ratio'], outcome)} ({span(effect['low'], effect['high'], outcome)})"
    if effect["points"]:
        return f"Rigs that differ in {of.title.lower()}: {what.lower()}, {told} for {_each(of)}"
    return f"{what}: {told} for {_each(of)}"


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
            f"Each rig's ratio to the reference by {of.title.lower()} ({of.unit}), with its "
            "interval; the round grey mark is the reference itself. The line has the slope that is "
            "told, through the middle of the rigs. They differ in more than this."
        ),
        table=Table(
            f"{outcome['title']} by {of.title.lower()}",
            ["rig", of.unit, "times the reference"],
            [
                [point["rig"], f"{point['value']:g}", f"{exp(point['log_ratio']):z.2f}"]
                for point in effect["points"]
            ],
        ),
    )


def _table(outcome: Row, effects: list[Row]) -> Table:
    return Table(
        f"{outcome['title']}: what went with each step more of a measure",
        ["measure", "what went with it"],
        [[_each(measure(e["measure"])), f"{_went(e, outcome)}{_rests_on(e)}"] for e in effects],
    )


def _went(effect: Row, outcome: Row) -> str:
    if effect["ratio"] is not None:
        limits = span(effect["low"], effect["high"], outcome)
        told = f"{_doubt(effect)}{amount(effect['ratio'], outcome)} ({limits})"
        if not effect["partly_with"]:
            return told
        return f"{told}; {_titles(effect['partly_with'])} partly goes with it"
    if effect["moves_with"]:
        return f"not given: can't be told apart from {_titles(effect['moves_with'])}"
    why = next((WHY_UNTOLD[name] for name in effect["cautions"] if name in WHY_UNTOLD), None)
    return f"not given: {why}" if why else "too little to tell"


def _doubt(effect: Row) -> str:
    if effect["verdict"] in {"lower", "higher"}:
        return ""
    over = " over that whole range" if effect["verdict"] == "no clear difference" else ""
    return f"{effect['verdict']}{over}: "


def _titles(names: list[str]) -> str:
    return listed([measure(name).title.lower() for name in names])


def _rests_on(effect: Row) -> str:
    """How many rigs over what range, and which were left out and why."""
    if not effect["rigs"]:
        return "."
    rigs = f"{len(effect['rigs'])} rig{'s' * (len(effect['rigs']) != 1)}"
    reach = f"{effect['lowest']:.3g} to {effect['highest']:.3g} {effect['unit']}"
    factors = listed(factor_words(effect["adjusted_for"]))
    alike = f"; like for like in {factors}" if factors else ""
    by_reason: dict[str, list[str]] = {}
    for rig, why in effect["left_out"].items():
        by_reason.setdefault(why, []).append(rig)
    out = "".join(f" Without {listed(rigs)}: {why}." for why, rigs in by_reason.items())
    counts = f"{effect['hauls']:,} hauls in {effect['trips']:,} trips"
    return f". {rigs}, {reach}, {counts}{alike}.{out}"
