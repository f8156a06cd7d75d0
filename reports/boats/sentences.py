"""What is said of boats: their mean, a further boat, whether they agree, and who is not in it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import p_cell, ratio_cell
from reports.language import say, say_many
from reports.ratio_words import amount, span
from reports.sentences import VERDICT_WORDS, in_part, is_clear_verdict, listed, said_of
from schemas.codes import BoatWithout, Caution
from schemas.words import saying

if TYPE_CHECKING:
    from reports.parts import Row

MORE_THAN_CHANCE = 0.05
"""As much difference as boats without any show in fewer than one season of twenty."""

MANY_BOATS = 10
"""Fewer can differ a good deal and chance be as good a reason. Own judgement; no source."""

WIDEST_TOLD = 100.0
"""Limits that are so many times apart are no figure to look for. Own judgement; no source."""

MOST_NAMED = 4
"""So many boats are named for one reason; the table names them all."""

WHY_NONE = {
    BoatWithout.NOT_RECORDED: saying("nothing recorded"),
    BoatWithout.NEITHER_FISHED: saying("fished neither"),
    BoatWithout.RIG_NOT_FISHED: saying("did not fish {rig}"),
    BoatWithout.REFERENCE_NOT_FISHED: saying("did not fish {reference}"),
    Caution.FEW_SIDE_BY_SIDE: saying("fewer than five hauls or three trips of either side by side"),
    Caution.NOT_SIDE_BY_SIDE: saying("the two hardly side by side"),
    BoatWithout.NONE_WITH_RIG: saying("none at all with {rig}"),
    BoatWithout.NONE_WITH_REFERENCE: saying("none at all with {reference}"),
    Caution.NONE_SEEN: saying("none recorded with one of them, or with both"),
    Caution.SEPARATED: saying("none with one of them where the two met"),
    Caution.FEW_WITH_SOME: saying("fewer than five hauls with any"),
    Caution.TOO_FEW_TRIPS: saying("too few trips to compare like for like"),
    Caution.NOT_TOLD_APART: saying("can't be told from the ground or the time"),
}

WITH_THOSE = {
    BoatWithout.NONE_WITH_RIG: saying("With those that had none, it would be lower."),
    BoatWithout.NONE_WITH_REFERENCE: saying("With those that had none, it would be higher."),
}
"""Which way those draw the mean that can't be in it, as they had none."""

CLAIM = saying("Over {many} boats {said} ({limits})")
CLAIM_IN_DOUBT = saying("Over {many} boats {said} ({limits}): {verdict}")

NO_MORE_THAN_CHANCE = saying("The boats differ no more than chance might have it.")
BEYOND_CHANCE = saying(
    "The boats differ more than chance would have it: about {percent:.0f} % of how they differ is "
    "their own."
)
FROM_SO_MANY = saying("That rests on {many} boats; chance alone: p {p}.")
ON_A_FURTHER_BOAT = saying("On a further boat it might be {span}.")


def with_a_ratio(row: Row) -> list[Row]:
    """The boats whose own ratio could go into a mean."""
    return [boat for boat in row["boats"] if boat["log_ratio"] is not None]


def claim(row: Row, outcome: Row) -> str:
    """What the mean over boats says, and how sure."""
    mean = row["mean"]
    wide = mean["high"] > WIDEST_TOLD * mean["low"]
    return say(
        CLAIM if is_clear_verdict(mean["verdict"]) else CLAIM_IN_DOUBT,
        many=len(with_a_ratio(row)),
        said=said_of({**row, "ratio": mean["ratio"], "high": mean["high"]}, outcome),
        limits=_settles_nothing(mean) if wide else span(mean["low"], mean["high"], outcome),
        verdict=say(VERDICT_WORDS[mean["verdict"]]),
    )


def _settles_nothing(mean: Row) -> str:
    return say(
        "{low} to {high} times, which settles nothing",
        low=ratio_cell(mean["low"]),
        high=ratio_cell(mean["high"]),
    )


