"""How a finding is said: what, where, how much, how sure, on what it rests.

Every sentence of the report that holds a figure is made here, from `findings.json`'s contents.
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any

from reports.ratio_words import TWICE, amount, span

if TYPE_CHECKING:
    from pipeline.findings import Findings

ALL_GROUNDS = "all"
WHOLE_RECORD = "whole record"

GROUND_WORDS = {
    "mud": "on mud",
    "sand": "on sand",
    "stones": "on stones",
    "mixed": "on mixed ground",
    "hard": "on hard ground",
    "rocky": "on rocky ground",
    "unknown": "on ground that was not recorded",
}

FACTOR_WORDS = {
    "ground": "ground",
    "vessel": "boat",
    "depth_band": "depth",
    "quarter": "time of year",
    "year": "year",
}

Row = dict[str, Any]

WORTH_SAYING = 0.05

SEPARATED = "seen with one of them only where both were fished"

TOO_LITTLE = "too little to tell"
CLEAR = {"lower", "higher"}
BY_ITSELF = "clear by itself only"

MOST_NAMED = 10
"""So many rigs are named on a terminal; the report names them all."""


def claim(effect: Row, outcome: Row) -> str:
    """What, where, how much, how sure."""
    place = where(effect["ground"])
    if effect["ratio"] == 0:
        had = f"{effect['rig']} had none {_of_this(effect)}{place}"
        return f"{had} ({_up_to(effect)})"
    if effect["ratio"] is None:
        return (
            f"{effect['reference']} had none {_of_this(effect)}{place}: {outcome['title'].lower()} "
            f"with {effect['rig']} is at least {effect['low']:.2g} times as much"
        )
    form = str(outcome["said"])
    said = (form.replace(" than ", " as ") if effect["ratio"] >= TWICE else form).format(
        rig=effect["rig"],
        reference=effect["reference"],
        amount=amount(effect["ratio"], outcome),
    )
    part = "" if effect["part"] == WHOLE_RECORD else f", in {effect['part']}"
    return f"{said}{place}{part} ({span(effect['low'], effect['high'], outcome)})"


def _of_this(effect: Row) -> str:
    """Of which fishing it was that one of the two had none."""
    return "of this where both were fished" if SEPARATED in effect["cautions"] else "at all of this"


def _up_to(effect: Row) -> str:
    if effect["high"] is None:
        return "which settles nothing"
    return f"yet up to {effect['high'] * 100:.0f} % of {effect['reference']}'s can't be ruled out"


def in_brief(effect: Row, outcome: Row) -> str:
    """How much and how sure, without the rig's name: 36 % less often (between 14 and 52 %)."""
    if effect["low"] is None:
        return why_untold(effect)
    if effect["ratio"] is None:
        there = " where both were fished" if SEPARATED in effect["cautions"] else ""
        return f"at least {effect['low']:.2g} times {effect['reference']}'s, which had none{there}"
    if effect["ratio"] == 0:
        none = "none where both were fished" if SEPARATED in effect["cautions"] else "none at all"
        return f"{none} ({_up_to(effect)})"
    part = "" if effect["part"] == WHOLE_RECORD else f", in {effect['part']}"
    told = f"{amount(effect['ratio'], outcome)} ({span(effect['low'], effect['high'], outcome)})"
    return f"{_doubt(effect)}{told}{part}"


def _doubt(effect: Row) -> str:
    """What is said before a figure that does not stand as a difference."""
    if is_clear(effect):
        return ""
    return f"{BY_ITSELF if is_clear_alone(effect) else effect['verdict']}: "


def misleads(effect: Row) -> bool:
    """Whether the raw comparison points the other way than the one like for like."""
    raw, ratio = effect["raw_ratio"], effect["ratio"]
    if not (is_clear(effect) or is_clear_alone(effect)) or not raw or not ratio:
        return False
    return bool(abs(raw - 1) > WORTH_SAYING and (raw - 1) * (ratio - 1) < 0)


def raw_words(effect: Row, outcome: Row) -> str:
    """What the raw comparison would have said."""
    return (
        f"The raw figures say otherwise, {amount(effect['raw_ratio'], outcome)}: "
        f"{effect['rig']} and {effect['reference']} were not fished on the same ground and days."
    )


