"""How a finding is said: what, where, how much, how sure, on what it rests.

Every sentence of the report that holds a figure is made here, from `findings.json`'s contents.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.counts import haul_count, trip_count
from reports.language import say, say_many
from reports.plain_words import LIKE_FOR_LIKE, NOTHING_ALIKE
from reports.ratio_words import TWICE, amount, in_times, span, times
from schemas.codes import CLEAR, Caution, Verdict
from schemas.outcomes import HEADLINES, SPECIES_PREFIX
from schemas.words import ALL_GROUNDS, WHOLE_RECORD, saying

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.findings import Findings
    from reports.parts import Row


GROUND_WORDS = {
    "mud": saying("on mud"),
    "sand": saying("on sand"),
    "stones": saying("on stones"),
    "mixed": saying("on mixed ground"),
    "hard": saying("on hard ground"),
    "rocky": saying("on rocky ground"),
    "unknown": saying("on ground that was not recorded"),
}

GROUND_NAMES = {
    "mud": saying("mud"),
    "sand": saying("sand"),
    "stones": saying("stones"),
    "mixed": saying("mixed ground"),
    "hard": saying("hard ground"),
    "rocky": saying("rocky ground"),
    "unknown": saying("ground that was not recorded"),
}

FACTOR_WORDS = {
    "ground": saying("ground"),
    "vessel": saying("boat"),
    "depth_band": saying("depth"),
    "quarter": saying("time of year"),
    "year": saying("year"),
}

WORTH_SAYING = 0.05

TOO_LITTLE = saying("too little to tell")
VERDICT_WORDS = {
    Verdict.LOWER: saying("lower"),
    Verdict.HIGHER: saying("higher"),
    Verdict.NO_DIFFERENCE: saying("no clear difference"),
    Verdict.TOO_LITTLE: TOO_LITTLE,
}
AT_LEAST = saying("at least {times:.2g} times {reference}'s, which had none")
AT_LEAST_WHERE_BOTH = saying(
    "at least {times:.2g} times {reference}'s, which had none where both were fished"
)
BY_ITSELF = saying("clear by itself only")


def claim(effect: Row, outcome: Row) -> str:
    """What, where, how much, how sure."""
    place = where(effect["ground"])
    if effect["ratio"] == 0:
        return say(
            "{had_none}{place} ({reach})",
            had_none=_none(effect, outcome),
            place=place,
            reach=_up_to(effect),
        )
    if effect["ratio"] is None:
        return say(
            "{had_none}{place}: {outcome} with {rig} is at least {times:.2g} times as much",
            had_none=_none({**effect, "rig": effect["reference"]}, outcome),
            place=place,
            outcome=title_of(outcome),
            rig=effect["rig"],
            times=effect["low"],
        )
    return (
        f"{said_of(effect, outcome)}{place}{in_part(effect)} "
        f"({span(effect['low'], effect['high'], outcome)})"
    )


def said_of(row: Row, outcome: Row) -> str:
    """The outcome's sentence on the ratio of a rig to a reference."""
    form = "said_of_times" if in_times(row["ratio"], row["high"]) else "said"
    return say(
        outcome[form],
        rig=row["rig"],
        reference=row["reference"],
        amount=amount(row["ratio"], outcome, row["high"]),
        fish=say(outcome["fish"]),
    )


def title_of(outcome: Row) -> str:
    """The outcome's title within a sentence; a species is called as the season calls it."""
    is_species = outcome["name"].startswith(SPECIES_PREFIX)
    return say(outcome["fish"]) if is_species else say(outcome["title"]).lower()


def in_part(effect: Row) -> str:
    """The part of the record that an effect is of, with its comma; nothing for the whole."""
    return "" if effect["part"] == WHOLE_RECORD else say(", in {part}", part=effect["part"])


def _none(effect: Row, outcome: Row) -> str:
    """That the rig had none, and of which fishing that is."""
    words = NONE_WHERE_BOTH if Caution.SEPARATED in effect["cautions"] else NONE_AT_ALL
    return say(words, rig=effect["rig"], outcome=title_of(outcome))


NONE_AT_ALL = saying("{rig} had no {outcome} at all")
NONE_WHERE_BOTH = saying("{rig} had no {outcome} where both were fished")


def _up_to(effect: Row) -> str:
    if effect["high"] is None:
        return say("which settles nothing")
    return say(
        UP_TO_TIMES if effect["high"] >= TWICE else UP_TO_PERCENT,
        percent=effect["high"] * 100,
        times=times(effect["high"]),
        reference=effect["reference"],
    )


