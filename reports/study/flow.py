"""The flow of rows: read, set aside by reason, recorded, in the model, compared; in numbers."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from reports.cells import outcomes_of, over_all_grounds
from reports.counts import haul_count, trip_count
from reports.language import number, say
from reports.parts import Row, Table
from reports.reason_words import reason_said, without_its_cell
from reports.sentences import is_told, why_untold
from schemas.codes import Caution
from schemas.words import ALL_GROUNDS, WHOLE_RECORD, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings

BESIDE_THE_POINT = re.compile(r"\s*(\(.*?\)|;.*)")
MOST_REASONS = 4
"""So many reasons are named in the drawing; the table has them all."""


@dataclass(frozen=True)
class RigFlow:
    """What one rig brings to a comparison with the reference: hauls, trips, hours side by side.

    `compared` says in which part of the record the two are compared, or why they are not; `partly`
    is whether they are in a part, though not over the whole. `beside` says what a rig that is
    compared in a part was held against there.
    """

    rig: str
    hauls: int
    trips: int
    shared_hours: float
    compared: str
    told: bool
    partly: bool = False
    beside: str = ""


@dataclass(frozen=True)
class OutcomeFlow:
    """What becomes of the hauls that are used in one headline outcome.

    `foul` are the foul tows left out of what was caught, which `unrecorded` does not count;
    None of an outcome that leaves none out. `modelled` are the hauls and
    trips of the model over all grounds and the whole record; None where there is no such model.
    `kept_out` says why hauls that recorded the outcome are not in it, `no_model` why there is none.
    """

    title: str
    recorded: int
    unrecorded: int
    foul: int | None
    modelled: tuple[int, int] | None
    reference: RigFlow | None
    rigs: list[RigFlow]
    kept_out: list[str] = field(default_factory=list)
    no_model: str = ""


@dataclass(frozen=True)
class Flow:
    """The way of the rows of hauls, from the file to the comparisons."""

    read: int
    set_aside: int
    reasons: list[tuple[str, int]]
    used: int
    trips: int
    boats: int
    outcomes: list[OutcomeFlow]


def flow_of(findings: Findings) -> Flow:
    """The flow of the rows of hauls, counted from the findings alone."""
    season, rows = findings["season"], findings["rows"]["hauls"]
    records = {record["outcome"]: record for record in findings["records"]}
    titles = {outcome["name"]: say(outcome["title"]) for outcome in findings["outcomes"]}
    return Flow(
        rows["read"],
        rows["set_aside"],
        _reasons(findings),
        rows["used"],
        season["trips"],
        len(season["vessels"]),
        [
            _of_outcome(name, titles[name], records.get(name), findings)
            for name in season["headlines"]
            if name in titles
        ],
    )


def _reasons(findings: Findings) -> list[tuple[str, int]]:
    """Why rows of hauls were set aside, the largest first: the column and the reason, and rows."""
    counted: dict[str, int] = {}
    for row in findings["set_aside"]:
        if row["table"] == "hauls":
            said = reason_said(without_its_cell(row["reason"]))
            reason = " ".join(word for word in (row["column"], said) if word)
            counted[reason] = counted.get(reason, 0) + row["rows"]
    return sorted(counted.items(), key=lambda pair: (-pair[1], pair[0]))


def _of_outcome(name: str, title: str, record: Row | None, findings: Findings) -> OutcomeFlow:
    effects = over_all_grounds(findings["effects"], name)
    model = next(
        (
            m
            for m in findings["standing"]["models"]
            if (m["outcome"], m["ground"], m["part"], m["rig"])
            == (name, ALL_GROUNDS, WHOLE_RECORD, None)
        ),
        None,
    )
    rates = over_all_grounds(findings["rates"], name)
    counted = outcomes_of(findings)[name]["counted"]
    recorded = record["recorded"] if record else sum(rate["hauls"] for rate in rates)
    foul = (findings["season"]["foul_tows"] or None) if not counted else None
    in_part = {e["rig"] for e in effects if is_told(e) and e["part"] != WHOLE_RECORD}
    return OutcomeFlow(
        title,
        recorded,
        (record["hauls"] if record else findings["season"]["hauls"]) - recorded - (foul or 0),
        foul,
        (model["hauls"], model["trips"]) if model else None,
        _of_reference(findings["season"]["reference_rig"], effects, rates),
        [_of_rig(effect, in_part) for effect in effects],
        [reason_said(why) for why in model["hauls_left_out"]] if model else [],
        "" if model else _why_no_model(effects),
    )


WHY_NO_MODEL = {
    Caution.TOO_FEW_TRIPS: saying("too few trips for its terms"),
    Caution.NONE_SEEN: saying("one of the two had none"),
    Caution.SEPARATED: saying("one of the two had none where both were fished"),
}


def _why_no_model(effects: list[Row]) -> str:
    """Why there is no model over all grounds, and that ratios come from limits where any is."""
    cautions = {caution for effect in effects for caution in effect["cautions"]}
    why = next((say(words) for caution, words in WHY_NO_MODEL.items() if caution in cautions), "")
    if any(map(is_told, effects)):
        return say("{why}; limits are worked out without one", why=why)
    return why if effects else say("one rig alone")


def _of_reference(reference: str, effects: list[Row], rates: list[Row]) -> RigFlow | None:
    """What the reference brings: its hauls in the model, or where there is none all that it had."""
    over_the_whole = [
        (effect["reference_hauls"], effect["reference_trips"])
        for effect in effects
        if effect["part"] == WHOLE_RECORD
    ]
    recorded = [(rate["hauls"], rate["trips"]) for rate in rates if rate["rig"] == reference]
    if not (over_the_whole or recorded):
        return None
    return RigFlow(reference, *min(over_the_whole or recorded), 0.0, say("reference"), told=True)


def _of_rig(effect: Row, in_part: set[str]) -> RigFlow:
    told = is_told(effect)
    return RigFlow(
        effect["rig"],
        effect["rig_hauls"],
        effect["rig_trips"],
        effect["shared_hours"],
        say(effect["part"]) if told else why_untold(effect),
        told=told,
        partly=not told and effect["rig"] in in_part,
        beside=_beside(effect) if told and effect["part"] != WHOLE_RECORD else "",
    )


def _beside(effect: Row) -> str:
    """Of a ratio that is of a part of the record: what the rig was held against there."""
    return say(
        "in {part}, beside {hauls} on {trips} with {reference}",
        part=effect["part"],
        hauls=haul_count(effect["reference_hauls"]),
        trips=trip_count(effect["reference_trips"]),
        reference=effect["reference"],
    )


def reasons_in_brief(flow: Flow) -> list[tuple[str, int]]:
    """What is wrong without what to do about it: that of the most rows, and the others together."""
    counted: dict[str, int] = {}
    for reason, count in flow.reasons:
        wrong = BESIDE_THE_POINT.sub("", reason)
        counted[wrong] = counted.get(wrong, 0) + count
    reasons = sorted(counted.items(), key=lambda pair: (-pair[1], pair[0]))
    if len(reasons) <= MOST_REASONS + 1:
        return reasons
    others = reasons[MOST_REASONS:]
    return [
        *reasons[:MOST_REASONS],
        (say("{many} other reasons", many=len(others)), sum(rows for _, rows in others)),
    ]


def flow_table(flow: Flow) -> Table:
    """The same as a table: every step, every reason, every rig."""
    set_aside = say("Set aside")
    rows = [
        _cells(say("Rows of hauls"), say("read"), flow.read),
        *(_cells(set_aside, reason, count) for reason, count in flow.reasons),
        _cells(say("Rows of hauls"), say("used"), flow.used, flow.trips),
    ]
    for outcome in flow.outcomes:
        rows += _outcome_rows(outcome)
    return Table(
        say(
            "What became of the rows of hauls; hours are those of the rig that were fished side by "
            "side with the reference"
        ),
        [say("of"), say("step"), say("hauls"), say("trips"), say("hours side by side")],
        rows,
    )


def _outcome_rows(outcome: OutcomeFlow) -> list[list[str]]:
    """The steps of one outcome, then its rigs."""
    title = outcome.title
    rows = [
        _cells(title, say("recorded"), outcome.recorded),
        _cells(title, say("not recorded"), outcome.unrecorded),
    ]
    if outcome.foul:
        rows.append(_cells(title, say("foul tows, left out"), outcome.foul))
    if outcome.modelled:
        rows.append(_cells(title, say("in the model"), *outcome.modelled))
        if kept_out := outcome.recorded - outcome.modelled[0]:
            rows.append(_cells(title, _not_in_the_model(outcome.kept_out), kept_out))
    if outcome.reference:
        own = outcome.reference
        rows.append(_cells(title, f"{own.rig}: {own.compared}", own.hauls, own.trips))
    rows += [
        _cells(title, _compared(rig), rig.hauls, rig.trips, rig.shared_hours)
        for rig in outcome.rigs
    ]
    return rows


def _not_in_the_model(why: list[str]) -> str:
    """That hauls are not in the model though recorded, with the reasons where there are any."""
    step = say("recorded, and not in the model")
    return f"{step}: {'; '.join(why)}" if why else step


def _compared(rig: RigFlow) -> str:
    if rig.told:
        return f"{rig.rig}: {rig.beside or rig.compared}"
    if rig.partly:
        return say("{rig}: not over the whole record: {why}", rig=rig.rig, why=rig.compared)
    return say("{rig}: not compared: {why}", rig=rig.rig, why=rig.compared)


def _cells(
    of: str, step: str, hauls: int, trips: int | None = None, hours: float | None = None
) -> list[str]:
    """A row of the table; a dash where a step has no trips or hours of its own."""
    figures = (number(hauls, ","), _or_dash(trips), _or_dash(hours))
    return [of, step, *figures]


def _or_dash(value: float | None) -> str:
    return "–" if value is None else number(value, ",.0f")


WITH_A_MODEL = saying(
    "{outcome}: recorded of {recorded}, {modelled:,} in the model over all grounds; {compared}."
)
WITHOUT_A_MODEL = saying(
    "{outcome}: recorded of {recorded}, no model over all grounds; {compared}."
)
COMPARED = saying("rigs compared with the reference: {told} of {rigs}")
NO_OTHER_RIG = saying("no rig beside the reference to compare")


def flow_told(flow: Flow) -> str:
    """The drawing in words, for those who cannot see it."""
    rows = say(
        "Rows of hauls: {read:,} read, {set_aside:,} set aside, {used:,} used.",
        read=flow.read,
        set_aside=flow.set_aside,
        used=flow.used,
    )
    outcomes = [
        say(
            WITH_A_MODEL if outcome.modelled else WITHOUT_A_MODEL,
            outcome=outcome.title,
            recorded=haul_count(outcome.recorded),
            modelled=outcome.modelled[0] if outcome.modelled else 0,
            compared=_rigs_compared(outcome.rigs),
        )
        for outcome in flow.outcomes
    ]
    return " ".join([rows, *outcomes])


def _rigs_compared(rigs: list[RigFlow]) -> str:
    told = sum(rig.told for rig in rigs)
    return say(COMPARED if rigs else NO_OTHER_RIG, told=told, rigs=len(rigs))
