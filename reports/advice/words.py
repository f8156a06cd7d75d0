"""What a skipper is told of each rig, in short: what, where, how much, how sure, what it pays."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING

from reports.cells import outcomes_of, short_ground
from reports.language import say, say_many
from reports.money.sentences import ahead, is_thin, pays_unless_and_was, why_not
from reports.parts import Told
from reports.ratio_words import TWICE, amount, percent_off, times
from reports.sentences import (
    capital,
    in_brief,
    in_part,
    is_clear,
    is_clear_alone,
    is_told,
    listed,
    misleads,
    title_of,
    where,
)
from schemas.codes import MoneyVerdict, Verdict
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.advice.decide import Advice
    from reports.parts import Row

SEVERAL = 2
LABELS = {
    "change": saying("Change"),
    "weigh": saying("Weigh"),
    "leave": saying("Leave"),
    "try": saying("Try"),
    "mind": saying("Mind"),
}

SHORT = {
    "damage_events": saying("the net tore {amount}"),
    "bottom_living_kg": saying("{amount} bottom-living fish"),
}
"""An outcome's effect in few words; of others its title and the amount."""

RANGE_WORDS = saying(
    "In brackets: the range that the hauls can't rule out. It is meant to be right 19 times in 20."
)
LUCK_WORDS = saying(
    "May be luck: a range is right or wrong by itself; of so many comparisons one or another "
    "stands out by chance alone."
)
MAY_BE_LUCK = saying("It may be luck.")
AHEAD, BEHIND = saying("more money"), saying("less money")


def range_words(findings: Findings) -> str:
    """What the brackets mean; and how a difference can be luck whose range is all to one side."""
    in_doubt = any(
        is_clear_alone(effect) and effect["outcome"] in findings["season"]["headlines"]
        for effect in findings["effects"]
    )
    return " ".join([say(RANGE_WORDS), *([say(LUCK_WORDS)] if in_doubt else [])])


SAID = {
    "change": saying("Fish {rig} in place of {reference}{place}: {gains}."),
    "weigh": saying("{rig} against {reference}{place}: {gains}."),
    "leave": saying("Keep {reference} before {rig}{place}: with {rig} {losses}."),
    "try": saying("A fair trial of {rig}{place}: {gains}."),
    "mind": saying("{rig}{place}: {losses}."),
}


def told(advice: Advice, findings: Findings) -> Told:
    """What is advised of a rig: a label, a sentence, and beneath it what it pays and rests on."""
    outcomes = outcomes_of(findings)
    reference = findings["season"]["reference_rig"]
    places = {_place(effect, findings) for effect in advice.effects}
    each_its_own = len(places) > 1
    place = "" if each_its_own else "".join(places)
    gains, losses = (
        listed(
            [
                effect_words(effect, outcomes[effect["outcome"]])
                + (_place(effect, findings) if each_its_own else "")
                for effect in effects
            ]
        )
        for effects in (advice.gains, advice.losses)
    )
    if advice.kind == "weigh":
        gains = _but(gains, losses)
    elif advice.kind == "mind":
        losses = _but(losses or say(BEHIND), gains)
    said = say(
        SAID[advice.kind],
        rig=advice.rig,
        reference=reference,
        place=place,
        gains=gains or say(AHEAD),
        losses=losses or say(BEHIND),
    )
    left_open = _left_open(advice, findings) if advice.kind in {"change", "leave"} else ""
    paid = _paid(advice, findings["season"]["currency"])
    if paid and any(effect["ground"] != ALL_GROUNDS for effect in advice.effects):
        paid = say("{paid} That is of all grounds together.", paid=paid)
    return Told(LABELS[advice.kind], f"{said}{left_open}", paid, tuple(_sides(advice, findings)))


def hinted(advice: list[Advice], findings: Findings) -> Told:
    """What may be luck, in one line of the first screen; for one thing of one rig with how much."""
    if len(advice) == 1 and len(advice[0].effects) == 1:
        return _hinted_alone(advice[0], findings)
    minded = advice[0].kind == "mind"
    first = _by_rigs({each.rig: _hints(each, findings, gained=not minded) for each in advice})
    gains = {each.rig: _hints(each, findings, gained=True) for each in advice if minded}
    other = _by_rigs(gains) if len(advice) > 1 else listed([*chain(*gains.values())])
    said = f"{_but(capital(first), other)}. {say(MAY_BE_LUCK)}"
    return Told(LABELS[advice[0].kind], said)


def _hinted_alone(advice: Advice, findings: Findings) -> Told:
    said = told(advice, findings).says
    says_luck = is_clear_alone(advice.effects[0])
    return Told(LABELS[advice.kind], said if says_luck else f"{said} {say(MAY_BE_LUCK)}")


