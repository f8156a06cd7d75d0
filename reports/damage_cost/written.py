"""What the costs of damage rest on: which boats wrote what of how many tears, and what is taken."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.language import say, say_many
from reports.sentences import listed
from schemas.outcomes import fixed_outcome
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

MOST_BOATS = 6
"""So many boats are named; of more it is said how many."""

WRITTEN = {
    "mending_hours": saying("mending of {tears}"),
    "hours_lost": saying("hours lost of {tears}"),
}
NONE_WRITTEN = {
    "mending_hours": saying("mending of none"),
    "hours_lost": saying("hours lost of none"),
}
NONE_COUNTS = {
    "mending_hours": saying("mending of {told:,}, too few of any boat's to count"),
    "hours_lost": saying("hours lost of {told:,}, too few of any boat's to count"),
}
OF_ALL = {
    "every boat": saying("all, by every boat"),
    "all there are": saying("all, by {boats}"),
    "some": saying("all, by {boats} alone"),
}
OF_SOME = {
    "every boat": saying("{counted:,}, by every boat"),
    "all there are": saying("{counted:,}, by {boats}"),
    "some": saying("{counted:,}, by {boats} alone"),
}
"""Of how many tears it is written, by who wrote it: every one of several boats, the only one, or
some of them."""
TAKEN = saying(
    "A tear of which it is not written is taken to be like the others with that rig, not to have "
    "cost nothing: on a ground like those there, like for like those on that boat. What a boat "
    "wrote of fewer than half its torn hauls is not used; like for like, such a boat is left out."
)


def written_sentences(findings: Findings) -> str:
    """Of how many tears and by which boats it is written what they took, and by how many hands."""
    boats: dict[str, list[Row]] = {}
    for row in findings["costs"]["written"]:
        boats.setdefault(row["amount"], []).append(row)
    if not boats:
        return ""
    tears = _sum(boats["hands"], "tears")
    said = [_written(name, boats[name], tears) for name in WRITTEN]
    lacking = any(_sum(boats[name], "counted") < tears for name in WRITTEN)
    in_money = _sum(boats["mending_cost"], "counted") > 0
    told = _sum(boats["hands"], "told")
    return " ".join(
        [
            say_many(
                "Of {number:,} tear it is written what it took: {written}.",
                "Of {number:,} tears it is written what they took: {written}.",
                tears,
                written="; ".join(said),
            ),
            *([say(TAKEN)] if lacking else []),
            *([_hands(told)] if in_money and told < tears else []),
        ]
    )


def _sum(boats: list[Row], name: str) -> int:
    return sum(row[name] for row in boats)


def _written(name: str, boats: list[Row], tears: int) -> str:
    """Of how many tears the amount is written, and by whom."""
    counted = _sum(boats, "counted")
    wrote = [row["vessel"] for row in boats if row["counted"]]
    if not wrote:
        told = _sum(boats, "told")
        return say(NONE_COUNTS[name], told=told) if told else say(NONE_WRITTEN[name])
    words = OF_ALL if counted == tears else OF_SOME
    said = say(words[_who(wrote, boats)], counted=counted, boats=_named(wrote))
    return say(WRITTEN[name], tears=said)


def _who(wrote: list[str], boats: list[Row]) -> str:
    if len(wrote) < len(boats):
        return "some"
    return "every boat" if len(boats) > 1 else "all there are"


def _named(boats: list[str]) -> str:
    if len(boats) <= MOST_BOATS:
        return listed(boats)
    return say_many("{number} boat", "{number} boats", len(boats))


def _hands(told: int) -> str:
    """How many tell the hands that mended, by which the cost of mending goes."""
    return say(HANDS_OF_SOME if told else HANDS_OF_NONE, told=told)


HANDS_OF_SOME = saying(
    "How many hands mended is written of {told:,}: elsewhere, where there is no bill either, one "
    "hand is taken, so the cost may be too low."
)
HANDS_OF_NONE = saying(
    "How many hands mended is written of none: elsewhere, where there is no bill either, one hand "
    "is taken, so the cost may be too low."
)


def filled_up(findings: Findings, name: str, damaged: int, missing: int) -> str:
    """How many of the damaged hauls do not say what a tear took, and how those count."""
    boats = [row for row in findings["costs"]["written"] if row["amount"] == name]
    silent = [row["vessel"] for row in boats if row["tears"] and not row["counted"]]
    fills = any(0 < row["counted"] < row["tears"] for row in boats)
    return " ".join(
        [
            say_many(
                "{of_damaged}, {number:,} says nothing of {outcome}.",
                "{of_damaged}, {number:,} say nothing of {outcome}.",
                missing,
                outcome=say(fixed_outcome(name).title).lower(),
                of_damaged=say_many(
                    "Of {number:,} haul with damage", "Of {number:,} hauls with damage", damaged
                ),
            ),
            *([say(FILLED_UP)] if fills else []),
            *([_left_out(silent)] if silent else []),
        ]
    )


FILLED_UP = saying(
    "A tear that says nothing is not counted as none, but as the mean of that boat's others with "
    "that rig: the figures here, and the totals in the files, are filled up so. Where there are no "
    "others, that boat's hauls with that rig are left out."
)


def _left_out(boats: list[str]) -> str:
    return say_many(
        "{boats} wrote it of fewer than half its damaged hauls: all its hauls are left out.",
        "{boats} wrote it of fewer than half their damaged hauls: all their hauls are left out.",
        len(boats),
        boats=_named(boats),
    )