UP_TO_PERCENT = saying("yet up to {percent:.0f} % of {reference}'s can't be ruled out")
UP_TO_TIMES = saying("yet up to {times} times {reference}'s can't be ruled out")


def in_brief(effect: Row, outcome: Row) -> str:
    """How much and how sure, without the rig's name: 36 % less often (between 14 and 52 %)."""
    if effect["low"] is None:
        return why_untold(effect)
    apart = Caution.SEPARATED in effect["cautions"]
    if effect["ratio"] is None:
        return say(
            AT_LEAST_WHERE_BOTH if apart else AT_LEAST,
            times=effect["low"],
            reference=effect["reference"],
        )
    if effect["ratio"] == 0:
        none = say("none where both were fished") if apart else say("none at all")
        return f"{none} ({_up_to(effect)})"
    how_much = amount(effect["ratio"], outcome, effect["high"])
    limits = span(effect["low"], effect["high"], outcome)
    said = f"{how_much} ({limits}){in_part(effect)}"
    if is_clear(effect):
        return said
    if effect["verdict"] == Verdict.NO_DIFFERENCE:
        return say(ALIKE, verdict=verdict_words(effect), likeliest=said)
    return f"{said}, {verdict_words(effect)}"


ALIKE = saying("{verdict}: likeliest {likeliest}")
"""So that a figure beside no difference is not taken for one."""


def misleads(effect: Row) -> bool:
    """Whether the raw comparison points the other way than the one like for like."""
    raw, ratio = effect["raw_ratio"], effect["ratio"]
    if not (is_clear(effect) or is_clear_alone(effect)) or not raw or not ratio:
        return False
    return bool(abs(raw - 1) > WORTH_SAYING and (raw - 1) * (ratio - 1) < 0)


def raw_words(effect: Row, outcome: Row) -> str:
    """What the raw comparison would have said."""
    return say(
        "The raw figures say otherwise, {amount}: {rig} and {reference} were not fished alike "
        "often on each ground and day.",
        amount=amount(effect["raw_ratio"], outcome),
        rig=effect["rig"],
        reference=effect["reference"],
    )


def capital(words: str) -> str:
    """The words with a capital at their head."""
    return f"{words[:1].upper()}{words[1:]}"


def rests_on(effect: Row) -> str:
    """What a finding rests on: hauls and trips of either rig, boats, and what was held alike."""
    factors = listed(factor_words(effect["adjusted_for"]))
    said = say(
        RESTS_ALIKE if factors else RESTS,
        of_rig=_hauls(effect["rig_hauls"], effect["rig_trips"]),
        rig=effect["rig"],
        of_reference=_hauls(effect["reference_hauls"], effect["reference_trips"]),
        reference=effect["reference"],
        boats=say_many("{number} boat", "{number} boats", effect["vessels"]),
        factors=factors,
    )
    doubts = [CAUTION_WORDS[name] for name in effect["cautions"] if name in CAUTION_WORDS]
    return " ".join([said, *map(say, doubts)])


RESTS = saying(
    "Rests on {of_rig} with {rig} and {of_reference} with {reference}, of {boats}, as they were."
)
RESTS_ALIKE = saying(
    "Rests on {of_rig} with {rig} and {of_reference} with {reference}, of {boats}, like for like "
    "in {factors}."
)

CAUTION_WORDS = {
    Caution.FEW_TRIPS: saying("Fewer than ten trips of one of them: take it with care."),
    Caution.FEW_HAULS: saying("Fewer than ten hauls of one of them were side by side."),
    Caution.FEW_WITH_SOME: saying("Fewer than five hauls of one of them had any."),
    Caution.ONE_AFTER_OTHER: saying(
        "Every boat that fished both changed once, and all the same way: what else changed with "
        "the weeks is in it."
    ),
}


def _hauls(hauls: int, trips: int) -> str:
    return say(
        "{hauls} in {trips}",
        hauls=haul_count(hauls),
        trips=trip_count(trips),
    )


def of_wider_limits(effects: Sequence[Row]) -> str:
    """Why a bar that misses 1 is not told as clear, where there is one; behind a caption."""
    return f" {say(WIDER_LIMITS)}" if any(map(is_clear_alone, effects)) else ""


WIDER_LIMITS = saying(
    "A bar that misses the line may be clear by itself only: verdicts go by a wider interval, "
    "which holds for all rigs together."
)


def why_untold(effect: Row) -> str:
    """Why there is no figure for two rigs, in a few words."""
    totals = {effect.get("rig_total"), effect.get("reference_total")}
    if Caution.NONE_SEEN in effect["cautions"] and totals == {0}:
        return say(NONE_WITH_EITHER)
    for caution, words in WHY_UNTOLD.items():
        if caution in effect["cautions"]:
            return say(words)
    return say(TOO_LITTLE)


