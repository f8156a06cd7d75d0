"""The three tellings of one set of results: for the skipper, the co-op and the study.

What each reader is told, in the order of the page. To add a section, write a function that takes
the findings and returns a `Section`, or None where the season has nothing for it, and name it in
the editions whose reader wants it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from reports.advice.opening import behind_the_advice
from reports.boats.section import boat_by_boat
from reports.by_rig_and_ground import damage_by_rig_and_ground, fish_by_rig_and_ground
from reports.changes.section import before_and_after
from reports.coop.boat_page import beside_all, boat_screen, own_ratios
from reports.coop.differences import differences
from reports.coop.screen import coop_screen
from reports.coop.sections import how_to_read_shared, over_boats, shared_tables, what_was_hidden
from reports.damage_cost.section import damage_cost
from reports.does_it_hold.section import does_it_hold
from reports.haul_map.section import haul_map
from reports.money.section import what_would_pay
from reports.notes_section import notes
from reports.on_deck import as_recorded, on_deck
from reports.one_tow import two_rigs_in_one_tow
from reports.outcome_sections import further, outcome_section
from reports.record_sections import (
    cautions,
    ground_by_ground,
    how_to_read,
    how_to_read_on_deck,
    rig_by_ground,
    rigs,
    set_aside,
)
from reports.rigs.measures import measures
from reports.rigs.section import rig_sheets
from reports.season_strip.section import season_strip
from reports.sizes.section import which_sizes
from reports.standing.section import how_far_this_stands
from reports.study.section import deviations, flow_section, methods
from reports.tears.section import where_the_net_tears
from reports.year_by_year import year_by_year
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Callable

    from pipeline.findings import Findings
    from reports.parts import Screen, Section


class Edition(NamedTuple):
    """What one reader is told: the page's kind and file, the template of its opening, its sections.

    `units` puts the findings into the units that the reader is told them in; of the sections
    named in `folded` only the heading is seen until it is touched. `screen` makes the first
    screen where the findings are not the season's but the shared ones.
    """

    reader: str
    kind: str
    page: str
    opening: str
    sections: tuple[Callable[[Findings], Section | None], ...]
    units: Callable[[Findings], Findings]
    folded: tuple[str, ...] = ()
    screen: Callable[[Findings], Screen] | None = None


net_damage = outcome_section(
    "damage_events", saying("How often the net was damaged, per hour towed.")
)
bottom_living_fish = outcome_section(
    "bottom_living_kg",
    saying(
        "Flatfish, rays, anglers, prawns and others that live on the bottom and can pass under a "
        "ground gear; {weighed}."
    ),
)
other_fish = outcome_section(
    "other_kg",
    saying(
        "All other fish. A ground gear should matter less to them: a large difference here hints "
        "that the rigs were not fished alike."
    ),
)

EDITIONS: dict[str, Edition] = {
    "skipper": Edition(
        "skipper",
        saying("Season report – for the skipper"),
        "season-report.html",
        "skipper.html",
        (
            behind_the_advice,
            ground_by_ground,
            season_strip,
            damage_by_rig_and_ground,
            fish_by_rig_and_ground,
            haul_map,
            two_rigs_in_one_tow,
            net_damage,
            bottom_living_fish,
            which_sizes,
            where_the_net_tears,
            damage_cost,
            what_would_pay,
            year_by_year,
            rig_by_ground,
            rigs,
            rig_sheets,
            notes,
            set_aside,
            how_to_read_on_deck,
            cautions,
        ),
        on_deck,
        (
            "damage-events",
            "bottom-living-kg",
            "which-sizes",
            "damage-cost",
            "year-by-year",
            "hours-by-rig-and-ground",
            "notes",
            "set-aside",
            "how-to-read",
        ),
    ),
    "coop": Edition(
        "coop",
        saying("Season report – for the co-op"),
        "co-op-report.html",
        "coop.html",
        (
            differences,
            over_boats,
            shared_tables,
            what_was_hidden,
            how_to_read_shared,
            cautions,
        ),
        as_recorded,
        screen=coop_screen,
    ),
    "study": Edition(
        "study",
        saying("Season report – study"),
        "study-report.html",
        "study.html",
        (
            flow_section,
            rig_by_ground,
            net_damage,
            bottom_living_fish,
            other_fish,
            which_sizes,
            two_rigs_in_one_tow,
            how_far_this_stands,
            before_and_after,
            boat_by_boat,
            year_by_year,
            where_the_net_tears,
            damage_cost,
            what_would_pay,
            further,
            does_it_hold,
            methods,
            deviations,
            rigs,
            measures,
            rig_sheets,
            notes,
            set_aside,
            how_to_read,
            cautions,
        ),
        as_recorded,
    ),
}

OF_A_BOAT = Edition(
    "boat",
    saying("Season report – for one boat"),
    "boat.html",
    "coop.html",
    (own_ratios, beside_all, how_to_read_shared, cautions),
    as_recorded,
    screen=boat_screen,
)
"""A boat's own page beside the co-op's; its file is named when it is written."""
