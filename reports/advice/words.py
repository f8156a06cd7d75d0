"""What a skipper is told of each rig, in short: what, where, how much, how sure, what it pays."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import outcomes_of, short_ground
from reports.money.sentences import ahead, pays_unless, why_not
from reports.parts import Told
from reports.ratio_words import TWICE, amount, times
from reports.sentences import (
    ALL_GROUNDS,
    TOO_LITTLE,
    WHOLE_RECORD,
    in_brief,
    is_clear,
    listed,
    misleads,
    where,
)

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.advice.decide import Advice
    from reports.parts import Row

LABELS = {"change": "Change", "weigh": "Weigh", "leave": "Leave", "try": "Try", "mind": "Mind"}

SHORT = {
    "damage_events": "the net tore {amount}",
    "bottom_living_kg": "{amount} bottom-living fish",
}
"""An outcome's effect in few words; of others its title and the amount."""

RANGE_WORDS = "In brackets: the range that the hauls can't rule out. It is right 19 times in 20."
LUCK = "It may be luck"
AHEAD, BEHIND = "more money", "less money"


def told(advice: Advice, findings: Findings) -> Told:
    """What is advised of a rig: a label, a sentence, and beneath it what it pays and rests on."""
    outcomes = outcomes_of(findings)
    first = advice.effects[0] if advice.effects else None
    reference = findings["season"]["reference_rig"]
    place = "" if first is None else _place(first, findings)
    gains, losses = (
        listed([effect_words(effect, outcomes[effect["outcome"]]) for effect in effects])
        for effects in (advice.gains, advice.losses)
    )
    said = {
        "change": f"Fish {advice.rig} in place of {reference}{place}: {gains}."
        f"{_left_open(advice, findings)}",
        "weigh": f"{advice.rig} against {reference}{place}: {gains}{_but(losses)}.",
        "leave": f"Keep {reference} before {advice.rig}{place}: with {advice.rig} {losses}.",
        "try": f"A fair trial of {advice.rig}{place}: {gains or AHEAD}.",
        "mind": f"{advice.rig}{place}: {losses or BEHIND}{_but(gains) if losses else ''}.",
    }[advice.kind]
    paid = _paid(advice, findings["season"]["currency"])
    return Told(LABELS[advice.kind], said, paid, tuple(_sides(advice, findings)))


def hinted(advice: list[Advice], findings: Findings) -> Told:
    """What may be luck of several rigs, in one line of the first screen: what, with which rigs."""
    rigs: dict[str, list[str]] = {}
    for each in advice:
        for said in _hints(each, findings):
            rigs.setdefault(said, []).append(each.rig)
    of_rigs: dict[tuple[str, ...], list[str]] = {}
    for said, names in rigs.items():
        of_rigs.setdefault(tuple(names), []).append(said)
    told_of = [f"{listed(said)} with {listed(list(names))}" for names, said in of_rigs.items()]
    return Told(LABELS[advice[0].kind], f"{_capital('; '.join(told_of))}. {LUCK}.")


def _hints(advice: Advice, findings: Findings) -> list[str]:
    """Less or more of which outcome, and on which ground; what is to be minded first."""
    if not advice.effects:
        return [AHEAD if advice.kind == "try" else BEHIND]
    outcomes = outcomes_of(findings)
    return [
        f"{'less' if effect['verdict_alone'] == 'lower' else 'more'} "
        f"{outcomes[effect['outcome']]['title'].lower()}{where(effect['ground'])}"
        for effect in (*advice.losses, *advice.gains)
    ]


