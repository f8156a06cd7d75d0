"""The first screen: what stands out, rig by rig and ground by ground, and what can't be said."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import outcomes_of, short_ground
from reports.changes.sentences import on_first_screen
from reports.doubts import further_doubts
from reports.language import number, say, say_many
from reports.money.sentences import ahead
from reports.money.sentences import is_clear as is_sure
from reports.nobody_had import nobody_had, of_nobody
from reports.one_tow import clear_in_one_tow
from reports.parts import Card, CardLine, Row, Table
from reports.rigs_apart import NO_FIGURE
from reports.said_again import of_rigs_said_again
from reports.sentences import (
    capital,
    in_brief,
    in_part,
    is_clear,
    is_clear_alone,
    is_thin,
    is_told,
    listed,
    misleads,
    raw_words,
    rests_on,
    title_of,
    why_untold,
)
from reports.stand_ins import damage_is_stood_for
from reports.standing.sentences import Key, could_have_shown, plan_of, planned
from reports.tears.drawings import fished_rigs, parts_of
from reports.tears.words import in_short
from schemas.codes import Caution, MoneyVerdict, Verdict
from schemas.words import ALL_GROUNDS, WHOLE_RECORD, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings


AN_HOUR = saying("an hour, damage paid, was {ahead}")
AN_HOUR_UNTOLD = saying("an hour, damage paid, was {ahead}; whether it pays can't be told")
ALONE_TOO_LITTLE = saying("{rig} in {title}: clear by itself only, so too little to tell.")
ONLY_TOO_LITTLE = saying("{rig} in {title}: too little to tell.")
MANY_OPEN = 3
OPEN_OF_MANY = saying(
    "Too little to tell in {title}: {rigs}. What this season could have shown of each, and the "
    "hauls that would tell more, stand in the table under {title}."
)
BY_ITSELF_ONLY = saying("{rig} (clear by itself only)")


def facts(findings: Findings) -> list[tuple[str, str]]:
    """How much the season holds: a name and a value each."""
    season, rows = findings["season"], findings["rows"]
    others = sum(row["set_aside"] for name, row in rows.items() if name != "hauls")
    others -= sum(of_rigs_said_again(findings).values())
    boats, rigs = season["vessels"], len(findings["rigs"])
    return [
        (say_many("haul", "hauls", season["hauls"]), number(season["hauls"], ",")),
        (say("hours towed"), number(season["tow_hours"], ",.0f")),
        (say_many("trip", "trips", season["trips"]), number(season["trips"], ",")),
        (say_many("boat", "boats", len(boats)), str(len(boats)) if len(boats) > 1 else boats[0]),
        (say_many("rig version", "rig versions", rigs), str(rigs)),
        (say("rows of hauls set aside"), say("{set_aside:,} of {read:,}", **rows["hauls"])),
        *([(say("other rows set aside"), number(others, ","))] if others else []),
    ]


def cards(findings: Findings) -> list[Card]:
    """A card for each rig of which something stands out, less damage first."""
    outcomes, plans = outcomes_of(findings), planned(findings)
    heads = [name for name in findings["season"]["headlines"] if name in outcomes]
    told: dict[str, dict[str, Row]] = {}
    for effect in findings["effects"]:
        if effect["ground"] == ALL_GROUNDS and effect["outcome"] in heads and is_told(effect):
            told.setdefault(effect["rig"], {})[effect["outcome"]] = effect
    clear = {rig: of_rig for rig, of_rig in told.items() if any(map(is_clear, of_rig.values()))}

    def damage(item: tuple[str, dict[str, Row]]) -> tuple[bool, float]:
        first = item[1].get(heads[0])
        return (
            first is None or first["verdict"] != Verdict.LOWER,
            (first["ratio"] or 0.0) if first else 1.0,
        )

    return [
        Card(
            rig,
            [
                *(
                    _card_line(of_rig[name], outcomes[name], plan_of(of_rig[name], plans))
                    for name in heads
                    if name in of_rig
                ),
                *_where_it_tears(findings, rig),
                *_in_money(findings, rig),
            ],
        )
        for rig, of_rig in sorted(clear.items(), key=damage)
    ]


def key_to(of_rigs: list[Card]) -> str:
    """What the marks of the cards' lines mean, of those that the cards have."""
    drawn = {line.leans for card in of_rigs for line in card.lines}
    return say("{marks}.", marks=", ".join(say(MARKS[each]) for each in MARKS if each in drawn))


