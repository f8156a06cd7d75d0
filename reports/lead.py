"""The answer of a season in a few sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import outcomes_of, over_all_grounds
from reports.language import say
from reports.nobody_had import of_nobody
from reports.sentences import (
    capital,
    claim,
    headline_findings,
    in_brief,
    is_clear,
    is_clear_alone,
    is_headline,
    is_thin,
    is_told,
    misleads,
    raw_words,
    where,
)
from schemas.codes import Verdict
from schemas.words import ALL_GROUNDS, WHOLE_RECORD, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

ON_MOST_FISHED = saying("{place} alone, where it made the most hauls")
ON_ONE_ALONE = saying("{place} alone")


def lead(findings: Findings) -> str:
    """The answer in a few sentences: which rig, on which ground, by how much, how sure."""
    outcomes = outcomes_of(findings)
    reference = findings["season"]["reference_rig"]
    if "damage_events" not in outcomes:
        return say(
            "Nothing was recorded of damage, so the season can't say which rig spares the net."
        )
    if len(findings["rigs"]) < 2:
        return say(
            "Only one rig version was fished, {reference}: there is nothing to compare it with.",
            reference=reference,
        )
    told = list(filter(is_told, over_all_grounds(findings["effects"], "damage_events")))
    sparing = [effect for effect in told if is_clear(effect) and effect["verdict"] == Verdict.LOWER]
    if sparing:
        return _of_the_sparing(sparing, outcomes, findings)
    headlines = [e for e in findings["effects"] if is_headline(e) and is_told(e)]
    by_itself = only_by_itself(headlines, outcomes, findings["standing"]["looks"]["comparisons"])
    damage = outcomes["damage_events"]
    none = " ".join(of_nobody(damage, findings)) or _of_none_sparing(told, damage, reference)
    other = [
        f"{claim(effect, outcomes[effect['outcome']])}."
        for effect in headline_findings(findings)
        if effect["outcome"] != "damage_events"
    ]
    return " ".join([none, *other, *by_itself])


def only_by_itself(effects: list[Row], outcomes: dict[str, Row], many: int) -> list[str]:
    """What is clear by itself and not among all headline comparisons, in one sentence or none."""
    alone = [
        claim(effect, outcomes[effect["outcome"]]) for effect in effects if is_clear_alone(effect)
    ]
    if not alone:
        return []
    return [
        say(
            "Clear if judged by itself, and not among all {many} comparisons: {claims}.",
            many=many,
            claims="; ".join(alone),
        )
    ]


def _of_none_sparing(told: list[Row], outcome: Row, reference: str) -> str:
    """No rig is shown to cut damage: whether any raised it, and what there was to compare."""
    if not told:
        return say(
            "The season can't say which rig spares the net: none could be held to {reference}.",
            reference=reference,
        )
    worse = [f"{claim(effect, outcome)}." for effect in told if is_clear(effect)]
    if worse:
        none = say("No rig is shown to spare the net better than {reference}.", reference=reference)
        others = [say("Of the others nothing is clear.")] if len(worse) < len(told) else []
        return " ".join([none, *worse, *others])
    said = say("No rig stands out clearly from {reference} in net damage.", reference=reference)
    if any(effect["part"] == WHOLE_RECORD for effect in told):
        return said
    compared = "; ".join(f"{e['rig']}, {in_brief(e, outcome)}" for e in told)
    return f"{said} " + say(
        "Only a part of the record could be compared: {compared}.", compared=compared
    )


def _of_the_sparing(sparing: list[Row], outcomes: dict[str, Row], findings: Findings) -> str:
    """The rigs that cut damage, the surest first: where, and what they did to the fish."""
    sparing = sorted(sparing, key=lambda effect: effect["high"])
    damage = outcomes["damage_events"]
    sentences = [f"{claim(effect, damage)}." for effect in sparing]
    if len(sparing) > 1:
        sentences.append(say("These are held to the reference, not ranked against each other."))
    surest = sparing[0]
    of_rig = [e for e in findings["effects"] if e["rig"] == surest["rig"] and is_told(e)]
    grounds = [
        effect
        for effect in of_rig
        if effect["ground"] != ALL_GROUNDS
        and effect["outcome"] == damage["name"]
        and not is_thin(effect)
    ]
    if grounds:
        sentences.append(_where_fished_most(grounds, damage, findings))
    fish = over_all_grounds(of_rig, "bottom_living_kg")
    if fish:
        told = in_brief(fish[0], outcomes["bottom_living_kg"])
        sentences.append(
            say("Bottom-living fish with {rig}: {told}.", rig=surest["rig"], told=told)
        )
    if misleads(surest):
        sentences.append(raw_words(surest, damage))
    return " ".join(sentences)


def _where_fished_most(effects: list[Row], damage: Row, findings: Findings) -> str:
    """What a rig did on the ground where it made most hauls, and if as many, towed longest.

    Where that ground has no ratio, or one of few trips or hauls, or no ground had most hauls, it is
    only of one ground alone.
    """
    rig = effects[0]["rig"]
    fished = {
        row["ground"]: (row["hauls"], row["tow_hours"])
        for row in findings["rig_by_ground"]
        if row["rig_version"] == rig
    }
    most = max(fished.values())
    effect = max(effects, key=lambda effect: fished[effect["ground"]])
    of_most = fished[effect["ground"]] == most and list(fished.values()).count(most) == 1
    words = ON_MOST_FISHED if of_most else ON_ONE_ALONE
    place = say(words, place=where(effect["ground"]).strip())
    return f"{capital(place)}: {in_brief(effect, damage)}."