def _by_rigs(hints: dict[str, list[str]]) -> str:
    """The hints of rigs, what several have in common said once."""
    rigs: dict[str, list[str]] = {}
    for rig, of_rig in hints.items():
        for said in of_rig:
            rigs.setdefault(said, []).append(rig)
    of_rigs: dict[tuple[str, ...], list[str]] = {}
    for said, names in rigs.items():
        of_rigs.setdefault(tuple(names), []).append(said)
    return "; ".join(
        say("{things} with {rigs}", things=listed(said), rigs=listed(list(names)))
        for names, said in of_rigs.items()
    )


def _hints(advice: Advice, findings: Findings, *, gained: bool) -> list[str]:
    """Less or more of which outcome, and on which ground, of what was gained or lost."""
    effects, outcomes = advice.gains if gained else advice.losses, outcomes_of(findings)
    if not effects and gained is (advice.kind == "try"):
        return [say(AHEAD if gained else BEHIND)]
    return [
        say(
            LESS if effect["verdict_alone"] == Verdict.LOWER else MORE,
            outcome=title_of(outcomes[effect["outcome"]]),
            place=where(effect["ground"]),
        )
        for effect in effects
    ]


LESS, MORE = saying("less {outcome}{place}"), saying("more {outcome}{place}")


def _left_open(advice: Advice, findings: Findings) -> str:
    """The other headline outcomes of which there is too little to tell, each with its range."""
    outcomes, known = outcomes_of(findings), {effect["outcome"] for effect in advice.effects}
    untold = [
        f"{title_of(outcomes[effect['outcome']])}{_how_open(effect, outcomes[effect['outcome']])}"
        for effect in findings["effects"]
        if effect["rig"] == advice.rig
        and effect["ground"] == ALL_GROUNDS
        and effect["outcome"] in {*findings["season"]["headlines"]} - known
        and effect["verdict"] == Verdict.TOO_LITTLE
    ]
    return " " + say("Too little to tell of {outcomes}.", outcomes=listed(untold)) if untold else ""


def _how_open(effect: Row, outcome: Row) -> str:
    """The range of what is too little to tell: who is told to change is to see how wide it is."""
    low, high = effect["low"], effect["high"]
    if low is None or high is None:
        return ""
    one_sided = high < 1 or low > 1
    return (
        say(" (as told {claim})", claim=in_brief(effect, outcome))
        if one_sided
        else f" ({_range(low, high)})"
    )


def _but(first: str, other: str) -> str:
    return say("{first}; but {other}", first=first, other=other) if other else first


def effect_words(effect: Row, outcome: Row) -> str:
    """How much and how sure: the net tore 38 % less often (between 12 and 57 %)."""
    if not effect["ratio"] or effect["low"] is None or effect["high"] is None:
        return f"{title_of(outcome)}: {in_brief(effect, outcome)}"
    how_much = amount(effect["ratio"], outcome, effect["high"])
    if effect["outcome"] in SHORT:
        said = say(SHORT[effect["outcome"]], amount=how_much)
    else:
        said = f"{title_of(outcome)} {how_much}"
    return f"{said} ({_range(effect['low'], effect['high'])}{_doubt(effect, outcome)})"


def _doubt(effect: Row, outcome: Row) -> str:
    """What an effect that does not stand is to be taken for; of counts that tell little, they."""
    if is_clear(effect):
        return ""
    if effect["verdict_alone"] != Verdict.TOO_LITTLE:
        return say(", may be luck")
    return say(LITTLE_COUNTED if outcome["counted"] else LITTLE, **effect)


LITTLE = saying(", too little to tell")
LITTLE_COUNTED = saying(
    ", too little to tell: {rig_total:,.0f} in {rig_hauls:,} hauls against {reference_total:,.0f} "
    "in {reference_hauls:,}"
)


def _range(low: float, high: float) -> str:
    """The interval in the same words as the amount before it: 12 to 57 %, 1.2 to 6.4 times."""
    if high >= TWICE or low < 1 < high:
        return say("{low} to {high} times", low=times(low), high=times(high))
    nearer, farther = sorted((low, high), key=lambda end: abs(1 - end))
    return say("{low} to {high} %", low=percent_off(nearer), high=percent_off(farther))


def _place(effect: Row, findings: Findings) -> str:
    """The ground, or all of those that both rigs were fished on; and the part of the record."""
    part = in_part(effect)
    if effect["ground"] != ALL_GROUNDS:
        return f"{where(effect['ground'])}{part}"
    fished: dict[str, set[str]] = {}
    for row in findings["rig_by_ground"]:
        fished.setdefault(row["rig_version"], set()).add(row["ground"])
    both = fished.get(effect["rig"], set()) & fished.get(effect["reference"], set())
    grounds = [ground for ground in findings["season"]["grounds"] if ground in both]
    if len(grounds) == len(findings["season"]["grounds"]) > 1:
        return " " + say("over all grounds together") + part
    on = say("on {ground}", ground=listed([short_ground(ground) for ground in grounds]))
    return f" {on}{part}"


