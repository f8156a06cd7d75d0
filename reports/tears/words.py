"""What is said of where and why the net tears, in sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.counts import haul_count
from reports.language import say, say_many
from reports.sentences import listed
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from reports.parts import Row

MANY = {
    "wing": saying("wings"),
    "bunt": saying("bunts"),
    "bosom": saying("the bosom"),
    "belly": saying("the belly"),
    "square": saying("the square"),
    "lengthener": saying("the lengthener"),
    "codend": saying("the codend"),
    "headline": saying("the headline"),
    "selvedge": saying("selvedges"),
    "fishing_line": saying("the fishing line"),
    "ground_gear": saying("the ground gear"),
    "sweep": saying("sweeps"),
    "whole_net": saying("the whole net"),
}
"""What tore, in a sentence."""
CAUSE_WORDS = {
    "fast": saying("fast"),
    "stones": saying("stones"),
    "hard_ground": saying("hard ground"),
    "mud": saying("mud"),
    "debris": saying("debris"),
    "other_gear": saying("other gear"),
    "animal": saying("animal"),
    "chafe": saying("chafe"),
    "ground_gear": saying("ground gear"),
    "wear": saying("wear"),
    "overload": saying("overload"),
    "handling": saying("handling"),
}
BY = {
    "fast": saying("coming fast"),
    "stones": saying("stones"),
    "hard_ground": saying("hard ground"),
    "mud": saying("mud"),
    "debris": saying("rubbish on the seabed"),
    "other_gear": saying("other gear"),
    "animal": saying("an animal"),
    "chafe": saying("chafe"),
    "ground_gear": saying("the ground gear"),
    "wear": saying("wear"),
    "overload": saying("too much in the net"),
    "handling": saying("handling"),
}
"""By what the net tore, in a sentence."""

MOST_TIED = 3
LEAST_CHANCE = 0.001
"""A smaller chance rests more on the rule than on the tears; it is not told closer."""
LONGEST_NOTE = 280


def cause_word(cause: str) -> str:
    """A cause by itself: hard ground."""
    return say(CAUSE_WORDS[cause])


def counted(damage: Row) -> list[str]:
    """How many damaged hauls say where, and why."""
    whole = whole_record(damage)
    damaged, silent = whole["damaged"], len(whole["part_not_told"])
    if not damaged:
        return [
            say(
                "No damage in {hauls} of which it is known: nothing to draw.",
                hauls=haul_count(whole["hauls"]),
            )
        ]
    with_cause = damaged - len(whole["cause_not_told"])
    if silent == damaged and not with_cause:
        return [
            say_many(
                "The one damaged haul does not tell where the net tore, or why: nothing to draw.",
                "None of {number:,} damaged hauls tells where the net tore, or why: nothing to "
                "draw.",
                damaged,
            )
        ]
    return [
        say_many(
            "Of {number:,} damaged haul, {place}; {cause}.",
            "Of {number:,} damaged hauls, {place}; {cause}.",
            damaged,
            place=_naming_a_part(damaged - silent, silent),
            cause=_naming_a_cause(with_cause),
        )
    ]


def _naming_a_part(naming: int, silent: int) -> str:
    """How many damaged hauls name the part that tore, and how many do not, where any do not."""
    if not naming:
        return say("none names the part of the net that tore")
    with_part = say_many(
        "{number:,} names the part of the net that tore",
        "{number:,} name the part of the net that tore",
        naming,
    )
    if not silent:
        return with_part
    without_part = say_many("of {number:,} none is told", "of {number:,} none is told", silent)
    return say("{with_part} and {without_part}", with_part=with_part, without_part=without_part)


def _naming_a_cause(naming: int) -> str:
    if not naming:
        return say("none names a cause")
    return say_many("{number:,} names a cause", "{number:,} name a cause", naming)


def how_counted(damage: Row) -> list[str]:
    """What the counts leave out, and where they come from."""
    whole = whole_record(damage)
    told = whole["damaged"] > min(len(whole["part_not_told"]), len(whole["cause_not_told"]))
    return [say(words) for words in HOW_COUNTED] if told else []


HOW_COUNTED = (
    saying(
        "A haul may name several parts or causes and counts for each, so that shares do not add up "
        "to 100 %. What is not named counts for none: all these figures are rather too low."
    ),
    saying(
        "Parts, sides and causes are read from the notes by the program, which can misread them; a "
        "person's word in the table damage_review goes first. A note tells one side for all the "
        "parts it names. Whether a wing or a belly tore above or below is not read, even where a "
        "note tells it: both views carry the same figure."
    ),
    saying(
        "Figures are per 100 hours towed, of hauls of which it is known whether the net was "
        "damaged; limits hold 19 times in 20. They are as recorded: where a rig was fished makes "
        "part of them."
    ),
)


def beyond_chance(damage: Row) -> list[str]:
    """Which part tears with which rig more or less often, once the net tears; if it can be told."""
    looks, reference = damage["comparisons"], damage["reference"]
    apart = _not_compared(damage["not_compared"], reference)
    if not looks:
        return apart
    outstanding = [part for part in damage["parts"] if part["stands_out"]]
    comparisons = say_many("{number:,} comparison", "{number:,} comparisons", looks)
    found = (
        say_many(
            "Of {comparisons} of torn parts {number} is hardly luck alone: {claims}. It need not "
            "be the rig: depth, time of year and the skipper's choice were not held alike.",
            "Of {comparisons} of torn parts {number} are hardly luck alone: {claims}. It need not "
            "be the rig: depth, time of year and the skipper's choice were not held alike.",
            len(outstanding),
            comparisons=comparisons,
            claims="; ".join(_claim(part, reference) for part in outstanding),
        )
        if outstanding
        else say(NONE_OUTSTANDING, comparisons=comparisons)
    )
    return [f"{found} {say(HELD_ALIKE, reference=reference)}", *apart]


NONE_OUTSTANDING = saying(
    "Of {comparisons} of torn parts none is clearly more than luck. That is no proof that they are "
    "alike."
)
HELD_ALIKE = saying(
    "Like for like, with {reference} on the same grounds and boats, only shares of the tears whose "
    "place is told are compared: where the net tears once it tears. How often it tears at all is "
    "told under net damage. A boat that leaves one part out of its notes more often with one rig "
    "than with another would make a difference where there is none."
)


def _not_compared(rigs: Sequence[str], reference: str) -> list[str]:
    if not rigs:
        return []
    return [
        say(
            "Where they tear is not compared with {reference}, as too little was fished or torn on "
            "the same grounds and boats: {rigs}.",
            reference=reference,
            rigs=listed(list(rigs)),
        )
    ]


def _claim(part: Row, reference: str) -> str:
    against, chance = part["against"], part["chance_of_many"]
    words = MANY[part["part"]]
    return say(
        CLAIM_OR_LESS if chance < LEAST_CHANCE else CLAIM,
        part=say(words),
        share=100 * against["share"],
        tears=against["tears"],
        rig=part["rig"],
        reference=reference,
        reference_share=100 * against["reference_share"],
        reference_tears=against["reference_tears"],
        chance=100 * max(chance, LEAST_CHANCE),
    )


CLAIM = saying(
    "{part} in {share:.0f} % of {tears:,} tears with {rig}, weighed alike by ground and boat, "
    "where {reference} has {reference_share:.0f} % of {reference_tears:,} (chance {chance:.1f} %)"
)
CLAIM_OR_LESS = saying(
    "{part} in {share:.0f} % of {tears:,} tears with {rig}, weighed alike by ground and boat, "
    "where {reference} has {reference_share:.0f} % of {reference_tears:,} (chance {chance:.1f} % "
    "or less)"
)


def rig_says(fished: Row, parts: Sequence[Row], causes: Sequence[Row]) -> str:
    """One rig in a sentence: its tears, their commonest place and their commonest cause."""
    return f"{fished['rig']}: {in_short(fished, parts, causes)}"


def in_short(fished: Row, parts: Sequence[Row], causes: Sequence[Row]) -> str:
    """The same without the rig's name."""
    damaged, silent = fished["damaged"], len(fished["part_not_told"])
    if not damaged:
        return say("no damage ({fishing})", fishing=_fishing(fished))
    if silent == damaged:
        return say_many(
            "{number:,} damaged haul, and none names the part ({fishing})",
            "{number:,} damaged hauls, and none names the part ({fishing})",
            damaged,
            fishing=_fishing(fished),
        )
    said = _commonest_place(_hauls_by("part", parts), damaged - silent)
    blamed = damaged - len(fished["cause_not_told"])
    if blamed:
        said = f"{said}, {_commonest_cause(_hauls_by('cause', causes), blamed)}"
    if silent:
        said = f"{said}; {_without_a_part(silent, damaged)}"
    return said


