"""Whether a headline stands, how hauls lie about the model, and what damage goes with, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import ratio_cell
from reports.sentences import WHOLE_RECORD, WHY_UNTOLD, listed

if TYPE_CHECKING:
    from reports.parts import Row

WAY_WORDS = {
    "more scatter than chance": "with hauls that may scatter more than chance",
    "trip as random effect": "with trips that may differ among themselves",
    "without the longest and heaviest hauls": "without the longest and heaviest hauls",
    "unknown hauls as sound": "with the unknown hauls counted as sound",
    "how often and how much apart": "with how often and how much taken apart",
}

NOTE_WORDS = {
    "no more scatter than chance": "there is no more scatter than chance",
    "no finite fit": "it has no finite answer on this record",
    "can't be told": "the record can't tell it so",
    "one of them had none": "one of the two had none",
}

CLEAR = ("lower", "higher")

MARKED = 1.25
"""Scatter that is so many times what chance makes is worth a word. Own judgement; no source."""


def title(row: Row, outcome: Row) -> str:
    """What is tried: the rig and the outcome."""
    part = "" if row["part"] == WHOLE_RECORD else f", in {row['part']}"
    return f"{row['rig']} against {row['reference']}: {outcome['title'].lower()}{part}"


def stands_words(row: Row) -> str:
    """Whether the verdict changes, in one sentence."""
    told = row["verdict"]
    others = {way["way"]: way["verdict"] for way in row["ways"] if way["verdict"] is not None}
    opposite = {"lower": "higher", "higher": "lower"}.get(told)
    clear = [name for name, verdict in others.items() if verdict in CLEAR]
    contrary = [name for name, verdict in others.items() if verdict == opposite]
    unclear = [name for name in others if name not in clear]
    if row["stands"] == "holds":
        if row["changed_by"]:
            return f"The verdict is {told}; no other way finds a clear difference either."
        return f"The verdict, {told}, is the same {in_ways(len(others))}."
    return {
        "fades": f"The verdict is {told}, but not clear {_ways(unclear)}: take it with care.",
        "turns": f"The verdict is {told}, but the contrary {_ways(contrary)}: it does not stand.",
        "appears": (
            f"The verdict is {told}; a difference comes out {_ways(clear)} alone, which is not "
            "enough to go by."
        ),
        "not tried": "It could not be reckoned in any other way.",
    }[row["stands"]]


def _ways(names: list[str]) -> str:
    return listed([WAY_WORDS[name] for name in names])


def in_ways(many: int) -> str:
    """In how many other ways."""
    return "in the one other way" if many == 1 else f"in all {many} other ways"


def note_words(note: str | None) -> str:
    """Why a way has no ratio, or what it fell back to."""
    if note is None:
        return ""
    if note in NOTE_WORDS:
        return NOTE_WORDS[note]
    names = note.split(", ")
    return next((WHY_UNTOLD[name] for name in names if name in WHY_UNTOLD), note)


def summed_up(rows: list[Row]) -> list[str]:
    """How many clear headlines there are, and how many of them stand."""
    clear = [row for row in rows if row["verdict"] in CLEAR]
    if not clear:
        return ["None of the headlines is clear, so there is none that could fall."]
    others = [row for row in clear if row["stands"] != "holds"]
    same = "said again in every other way that could be reckoned"
    if not others:
        many = f"The clear headlines, all {len(clear)} of them, are"
        return [f"{'The one clear headline is' if len(clear) == 1 else many} {same}."]
    named = listed([f"{row['rig']} ({row['outcome_title'].lower()})" for row in others])
    stand = len(clear) - len(others)
    return [f"Of the clear headlines, {len(clear)} in all, {stand} are {same}; not so {named}."]


def influence_words(trips: list[Row]) -> str:
    """The trips that a headline rests on most, and what it would be without each."""
    said = [
        f"trip {trip['trip']} of {trip['vessel']} "
        + (
            "(without it there is no figure)"
            if trip["ratio_without"] is None
            else f"({ratio_cell(trip['ratio_without'])} without it)"
        )
        for trip in trips
    ]
    return f"It rests most on {listed(said)}." if said else ""


HOURS_WORDS = {
    "per hour": (
        "So damage goes with the hours towed, and a rate per hour is the right one to compare."
    ),
    "per haul": (
        "So damage goes with the haul and not with its length: read the rates per hour with care, "
        "for a rig that made longer tows looks the better for it."
    ),
    "neither": (
        "So damage goes neither with the hour nor with the haul alone: a rig that made longer tows "
        "than another is not quite fairly told by a rate per hour."
    ),
    "can't tell": "The record can't tell whether damage goes with the hour or with the haul.",
}
LONGER_TORE_LESS = (
    "That long tows tore less often hints that torn tows were cut short, or that long ones were "
    "made on clean ground: which claim holds can't be told."
)
CUT_SHORT = (
    "A tow that tears is often hauled early, which makes short tows look worse than they are."
)


def hours_words(hours: Row | None) -> list[str]:
    """Whether damage is in proportion to hours."""
    if hours is None:
        return []
    if hours["slope"] is None:
        return [
            f"Whether damage goes with the hour or with the haul can't be told: {hours['why']}."
        ]
    if hours["claim"] == "can't tell":
        return [f"{HOURS_WORDS[hours['claim']]} {CUT_SHORT}"]
    times, low, high = (2 ** hours[name] for name in ("slope", "low", "high"))
    return [
        f"A tow twice as long tore the net {times:.1f} times as often (between {low:.1f} and "
        f"{high:.1f}); twice as often would be damage by the hour, as often damage by the haul. "
        f"{HOURS_WORDS[hours['claim']] if high > 1 else LONGER_TORE_LESS} {CUT_SHORT}"
    ]


def scatter_words(model: Row, outcome: Row) -> str:
    """How far hauls and trips scatter about the model."""
    name = outcome["title"].lower()
    if model["why"] is not None:
        return f"Of {name} {model['why']}."
    said = []
    if outcome["counted"] and model["dispersion"] is not None:
        said.append(
            f"the variance of single hauls is {model['dispersion']:.2f} times what chance makes it"
        )
    if (times := model["trips_against_hauls"]) is not None:
        alike = "so hauls of one trip are alike" if times > MARKED else "so trips hardly differ"
        said.append(
            f"trips as a whole vary {times:.2f} times as much as their hauls account for, {alike}"
        )
    off = [group for group in model["groups"] if lies_off(group)]
    many = sum(group["low"] is not None for group in model["groups"])
    said.append(
        f"of {many} groups of hauls {len(off)} off the model{_which(off)}, and chance alone would "
        f"put about {many / 20:.0f} there"
    )
    part = "" if model["part"] == WHOLE_RECORD else f" in {model['part']}"
    return f"{outcome['title']}{part}: {'; '.join(said)}."


def _which(groups: list[Row]) -> str:
    names = [
        f"{group['by']} {group['group']}"
        if group["by"] != "fitted"
        else f"tenth {int(group['group'])} of what is fitted"
        for group in groups
    ]
    return f" ({listed(names)})" if 0 < len(names) < 4 else ""


def lies_off(group: Row) -> bool:
    """Whether the hauls of a group are off the model beyond chance."""
    return group["low"] is not None and not group["low"] <= 0 <= group["high"]