def of_mean(row: Row, outcome: Row) -> str:
    """The mean over boats, a further boat, whether they agree, which boat moves it, who is out."""
    return " ".join(
        filter(
            None,
            [
                f"{claim(row, outcome)}.",
                _further(row, outcome),
                _agree(row),
                _moved(row["mean"], outcome),
                _left_out(row),
            ],
        )
    )


def _further(row: Row, outcome: Row) -> str:
    """What a further boat may look for; nothing where few boats give no sign that they differ."""
    mean = row["mean"]
    low, high = mean["further_low"], mean["further_high"]
    if not mean["spread"]:
        if len(with_a_ratio(row)) < MANY_BOATS:
            return ""
        return say("A further boat should see the same, as far as these can tell.")
    if high > WIDEST_TOLD * low:
        return say("How a further boat would do can't be told from so few.")
    return say(ON_A_FURTHER_BOAT, span=span(low, high, outcome))


def _agree(row: Row) -> str:
    """Whether the boats differ more than chance would have it."""
    mean = row["mean"]
    if mean["chance_of_as_much"] < MORE_THAN_CHANCE:
        differ = say(BEYOND_CHANCE, percent=mean["share_beyond_chance"] * 100)
        chance = p_cell(mean["chance_of_as_much"])
        return f"{differ} {say(FROM_SO_MANY, many=len(with_a_ratio(row)), p=chance)}"
    if len(with_a_ratio(row)) < MANY_BOATS:
        return say(
            "The boats differ no more than chance might have it, though so few could hide a lot."
        )
    return say(NO_MORE_THAN_CHANCE)


def _moved(mean: Row, outcome: Row) -> str:
    ends = amount(mean["without_low"], outcome), amount(mean["without_high"], outcome)
    if ends[0] == ends[1]:
        return say("With any one boat left out it is {amount}.", amount=ends[0])
    return say(
        "With one boat left out it is {span}; {boat} moves it most.",
        span=span(mean["without_low"], mean["without_high"], outcome),
        boat=mean["moved_most_by"],
    )


def _left_out(row: Row) -> str:
    """Who gives no ratio to the mean, and which way that draws it."""
    by_reason: dict[str, list[str]] = {}
    for boat in row["boats"]:
        if boat["log_ratio"] is None:
            by_reason.setdefault(why_none(boat, row), []).append(boat["vessel"])
    if not by_reason:
        return ""
    named = "; ".join(f"{boats_named(boats)} ({why})" for why, boats in by_reason.items())
    said = say("Not in it: {boats}.", boats=named)
    reasons = {boat["why_none"] for boat in row["boats"]}
    ways = [words for reason, words in WITH_THOSE.items() if reason in reasons]
    return f"{said} {say(ways[0])}" if len(ways) == 1 else said


def boats_named(boats: list[str]) -> str:
    """The boats by name; how many they are where they are more than are named."""
    if len(boats) <= MOST_NAMED:
        return listed(boats)
    return say_many("{number} boat", "{number} boats", len(boats))


def why_none(boat: Row, row: Row) -> str:
    """Why the boat gives no ratio, in a few words; nothing where it gives one."""
    if boat["why_none"] is None:
        return ""
    return say(WHY_NONE[boat["why_none"]], rig=row["rig"], reference=row["reference"])


def of_two(rows: list[Row], outcome: Row) -> str:
    """The two boats' own ratios of each rig, as two are too few for a mean."""
    if not rows:
        return ""
    told = [
        say("with {rig} {ratios}", rig=row["rig"], ratios=listed(list(map(_own, both))))
        for row in rows
        for both in [with_a_ratio(row)]
    ]
    return say(
        "{outcome} on the only two boats that can be held to themselves, too few for a mean over "
        "boats, as times {reference}'s: {told}.",
        outcome=say(outcome["title"]),
        reference=rows[0]["reference"],
        told="; ".join(told),
    )


def _own(boat: Row) -> str:
    reach = say("{low} to {high}", low=ratio_cell(boat["low"]), high=ratio_cell(boat["high"]))
    return f"{boat['vessel']} {ratio_cell(boat['ratio'])} ({reach}{in_part(boat)})"
