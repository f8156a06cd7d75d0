"""The sections on the record itself: where rigs were fished, what was set aside, how to read it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.checking.check_season import sentence_of
from reports.cells import short_ground
from reports.on_deck import size_words
from reports.parts import Row, Section, Table
from reports.plain_words import CAN_TELL, CAUTIONS, HOW_TO_READ, WEIGHT_WORDS
from reports.rigs.weight_words import a_metre, in_air, in_water
from reports.standing.sentences import looks_words, matters_words

if TYPE_CHECKING:
    from pipeline.findings import Findings


def rig_by_ground(findings: Findings) -> Section:
    """Hours and hauls of each rig on each ground, the darker the more."""
    grounds = findings["season"]["grounds"]
    rigs = [rig["rig_version"] for rig in findings["rigs"]]
    hours = {(r["rig_version"], r["ground"]): r for r in findings["rig_by_ground"]}
    most = max(r["tow_hours"] for r in findings["rig_by_ground"])
    rows, shades = [], []
    for rig in rigs:
        cells = [hours.get((rig, ground)) for ground in grounds]
        rows.append(
            [rig, *(f"{c['tow_hours']:,.0f} h, {c['hauls']:,} hauls" if c else "–" for c in cells)]
        )
        shades.append([0.0, *((c["tow_hours"] / most) if c else 0.0 for c in cells)])
    return Section(
        "rig-by-ground",
        "Which rig was fished where",
        [
            "Two rigs can only be told apart where both were fished. The darker a cell, the more "
            "hours; an empty column for one of two rigs means that ground tells nothing of them."
        ],
        tables=[
            Table(
                "Hours towed and hauls, by rig and ground",
                ["rig", *(short_ground(ground) for ground in grounds)],
                rows,
                shades,
            )
        ],
    )


def rigs(findings: Findings) -> Section:
    """Each rig version that was fished, and what it is."""
    described = any("ground_gear" in rig for rig in findings["rigs"])
    headers = ["rig version", "hauls", "hours"]
    if described:
        headers += ["ground gear", "toggles", "changed from", "what changed"]
    rows = []
    for rig in findings["rigs"]:
        name = rig["rig_version"] + (" (reference)" if rig["is_reference"] else "")
        cells = [name, f"{rig['hauls']:,}", f"{rig['tow_hours']:,.0f}"]
        if described:
            toggle = rig.get("toggle_mm")
            cells += [
                rig.get("ground_gear") or "–",
                size_words(findings, toggle) if toggle else "–",
                rig.get("changed_from") or "–",
                rig.get("what_changed") or "–",
            ]
        rows.append(cells)
    tables = [Table("Rig versions fished", headers, rows)]
    weights = [cells for rig in findings["rigs"] if (cells := _weight_cells(findings, rig))]
    if not weights:
        return Section("rigs", "The rigs", tables=tables)
    tables.append(
        Table(
            "What they weigh, whole",
            ["rig version", "in air", "in sea water", "a metre, in water", "largest part"],
            weights,
        )
    )
    return Section("rigs", "The rigs", list(WEIGHT_WORDS), tables=tables)


def _weight_cells(findings: Findings, rig: Row) -> list[str]:
    """The weight of the whole rig in words; nothing where no part of it is kept."""
    whole = next((row for row in rig["weights"] if row["section"] == "whole"), None)
    if whole is None or whole["weight_water_kg"] is None:
        return []
    largest = whole["largest_diameter_mm"]
    return [
        rig["rig_version"],
        f"{in_air(whole)} kg",
        f"{in_water(whole)} kg",
        f"{a_metre(whole)} kg" if whole["weight_water_kg_per_m"] is not None else "–",
        size_words(findings, largest) if largest is not None else "–",
    ]


def set_aside(findings: Findings) -> Section:
    """Rows read, used and set aside, and every reason for it."""
    counts = Table(
        "Rows read, used and set aside",
        ["table", "read", "used", "set aside"],
        [
            [name, f"{c['read']:,}", f"{c['used']:,}", f"{c['set_aside']:,}"]
            for name, c in findings["rows"].items()
        ],
    )
    tables = [counts]
    if findings["seasons"]:
        tables.append(_seasons(findings["seasons"]))
    if findings["set_aside"]:
        tables.append(_reasons("Why rows were set aside", findings["set_aside"]))
    if findings["remarks"]:
        tables.append(_reasons("Used, with a word on it", findings["remarks"]))
    return Section(
        "set-aside",
        "What was set aside, and why",
        [
            "A row that can't be right is set aside, never mended in silence. Each one stands in "
            "set-aside.csv with its file and row.",
            *findings["seasons_left_out"],
            *findings["seasons_together"],
            *_missing_words(findings),
        ],
        tables=tables,
    )


def _seasons(seasons: list[Row]) -> Table:
    return Table(
        "The seasons taken together, by their folders: rows of hauls",
        ["season", "boats", "read", "used", "set aside"],
        [
            [
                each["season"],
                ", ".join(each["vessels"]),
                *(f"{each[count]:,}" for count in ("read", "used", "set_aside")),
            ]
            for each in seasons
        ],
    )


def _reasons(caption: str, told: list[Row]) -> Table:
    return Table(
        caption,
        ["rows", "why, and the first of them"],
        [[f"{row['rows']:,}", f"{row['table']}: {sentence_of(row)}"] for row in told],
    )


MISSING_WORDS = {
    "catches": "Without a table of catches nothing is said of fish.",
    "prices": "Without a table of prices nothing is said of money.",
    "rig_versions": "Without a table of rig versions a rig is only its name.",
}


def _missing_words(findings: Findings) -> list[str]:
    return [MISSING_WORDS[name] for name in findings["missing_tables"] if name in MISSING_WORDS]


def how_to_read(findings: Findings) -> Section:
    """What the words mean, and what the report can and cannot tell."""
    return Section(
        "how-to-read",
        "How to read this",
        points=[
            *HOW_TO_READ,
            *CAN_TELL,
            matters_words(findings),
            looks_words(findings),
            f"This report holds {findings['comparisons']:,} comparisons in all. Of those that are "
            "not headline comparisons some will seem clear by luck: the more one looks at, the "
            "more sure a single one must be.",
        ],
    )


def cautions(_: Findings) -> Section:
    """What to ask, and whom, before any change of gear."""
    return Section("cautions", "Before any change of gear", points=list(CAUTIONS))