def _fishing(fished: Row) -> str:
    hauls = haul_count(fished["hauls"])
    return say("{hauls}, {tow_hours:,.0f} h", hauls=hauls, tow_hours=fished["tow_hours"])


def _without_a_part(silent: int, damaged: int) -> str:
    return say_many(
        "{number:,} names no part, of {damaged:,} damaged hauls",
        "{number:,} name no part, of {damaged:,} damaged hauls",
        silent,
        damaged=damaged,
    )


def _hauls_by(named: str, rows: Sequence[Row]) -> dict[str, int]:
    return {row[named]: row["hauls"] for row in rows}


def _commonest_place(hauls: Mapping[str, int], told: int) -> str:
    """`mostly wings (12 of 20 tears whose place is told)`; all of them where several are first."""
    most = max(hauls.values())
    first = [say(MANY[part]) for part, many in hauls.items() if many == most]
    tears = say_many(
        "{most:,} of {number:,} tear whose place is told",
        "{most:,} of {number:,} tears whose place is told",
        told,
        most=most,
    )
    if len(first) > MOST_TIED:
        return say("no place above others ({tears})", tears=tears)
    if len(first) > 1:
        return say("most often {parts} (each {tears})", parts=listed(first), tears=tears)
    return say(MOSTLY if 2 * most > told else MOST_OFTEN, part=first[0], tears=tears)


