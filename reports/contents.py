"""What the report says, in the order of the page, before anything is drawn.

All of it comes from the contents of `findings.json`, so that a program can read whatever a
person can. To add a section, write a function that takes the findings and returns a `Section`,
or None where the season has nothing for it, and name it in `SECTIONS`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.boats.section import boat_by_boat
from reports.changes.section import before_and_after
from reports.damage_cost.section import damage_cost
from reports.does_it_hold.section import does_it_hold
from reports.first_screen import by_ground, cards, facts, untold
from reports.marks import marks
from reports.money.section import what_would_pay
from reports.notes_section import notes
from reports.outcome_sections import further, outcome_section
from reports.parts import Contents, Section
from reports.record_sections import cautions, how_to_read, rig_by_ground, rigs, set_aside
from reports.rigs.measures import measures
from reports.rigs.section import rig_sheets
from reports.sentences import lead, period
from reports.standing.section import how_far_this_stands
from reports.tears.section import where_the_net_tears

if TYPE_CHECKING:
    from collections.abc import Callable

    from pipeline.findings import Findings

SECTIONS: tuple[Callable[[Findings], Section | None], ...] = (
    outcome_section("damage_events", "How often the net was damaged, per hour towed."),
    outcome_section(
        "bottom_living_kg",
        "Flatfish, rays, anglers, prawns and others that live on "
        "the bottom and can pass under a ground gear; kept and discarded together.",
    ),
    outcome_section(
        "other_kg",
        "All other fish. A ground gear should matter less to them: a "
        "large difference here hints that the rigs were not fished alike.",
    ),
    how_far_this_stands,
    boat_by_boat,
    before_and_after,
    where_the_net_tears,
    damage_cost,
    what_would_pay,
    further,
    does_it_hold,
    rig_by_ground,
    rigs,
    measures,
    rig_sheets,
    notes,
    set_aside,
    how_to_read,
    cautions,
)


def report_contents(findings: Findings) -> Contents:
    """The contents of the season report."""
    season = findings["season"]
    return Contents(
        title=season["title"],
        period=period(season),
        invented="(invented)" in season["title"],
        facts=facts(findings),
        lead=lead(findings),
        cards=cards(findings),
        untold=untold(findings),
        by_ground=by_ground(findings),
        sections=[section for make in SECTIONS if (section := make(findings)) is not None],
        marks=marks([rig["rig_version"] for rig in findings["rigs"]], season["reference_rig"]),
    )