def _capital(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"


def _left_open(advice: Advice, findings: Findings) -> str:
    """What a change does to the other headline outcomes, where there is too little to tell."""
    outcomes, known = outcomes_of(findings), {effect["outcome"] for effect in advice.effects}
    untold = [
        outcomes[effect["outcome"]]["title"].lower()
        for effect in findings["effects"]
        if effect["rig"] == advice.rig
        and effect["ground"] == ALL_GROUNDS
        and effect["outcome"] in {*findings["season"]["headlines"]} - known
        and effect["verdict"] == TOO_LITTLE
    ]
    return f" Too little to tell of {listed(untold)}." if untold else ""


def _but(losses: str) -> str:
    return f"; but {losses}" if losses else ""


def effect_words(effect: Row, outcome: Row) -> str:
    """How much and how sure: the net tore 38 % less often (between 12 and 57 %)."""
    if not effect["ratio"] or effect["low"] is None or effect["high"] is None:
        return f"{outcome['title'].lower()}: {in_brief(effect, outcome)}"
    form = SHORT.get(effect["outcome"], f"{outcome['title'].lower()} {{amount}}")
    said = form.format(amount=amount(effect["ratio"], outcome))
    luck = "" if is_clear(effect) else ", may be luck"
    return f"{said} ({_range(effect['low'], effect['high'])}{luck})"


def _range(low: float, high: float) -> str:
    """The interval in the same words as the amount before it: 12 to 57 %, 1.2 to 6.4 times."""
    if high >= TWICE:
        return f"{times(low)} to {times(high)} times"
    ends = sorted(round(100 * abs(1 - end)) for end in (low, high))
    return f"{ends[0]} to {ends[1]} %"


def _place(effect: Row, findings: Findings) -> str:
    """The ground, or all of those that both rigs were fished on; and the part of the record."""
    part = "" if effect["part"] == WHOLE_RECORD else f", in {effect['part']}"
    if effect["ground"] != ALL_GROUNDS:
        return f"{where(effect['ground'])}{part}"
    fished: dict[str, set[str]] = {}
    for row in findings["rig_by_ground"]:
        fished.setdefault(row["rig_version"], set()).add(row["ground"])
    both = fished.get(effect["rig"], set()) & fished.get(effect["reference"], set())
    grounds = [ground for ground in findings["season"]["grounds"] if ground in both]
    if len(grounds) == len(findings["season"]["grounds"]) > 1:
        return f" on all grounds{part}"
    return f" on {listed([short_ground(ground) for ground in grounds])}{part}"


def _sides(advice: Advice, findings: Findings) -> list[str]:
    """What stands further down: that it may be luck, and the hauls it rests on."""
    sides = []
    doubtful = [effect for effect in advice.effects if not _stands(effect)]
    if doubtful and len(doubtful) == len(advice.effects):
        many = findings["standing"]["looks"]["comparisons"]
        sides.append(f"{LUCK}: clear by itself, not among all {many} comparisons.")
    elif doubtful:
        titles = outcomes_of(findings)
        named = listed([titles[effect["outcome"]]["title"].lower() for effect in doubtful])
        sides.append(f"{LUCK} in {named}: clear by itself only.")
    if advice.effects:
        sides.append(_hauls(advice.effects[0]))
    if any(misleads(effect) for effect in advice.effects):
        sides.append("The bare figures say otherwise: the two were not fished on the same ground.")
    return sides


def _stands(effect: Row) -> bool:
    """Whether it stands among all headline comparisons; what is of one ground does not."""
    return effect["ground"] == ALL_GROUNDS and is_clear(effect)


def _paid(advice: Advice, currency: str) -> str:
    """What it pays, in one sentence; nothing where the season has no prices."""
    row = advice.money
    if row is None:
        return ""
    if row["net_change"] is None:
        return f"What it pays can't be told: {why_not(row)}."
    came_out = ahead(row["net_change"], currency)
    if row["verdict"] == "pays":
        return f"An hour, damage paid, was {came_out}; {pays_unless(row)}."
    if row["verdict"] == "costs":
        return f"An hour, damage paid, was {came_out}."
    return f"Whether it pays can't be told yet: {pays_unless(row)}."


def _hauls(effect: Row) -> str:
    boats = "1 boat" if effect["vessels"] == 1 else f"{effect['vessels']} boats"
    return (
        f"From {effect['rig_hauls']:,} hauls with {effect['rig']} and "
        f"{effect['reference_hauls']:,} with {effect['reference']}, of {boats}."
    )
