"""The section on what a rig's measures do: each step more of diameter, weight, gap, slack."""

from __future__ import annotations

from math import exp
from typing import TYPE_CHECKING

from reports.cells import figure_of, from_to, outcomes_of, over_all_grounds
from reports.counts import haul_count, trip_count
from reports.language import number, say, say_many
from reports.parts import Figure, Row, Section, Table, table_of
from reports.plain_words import ADVICE_CAUTION
from reports.ratio_words import amount, span
from reports.sentences import TOO_LITTLE, VERDICT_WORDS, factor_words, listed
from schemas.codes import CLEAR, MeasureWithout, OffTheLine, Verdict
from schemas.measures import Measure, measure
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings

ABOUT = (
    saying(
        "Rigs differ in many ways at once. Here each rig's ratio to the reference, like for like, "
        "is laid against one of its measures, and a line is drawn through the rigs; how far they "
        "scatter about it goes into how sure it is{on_how_many}. Each measure is taken alone, none "
        "is adjusted for the others, and rigs with larger parts are other kinds of gear besides, "
        "and heavier to handle. Among so many answers a clear one is now and then luck."
    ),
    saying(
        "The ground chain's difference changes on one rig from haul to haul; there each rig, on "
        "all its boats, is held against itself. A longer chain has also been fished longer since "
        "it was evened, and what tears a net can stretch a chain: this tells what went together, "
        "not what did it. Errors of the tape draw the ratio towards no difference."
    ),
)

CAUGHT = saying("Bottom-living fish caught")

LEAST_SHOWN, MOST_SHOWN = 0.05, 20.0
"""Intervals are drawn no further than to these ratios."""
RUNS_OFF = saying("A bar that runs off the edge is wider than shown.")

WHY_UNTOLD = {
    MeasureWithout.NOT_MEASURED: saying("not given: not recorded"),
    MeasureWithout.TOO_FEW_RIGS: saying("not given: recorded of too few rigs"),
    MeasureWithout.TOO_ALIKE: saying("not given: too little difference to tell by"),
    MeasureWithout.TOO_FEW_TRIPS: saying("not given: too few trips"),
}


def measures(findings: Findings) -> Section | None:
    """What can be told of the rigs' measures, outcome by outcome; None where nothing is known."""
    outcomes = outcomes_of(findings)
    effects = [effect for effect in findings["measures"] if effect["outcome"] in outcomes]
    if all(effect["cautions"] == [MeasureWithout.NOT_MEASURED] for effect in effects):
        return None
    clear = [effect for effect in effects if effect["verdict"] in CLEAR]
    return Section(
        "measures",
        say("What went with the measures of a rig"),
        [
            *(say(words, on_how_many=_on_how_many(effects)) for words in ABOUT),
            say(ADVICE_CAUTION),
        ],
        figures=[
            _figure(effect, outcomes[effect["outcome"]], points_with_limits(findings, effect))
            for effect in clear
            if effect["points"]
        ],
        tables=[
            _table(outcomes[name], [effect for effect in effects if effect["outcome"] == name])
            for name in dict.fromkeys(effect["outcome"] for effect in effects)
        ],
    )


def _on_how_many(effects: list[Row]) -> str:
    """On how many numbers the error of a line rests, with the most rigs that one goes through."""
    most = max((len(effect["points"]) for effect in effects), default=0)
    if most <= LINE_TAKES:
        return ""
    return say_many(
        ", and with the {rigs} rigs in it that rests on {number} number",
        ", and with the {rigs} rigs in it that rests on {number} numbers",
        most - LINE_TAKES,
        rigs=most,
    )


LINE_TAKES = 2
"""So many of the rigs' ratios a line goes through whatever they are; only more tell its error."""


def measure_claim(effect: Row, outcome: Row) -> str:
    """What a step of the measure went with, and how sure that is."""
    of = measure(effect["measure"])
    what = say(CAUGHT if outcome["better"] == "higher" else outcome["title"])
    limits = span(effect["low"], effect["high"], outcome)
    told = f"{amount(effect['ratio'], outcome, effect['high'])} ({limits})"
    if effect["points"]:
        return say(
            "Rigs that differ in {measure}: {outcome}, {told} for {each_step}",
            measure=_title(effect["measure"]),
            outcome=what.lower(),
            told=told,
            each_step=_each(of),
        )
    return say("{outcome}: {told} for {each_step}", outcome=what, told=told, each_step=_each(of))


def _each(of: Measure) -> str:
    return say(of.more, step=number(of.step, "g"))


def _title(name: str) -> str:
    """The measure's title within a sentence."""
    return say(measure(name).title).lower()


def points_with_limits(findings: Findings, effect: Row) -> list[Row]:
    """The rigs of a measure's line: value, ratio, and the interval that the tables give the rig.

    `low` and `high` are None where the rig's ratio has none, and where it is the reference.
    """
    told = {
        of["rig"]: of
        for of in over_all_grounds(findings["effects"], effect["outcome"])
        if of["low"]
    }
    return [
        {
            "rig": point["rig"],
            "value": point["value"],
            "ratio": exp(point["log_ratio"]),
            **{name: told.get(point["rig"], {}).get(name) for name in ("low", "high")},
        }
        for point in effect["points"]
    ]


