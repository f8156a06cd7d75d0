"""Whether a headline stands, how hauls lie about the model, and what damage goes with, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import column_of, ratio_cell
from reports.language import say, say_many
from reports.sentences import (
    VERDICT_WORDS,
    WHY_UNTOLD,
    in_part,
    listed,
    title_of,
    verdict_among_all,
)
from schemas.codes import (
    CLEAR,
    CONTRARY,
    Caution,
    HoursClaim,
    NoModel,
    NoSlope,
    OtherWay,
    Stands,
    WayNote,
)
from schemas.words import UNKNOWN_GROUND, WHOLE_RECORD, saying

if TYPE_CHECKING:
    from reports.parts import Row

WAY_WORDS = {
    OtherWay.SCATTER: saying("with hauls that may scatter more than chance"),
    OtherWay.RANDOM_TRIPS: saying("with trips that may differ among themselves"),
    OtherWay.TRIMMED: saying("without the longest and heaviest hauls"),
    OtherWay.WITHOUT_FAR: saying("without hauls whose catch is far beyond the others"),
    OtherWay.SIDE_BY_SIDE: saying("only where both were fished side by side"),
    OtherWay.WITHIN_TRIPS: saying("within the trips that fished both"),
    OtherWay.WITHIN_TOWS: saying("within the tows that fished both at once"),
    OtherWay.YES_OR_NO: saying("with each haul as damaged or not"),
    OtherWay.UNKNOWN_SOUND: saying("with the unknown hauls counted as sound"),
    OtherWay.TWO_PARTS: saying("with how often and how much taken apart"),
}

NOTE_WORDS = {
    WayNote.NO_SCATTER: saying("no more scatter than the Poisson law has"),
    WayNote.NO_FIT: saying("it has no finite answer on this record"),
    WayNote.NOT_TOLD: saying("the record can't tell it so"),
    WayNote.ONE_HAD_NONE: saying("one of the two had none"),
    WayNote.ONCE_AT_MOST: saying("a haul has it once or not at all, which can't show such scatter"),
    WayNote.NO_LOTS: saying("too few hauls in a trip to tell how they scatter"),
    WayNote.FEW_WITHOUT: saying("hardly a haul had none"),
    WayNote.NO_UNKNOWN: saying("no haul is unknown"),
    WayNote.NONE_LEFT_OUT: saying("no haul is longer or heavier than the rest"),
    WayNote.NO_LIMITS: saying("too few trips for limits"),
    WayNote.NO_TRIP_FISHED_BOTH: saying("no trip fished both"),
    WayNote.FEW_FISHED_BOTH: saying("too few trips fished both for limits"),
    WayNote.OF_ITS_OWN: saying("told in a section of its own"),
    WayNote.POINTS_ALIKE: saying(
        "points the same way, with too few such trips to tell by themselves"
    ),
}

MARKED = 1.25
"""Scatter that is so many times what chance makes is worth a word. Own judgement; no source."""

STANDS = {
    Stands.FADES: saying("The verdict is {verdict}, but not clear {unclear}: take it with care."),
    Stands.TURNS: saying(
        "The verdict is {verdict}, but the contrary {contrary}: it does not stand."
    ),
    Stands.APPEARS: saying(
        "The verdict is {verdict}; a difference comes out only {clear}, which is not enough to go "
        "by."
    ),
    Stands.NOT_TRIED: saying("It could not be reckoned in any other way."),
}
NO_WAY_FINDS_ONE = saying("The verdict is {verdict}; no other way finds a clear difference either.")


def title(row: Row, outcome: Row) -> str:
    """What is tried: the rig and the outcome."""
    return say(
        "{rig} against {reference}: {outcome}{part}",
        rig=row["rig"],
        reference=row["reference"],
        outcome=title_of(outcome),
        part=in_part(row),
    )


def stands_words(row: Row) -> str:
    """Whether the verdict changes, in one sentence."""
    told = row["verdict"]
    named = _named_verdict(row)
    tried = [way for way in row["ways"] if way["verdict"] is not None]
    others = {way["way"]: way["verdict"] for way in tried}
    if row["stands"] == Stands.HOLDS:
        as_clear = sum(way["verdict_alone"] == row["verdict_alone"] for way in tried)
        if told in CLEAR or row["verdict_alone"] not in CLEAR or as_clear == len(tried):
            return _holds(named, len(tried), unless_clear=row["changed_by"])
        held = _holds(say(VERDICT_WORDS[told]), len(tried), unless_clear=row["changed_by"])
        by_itself = say(AS_CLEAR if as_clear else NEVER_AS_CLEAR, ways=as_clear)
        return f"{held} {by_itself}"
    opposite = CONTRARY.get(told)
    clear = [name for name, verdict in others.items() if verdict in CLEAR]
    return say(
        STANDS[row["stands"]],
        verdict=named,
        clear=_ways(clear),
        unclear=_ways([name for name in others if name not in clear]),
        contrary=_ways([name for name, verdict in others.items() if verdict == opposite]),
    )


AS_CLEAR = saying("Judged by itself it is clear, in {ways} of them too.")
NEVER_AS_CLEAR = saying("Judged by itself it is clear, in none of them.")


def _named_verdict(row: Row) -> str:
    """The verdict; of one that is clear by itself only, that it is so as well."""
    among_all = verdict_among_all(row)
    verdict = say(VERDICT_WORDS[row["verdict"]])
    return verdict if among_all == verdict else f"{verdict} ({among_all})"


def _holds(verdict: str, others: int, *, unless_clear: object) -> str:
    """That the verdict is the same in other ways, or at least none finds a clear difference."""
    if unless_clear:
        return say(NO_WAY_FINDS_ONE, verdict=verdict)
    if others == 2:
        return say("The verdict, {verdict}, is the same in both other ways.", verdict=verdict)
    return say_many(
        "The verdict, {verdict}, is the same in the one other way.",
        "The verdict, {verdict}, is the same in all {number} other ways.",
        others,
        verdict=verdict,
    )


def _ways(names: list[OtherWay]) -> str:
    return listed([say(WAY_WORDS[name]) for name in names])


def note_words(note: str | None) -> str:
    """Why a way has no ratio, or what it fell back to."""
    if note is None:
        return ""
    if note in NOTE_WORDS:
        return say(NOTE_WORDS[WayNote(note)])
    told = (WHY_UNTOLD[Caution(name)] for name in note.split(", ") if name in WHY_UNTOLD)
    return say(next(told, NOTE_WORDS[WayNote.NOT_TOLD]))


def summed_up(rows: list[Row]) -> list[str]:
    """How many clear headlines there are, and how many of them stand."""
    clear = [row for row in rows if row["verdict"] in CLEAR]
    if not clear:
        return [say("None of the headlines is clear, so there is none that could fall.")]
    others = [row for row in clear if row["stands"] != Stands.HOLDS]
    if not others and len(clear) == 2:
        return [say("The two clear headlines are said again in every other way listed here.")]
    if not others:
        return [
            say_many(
                "The one clear headline is said again in every other way listed here.",
                "The clear headlines, all {number} of them, are said again in every other way "
                "listed here.",
                len(clear),
            )
        ]
    return [
        say(
            "Of the clear headlines, {clear} in all, {stand} are said again in every other way "
            "listed here; not so {others}.",
            clear=len(clear),
            stand=len(clear) - len(others),
            others=listed(
                [f"{row['rig']} ({say(row['outcome_title']).lower()})" for row in others]
            ),
        )
    ]


def at_the_worst_end(undone: list[str]) -> list[str]:
    """Of which rigs the unknown hauls could undo what is clear; nothing where of none."""
    return [say(COULD_UNDO, rigs=listed(undone))] if undone else []


COULD_UNDO = saying(
    "Not among these ways: at the worst, the hauls of which nobody knows if the net was damaged "
    "could undo what is clear on damage for {rigs}, as stands under "
    '"How it is known what happened to the net".'
)


def influence_words(trips: list[Row]) -> str:
    """The trips that a headline rests on most, and what it would be without each."""
    said = [
        say(
            NOTHING_WITHOUT if trip["ratio_without"] is None else RATIO_WITHOUT,
            trip=trip["trip"],
            boat=trip["vessel"],
            ratio=ratio_cell(trip["ratio_without"]),
        )
        for trip in trips
    ]
    return say("It rests most on {trips}.", trips=listed(said)) if said else ""


RATIO_WITHOUT = saying("trip {trip} of {boat} ({ratio} without it)")
NOTHING_WITHOUT = saying("trip {trip} of {boat} (without it there is no figure)")


HOURS_WORDS = {
    HoursClaim.PER_HOUR: saying(
        "So damage goes with the hours towed, and a rate per hour is the right one to compare."
    ),
    HoursClaim.PER_HAUL: saying(
        "So damage goes with the haul and not with its length: read the rates per hour with care, "
        "for a rig that made longer tows looks the better for it."
    ),
    HoursClaim.NEITHER: saying(
        "So damage goes neither with the hour nor with the haul alone: a rig that made longer tows "
        "than another is not quite fairly told by a rate per hour."
    ),
    HoursClaim.NOT_TOLD: saying(
        "The record can't tell whether damage goes with the hour or with the haul."
    ),
}
LONGER_LESS_OFTEN = saying(
    "That long tows had damage less often hints that damaged tows were cut short, or that long "
    "ones were made on clean ground: which claim holds can't be told."
)
CUT_SHORT = saying(
    "A tow with damage is often hauled early, which makes short tows look worse than they are."
)


TWICE_AS_LONG = saying(
    "A tow twice as long had damage {times:.1f} times as often (between {low:.1f} and "
    "{high:.1f}); twice as often would be damage by the hour, as often damage by the haul."
)
WHY_NO_SLOPE = {
    NoSlope.ALL_AS_LONG: saying(
        "Whether damage goes with the hour or with the haul can't be told: all hauls were about as "
        "long."
    ),
    NoSlope.TOO_LITTLE: saying(
        "Whether damage goes with the hour or with the haul can't be told: too little damage or "
        "too few trips."
    ),
}


OF_THE_WHOLE = saying(
    "This is of the whole record, {hauls:,} hauls, and not of {parts} alone as the headlines are."
)


def hours_words(hours: Row | None, parts: set[str]) -> list[str]:
    """Whether damage is in proportion to hours; `parts` are those that the headlines are of."""
    if hours is None:
        return []
    if hours["slope"] is None:
        return [say(WHY_NO_SLOPE[hours["why"]])]
    means = HOURS_WORDS[hours["claim"]]
    if hours["claim"] == HoursClaim.NOT_TOLD:
        return [f"{say(means)} {say(CUT_SHORT)}"]
    times, low, high = (2 ** hours[name] for name in ("slope", "low", "high"))
    longer = say(TWICE_AS_LONG, times=times, low=low, high=high)
    said = f"{longer} {say(means if high > 1 else LONGER_LESS_OFTEN)} {say(CUT_SHORT)}"
    if not parts or WHOLE_RECORD in parts:
        return [said]
    return [f"{said} {say(OF_THE_WHOLE, hauls=hours['hauls'], parts=listed(sorted(parts)))}"]


OF_A_GROUP = {
    "fitted": saying("tenth {group} of what is fitted"),
    "ground": saying("ground {group}"),
    "boat": saying("boat {group}"),
    "time": saying("time {group}"),
}
NO_MODEL = {NoModel.NO_FIT: saying("Of {outcome} no rate model could be fitted.")}
TRIPS_ALIKE = saying(
    "trips as a whole vary {times:.2f} times as much as their hauls account for, so hauls of one "
    "trip are alike"
)
TRIPS_HARDLY_DIFFER = saying(
    "trips as a whole vary {times:.2f} times as much as their hauls account for, no more than "
    "chance may make it"
)


def scatter_words(model: Row, outcome: Row) -> str:
    """How far hauls and trips scatter about the model."""
    if model["why"] is not None:
        return say(NO_MODEL[model["why"]], outcome=title_of(outcome))
    said = []
    if outcome["counted"] and model["dispersion"] is not None:
        said.append(
            say(
                "the variance of single hauls is {times:.2f} times what chance makes it",
                times=model["dispersion"],
            )
        )
    if (times := model["trips_against_hauls"]) is not None:
        alike = times > max(MARKED, model["by_chance"])
        said.append(say(TRIPS_ALIKE if alike else TRIPS_HARDLY_DIFFER, times=times))
    return f"{title_in_part(model, outcome)}: {'; '.join([*said, _off_the_model(model)])}."


def title_in_part(model: Row, outcome: Row) -> str:
    """The outcome, with the part of the record that its model is of, where not the whole."""
    title = say(outcome["title"])
    if model["part"] == WHOLE_RECORD:
        return title
    return say("{outcome} in {part}", outcome=title, part=model["part"])


def _off_the_model(model: Row) -> str:
    """How many groups of hauls lie off the model, which, and how many would by chance."""
    off = [group for group in model["groups"] if lies_off(group)]
    many = sum(group["low"] is not None for group in model["groups"])
    words = OF_ALL_GROUPS if many == len(model["groups"]) else OF_GROUPS_WITH_A_BAR
    return say(
        words,
        groups=many,
        without=len(model["groups"]) - many,
        off=len(off),
        which=_which(off),
        chance=many / 20,
    )


OF_ALL_GROUPS = saying(
    "of {groups} groups of hauls {off} off the model{which}, and chance alone would put about "
    "{chance:.0f} there"
)
OF_GROUPS_WITH_A_BAR = saying(
    "of {groups} groups of hauls of enough trips to tell {off} off the model{which}, and chance "
    "alone would put about {chance:.0f} there; {without} more are of too few trips"
)


def _which(groups: list[Row]) -> str:
    """The groups in brackets, where they are few."""
    if not 0 < len(groups) < 4:
        return ""
    return f" ({listed([_named(group) for group in groups])})"


def _named(group: Row) -> str:
    name = int(group["group"]) if group["by"] == "fitted" else group_name(group)
    return say(OF_A_GROUP[group["by"]], group=name)


def group_name(group: Row) -> str:
    """What a group of hauls is called beside what it is by: a ground, a boat, a month, a tenth."""
    name = str(group["group"])
    if group["by"] != "ground":
        return name
    return say("unknown") if name == UNKNOWN_GROUND else column_of(name)


def lies_off(group: Row) -> bool:
    """Whether the hauls of a group are off the model beyond chance."""
    return group["low"] is not None and not group["low"] <= 0 <= group["high"]