NONE_WITH_EITHER = saying("none recorded with either of them")
WHY_UNTOLD = {
    Caution.NOT_FISHED_BOTH: saying("not both fished, or nothing recorded"),
    Caution.UNTOLD_SIDE_BY_SIDE: saying("hardly side by side in the hauls that tell of it"),
    Caution.FEW_SIDE_BY_SIDE: saying("too few hauls or trips side by side"),
    Caution.NOT_SIDE_BY_SIDE: saying("not side by side"),
    Caution.NONE_SEEN: saying("none recorded with one of them"),
    Caution.TOO_FEW_TRIPS: saying("too few trips to compare like for like"),
    Caution.TOO_LITTLE_SHARED: saying(
        "too little of the reference's fishing was where both were fished"
    ),
    Caution.SEPARATED: saying("seen with one of them only where both were fished"),
    Caution.NOT_TOLD_APART: saying("can't be told from ground or boat"),
}


def like_for_like(factors: list[str]) -> str:
    """What is held alike between the hauls that a season's ratios compare."""
    if not factors:
        return say(NOTHING_ALIKE)
    return say(LIKE_FOR_LIKE, factors=listed(factor_words(factors)))


def factor_words(factors: list[str]) -> list[str]:
    """The factors as a skipper would name them."""
    return [say(FACTOR_WORDS.get(name, name)) for name in factors]


def listed(words: list[str]) -> str:
    """One, two and three."""
    if len(words) < 2:
        return "".join(words)
    return say("{first} and {last}", first=", ".join(words[:-1]), last=words[-1])


def where(ground: str) -> str:
    """The ground as a phrase with its space in front; nothing for all grounds."""
    if ground == ALL_GROUNDS:
        return ""
    if ground in GROUND_WORDS:
        return f" {say(GROUND_WORDS[ground])}"
    return " " + say("on {ground}", ground=ground)


def is_told(effect: Row) -> bool:
    """Whether the effect's limits may be shown to a reader, and say anything."""
    if effect["low"] is None or Caution.NOT_SIDE_BY_SIDE in effect["cautions"]:
        return False
    from_nought_on = not effect["low"] and effect["high"] is None
    return not (from_nought_on and effect["ratio"] is None)


def is_clear(effect: Row) -> bool:
    """Whether the effect is a difference that stands."""
    return is_told(effect) and is_clear_verdict(effect["verdict"])


def is_clear_verdict(verdict: Verdict) -> bool:
    """Whether the verdict is that there is a difference."""
    return verdict in CLEAR


def verdict_words(effect: Row) -> str:
    """The verdict of an effect that is told, or that it is clear by itself only.

    One that is not judged among all headline comparisons is said to be clear by itself.
    """
    if is_clear_alone(effect):
        return say(BY_ITSELF)
    verdict: Verdict = effect["verdict"]
    return say(VERDICT_WORDS[verdict]) if is_headline(effect) else by_itself(verdict)


def verdict_among_all(row: Row) -> str:
    """The verdict of a row among all headline comparisons, or that it is clear by itself only."""
    only_alone = row["verdict_alone"] in CLEAR and row["verdict"] not in CLEAR
    return say(BY_ITSELF if only_alone else VERDICT_WORDS[row["verdict"]])


def by_itself(verdict: Verdict) -> str:
    """A verdict that allows for no other comparison; one that there is a difference says so."""
    return say(CLEAR_BY_ITSELF.get(verdict, VERDICT_WORDS[verdict]))


CLEAR_BY_ITSELF = {
    Verdict.LOWER: saying("lower by itself"),
    Verdict.HIGHER: saying("higher by itself"),
}


def is_headline(effect: Row) -> bool:
    """Whether the effect is one of the headline comparisons, which are judged together."""
    return effect["outcome"] in HEADLINES and effect["ground"] == ALL_GROUNDS


def is_thin(effect: Row) -> bool:
    """Whether so few trips or hauls tell it that, among so many on single grounds, it is luck."""
    return not {Caution.FEW_TRIPS, Caution.FEW_HAULS}.isdisjoint(effect["cautions"])


def is_clear_alone(effect: Row) -> bool:
    """Whether it would be a clear difference by itself, and is not among all that were made."""
    return is_told(effect) and not is_clear(effect) and effect["verdict_alone"] in CLEAR


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
    if effect["verdict"] == Verdict.HIGHER or not effect["high"]:
        return float(effect["low"])
    return 1 / float(effect["high"])
