"""The sections on the record itself: where rigs were fished, what was set aside, how to read it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.checking.check_season import PLACE, cell_told
from reports.cells import column_of, count_of
from reports.doubts import held_alike
from reports.first_screen import by_ground
from reports.gear_words import ground_gear_name
from reports.language import number, say, say_many
from reports.on_deck import size_words
from reports.parts import Row, Section, Table, table_of
from reports.plain_words import (
    CAN_TELL,
    CAUTIONS,
    FOUL_TOWS,
    HOW_TO_READ,
    NO_FOUL_TOWS,
    WEIGHT_WORDS,
)
from reports.reason_words import reason_said, value_said
from reports.rigs.weight_words import a_metre, in_air, in_water, kilos
from reports.sentences import is_thin, is_told, like_for_like, listed
from reports.standing.sentences import looks_words, matters_words
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Column


OF_SEVERAL_RIGS = saying(
    "Two rigs can only be told apart where both were fished. The stronger the colour, the more "
    "hours; an empty column for one of two rigs means that ground tells nothing of them."
)
OF_ONE_RIG = saying("The stronger the colour, the more hours.")


def rig_by_ground(findings: Findings) -> Section:
    """Hours and hauls of each rig on each ground, the stronger its colour the more."""
    grounds = findings["season"]["grounds"]
    rigs = [rig["rig_version"] for rig in findings["rigs"]]
    hours = {(r["rig_version"], r["ground"]): r for r in findings["rig_by_ground"]}
    most = max(r["tow_hours"] for r in findings["rig_by_ground"])
    rows, shades = [], []
    for rig in rigs:
        cells = [hours.get((rig, ground)) for ground in grounds]
        rows.append([rig, *(_fished(cell) for cell in cells)])
        shades.append([0.0, *((c["tow_hours"] / most) if c else 0.0 for c in cells)])
    return Section(
        "hours-by-rig-and-ground",
        say("Which rig was fished where"),
        [say(OF_SEVERAL_RIGS if len(findings["rigs"]) > 1 else OF_ONE_RIG)],
        tables=[
            Table(
                say("Hours towed, with the hauls in brackets, by rig and ground"),
                [say("rig"), *map(column_of, grounds)],
                rows,
                shades,
            )
        ],
    )


def ground_by_ground(findings: Findings) -> Section | None:
    """What stands out on each ground, like for like; None of one ground, or one rig."""
    table = by_ground(findings)
    if table is None:
        return None
    grounds: dict[str, list[str]] = {}
    for ground, *cells in table.rows:
        said = (
            say("in {outcome} {said}", outcome=name, said=cell)
            for name, cell in zip(table.headers[1:], cells, strict=True)
        )
        all_one = cells[0] if len({*cells}) == 1 else "; ".join(said)
        grounds.setdefault(all_one, []).append(ground)
    return Section(
        "ground-by-ground",
        say("Ground by ground"),
        [f"{table.caption}."],
        points=[
            say("On {grounds}: {said}.", grounds=listed(of), said=said)
            for said, of in grounds.items()
        ],
    )


def _fished(cell: Row | None) -> str:
    """Hours and hauls of a rig on a ground; a dash where it was not fished."""
    if cell is None:
        return "–"
    return f"{number(cell['tow_hours'], ',.0f')} ({number(cell['hauls'], ',')})"


def rigs(findings: Findings) -> Section:
    """Each rig version that was fished, and what it is."""
    weights = [
        {**row, "rig": rig["rig_version"]}
        for rig in findings["rigs"]
        for row in rig["weights"]
        if row["section"] == "whole" and row["weight_water_kg"] is not None
    ]
    if not weights:
        return Section("rigs", say("The rigs"), tables=[_versions(findings)])
    weighed = table_of(
        say("What they weigh, whole"),
        weights,
        [
            (say("rig version"), lambda row: row["rig"]),
            (say("in air"), lambda row: kilos(in_air(row))),
            (say("in sea water"), lambda row: kilos(in_water(row))),
            (say("a metre, in water"), lambda row: kilos(a_metre(row)) if a_metre(row) else "–"),
            (say("largest part"), lambda row: _size(findings, row["largest_diameter_mm"])),
        ],
    )
    return Section(
        "rigs",
        say("The rigs"),
        [say(words) for words in WEIGHT_WORDS],
        tables=[_versions(findings), weighed],
    )


def _versions(findings: Findings) -> Table:
    """What is recorded of each version."""
    described: list[Column] = [
        (say("ground gear"), _gear),
        (say("toggles"), lambda rig: _size(findings, rig.get("toggle_mm"))),
        (say("changed from"), lambda rig: rig.get("changed_from") or "–"),
        (say("what changed"), lambda rig: rig.get("what_changed") or "–"),
    ]
    return table_of(
        say("Rig versions fished"),
        findings["rigs"],
        [
            (say("rig version"), _named),
            (say("hauls"), count_of("hauls")),
            (say("hours"), count_of("tow_hours")),
            *(described if any("ground_gear" in rig for rig in findings["rigs"]) else []),
        ],
    )


def _named(rig: Row) -> str:
    name: str = rig["rig_version"]
    return say("{rig} (reference)", rig=name) if rig["is_reference"] else name


def _gear(rig: Row) -> str:
    return ground_gear_name(rig["ground_gear"]) if rig.get("ground_gear") else "–"


def _size(findings: Findings, value_mm: float | None) -> str:
    return "–" if value_mm is None else size_words(findings, value_mm)


def set_aside(findings: Findings) -> Section:
    """Rows read, used and set aside, and every reason for it."""
    counts = Table(
        say("Rows read, used and set aside"),
        [say("table"), *map(say, COUNTS.values())],
        [[name, *_counts(counted)] for name, counted in findings["rows"].items()],
    )
    tables = [counts]
    if findings["seasons"]:
        tables.append(_seasons(findings["seasons"]))
    if findings["set_aside"]:
        tables.append(_reasons(say("Why rows were set aside"), findings["set_aside"]))
    if findings["remarks"]:
        tables.append(_reasons(say("Used, with a word on it"), findings["remarks"]))
    return Section(
        "set-aside",
        say("What was set aside, and why"),
        [
            say(
                "A row that can't be right is set aside, never mended in silence. Each one stands "
                "in set-aside.csv with its file and row."
            ),
            *map(reason_said, findings["seasons_left_out"]),
            *map(reason_said, findings["seasons_together"]),
            *map(reason_said, findings["not_read"]),
            *_missing_words(findings),
            *_reviews(findings),
        ],
        tables=tables,
    )


def _reviews(findings: Findings) -> list[str]:
    """How many of the used rows of a review have a person's name, as only those count."""
    used = findings["rows"].get("damage_review", {"used": 0})["used"]
    named = findings["notes"]["reviews"]
    if named == used:
        return []
    return [
        say_many(
            "Of the rows of damage_review {number:,} has a name in who, and counts; of the others "
            "the program's reading does.",
            "Of the rows of damage_review {number:,} have a name in who, and count; of the others "
            "the program's reading does.",
            named,
        )
    ]


