"""What the headlines leave open though they are told: each doubt only where it is true of a run."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.rates.model_table import NOT_TOLD_APART, SAME_FOR_ALL
from reports.cells import outcomes_of, over_all_grounds
from reports.far_catches import far_catches
from reports.language import say
from reports.once_at_most import drawn_together
from reports.ratio_words import amount
from reports.sentences import (
    WORTH_SAYING,
    capital,
    claim,
    factor_words,
    is_clear,
    is_clear_alone,
    is_headline,
    is_told,
    listed,
    title_of,
)
from schemas.codes import Caution, HoursClaim, OtherWay
from schemas.words import WHOLE_RECORD, saying

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pipeline.findings import Findings
    from reports.parts import Row

CHECK_FISH = "other_kg"
"""The fish to which a ground gear should matter less."""
OUT_OF_STEP = {HoursClaim.PER_HAUL, HoursClaim.NEITHER}
"""What is found of damage and hours where it does not go by the hour."""

CLASS_WORDS = {
    "depth_band": saying("bands of depth"),
    "quarter": saying("quarters of the year"),
}
"""Of the factors whose hauls are alike by class only, what the classes are."""

NOT_HELD_ALIKE = saying(
    "Nothing holds {factors} alike between the hauls that are compared: what the rigs' hauls "
    "differed in there is in the ratios too."
)
ALIKE_IN_CLASSES = saying(
    "The hauls that are compared were alike in {factors} only as far as {classes} tell: what else "
    "the rigs' hauls differed in there is in the ratios too."
)
BOUND = saying(
    "{capital} went wholly with {other} in these hauls: holding {other} alike holds {factor} alike "
    "as well, but which of them makes a difference can't be told."
)
FEW = saying(
    "Fewer than ten trips with the rig, or with {reference}, stand behind what is said of {rigs}: "
    "one odd trip can make much of the difference."
)
POINT_APART = saying(
    "{rig} in {outcome}: as told {beside}, before and after changes of rig {after}. The two ways "
    "point apart."
)
NOT_SO_SIDE_BY_SIDE = saying(
    "{rig} in {outcome}: as told {beside}, but {only} from those hauls alone that both rigs made "
    "under the same conditions (ground, boat and stretch of the record). What is told rests on "
    "hauls that were made under others: do not go by it."
)
NOT_SO_WITHIN_TRIPS = saying(
    "{rig} in {outcome}: as told {beside}, but {only} within the trips that fished both rigs. What "
    "sets trips apart (weeks, weather, and what nobody wrote down) may be in what is told: do not "
    "go by it."
)
NOT_SO_WITHIN_TOWS = saying(
    "{rig} in {outcome}: as told {beside}, but {only} in the tows that fished both rigs at once, "
    "on one ground and in one sea: do not go by it."
)
NOT_SO_WITHOUT_FAR = saying(
    "{rig} in {outcome}: as told {beside}, but {only} without {catches}. Look that up in the log: "
    "until it is known do not go by what is told."
)
NOT_IN_TURN = saying(
    "{rigs} and {reference}: every boat that fished both changed from one to the other once, and "
    "all the same way, so whatever else changed with the weeks is in what is told: do not go by "
    "it. Fishing both in turn would tell."
)
CHECK_FISH_TOO = saying(
    "{claim}: a ground gear should matter less to them, so this hints that the rigs were not "
    "fished alike."
)
TREND = saying(
    "Damage did not grow in step with the hours towed: a tow twice as long had damage "
    "{times:.1f} times as often. Rates per hour are not quite fair to rigs whose tows were of "
    "unlike length."
)
TREND_OF_THE_WHOLE = saying(
    "Damage did not grow in step with the hours towed: over the whole record a tow twice as long "
    "had damage {times:.1f} times as often. Rates per hour are not quite fair to rigs whose tows "
    "were of unlike length."
)


def further_doubts(findings: Findings) -> list[str]:
    """The doubts about headlines that are told, a sentence or two each."""
    told = [e for e in findings["effects"] if is_headline(e) and is_told(e)]
    if not told:
        return []
    return [
        *_not_held_alike(told, findings),
        *_few_trips(told),
        *drawn_together(findings),
        *not_so_otherwise(told, findings),
        *not_in_turn(told),
        *_two_ways(told, findings),
        *_check_fish(findings),
        *_out_of_step(told, findings["diagnostics"]["hours"]),
    ]


def held_alike(findings: Findings) -> list[str]:
    """The factors that any headline ratio was adjusted for; where none is told, those asked for."""
    asked = findings["season"]["adjusted_for"]
    told = [
        effect["adjusted_for"]
        for effect in findings["effects"]
        if is_headline(effect) and is_told(effect)
    ]
    return [name for name in asked if not told or any(name in factors for factors in told)]


def class_words(factors: list[str]) -> list[str]:
    """What the factors are told in, of those that are told in classes."""
    return [say(CLASS_WORDS[name]) for name in factors if name in CLASS_WORDS]


def _not_held_alike(told: list[Row], findings: Findings) -> list[str]:
    """The conditions that hauls may differ in and that no headline is adjusted for.

    Where all hauls were of one boat, ground or year they did not differ in it, and nothing is said.
    """
    season = findings["season"]
    years = {str(season[end])[:4] for end in ("first_day", "last_day")}
    differ = {
        "ground": len(season["grounds"]) > 1,
        "vessel": len(season["vessels"]) > 1,
        "depth_band": True,
        "quarter": True,
        "year": len(years) > 1,
    }
    held = {factor for effect in told for factor in effect["adjusted_for"]}
    lacking = [factor for factor, may_differ in differ.items() if may_differ and factor not in held]
    alike = [factor for factor in lacking if _same_for_all(factor, told, findings)]
    left_out = {model["name"]: model["left_out"] for model in findings["standing"]["models"]}
    bound = {
        factor: others
        for effect in told
        for factor, others in goes_with(left_out.get(effect["model"], [])).items()
        if factor not in held
    }
    loose = [factor for factor in lacking if factor not in alike and factor not in bound]
    in_classes = [factor for factor in alike if factor in CLASS_WORDS]
    said = []
    if loose:
        said.append(say(NOT_HELD_ALIKE, factors=listed(factor_words(loose))))
    if in_classes:
        factors, classes = factor_words(in_classes), class_words(in_classes)
        said.append(say(ALIKE_IN_CLASSES, factors=listed(factors), classes=listed(classes)))
    for factor, others in bound.items():
        (name,), other = factor_words([factor]), listed(factor_words(others))
        said.append(say(BOUND, capital=capital(name), factor=name, other=other))
    return said


def goes_with(left_out: list[str]) -> dict[str, list[str]]:
    """By each factor that a model has no term for, as others give all of it: which others."""
    parted = (why.partition(NOT_TOLD_APART.format("", "")) for why in left_out)
    return {factor: others.split(", ") for factor, _, others in parted if others}


def _same_for_all(factor: str, told: list[Row], findings: Findings) -> bool:
    """Whether the hauls behind each of these ratios were all of one ground, boat, quarter ..."""
    left_out = {model["name"]: model["left_out"] for model in findings["standing"]["models"]}
    return all(SAME_FOR_ALL.format(factor) in left_out.get(e["model"], []) for e in told)


def _few_trips(told: list[Row]) -> list[str]:
    rigs = sorted({effect["rig"] for effect in told if Caution.FEW_TRIPS in effect["cautions"]})
    return [say(FEW, rigs=listed(rigs), reference=told[0]["reference"])] if rigs else []


def not_so_otherwise(
    told: list[Row], findings: Findings, ways: Iterable[OtherWay] = tuple(OtherWay)
) -> list[str]:
    """Where hauls under the same conditions alone, or the same trips, point the other way.

    So too where catches that may be slips make the difference; of all such `ways` or of some.
    """
    outcomes = outcomes_of(findings)
    return [
        say(
            words,
            rig=effect["rig"],
            outcome=title_of(outcomes[effect["outcome"]]),
            beside=amount(effect["ratio"], outcomes[effect["outcome"]], effect["high"]),
            only=amount(ratio, outcomes[effect["outcome"]]),
            catches=far_catches(findings) if way == OtherWay.WITHOUT_FAR else "",
        )
        for effect in told
        for way, words in NOT_SO.items()
        if way in ways and (ratio := otherwise(way, effect, findings))
    ]


def not_in_turn(told: list[Row]) -> list[str]:
    """Of what is clear, or clear by itself, the rigs that were fished one after the other."""
    rigs = sorted({e["rig"] for e in told if _is_found(e) and _is_after(e)})
    return [say(NOT_IN_TURN, rigs=listed(rigs), reference=told[0]["reference"])] if rigs else []


def _is_found(effect: Row) -> bool:
    return is_clear(effect) or is_clear_alone(effect)


def _is_after(effect: Row) -> bool:
    return Caution.ONE_AFTER_OTHER in effect["cautions"]


NOT_SO = {
    OtherWay.SIDE_BY_SIDE: NOT_SO_SIDE_BY_SIDE,
    OtherWay.WITHIN_TRIPS: NOT_SO_WITHIN_TRIPS,
    OtherWay.WITHIN_TOWS: NOT_SO_WITHIN_TOWS,
    OtherWay.WITHOUT_FAR: NOT_SO_WITHOUT_FAR,
}
"""What is said where a way of comparing fewer hauls, but more alike, points the other way; or where
catches that may be slips of the pen make the difference."""


def otherwise(way: str, effect: Row, findings: Findings) -> float | None:
    """The ratio of a headline in another way, where that gainsays it.

    It does where it points the other way; and within trips or tows, of which there must be enough
    for limits, also where the headline's ratio is not within these.
    """
    key = ("outcome", "rig", "part")
    found = next(
        (
            each
            for row in findings["sensitivity"]
            if all(row[name] == effect[name] for name in key)
            for each in row["ways"]
            if each["way"] == way and each["ratio"] and (way in WITHOUT_LIMITS or each["low"])
        ),
        None,
    )
    if found is None or not effect["ratio"]:
        return None
    if way == OtherWay.WITHOUT_FAR:
        return float(found["ratio"]) if _is_made_by_far(effect, found, findings) else None
    beyond = way != OtherWay.SIDE_BY_SIDE and not _is_within(effect["ratio"], found)
    gainsays = beyond or _point_apart(effect, found["ratio"], findings)
    return float(found["ratio"]) if gainsays else None


WITHOUT_LIMITS = {OtherWay.SIDE_BY_SIDE, OtherWay.WITHOUT_FAR}
"""The ways of which a ratio alone may gainsay a headline."""


def _is_made_by_far(effect: Row, without: Row, findings: Findings) -> bool:
    """Whether catches far beyond the others make a headline's ratio, or that it is clear.

    They do where it is clear, even by itself, with them alone, or moves with them by more than is
    worth knowing.
    """
    matters = outcomes_of(findings)[effect["outcome"]]["matters"]
    apart = max(effect["ratio"] / without["ratio"], without["ratio"] / effect["ratio"])
    fades = _is_found(effect) and effect["verdict_alone"] != without["verdict_alone"]
    return bool(fades or apart > matters)


def _is_within(ratio: float, found: Row) -> bool:
    """Whether a ratio is within limits, of which the upper may be endless."""
    return bool(found["low"] <= ratio and (found["high"] is None or ratio <= found["high"]))


def is_gainsaid(effect: Row, findings: Findings) -> bool:
    """Whether a way of comparing fewer hauls, but more alike, gainsays a headline, or time does."""
    return _is_after(effect) or any(otherwise(way, effect, findings) for way in NOT_SO)


def _two_ways(told: list[Row], findings: Findings) -> list[str]:
    """Where what came of changes of rig points the other way than the rigs side by side."""
    changed = {
        (pair["rig"], pair["reference"], pooled["ratio"]["outcome"]): pooled["ratio"]["ratio"]
        for pair in findings["changes"]["pairs"]
        for pooled in pair["ratios"]
    }
    outcomes, said = outcomes_of(findings), []
    for effect in told:
        rigs = effect["rig"], effect["reference"]
        after = changed.get((*rigs, effect["outcome"]))
        back = changed.get((*reversed(rigs), effect["outcome"]))
        after = 1 / back if after is None and back else after
        if after is not None and _point_apart(effect, after, findings):
            outcome = outcomes[effect["outcome"]]
            said.append(
                say(
                    POINT_APART,
                    rig=effect["rig"],
                    outcome=title_of(outcome),
                    beside=amount(effect["ratio"], outcome, effect["high"]),
                    after=amount(after, outcome),
                )
            )
    return said


def _point_apart(effect: Row, other: float, findings: Findings) -> bool:
    """Whether a ratio and another are told, worth a word, and on either side of no difference.

    Of one that is not clear, even by itself, they must differ by more than what is worth knowing:
    chance alone sets such ratios as far apart as 6 % more and 5 % less.
    """
    one = effect["ratio"]
    if not one or not other:
        return False
    stands = _is_found(effect)
    least = 1.0 if stands else outcomes_of(findings)[effect["outcome"]]["matters"]
    apart = max(one / other, other / one) > least
    worth_saying = min(abs(one - 1), abs(other - 1)) > WORTH_SAYING
    return bool(apart and worth_saying and (one - 1) * (other - 1) < 0)


def _check_fish(findings: Findings) -> list[str]:
    """Where the fish that a gear should matter less to stand out as well."""
    outcomes = outcomes_of(findings)
    return [
        say(CHECK_FISH_TOO, claim=claim(effect, outcomes[CHECK_FISH]))
        for effect in over_all_grounds(findings["effects"], CHECK_FISH)
        if is_clear(effect)
    ]


def _out_of_step(told: list[Row], hours: Row | None) -> list[str]:
    """Where damage did not go by the hour, and over which hauls that was found."""
    if hours is None or hours["slope"] is None or hours["claim"] not in OUT_OF_STEP:
        return []
    in_part = any(effect["part"] != WHOLE_RECORD for effect in told)
    return [say(TREND_OF_THE_WHOLE if in_part else TREND, times=2 ** hours["slope"])]