MOSTLY, MOST_OFTEN = saying("mostly {part} ({tears})"), saying("most often {part} ({tears})")


def _commonest_cause(hauls: Mapping[str, int], told: int) -> str:
    """`by stones (5 of 8 tears whose cause is told)`; all of them where several are first."""
    most = max(hauls.values())
    first = [say(BY[cause]) for cause, many in hauls.items() if many == most]
    tears = say_many(
        "{most:,} of {number:,} tear whose cause is told",
        "{most:,} of {number:,} tears whose cause is told",
        told,
        most=most,
    )
    if len(first) > MOST_TIED:
        return say("by no cause above others ({tears})", tears=tears)
    if len(first) > 1:
        return say("by {causes} (each {tears})", causes=listed(first), tears=tears)
    return say("by {cause} ({tears})", cause=first[0], tears=tears)


def note_words(note: Row) -> str:
    """The haul and what was written."""
    text = note["note"]
    if text is None:
        return say(NO_NOTE, **note)
    if len(text) > LONGEST_NOTE:
        text = f"{text[:LONGEST_NOTE].rstrip()} …"
    return say(NOTE, **{**note, "note": text})


NOTE = saying("{vessel}, trip {trip}, haul {haul}: “{note}”")
NO_NOTE = saying("{vessel}, trip {trip}, haul {haul}: no note, the part was told otherwise")


def whole_record(damage: Row) -> Row:
    """All rigs on all grounds."""
    return next(
        row for row in damage["fished"] if row["rig"] is None and row["ground"] == ALL_GROUNDS
    )
