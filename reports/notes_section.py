"""How the damage notes were read, by whom, and what those that nobody understands could change."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.parts import Row, Section, Table
from reports.sentences import WHOLE_RECORD, listed

if TYPE_CHECKING:
    from pipeline.findings import Findings

TOLD_BY = {
    "a person": "from a person's reading of the note",
    "the record": "from the columns that say so",
    "the note": "from the note, read by the program",
    "a blank note": "from a blank note, which in this season means no damage",
    "nothing": "not known: no note, or one that does not tell",
}
SURELY = {"sure": "surely", "likely": "likely", "guess": "as a guess"}
CLEAR = {"lower", "higher"}


def notes(findings: Findings) -> Section:
    """What the findings on damage rest on, and how they would move."""
    told = findings["notes"]
    words = [_told_by(told)]
    if told["written"]:
        words.append(_read_by(told))
    moved = _moves(findings)
    return Section(
        "notes",
        "How it is known what happened to the net",
        [*words, *_supposed_words(told, moved)],
        tables=[_table(moved)] if moved else [],
    )


def _told_by(told: Row) -> str:
    each = [
        f"{told['told_by'][key]:,} {words}"
        for key, words in TOLD_BY.items()
        if key in told["told_by"]
    ]
    return f"Whether the net was damaged is known, haul by haul: {listed(each)}."


def _read_by(told: Row) -> str:
    """How many notes were read, by whom, how surely, and where a person can put it right."""
    surely = [
        f"{told['sure'][level]:,} {w}" for level, w in SURELY.items() if level in told["sure"]
    ]
    persons = [f"{who} {count:,}" for who, count in told["read_by_persons"].items()]
    day = f", the last on {told['last_review']}" if told["last_review"] else ""
    by_persons = f"; by persons {listed(persons)}{day}" if persons else ""
    return (
        f"{told['written']:,} hauls have a note on the net. The program read "
        f"{told['read_by_program']:,} of them ({listed(surely) or 'none'}; "
        f"{told['not_understood']:,} do not say whether the net was damaged){by_persons}. "
        "'rigseason note SEASON' writes them out, least sure first; what a person puts right there "
        "goes before the program's reading. Every haul with its note, and what was made of it, is "
        "a row of haul_damage in results.duckdb."
    )


def _moves(findings: Findings) -> list[Row]:
    """Each rig's effect on damage as recorded, and at both ends of what unknown hauls allow."""
    supposed = {
        (row["rig"], row["part"], row["supposed"]): row for row in findings["notes"]["supposed"]
    }
    return [
        {
            "rig": effect["rig"],
            "part": effect["part"],
            "recorded": effect,
            **{
                end: supposed.get((effect["rig"], effect["part"], end)) for end in ("least", "most")
            },
        }
        for effect in findings["effects"]
        if supposed
        and effect["outcome"] == "damage_events"
        and effect["ground"] == "all"
        and effect["ratio"] is not None
    ]


def _supposed_words(told: Row, moved: list[Row]) -> list[str]:
    """Which findings stand whatever the unknown hauls were, and which do not."""
    if not moved:
        return []
    clear = [row for row in moved if row["recorded"]["verdict"] in CLEAR]
    stand = [row["rig"] for row in clear if _stands(row)]
    fall = [row["rig"] for row in clear if not _stands(row)]
    rise = [row["rig"] for row in moved if row not in clear and _turns_clear(row)]
    said = [
        f"Of {told['unknown_hauls']:,} hauls nobody knows if the net was damaged; they are left "
        "out above. The table sets them against each rig, its own all damaged and "
        f"{moved[0]['recorded']['reference']}'s all sound, then for it, the other way about: the "
        "truth lies between."
    ]
    if stand:
        said.append(f"What is clear on damage stays so at both ends for {listed(stand)}.")
    if fall:
        said.append(f"It does not for {listed(fall)}: there the unknown hauls could undo it.")
    if rise:
        said.append(f"At one of the ends it would become clear for {listed(rise)}.")
    return [" ".join(said)]


def _verdicts(row: Row) -> set[str]:
    return {row[end]["verdict"] for end in ("least", "most") if row[end] is not None}


def _stands(row: Row) -> bool:
    """Whether the verdict is the same at both ends."""
    return _verdicts(row) == {row["recorded"]["verdict"]}


def _turns_clear(row: Row) -> bool:
    return bool(_verdicts(row) & CLEAR)


def _table(moved: list[Row]) -> Table:
    rows = [
        [
            row["rig"] + ("" if row["part"] == WHOLE_RECORD else f", in {row['part']}"),
            *(_ratio(row[kind]) for kind in ("recorded", "least", "most")),
        ]
        for row in moved
    ]
    reference = moved[0]["recorded"]["reference"]
    return Table(
        f"Damage per hour, as a multiple of {reference}'s",
        ["rig", "as recorded", "at least", "at most"],
        rows,
    )


def _ratio(effect: Row | None) -> str:
    if effect is None or effect["ratio"] is None:
        return "–"
    if effect["low"] is None or effect["high"] is None:
        return f"{effect['ratio']:.2f}"
    return f"{effect['ratio']:.2f} ({effect['low']:.2f} to {effect['high']:.2f})"