def lead(findings: Findings) -> str:
    """The answer in a few sentences: which rig, on which ground, by how much, how sure."""
    outcomes = {outcome["name"]: outcome for outcome in findings["outcomes"]}
    reference = findings["season"]["reference_rig"]
    if "damage_events" not in outcomes:
        return "Nothing was recorded of damage, so the season can't say which rig spares the net."
    if len(findings["rigs"]) < 2:
        return f"Only one rig version was fished, {reference}: there is nothing to compare it with."
    told = [
        effect
        for effect in findings["effects"]
        if effect["outcome"] == "damage_events"
        and effect["ground"] == ALL_GROUNDS
        and is_told(effect)
    ]
    sparing = [effect for effect in told if is_clear(effect) and effect["verdict"] == "lower"]
    if sparing:
        return _of_the_sparing(sparing, outcomes, findings)
    by_itself = only_by_itself(told, outcomes, findings["standing"]["looks"]["comparisons"])
    none = _of_none_sparing(told, outcomes["damage_events"], reference)
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
    return [f"Clear if judged by itself, and not among all {many} comparisons: {'; '.join(alone)}."]


def _of_none_sparing(told: list[Row], outcome: Row, reference: str) -> str:
    """No rig is shown to cut damage: whether any raised it, and what there was to compare."""
    if not told:
        return f"The season can't say which rig spares the net: none could be held to {reference}."
    worse = [effect["rig"] for effect in told if is_clear(effect)]
    if worse:
        return (
            f"No rig is shown to spare the net better than {reference}: {listed(worse)} damaged "
            "it more often, and of the others nothing is clear."
        )
    said = f"No rig stands out clearly from {reference} in net damage."
    if any(effect["part"] == WHOLE_RECORD for effect in told):
        return said
    compared = "; ".join(f"{e['rig']}, {in_brief(e, outcome)}" for e in told)
    return f"{said} Only a part of the record could be compared: {compared}."


def _of_the_sparing(sparing: list[Row], outcomes: dict[str, Row], findings: Findings) -> str:
    """The rigs that cut damage, the surest first: where, and what they did to the fish."""
    sparing = sorted(sparing, key=lambda effect: effect["high"])
    damage = outcomes["damage_events"]
    sentences = [f"{claim(effect, damage)}." for effect in sparing]
    if len(sparing) > 1:
        sentences.append("These are held to the reference, not ranked against each other.")
    surest = sparing[0]
    of_rig = [e for e in findings["effects"] if e["rig"] == surest["rig"] and is_told(e)]
    grounds = [e for e in of_rig if e["ground"] != ALL_GROUNDS and e["outcome"] == damage["name"]]
    if grounds:
        most = max(grounds, key=lambda effect: effect["rig_hauls"])
        said = f"{where(most['ground'])} alone, where it was fished most".strip()
        sentences.append(f"{said[:1].upper()}{said[1:]}: {in_brief(most, damage)}.")
    fish = [e for e in of_rig if e["ground"] == ALL_GROUNDS and e["outcome"] == "bottom_living_kg"]
    if fish:
        told = in_brief(fish[0], outcomes["bottom_living_kg"])
        sentences.append(f"Bottom-living fish with {surest['rig']}: {told}.")
    if misleads(surest):
        sentences.append(raw_words(surest, damage))
    return " ".join(sentences)


def period(season: Row) -> str:
    """From the first day to the last: 3 Jan to 26 Dec 2031."""
    if not season["first_day"]:
        return ""
    first, last = (date.fromisoformat(season[f"{end}_day"]) for end in ("first", "last"))
    if first == last:
        return _day(first)
    return f"{_day(first).removesuffix(f' {last.year}')} to {_day(last)}"


def _day(day: date) -> str:
    return f"{day.day} {day:%b %Y}"


def rests_on(effect: Row) -> str:
    """What a finding rests on: hauls and trips of either rig, boats, and what was held alike."""
    boats = "1 boat" if effect["vessels"] == 1 else f"{effect['vessels']} boats"
    counted = (
        f"{_hauls(effect['rig_hauls'], effect['rig_trips'])} with {effect['rig']} and "
        f"{_hauls(effect['reference_hauls'], effect['reference_trips'])} with "
        f"{effect['reference']}, of {boats}"
    )
    factors = listed(factor_words(effect["adjusted_for"]))
    alike = f", like for like in {factors}" if factors else ", as they were"
    doubts = [CAUTION_WORDS[name] for name in effect["cautions"] if name in CAUTION_WORDS]
    return f"Rests on {counted}{alike}.{''.join(f' {words}' for words in doubts)}"


CAUTION_WORDS = {
    "few trips": "Fewer than ten trips of one of them: take it with care.",
    "few hauls": "Fewer than ten hauls of one of them were side by side.",
    "seen in few hauls": "Fewer than five hauls of one of them had any.",
}


def _hauls(hauls: int, trips: int) -> str:
    return f"{hauls:,} haul{'s' * (hauls != 1)} in {trips:,} trip{'s' * (trips != 1)}"


def why_untold(effect: Row) -> str:
    """Why there is no figure for two rigs, in a few words."""
    for caution, words in WHY_UNTOLD.items():
        if caution in effect["cautions"]:
            return words
    return "too little to tell"


