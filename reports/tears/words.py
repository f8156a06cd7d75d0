"""What is said of where and why the net tears, in sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.net_drawing.words import part_word
from reports.sentences import listed

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from reports.parts import Row

MANY = {
    "wing": "wings",
    "bunt": "bunts",
    "bosom": "the bosom",
    "belly": "the belly",
    "square": "the square",
    "lengthener": "the lengthener",
    "codend": "the codend",
    "headline": "the headline",
    "selvedge": "selvedges",
    "fishing_line": "the fishing line",
    "ground_gear": "the ground gear",
    "sweep": "sweeps",
    "whole_net": "the whole net",
}
BY = {
    "fast": "coming fast",
    "stones": "stones",
    "hard_ground": "hard ground",
    "mud": "mud",
    "debris": "rubbish on the seabed",
    "other_gear": "other gear",
    "animal": "an animal",
    "chafe": "chafe",
    "ground_gear": "the ground gear",
    "wear": "wear",
    "overload": "too much in the net",
    "handling": "handling",
}

MOST_TIED = 3
LEAST_CHANCE = 0.001
"""A smaller chance rests more on the rule than on the tears; it is not told closer."""
LONGEST_NOTE = 280


def counted(damage: Row) -> list[str]:
    """How many damaged hauls say where, and why."""
    whole = whole_record(damage)
    damaged, silent = whole["damaged"], len(whole["part_not_told"])
    if not damaged:
        return [
            f"No damage in {whole['hauls']:,} hauls of which it is known: nothing to draw.",
        ]
    told = damaged - silent
    return [
        f"Of {damaged:,} damaged hauls, {_name(told)} the part of the net that tore and "
        f"{_name(silent)} none; {_name(damaged - len(whole['cause_not_told']))} a cause."
    ]


def how_counted(damage: Row) -> list[str]:
    """What the counts leave out, and where they come from."""
    if not whole_record(damage)["damaged"]:
        return []
    return [
        "A haul may name several parts or causes and counts for each, so that shares do not add up "
        "to 100 %. What is not named counts for none: all these figures are rather too low.",
        "Parts, sides and causes are read from the notes by the program, which can misread them; a "
        "person's word in the table damage_review goes first. A note tells one side for all the "
        "parts it names, and seldom whether a wing or a belly tore above or below: both views "
        "carry the same figure.",
        "Figures are per 100 hours towed, of hauls of which it is known whether the net was "
        "damaged; limits hold 19 times in 20. They are as recorded: where a rig was fished makes "
        "part of them.",
    ]


def beyond_chance(damage: Row) -> list[str]:
    """Which part tears with which rig more or less often, once the net tears; if it can be told."""
    looks, reference = damage["comparisons"], damage["reference"]
    apart = _not_compared(damage["not_compared"], reference)
    if not looks:
        return apart
    held = (
        f"Like for like, with {reference} on the same grounds and boats, only shares of the tears "
        "whose place is told are compared: where the net tears once it tears. How often it tears "
        "at all is told under net damage. A boat that leaves out one part sooner than another, and "
        "with one rig sooner than with another, would still bend them."
    )
    outstanding = [part for part in damage["parts"] if part["stands_out"]]
    if not outstanding:
        found = (
            "No part has a clearly larger or smaller share with any rig, chance allowed for in "
            f"{_counted(looks, 'comparison')}. That is no proof that they are alike."
        )
        return [f"{found} {held}", *apart]
    claims = "; ".join(_claim(part, reference) for part in outstanding)
    found = (
        f"Beyond chance, allowed for in {_counted(looks, 'comparison')}: {claims}. It need not be "
        "the rig: depth, time of year and the skipper's choice are not allowed for."
    )
    return [f"{found} {held}", *apart]


def _not_compared(rigs: Sequence[str], reference: str) -> list[str]:
    if not rigs:
        return []
    return [
        f"Where they tear is not compared with {reference}, as too little was fished or torn on "
        f"the same grounds and boats: {listed(list(rigs))}."
    ]


def _claim(part: Row, reference: str) -> str:
    against = part["against"]
    name = MANY.get(part["part"], part_word(part["part"]))
    chance = max(part["chance_of_many"], LEAST_CHANCE)
    or_less = " or less" if part["chance_of_many"] < LEAST_CHANCE else ""
    return (
        f"{name} in {_percent(against['share'])} of {against['tears']:,} tears with {part['rig']}, "
        f"where {reference} has {_percent(against['reference_share'])} of "
        f"{against['reference_tears']:,} (chance {100 * chance:.1f} %{or_less})"
    )


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %"


def rig_says(fished: Row, parts: Sequence[Row], causes: Sequence[Row]) -> str:
    """One rig in a sentence: its tears, their commonest place and their commonest cause."""
    rig, damaged = fished["rig"], fished["damaged"]
    amount = f"{_counted(fished['hauls'], 'haul')}, {fished['tow_hours']:,.0f} h"
    if not damaged:
        return f"{rig}: no damage ({amount})"
    told = damaged - len(fished["part_not_told"])
    if not told:
        return f"{rig}: {_counted(damaged, 'damaged haul')}, and none names the part ({amount})"
    where = _commonest({MANY.get(p["part"], part_word(p["part"])): p["hauls"] for p in parts}, told)
    blamed = damaged - len(fished["cause_not_told"])
    why = ""
    if blamed:
        named = {BY.get(c["cause"], part_word(c["cause"])): c["hauls"] for c in causes}
        why = f", by {_commonest(named, blamed, 'whose cause is told')}"
    silent = damaged - told
    beside = f"; {_name(silent)} no part, of {damaged:,} damaged hauls" if silent else ""
    return f"{rig}: {where}{why}{beside}"


def _commonest(named: Mapping[str, int], told: int, whose: str = "whose place is told") -> str:
    """`mostly wings (12 of 20 tears whose place is told)`; all of them where several are first."""
    most = max(named.values())
    first = [word for word, hauls in named.items() if hauls == most]
    of = f"{most:,} of {told:,} {'tear' if told == 1 else 'tears'} {whose}"
    if len(first) > MOST_TIED:
        return f"no {'place' if 'place' in whose else 'cause'} above others ({of})"
    each = "each " if len(first) > 1 else ""
    often = "mostly " if 2 * most > told and len(first) == 1 else "most often "
    lead = often if "place" in whose else ""
    return f"{lead}{listed(first)} ({each}{of})"


def note_words(note: Row) -> str:
    """The haul, what was written, and its row."""
    who = f"{note['vessel']}, trip {note['trip']}, haul {note['haul']}"
    text = note["note"]
    if text is None:
        return f"{who}: no note, the part was told otherwise (row {note['row']})"
    if len(text) > LONGEST_NOTE:
        text = f"{text[:LONGEST_NOTE].rstrip()} …"
    return f"{who}: “{text}” (row {note['row']})"


def whole_record(damage: Row) -> Row:
    """All rigs on all grounds."""
    return next(row for row in damage["fished"] if row["rig"] is None and row["ground"] == "all")


def _counted(count: int, word: str) -> str:
    return f"{count:,} {word}{'' if count == 1 else 's'}"


def _name(hauls: int) -> str:
    """`1 names`, `12 name`."""
    return f"{hauls:,} {'names' if hauls == 1 else 'name'}"
