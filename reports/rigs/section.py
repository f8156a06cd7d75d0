"""The sheet of each rig version in the report: drawn, weighed, measured, worn, changed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.gear_words import SECTION_NAMES, ground_gear_name, section_name, section_of_sides
from reports.language import number, say
from reports.parts import Figure, Row, Section, Sheet, Table, table_of
from reports.rig_drawing.svg import identity
from reports.rigs.fishing_line import CLEAR_GAP, assumption_sentences, line_sentences
from reports.rigs.ground_chain import HEADERS, cells, chain_sentences, wholes
from reports.rigs.sentences import change_sentences, counted, part_sentences, wear_sentences
from reports.rigs.strand import strand
from reports.rigs.weight_words import HOLDS, a_metre, in_air, in_water, kilos
from reports.sentences import capital
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings

ABOUT = saying(
    "A sheet for each rig version that was fished: drawn to scale from its parts, what it weighs, "
    "where its fishing line hangs, how its ground chain or wire has stretched, and how long its "
    "parts have been fished. Of its line is told the {clear_gap}, seen from ahead."
)
CHECK_WORDS = saying(
    "A ground chain, or a wire in its place, is taken to be as long as its traveller when the rig "
    "is first fitted and whenever the two were evened, and to stretch by so much per 100 fishing "
    "hours in between; what stands after ± comes from how the checks, of which the number stands "
    "beside it, scatter about that, and a rate that may as well be nothing is hardly known. Below "
    "0 the traveller is the longer. The day of the limit is at the pace of the rig's own last 60 "
    "days; where it lies idle, the fishing hours alone are told."
)


def rig_sheets(findings: Findings) -> Section | None:
    """A sheet for each rig of which more than its name is known; None where there is none."""
    known = [rig for rig in findings["rigs"] if rig["parts"] or rig["geometry"] or rig["stretch"]]
    if not any(rig["parts"] or rig["geometry"] for rig in known):
        return None
    checked = any(row["checks"] for rig in known for row in rig["stretch"])
    return Section(
        "sheets",
        say("Rig by rig"),
        [say(ABOUT, clear_gap=say(CLEAR_GAP)), *([say(CHECK_WORDS)] if checked else [])],
        sheets=[_sheet(rig, findings["season"]["last_day"]) for rig in known],
        points=assumption_sentences(known),
    )


def rig_sheet_name(rig: str) -> str:
    """The name on the page of a rig's sheet."""
    return f"rig-{identity(rig)}"


def _sheet(rig: Row, record_ends: str | None) -> Sheet:
    gear = f", {ground_gear_name(rig['ground_gear'])}" if rig["ground_gear"] else ""
    wear = wear_sentences(rig)
    tables = (_weights(rig), _stretch(rig, record_ends))
    return Sheet(
        rig=rig["rig_version"],
        name=rig_sheet_name(rig["rig_version"]),
        title=f"{rig['rig_version']}{gear}",
        paragraphs=[words for words in (" ".join(line_sentences(rig)),) if words],
        tables=[table for table in tables if table is not None],
        points=[
            *chain_sentences(rig),
            *([say("Fishing hours. {told}", told=" ".join(wear))] if wear else []),
            *(say("Changed: {said}", said=said) for said in change_sentences(rig)),
            *([counted(rig)] if rig["parts"] else []),
            *map(capital, part_sentences(rig)),
        ],
        figures=[_checks(rig)] if rig["length_checks"] else [],
    )


def _weights(rig: Row) -> Table | None:
    rows = [row for row in rig["weights"] if row["weight_water_kg"] is not None]
    if not rows:
        return None
    return table_of(
        say("Weight; {holds}", holds=say(HOLDS)),
        rows,
        [
            (say("section"), lambda row: section_of_sides(row["section"], row["sides"])),
            (say("in air"), lambda row: kilos(in_air(row))),
            (say("in sea water"), lambda row: kilos(in_water(row))),
            (say("a metre, in water"), lambda row: kilos(a_metre(row)) if a_metre(row) else "–"),
            (say("length"), _length),
        ],
    )


def _length(row: Row) -> str:
    return "–" if row["gear_m"] is None else say("{gear_m:z,.1f} m", **row)


def _stretch(rig: Row, record_ends: str | None) -> Table | None:
    of_boats = wholes(rig)
    if not of_boats:
        return None
    caption = say(
        "{strand} less traveller, the whole gear, in % of the traveller; the limit is {limit:g} %",
        strand=capital(strand(rig)),
        limit=of_boats[0]["limit_percent"],
    )
    rows = [cells(row, record_ends) for row in of_boats]
    return Table(caption, [say(head) for head in HEADERS], rows)


def _checks(rig: Row) -> Figure:
    """Every check: the whole gear as a picture, section by section as a table."""
    by_check: dict[tuple[str, str], dict[str, Row]] = {}
    for check in rig["length_checks"]:
        key = check["checked_on"], check["vessel"]
        by_check.setdefault(key, {})[check["section"]] = check
    return Figure(
        name=f"lengths-{identity(rig['rig_version'])}",
        kind="lengths",
        outcome="",
        of=rig["rig_version"],
        title=say("Length checks of {rig_version}", **rig),
        caption=say(
            "{strand} less traveller as found, in % of the traveller, below 0 where the traveller "
            "was the longer; hollow where the two were made length for length again; broken, the "
            "season's limit.",
            strand=capital(strand(rig)),
        ),
        table=Table(
            say("{strand} less traveller, in %", strand=capital(strand(rig))),
            [say("day"), say("boat"), *map(section_name, SECTION_NAMES), say("evened")],
            [
                [
                    day[:10],
                    boat,
                    *(_percent(checks.get(section)) for section in SECTION_NAMES),
                    say("yes") if any(check["ends_spell"] for check in checks.values()) else "",
                ]
                for (day, boat), checks in sorted(by_check.items())
            ],
        ),
    )


def _percent(check: Row | None) -> str:
    if check is None or check["difference_percent"] is None:
        return "–"
    return number(check["difference_percent"], "z.2f")
