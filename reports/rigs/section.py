"""The sheet of each rig version in the report: drawn, weighed, measured, worn, changed."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from reports.parts import Figure, Row, Section, Sheet, Table
from reports.rigs.sentences import (
    STRETCH_HEADERS,
    assumption_sentences,
    change_sentences,
    line_sentences,
    part_sentences,
    section_word,
    stretch_cells,
    stretch_sentences,
    wear_sentences,
)

if TYPE_CHECKING:
    from pipeline.findings import Findings

ABOUT = (
    "A sheet for each rig version that was fished: drawn to scale from its parts, what it weighs, "
    "where its fishing line hangs, how its ground chain has stretched, and how long its parts have "
    "been fished."
)
CHECK_WORDS = (
    "A ground chain is taken to be as long as its traveller when the rig is first fitted and "
    "whenever the two were evened, and to stretch by so much per 100 fishing hours in between; the "
    "interval comes from how the checks, whose number stands beside it, scatter about that. The "
    "day of the limit is at the pace of the rig's last 60 days."
)


def rig_sheets(findings: Findings) -> Section | None:
    """A sheet for each rig of which more than its name is known; None where there is none."""
    known = [rig for rig in findings["rigs"] if rig["parts"] or rig["geometry"] or rig["stretch"]]
    if not any(rig["parts"] or rig["geometry"] for rig in known):
        return None
    checked = any(row["checks"] for rig in known for row in rig["stretch"])
    return Section(
        "rig-sheets",
        "Rig by rig",
        [ABOUT, *([CHECK_WORDS] if checked else [])],
        sheets=[_sheet(rig) for rig in known],
        points=assumption_sentences(known),
    )


def _sheet(rig: Row) -> Sheet:
    gear = f", {rig['ground_gear']}" if rig["ground_gear"] else ""
    wear = wear_sentences(rig)
    return Sheet(
        rig=rig["rig_version"],
        name=f"rig-{_slug(rig['rig_version'])}",
        title=f"{rig['rig_version']}{gear}",
        paragraphs=[words for words in (" ".join(line_sentences(rig)),) if words],
        tables=[table for table in (_weights(rig), _stretch(rig)) if table is not None],
        points=[
            *stretch_sentences(_wholes(rig)),
            *([f"Fishing hours. {' '.join(wear)}"] if wear else []),
            *(f"Changed: {said}" for said in change_sentences(rig)),
            *(f"{said[:1].upper()}{said[1:]}" for said in part_sentences(rig)),
        ],
        figures=[_checks(rig)] if rig["length_checks"] else [],
    )


def _slug(name: str) -> str:
    return re.sub(r"[^A-Za-z0-9_-]", lambda match: f"-{ord(match[0]):x}-", name)


def _wholes(rig: Row) -> list[Row]:
    """One row a boat, the longest chain first."""
    wholes = [row for row in rig["stretch"] if row["section"] == "whole"]
    return sorted(wholes, key=lambda row: row["difference_now_percent"] or 0.0, reverse=True)


def _weights(rig: Row) -> Table | None:
    rows = [
        [
            section_word(row["section"], row["sides"]),
            f"{'at least ' if row['at_least'] else ''}{row['mass_air_kg']:,.0f} kg",
            f"{row['weight_water_kg']:,.1f} ± {row['weight_sd_kg']:,.1f} kg",
            _with_unit(row["weight_water_kg_per_m"], ".1f", "kg"),
            _with_unit(row["gear_m"], ",.1f", "m"),
        ]
        for row in rig["weights"]
        if row["weight_water_kg"] is not None
    ]
    headers = ["section", "in air", "in sea water", "a metre, in water", "length"]
    return Table("Weight", headers, rows) if rows else None


def _stretch(rig: Row) -> Table | None:
    checked = [row for row in _wholes(rig) if row["checks"]]
    if not checked:
        return None
    caption = (
        "Ground chain longer than traveller, the whole gear, in % of its length; the limit is "
        f"{checked[0]['limit_percent']:g} %"
    )
    return Table(caption, STRETCH_HEADERS, [stretch_cells(row) for row in checked])


def _checks(rig: Row) -> Figure:
    """Every check: the whole gear as a picture, section by section as a table."""
    by_check: dict[tuple[str, str], dict[str, Row]] = {}
    for check in rig["length_checks"]:
        key = check["checked_on"], check["vessel"]
        by_check.setdefault(key, {})[check["section"]] = check
    sections = ("wing", "bunt", "bosom", "whole")
    return Figure(
        name=f"lengths-{_slug(rig['rig_version'])}",
        kind="lengths",
        outcome="",
        of=rig["rig_version"],
        title=f"Length checks of {rig['rig_version']}",
        caption=(
            "How much longer than the traveller the ground chain was found, in % of its length; "
            "hollow where the two were made length for length again; broken, the season's limit."
        ),
        table=Table(
            "Ground chain longer than traveller, in %",
            ["day", "boat", *sections, "evened"],
            [
                [
                    day[:10],
                    boat,
                    *(_percent(checks.get(section)) for section in sections),
                    "yes" if any(check["ends_spell"] for check in checks.values()) else "",
                ]
                for (day, boat), checks in sorted(by_check.items())
            ],
        ),
    )


def _percent(check: Row | None) -> str:
    if check is None or check["difference_percent"] is None:
        return "–"
    return f"{check['difference_percent']:.2f}"


def _with_unit(value: float | None, form: str, unit: str) -> str:
    return "–" if value is None else f"{value:{form}} {unit}"