def _seasons(seasons: list[Row]) -> Table:
    return Table(
        say("The seasons taken together, by their folders: rows of hauls"),
        [say("season"), say("boats"), *map(say, COUNTS.values())],
        [[each["season"], ", ".join(each["vessels"]), *_counts(each)] for each in seasons],
    )


COUNTS = {"read": saying("read"), "used": saying("used"), "set_aside": saying("set aside")}
"""The rows of a table that are counted, and what they are called."""


def _counts(counted: Row) -> list[str]:
    return [number(counted[name], ",") for name in COUNTS]


def _reasons(caption: str, told: list[Row]) -> Table:
    return Table(
        caption,
        [say("rows"), say("why, and the first of them")],
        [[number(row["rows"], ","), f"{row['table']}: {_sentence(row)}"] for row in told],
    )


def _sentence(row: Row) -> str:
    """On a row set aside or remarked on: file, row, column, cell, reason."""
    place = say(PLACE, file=value_said(row["source_file"]), row=row["source_row"])
    reason = reason_said(row["reason"])
    stop = "" if reason.endswith("?") else "."
    return f"{place}{cell_told(row)}{reason}{stop}"


MISSING_WORDS = {
    "catches": saying("Without a table of catches nothing is said of fish."),
    "prices": saying("Without a table of prices nothing is said of the worth of a catch."),
    "rig_versions": saying("Without a table of rig versions a rig is only its name."),
}