MARKS = {
    "better": saying("▲ what a skipper would want"),
    "worse": saying("▼ what a skipper would not want"),
    "open": saying("· no difference that is clear"),
}


def _card_line(effect: Row, outcome: Row, plan: Row | None) -> CardLine:
    sides = [rests_on(effect)]
    if misleads(effect):
        sides.append(raw_words(effect, outcome))
    if plan is not None:
        sides.append(could_have_shown(plan, outcome))
    if not is_clear(effect):
        leans = "open"
    else:
        leans = "better" if effect["verdict"] == outcome["better"] else "worse"
    return CardLine(say(outcome["title"]), in_brief(effect, outcome), leans, sides)


def _where_it_tears(findings: Findings, rig: str) -> list[CardLine]:
    """Where the net tears with a rig, and by what, as recorded."""
    damage = findings["damage"]
    fished = next((row for row in fished_rigs(damage) if row["rig"] == rig), None)
    if fished is None or not fished["damaged"]:
        return []
    causes = [cause for cause in damage["causes"] if cause["rig"] == rig]
    says = in_short(fished, parts_of(damage, rig), causes)
    return [CardLine(say("Where it tears"), says, "open", [])]


MONEY_MARKS = {
    MoneyVerdict.PAYS: "better",
    MoneyVerdict.COSTS: "worse",
    MoneyVerdict.NOT_TOLD: "open",
}


def _in_money(findings: Findings, rig: str) -> list[CardLine]:
    """What an hour with a rig left over, damage paid, beside the reference's."""
    currency = findings["season"]["currency"]
    return [
        CardLine(
            say("In money"),
            say(
                AN_HOUR if is_sure(row) else AN_HOUR_UNTOLD,
                ahead=ahead(row["net_change"], currency),
            ),
            MONEY_MARKS[row["verdict"]],
            [],
        )
        for row in findings["money"]["rigs"]
        if row["rig"] == rig and row["ground"] == ALL_GROUNDS and row["net_change"] is not None
    ]


def untold(findings: Findings) -> list[str]:
    """What the record can't say over all grounds, and why: rigs apart, or too little."""
    reference = findings["season"]["reference_rig"]
    if len(findings["rigs"]) < 2:
        return [
            *damage_is_stood_for(findings),
            say(
                "Only one rig version was fished ({reference}), so there is nothing to compare.",
                reference=reference,
            ),
        ]
    first = findings["season"]["headlines"][0]
    over_all = [e for e in findings["effects"] if e["ground"] == ALL_GROUNDS]
    outcomes = outcomes_of(findings)
    heads = [name for name in findings["season"]["headlines"] if name in outcomes]
    ours = [e for e in over_all if e["outcome"] in heads]
    said = not_told_apart(ours, reference, outcomes)
    if said:
        said += on_first_screen(findings)
    for name in heads:
        said += _open_questions(name, [e for e in ours if e["outcome"] == name], findings)
    said += further_doubts(findings)
    said += clear_in_one_tow(findings)
    if first not in outcomes_of(findings):
        said.append(say("Nothing was recorded of damage, so nothing is said of it."))
    return [*damage_is_stood_for(findings), *said]


def not_told_apart(effects: list[Row], reference: str, outcomes: dict[str, Row]) -> list[str]:
    """The rigs not fished side by side with the reference: in which outcomes, if not in all."""
    apart: dict[tuple[str | None, Caution, tuple[str, ...]], list[str]] = {}
    for rig in sorted({e["rig"] for e in effects if Caution.NOT_SIDE_BY_SIDE in e["cautions"]}):
        of_rig = [e for e in effects if e["rig"] == rig]
        lacking = {e["outcome"] for e in of_rig if Caution.NOT_SIDE_BY_SIDE in e["cautions"]}
        cautions = {caution for e in of_rig for caution in e["cautions"]}
        why = next((each for each in WHY_APART if each in cautions), Caution.NOT_SIDE_BY_SIDE)
        parts = {e["part"] for e in of_rig if e["outcome"] in lacking} - {WHOLE_RECORD}
        whole = lacking == {e["outcome"] for e in of_rig}
        named = () if whole else tuple(title_of(outcomes[name]) for name in sorted(lacking))
        apart.setdefault((min(parts, default=None), why, named), []).append(rig)
    return [
        say("In {outcomes}: {said}", outcomes=listed(list(named)), said=said) if named else said
        for (part, why, named), rigs in apart.items()
        for said in [_not_side_by_side(rigs, reference, part, why)]
    ]


