"""A section of a rig to scale: a stretch of it from ahead, and the gear across from the side."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING, Any

from reports.gear_words import section_name
from reports.language import say
from reports.rig_drawing.across import COLUMNS_PX, UNDER_PX, from_the_side, reach_mm, tallest_mm
from reports.rig_drawing.ahead import PANEL_PX, from_ahead, tallest_ahead_mm
from reports.rig_drawing.frame import HEADING_PX, heading, scale_bar, text_block, way_of_tow
from reports.rig_drawing.line import FishingLine, fishing_line
from reports.rig_drawing.section import MM_PER_M, Section, section_of
from reports.rig_drawing.svg import LINE_PX, MARGIN, WIDTH, identity, picture
from reports.rig_drawing.words import MILLIMETRES, key_of, metres, side_notes, side_told

if TYPE_CHECKING:
    from collections.abc import Mapping

    from markupsafe import Markup

STRETCH_STEP_MM = 250.0
LEAST_STRETCH_MM = 500.0
STRETCH_FOR_PIECES_MM = 1500.0
"""Where pieces are far apart the stretch grows so far, and no further, to show two of them."""
TALLEST_PX = 230.0
PITCHES_SHOWN = 1.7
BARS_MM = tuple(digit * 10**power for power in range(1, 5) for digit in (1, 2, 5))


def side_view(rig: Mapping[str, Any], section: str = "bosom") -> str | None:
    """The section of the rig in two panels at one scale, as SVG; None if nothing can be drawn.

    `rig` is one of the findings' rigs: `rig_version`, `ground_gear`, `parts`, `weights` and
    `geometry`, any of which may be missing.
    """
    drawn = section_of(rig, section)
    over = fishing_line(rig, drawn)
    if over.gear_mm is None:
        return None
    stretch_mm = _stretch_mm(drawn, over)
    px_per_mm = PANEL_PX / stretch_mm
    name = str(rig.get("rig_version") or say("a rig"))
    parts, below = [], 0.0
    if drawn.largest_mm is not None:
        clip = identity("rig-ahead", name, section)
        ahead, below = _ahead_panel(drawn, over, stretch_mm, clip)
        parts.append(ahead)
    side, below = _side_panel(drawn, over, px_per_mm, below)
    bar, below = scale_bar(px_per_mm, BARS_MM, MILLIMETRES, below)
    notes, below = text_block(" ".join(side_notes(drawn, over)), below, "rig-quiet")
    shown_m = stretch_mm / MM_PER_M if parts else None
    return picture(
        identity("rig-side", name, section),
        below + MARGIN,
        say(
            "{rig}, {section}, from ahead and from the side",
            rig=name,
            section=section_name(section),
        ),
        side_told(drawn, over, shown_m),
        *parts,
        side,
        bar,
        notes,
    )


def _stretch_mm(section: Section, over: FishingLine) -> float:
    """How much of the gear is shown: so much that the drawing fits, in steps."""
    across_mm = sum(reach_mm(section, over))
    needs = [
        LEAST_STRETCH_MM,
        across_mm * PANEL_PX / (WIDTH - COLUMNS_PX),
        tallest_mm(section, over) * PANEL_PX / TALLEST_PX,
        min(STRETCH_FOR_PIECES_MM, _pitch_mm(section) * PITCHES_SHOWN),
    ]
    return ceil(max(needs) / STRETCH_STEP_MM) * STRETCH_STEP_MM


def _pitch_mm(section: Section) -> float:
    """From one of the largest pieces to the next."""
    largest = [p.at_mm for p in section.pieces if p.diameter_mm == section.largest_mm]
    if len(largest) <= 1:
        return 0.0
    return (largest[-1] - largest[0]) / (len(largest) - 1)


def _ahead_panel(
    section: Section, over: FishingLine, stretch_mm: float, clip: str
) -> tuple[Markup, float]:
    px_per_mm = PANEL_PX / stretch_mm
    words = say(
        "from ahead: {length} of the {section}",
        length=metres(stretch_mm / MM_PER_M),
        section=section_name(section.name),
    )
    seabed_px = HEADING_PX + tallest_ahead_mm(section, over) * px_per_mm + 2 * MARGIN
    key, below = text_block(key_of(section), seabed_px + MARGIN, "rig-text")
    drawn = from_ahead(section, over, seabed_px, px_per_mm, clip)
    return heading(words, 0.0) + drawn + key, below + MARGIN


def _side_panel(
    section: Section, over: FishingLine, px_per_mm: float, top: float
) -> tuple[Markup, float]:
    tall = tallest_mm(section, over) * px_per_mm + 2 * LINE_PX
    seabed_px = top + HEADING_PX + max(tall, 5 * LINE_PX)
    drawn = from_the_side(section, over, seabed_px, px_per_mm)
    return (
        heading(say("from the side"), top) + way_of_tow(top) + drawn,
        seabed_px + UNDER_PX + MARGIN,
    )
