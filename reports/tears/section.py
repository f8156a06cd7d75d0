"""Where and why the net tears, rig by rig: drawn, counted, and with the notes behind."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.language import number, say
from reports.net_drawing.words import part_word
from reports.parts import Note, Notes, Section, TearSheet
from reports.rig_drawing.svg import identity
from reports.tears.drawings import drawn_rigs, fished_rigs, parts_of
from reports.tears.tables import by_ground, causes_of_rig, parts_by_rig, parts_of_rig
from reports.tears.words import beyond_chance, counted, how_counted, note_words, rig_says

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row


def where_the_net_tears(findings: Findings) -> Section | None:
    """The section; None where of no haul it is known whether the net was damaged."""
    damage = findings.get("damage")
    if not damage or not damage["fished"]:
        return None
    rigs, drawn = fished_rigs(damage), drawn_rigs(damage)
    named = any(part["hauls"] for part in damage["parts"])
    tables = (
        parts_by_rig(rigs, damage["parts"]),
        by_ground("part", damage["fished"], damage["parts"]),
        by_ground("cause", damage["fished"], damage["causes"]),
    )
    return Section(
        "where-the-net-tears",
        say("Where and why the net tears"),
        [*counted(damage), *beyond_chance(damage), *_not_drawn(rigs, drawn, named=named)],
        points=how_counted(damage),
        tables=[table for table in tables if table is not None],
        tears=[_sheet(damage, rig) for rig in drawn] if named else [],
    )


def _not_drawn(rigs: list[Row], drawn: list[Row], *, named: bool) -> list[str]:
    """That not every rig is drawn, where that is so."""
    if not named or len(rigs) == len(drawn):
        return []
    return [
        say(
            "The net is drawn for the {drawn} rigs of {rigs} that were fished longest; all of them "
            "stand in the table by rig below.",
            drawn=len(drawn),
            rigs=len(rigs),
        )
    ]


def tear_sheet_name(rig: str) -> str:
    """The name on the page of what is told of a rig's nets."""
    return f"tears-{identity(rig)}"


def _sheet(damage: Row, fished: Row) -> TearSheet:
    rig = fished["rig"]
    parts = parts_of(damage, rig)
    causes = [cause for cause in damage["causes"] if cause["rig"] == rig]
    tables = [parts_of_rig(rig, parts), causes_of_rig(rig, fished, causes)]
    return TearSheet(
        rig=rig,
        name=tear_sheet_name(rig),
        title=rig,
        says=f"{rig_says(fished, parts, causes)}.",
        tables=[table for table in tables if table is not None],
        notes=_notes(damage, parts),
    )


def _notes(damage: Row, parts: list[Row]) -> list[Notes]:
    """The notes behind each part that tore, the longest of them where there are many."""
    by_row = {note["row"]: note for note in damage["notes"]}
    behind = []
    for part in sorted(parts, key=lambda part: -part["hauls"]):
        if part["hauls"]:
            said = [Note(note_words(by_row[row]), row) for row in part["shown"]]
            more = part["hauls"] - len(said)
            if more:
                said.append(
                    Note(say("and {notes:,} more; the longest notes are shown", notes=more), None)
                )
            title = f"{part_word(part['part'])}, {number(part['hauls'], ',')}"
            behind.append(Notes(title, said))
    return behind