def _not_side_by_side(rigs: list[str], reference: str, part: str | None, why: Caution) -> str:
    """Why rigs have no ratio to the reference over the whole record, but in the part at most."""
    if part is not None:
        one, more = IN_PART, ALL_IN_PART
    else:
        one, more = WHY_APART.get(why, (NEVER, NONE_EVER))
    return say(one if len(rigs) == 1 else more, rigs=listed(rigs), reference=reference, part=part)


TOO_FEW = saying(
    "{rigs}: fished side by side with {reference}, but in fewer than five hauls, or three trips, "
    "of one of the two, so no difference is given. More hauls of both in turn would tell."
)
WHY_APART = {
    Caution.UNTOLD_SIDE_BY_SIDE: (NO_FIGURE, NO_FIGURE),
    Caution.FEW_SIDE_BY_SIDE: (TOO_FEW, TOO_FEW),
}
"""Why rigs that met are not compared, of one rig and of several; the first goes first."""
NEVER = saying(
    "{rigs} and {reference} were hardly fished side by side (same ground, same boat, same stretch "
    "of the record), so no difference between them is given: whatever else differed would be laid "
    "to the rig. Fishing both in turn, on one boat and one ground, would settle it."
)
NONE_EVER = saying(
    "{rigs} were hardly fished side by side with {reference} (same ground, same boat, same stretch "
    "of the record), so no difference from it is given: whatever else differed would be laid to "
    "the rig. Fishing one of them and {reference} in turn, on one boat and one ground, would "
    "settle it for that one."
)
IN_PART = saying(
    "{rigs} and {reference} were hardly fished side by side (same ground, same boat, same stretch "
    "of the record) outside {part}. The whole record's figure stands in the files alone, marked: "
    "all that changed would be laid to the rig. Told here is {part}, when both were in use."
)
ALL_IN_PART = saying(
    "{rigs} were hardly fished side by side with {reference} (same ground, same boat, same stretch "
    "of the record) outside {part}. The whole record's figures stand in the files alone, marked: "
    "all that changed would be laid to the rig. Told here is {part}, when they were in use."
)


def _open_questions(name: str, effects: list[Row], findings: Findings) -> list[str]:
    """Of one outcome: which rigs are alike, of which there is too little, and of which none."""
    outcome, plans = outcomes_of(findings)[name], planned(findings)
    if nobody_had(name, findings):
        said_already = name == "damage_events"
        return [] if said_already else of_nobody(outcome, findings)
    title = title_of(outcome)
    reference = findings["season"]["reference_rig"]
    told = [e for e in effects if is_told(e)]
    alike = [_alike(e) for e in told if e["verdict"] == Verdict.NO_DIFFERENCE]
    thin = [e for e in told if e["verdict"] == Verdict.TOO_LITTLE]
    said = []
    if alike:
        said.append(
            say(
                "No difference worth knowing in {title} from {reference}: {rigs}.",
                title=title,
                reference=reference,
                rigs=listed(alike),
            )
        )
    if len(thin) < MANY_OPEN:
        said += [_one_open(effect, outcome, plan_of(effect, plans)) for effect in thin]
    else:
        said.append(say(OPEN_OF_MANY, title=title, rigs=listed([*map(_open_rig, thin)])))
    said += _planned_by_chance(effects, plans, outcome)
    none: dict[str, list[str]] = {}
    for effect in effects:
        if not is_told(effect) and Caution.NOT_SIDE_BY_SIDE not in effect["cautions"]:
            none.setdefault(why_untold(effect), []).append(effect["rig"])
    said += [
        say(
            "Of {rigs} there is no figure for {title}: {why}.",
            rigs=listed(rigs),
            title=title,
            why=why,
        )
        for why, rigs in none.items()
    ]
    return said