def _figure(effect: Row, outcome: Row, points: list[Row]) -> Figure:
    of = measure(effect["measure"])
    caption = say(
        "Each rig's ratio to the reference by {measure} ({unit}), with its interval; the round "
        "grey mark is the reference itself. The line has the slope that is told, through the "
        "middle of the rigs. They differ in more than this.",
        measure=_title(of.name),
        unit=of.unit,
    )
    limits = [(point["low"], point["high"]) for point in points if point["low"]]
    wild = any(low < LEAST_SHOWN or high > MOST_SHOWN for low, high in limits)
    return Figure(
        name=f"measure-{effect['measure']}-{effect['outcome']}".replace("_", "-"),
        kind="measure",
        outcome=effect["outcome"],
        of=effect["measure"],
        title=say("{claim}, judged by itself", claim=measure_claim(effect, outcome)),
        caption=f"{caption} {say(RUNS_OFF)}" if wild else caption,
        table=table_of(
            say("{outcome} by {measure}", outcome=say(outcome["title"]), measure=_title(of.name)),
            points,
            [
                (say("rig"), lambda point: point["rig"]),
                (of.unit, figure_of("value", "g")),
                (say("times the reference"), figure_of("ratio", "z.2f")),
                (say("95 %"), _limits),
            ],
        ),
    )


def _limits(point: Row) -> str:
    if not point["low"]:
        return "–"
    return from_to(number(point["low"], ".2f"), number(point["high"], ".2f"))


def _table(outcome: Row, effects: list[Row]) -> Table:
    return table_of(
        say("{outcome}: what went with each step more of a measure", outcome=say(outcome["title"])),
        effects,
        [
            (say("measure"), lambda e: _each(measure(e["measure"]))),
            (say("what went with it"), lambda e: f"{_went(e, outcome)}{_rests_on(e)}"),
        ],
    )


def _went(effect: Row, outcome: Row) -> str:
    if effect["ratio"] is not None:
        limits = span(effect["low"], effect["high"], outcome)
        told = f"{_doubt(effect)}{amount(effect['ratio'], outcome, effect['high'])} ({limits})"
        if not effect["partly_with"]:
            return told
        return say(
            "{told}; {measures} partly goes with it",
            told=told,
            measures=_titles(effect["partly_with"]),
        )
    if effect["moves_with"]:
        return say(
            "not given: can't be told apart from {measures}",
            measures=_titles(effect["moves_with"]),
        )
    why = next((WHY_UNTOLD[name] for name in effect["cautions"] if name in WHY_UNTOLD), TOO_LITTLE)
    return say(why)


def _doubt(effect: Row) -> str:
    """What is said before a figure that does not stand as a difference."""
    if effect["verdict"] in CLEAR:
        return ""
    if effect["verdict"] == Verdict.NO_DIFFERENCE:
        return say("no clear difference over that whole range") + ": "
    return f"{say(VERDICT_WORDS[effect['verdict']])}: "


def _titles(names: list[str]) -> str:
    return listed([_title(name) for name in names])


def _rests_on(effect: Row) -> str:
    """How many rigs over what range, and which were left out and why."""
    if not effect["rigs"]:
        return "."
    factors = listed(factor_words(effect["adjusted_for"]))
    said = say(
        RESTS_ALIKE if factors else RESTS,
        **effect,
        of_rigs=say_many("{number} rig", "{number} rigs", len(effect["rigs"])),
        of_hauls=haul_count(effect["hauls"]),
        of_trips=trip_count(effect["trips"]),
        factors=factors,
    )
    return " ".join([f". {said}", *_left_out(effect["left_out"])])


RESTS = saying("{of_rigs}, {lowest:.3g} to {highest:.3g} {unit}, {of_hauls} in {of_trips}.")
RESTS_ALIKE = saying(
    "{of_rigs}, {lowest:.3g} to {highest:.3g} {unit}, {of_hauls} in {of_trips}; like for like in "
    "{factors}."
)


OFF_THE_LINE = {
    OffTheLine.NOT_MEASURED: saying("not measured"),
    OffTheLine.NOT_SIDE_BY_SIDE: saying("not side by side with the reference"),
    OffTheLine.NO_RATIO: saying(
        "no ratio of its own, as it had none or cannot be told from the rest"
    ),
}


def _left_out(why: dict[str, OffTheLine]) -> list[str]:
    """The rigs that were left out, by the reason for it."""
    by_reason: dict[OffTheLine, list[str]] = {}
    for rig, reason in why.items():
        by_reason.setdefault(reason, []).append(rig)
    return [
        say("Without {rigs}: {reason}.", rigs=listed(rigs), reason=say(OFF_THE_LINE[reason]))
        for reason, rigs in by_reason.items()
    ]