def _sides(advice: Advice, findings: Findings) -> list[str]:
    """What stands further down: that it may be luck, and the hauls it rests on."""
    sides, outcomes = [], outcomes_of(findings)
    weighed = [effect for effect in advice.effects if effect["verdict_alone"] != Verdict.TOO_LITTLE]
    doubtful = [effect for effect in weighed if not _stands(effect)]
    if doubtful and all(effect["ground"] != ALL_GROUNDS for effect in doubtful):
        sides.append(
            say(
                "It may be luck: of {many:,} such comparisons on single grounds one in twenty "
                "looks so by chance.",
                many=_on_grounds(findings),
            )
        )
    elif doubtful:
        many = findings["standing"]["looks"]["comparisons"]
        named = listed([title_of(outcomes[effect["outcome"]]) for effect in doubtful])
        all_of_it = len(doubtful) == len(advice.effects)
        sides.append(say(LUCK if all_of_it else LUCK_IN_PART, outcomes=named, many=many))
    sides += _hauls(advice, findings)
    misled = [title_of(outcomes[e["outcome"]]) for e in advice.effects if misleads(e)]
    if misled:
        sides.append(say(MISLED, outcomes=listed(misled)))
    return sides


MISLED = saying(
    "In {outcomes} the bare figures say otherwise: the two were not fished alike often on each "
    "ground."
)
LUCK = saying("It may be luck, because {many} things were compared.")
LUCK_IN_PART = saying("In {outcomes} it may be luck, because {many} things were compared.")


def _on_grounds(findings: Findings) -> int:
    """How many effects are told of single grounds, in the headline outcomes."""
    headlines = {*findings["season"]["headlines"]}
    return sum(
        is_told(effect) and effect["ground"] != ALL_GROUNDS and effect["outcome"] in headlines
        for effect in findings["effects"]
    )


def _stands(effect: Row) -> bool:
    """Whether it stands among all headline comparisons; what is of one ground does not."""
    return effect["ground"] == ALL_GROUNDS and is_clear(effect)


def _paid(advice: Advice, currency: str) -> str:
    """What it pays, in one sentence; nothing where the season has no prices."""
    row = advice.money
    if row is None:
        return ""
    if row["net_change"] is None:
        return say("What it pays can't be told: {why}.", why=why_not(row))
    came_out = ahead(row["net_change"], currency)
    if row["verdict"] == MoneyVerdict.PAYS:
        return say(
            "An hour, damage paid, was {came_out}; {pays_unless}.",
            came_out=came_out,
            pays_unless=pays_unless_and_was(row),
        )
    if row["verdict"] == MoneyVerdict.COSTS:
        return say("An hour, damage paid, was {came_out}.", came_out=came_out)
    if is_thin(row):
        return say("Whether it pays can't be told: too few trips, or tears, of one of the two.")
    return say(
        "Whether it pays can't be told yet: {pays_unless}.",
        pays_unless=pays_unless_and_was(row),
    )


def _hauls(advice: Advice, findings: Findings) -> list[str]:
    """The hauls of both rigs that each effect rests on; once where they are the same."""
    titles = outcomes_of(findings)
    rests: dict[str, list[str]] = {}
    for effect in _as_told(advice):
        rests.setdefault(_from(effect, findings), []).append(title_of(titles[effect["outcome"]]))
    if len(rests) < SEVERAL:
        return [capital(said) for said in rests]
    return [f"{capital(listed(named))}: {said}" for said, named in rests.items()]


def _as_told(advice: Advice) -> tuple[Row, ...]:
    """The effects in the order in which the sentence tells them."""
    first_lost = advice.kind in {"mind", "leave"}
    return (*advice.losses, *advice.gains) if first_lost else advice.effects


def _from(effect: Row, findings: Findings) -> str:
    boats = {
        name: {trip["vessel"] for trip in findings["trips"] if trip["rig"] == effect[name]}
        for name in ("rig", "reference")
    }
    return say(
        "from {rig_hauls:,} hauls with {rig} ({rig_trips}, {boats}) and {reference_hauls:,} with "
        "{reference} ({reference_trips}, {reference_boats}).",
        **{
            **effect,
            "rig_trips": _of_trips(effect["rig_trips"]),
            "reference_trips": _of_trips(effect["reference_trips"]),
        },
        boats=_of_boats(len(boats["rig"])),
        reference_boats=_of_boats(len(boats["reference"])),
    )


def _of_trips(many: int) -> str:
    return say_many("{number} trip", "{number} trips", many)


def _of_boats(many: int) -> str:
    return say_many("{number} boat", "{number} boats", many)