WHY_UNTOLD = {
    "not both fished there": "not both fished, or nothing recorded",
    "not side by side": "not side by side",
    "none seen": "none recorded with one of them",
    "too few trips to adjust": "too few trips to compare like for like",
    "too little shared": "too little of the reference's fishing was where both were fished",
    SEPARATED: "seen with one of them only where both were fished",
    "bound up with the conditions": "can't be told from ground or boat",
}


def factor_words(factors: list[str]) -> list[str]:
    """The factors as a skipper would name them."""
    return [FACTOR_WORDS.get(name, name) for name in factors]


def listed(words: list[str]) -> str:
    """One, two and three."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def where(ground: str) -> str:
    """The ground as a phrase with its space in front; nothing for all grounds."""
    if ground == ALL_GROUNDS:
        return ""
    return f" {GROUND_WORDS.get(ground, f'on {ground}')}"


def not_side_by_side(rig: str, reference: str, part: str | None) -> str:
    """Why two rigs have no ratio over the whole record."""
    apart = (
        f"{rig} and {reference} were hardly fished side by side (same ground, same boat, same "
        "stretch of the record)"
    )
    if part is None:
        return (
            f"{apart}, so no difference between them is given: whatever else differed would be "
            "laid to the rig. Fishing both in turn, on one boat and one ground, would settle it."
        )
    return (
        f"{apart} outside {part}. No figure over the whole record is given: whatever else changed "
        f"would be laid to the rig. What stands is from {part}, when both were in use."
    )


def is_told(effect: Row) -> bool:
    """Whether the effect's limits may be shown to a reader."""
    return effect["low"] is not None and "not side by side" not in effect["cautions"]


def is_clear(effect: Row) -> bool:
    """Whether the effect is a difference that stands."""
    return is_told(effect) and is_clear_verdict(effect["verdict"])


def is_clear_verdict(verdict: str) -> bool:
    """Whether the verdict is that there is a difference."""
    return verdict in CLEAR


def is_clear_alone(effect: Row) -> bool:
    """Whether it would be a clear difference by itself, and is not among all that were made."""
    return is_told(effect) and not is_clear(effect) and effect["verdict_alone"] in CLEAR


def in_short(findings: Findings) -> str:
    """The answer in a few lines, for the terminal."""
    outcomes = {outcome["name"]: outcome for outcome in findings["outcomes"]}
    rows = findings["rows"]["hauls"]
    lines = [
        f"{findings['season']['title']}: {rows['used']:,} of {rows['read']:,} hauls used, "
        f"{rows['set_aside']:,} set aside.",
        *_set_aside_elsewhere(findings),
        *findings["seasons_left_out"],
        "",
    ]
    clear = headline_findings(findings)
    lines += [f"  {claim(effect, outcomes[effect['outcome']])}." for effect in clear]
    if not clear:
        lines.append(f"  {lead(findings)}")
    else:
        headlines = [e for e in findings["effects"] if e["p_adjusted"] is not None]
        many = findings["standing"]["looks"]["comparisons"]
        lines += [f"  {words}" for words in only_by_itself(headlines, outcomes, many)]
    apart = sorted(
        {
            e["rig"]
            for e in findings["effects"]
            if e["ground"] == ALL_GROUNDS
            and e["outcome"] in findings["season"]["headlines"]
            and "not side by side" in e["cautions"]
        }
    )
    if apart:
        reference = findings["season"]["reference_rig"]
        shown = apart[:MOST_NAMED]
        more = [f"{len(apart) - MOST_NAMED} more"] if len(apart) > MOST_NAMED else []
        lines.append(f"  Hardly fished side by side with {reference}: {listed([*shown, *more])}.")
    return "\n".join(lines)


def _set_aside_elsewhere(findings: Findings) -> list[str]:
    """Rows of other tables that were not used: a review that is lost is a person's work."""
    told = [
        f"{counts['set_aside']:,} of {name}"
        for name, counts in findings["rows"].items()
        if name != "hauls" and counts["set_aside"]
    ]
    return [f"Set aside too: {listed(told)}; why stands in set-aside.csv."] if told else []


def headline_findings(findings: Findings) -> list[Row]:
    """The clear differences over all grounds in the headline outcomes, the largest first."""
    order = {name: at for at, name in enumerate(findings["season"]["headlines"])}
    clear = [
        effect
        for effect in findings["effects"]
        if effect["ground"] == ALL_GROUNDS and effect["outcome"] in order and is_clear(effect)
    ]
    return sorted(clear, key=lambda e: (order[e["outcome"]], -surety(e)))


def surety(effect: Row) -> float:
    """How far the interval's nearer end is from no difference."""
    if effect["verdict"] == "higher" or not effect["high"]:
        return float(effect["low"])
    return 1 / float(effect["high"])