def _missing_words(findings: Findings) -> list[str]:
    return [
        say(MISSING_WORDS[name]) for name in findings["missing_tables"] if name in MISSING_WORDS
    ]


def how_to_read(findings: Findings) -> Section:
    """What the words mean, and what a report of all outcomes can and cannot tell."""
    of_boats = (boat for row in findings["boats"] for boat in row["boats"])
    boats = {saying("boats"): any(boat["ratio"] is not None for boat in of_boats)}
    return _how_to_read(findings, findings["outcomes"], boats)


def how_to_read_on_deck(findings: Findings) -> Section:
    """The same of a report of the headline outcomes, over all grounds and ground by ground."""
    heads = findings["season"]["headlines"]
    return _how_to_read(findings, [o for o in findings["outcomes"] if o["name"] in heads], {})


def _is_shown(effect: Row) -> bool:
    """Whether a page tells the ratio: of a single ground only where it rests on enough."""
    return is_told(effect) and (effect["ground"] == ALL_GROUNDS or not is_thin(effect))


def _how_to_read(findings: Findings, outcomes: list[Row], of_boats: dict[str, bool]) -> Section:
    heads, told = findings["season"]["headlines"], {outcome["name"] for outcome in outcomes}
    comparisons = sum(
        _is_shown(effect)
        and (
            effect["outcome"] in heads
            or (effect["outcome"] in told and effect["ground"] == ALL_GROUNDS)
        )
        for effect in findings["effects"]
    )
    others = {
        saying("money"): any(row["net_change"] for row in findings["money"]["rigs"]),
        **of_boats,
        saying("torn parts"): findings["damage"]["comparisons"] > 0,
    }
    foul = findings["season"]["foul_tows"]
    headlines = findings["standing"]["looks"]["comparisons"]
    in_files = sum(effect["ratio"] is not None for effect in findings["effects"])
    beside = [name for name, held in others.items() if held]
    return Section(
        "how-to-read",
        say("How to read this"),
        points=[
            *map(say, HOW_TO_READ),
            say(FOUL_TOWS if foul else NO_FOUL_TOWS),
            like_for_like(held_alike(findings)),
            *map(say, CAN_TELL),
            matters_words(findings, outcomes),
            looks_words(findings),
            *([_compared(comparisons, in_files, beside)] if comparisons > headlines else []),
        ],
    )


def _compared(comparisons: int, in_files: int, others: list[str]) -> str:
    """How many comparisons have a figure, on the page and in the files, and what luck does.

    `others` are the kinds of comparisons that the page shows beside those of the rates.
    """
    return say(
        "This page shows {comparisons} of a rig with the reference that came to a "
        "figure{beside}{more}. Of those that are not headline comparisons some will seem clear by "
        "luck: the more one looks at, the more sure a single one must be.",
        comparisons=say_many("{number:,} comparison", "{number:,} comparisons", comparisons),
        beside=say(", beside those of {others}", others=listed(list(map(say, others))))
        if others
        else "",
        more=say("; findings.json holds {in_files:,} in all", in_files=in_files)
        if in_files > comparisons
        else "",
    )


def cautions(_: Findings) -> Section:
    """What to ask, and whom, before any change of gear."""
    return Section(
        "cautions", say("Before any change of gear"), points=[say(words) for words in CAUTIONS]
    )