def _one_open(effect: Row, outcome: Row, plan: Row | None) -> str:
    """A rig of which there is too little to tell, and what the season could have shown."""
    doubt = ALONE_TOO_LITTLE if is_clear_alone(effect) else ONLY_TOO_LITTLE
    said = say(doubt, rig=_rig_in_part(effect), title=title_of(outcome))
    return f"{said} {could_have_shown(plan, outcome)}" if plan else said


def _open_rig(effect: Row) -> str:
    """One of many rigs of which there is too little to tell."""
    rig = _rig_in_part(effect)
    return say(BY_ITSELF_ONLY, rig=rig) if is_clear_alone(effect) else rig


def _planned_by_chance(effects: list[Row], plans: dict[Key, Row], outcome: Row) -> list[str]:
    """What is wanted of rigs side by side in too few hauls; it is the same for all, so once."""
    few = [e for e in effects if Caution.FEW_SIDE_BY_SIDE in e["cautions"]]
    wanted = [plans.get((e["outcome"], e["rig"], e["part"])) for e in few]
    told = [could_have_shown(plan, outcome) for plan in wanted if plan]
    return [f"{capital(title_of(outcome))}: {words}" for words in dict.fromkeys(told)]


def _alike(effect: Row) -> str:
    """The rig that shows no difference worth knowing, and that it is clear by itself, if it is."""
    rig = _rig_in_part(effect)
    return say(ALIKE_THOUGH_CLEAR, rig=rig) if is_clear_alone(effect) else rig


ALIKE_THOUGH_CLEAR = saying("{rig} (though clear by itself)")


def _rig_in_part(effect: Row) -> str:
    """The rig, with the part of the record that it was compared in, where not the whole."""
    if effect["part"] == WHOLE_RECORD:
        return str(effect["rig"])
    return say("{rig} ({part} alone)", rig=effect["rig"], part=effect["part"])


def by_ground(findings: Findings) -> Table | None:
    """Which rig on which ground: the clear differences, ground by ground."""
    grounds = findings["season"]["grounds"]
    if len(grounds) < 2 or len(findings["rigs"]) < 2:
        return None
    outcomes = outcomes_of(findings)
    heads = [name for name in findings["season"]["headlines"] if name in outcomes]
    met = {
        (ground, name): [
            e for e in findings["effects"] if (e["ground"], e["outcome"]) == (ground, name)
        ]
        for ground in grounds
        for name in heads
    }
    tried = sum(is_told(e) and not is_thin(e) for effects in met.values() for e in effects)
    return Table(
        say(
            STANDS_OUT if tried else NOTHING_TRIED,
            reference=findings["season"]["reference_rig"],
            tried=say_many("{number:,} such comparison", "{number:,} such comparisons", tried),
            luck=tried / 20,
        ),
        [say("ground"), *(title_of(outcomes[name]) for name in heads)],
        [
            [
                short_ground(ground),
                *(_on_ground(met[ground, name], outcomes[name]) for name in heads),
            ]
            for ground in grounds
        ],
    )


STANDS_OUT = saying(
    "What stands out from {reference} ground by ground, each from ten hauls and ten trips of "
    "either rig or more on that ground alone, and each judged by itself: of {tried}, were the rigs "
    "alike, about {luck:.1f} would stand out by luck alone"
)
NOTHING_TRIED = saying(
    "On no single ground could a rig be held to {reference} from ten hauls and ten trips of either "
    "or more"
)
FROM_HAULS = saying("{rig} {said}, from {rig_hauls:,} and {reference_hauls:,} hauls")


def _on_ground(effects: list[Row], outcome: Row) -> str:
    """What stands out on a ground, from how many hauls; or why nothing does."""
    told = [effect for effect in effects if is_told(effect)]
    tried = [effect for effect in told if not is_thin(effect)]
    clear = [
        say(FROM_HAULS, **effect, said=in_brief(effect, outcome))
        for effect in tried
        if is_clear(effect)
    ]
    if tried:
        return "; ".join(clear) or say("nothing clear")
    if told:
        return say("too few trips or hauls")
    why = [
        say("{rig}{part}: {why}", rig=e["rig"], part=in_part(e), why=why_untold(e))
        for e in effects
        if Caution.NOT_SIDE_BY_SIDE not in e["cautions"]
    ]
    return "; ".join(why) or say("no two rigs side by side")
