"""A stretch of the ground gear as it is seen from ahead: the upper half of the side view."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.rig_drawing.marks import Frame, piece_mark, run_mark, spans_between
from reports.rig_drawing.svg import (
    MARGIN,
    WIDTH,
    Point,
    circle,
    element,
    line,
    number,
    path,
    together,
)

if TYPE_CHECKING:
    from markupsafe import Markup

    from reports.rig_drawing.line import FishingLine
    from reports.rig_drawing.section import Section

PANEL_PX = WIDTH - 2 * MARGIN
"""How wide the stretch is drawn."""

TOGGLES = 4
"""Toggles to a stretch, more or less: how far apart they are is not recorded (own judgement)."""

CLOSE_PITCHES = 2 / 3
"""Pieces that are closer than their toggles have these where they meet (own judgement)."""

HATCH_PX = 6.0
TOGGLE_END_PX = 1.8


def from_ahead(
    section: Section, over: FishingLine, seabed_px: float, px_per_mm: float, clip: str
) -> Markup:
    """The stretch with its middle in the middle of the drawing; `clip` is an id of its own."""
    middle_mm = _middle_mm(section, PANEL_PX / px_per_mm)
    frame = Frame(Point(WIDTH / 2 - middle_mm * px_per_mm, seabed_px), px_per_mm)
    half_mm = PANEL_PX / px_per_mm / 2
    start_mm, end_mm = middle_mm - half_mm, middle_mm + half_mm
    if section.length_mm is not None:
        start_mm = max(start_mm, -section.length_mm / 2)
        end_mm = min(end_mm, section.length_mm / 2)
    gear = _gear(section, over, frame, (start_mm, end_mm))
    hung = _line_and_toggles(section, over, frame, (start_mm, end_mm))
    forward = (over.drop_back_mm or 0.0) < 0
    layers = (gear, hung) if forward else (hung, gear, _hidden_line(over, frame, start_mm, end_mm))
    top = frame.at(start_mm, 0).y - frame.px(tallest_ahead_mm(section, over)) - MARGIN
    window = element(
        "clipPath",
        element("rect", x=MARGIN, y=top, width=PANEL_PX, height=seabed_px - top + 1),
        id=clip,
    )
    return together(
        (
            window,
            element("g", *layers, clip_path=f"url(#{clip})"),
            seabed(MARGIN, WIDTH - MARGIN, seabed_px),
        )
    )


def seabed(start_px: float, end_px: float, at_px: float) -> Markup:
    """The ground: a line with short strokes under it."""
    count = int((end_px - start_px) / HATCH_PX)
    strokes = "".join(
        f"M{number(start_px + (place + 1) * HATCH_PX)} {number(at_px)}l-4 4"
        for place in range(count)
    )
    ground = line(Point(start_px, at_px), Point(end_px, at_px), "rig-seabed")
    return ground + path(strokes, "rig-hatch")


def tallest_ahead_mm(section: Section, over: FishingLine) -> float:
    """How high gear, line and what is on the line reach above the seabed."""
    on_the_line = max((run.height_mm / 2 for run in section.on_the_line), default=0.0)
    line_mm = 0.0 if over.height_mm is None else over.height_mm + on_the_line
    return max([over.gear_mm or 0.0, line_mm, *(run.height_mm for run in section.runs)])


def _middle_mm(section: Section, stretch_mm: float) -> float:
    """The middle of the stretch: a largest piece near the section's, where pieces are few."""
    largest = [p.at_mm for p in section.pieces if p.diameter_mm == section.largest_mm]
    if not largest or (section.length_mm is not None and section.length_mm <= stretch_mm):
        return 0.0
    return min(largest, key=abs)


def _gear(section: Section, over: FishingLine, frame: Frame, shown: tuple[float, float]) -> Markup:
    pieces = [p for p in section.pieces if p.end_mm > shown[0] and p.start_mm < shown[1]]
    drawn = []
    body, core = section.body, section.core
    if core is not None and body is None:
        drawn.append(run_mark(core, frame, spans_between(pieces, *shown), over.core_mm))
    if body is not None:
        lay = "rounding" if section.rounded and body.kind == "rope" else body.kind
        drawn.append(run_mark(body, frame, [shown], body.height_mm / 2, lay))
    small_first = sorted(pieces, key=lambda piece: piece.diameter_mm)
    drawn += [piece_mark(piece, frame, over.core_mm) for piece in small_first]
    drawn += [run_mark(run, frame, [shown], run.height_mm / 2) for run in section.alongside]
    return together(drawn)


def _line_and_toggles(
    section: Section, over: FishingLine, frame: Frame, shown: tuple[float, float]
) -> Markup:
    """The line along the stretch, what is on it, and toggles up to it from the gear's core."""
    if over.height_mm is None:
        return together(())
    toggles = []
    for along_mm in _toggles_at(section, shown):
        foot, head = frame.at(along_mm, over.core_mm), frame.at(along_mm, over.height_mm)
        toggles += [line(foot, head, "rig-toggle"), circle(head, TOGGLE_END_PX, "rig-solid")]
    ends = frame.at(shown[0], over.height_mm), frame.at(shown[1], over.height_mm)
    chains = [run_mark(run, frame, [shown], over.height_mm) for run in section.on_the_line]
    return together((line(*ends, look="rig-line"), *chains, *toggles))


def _hidden_line(over: FishingLine, frame: Frame, start_mm: float, end_mm: float) -> Markup:
    """A line that the gear hides, dashed over it."""
    if over.height_mm is None or over.height_mm >= (over.gear_mm or 0.0):
        return together(())
    ends = frame.at(start_mm, over.height_mm), frame.at(end_mm, over.height_mm)
    return line(*ends, look="rig-hidden")


def _toggles_at(section: Section, shown: tuple[float, float]) -> list[float]:
    """As far apart as the largest pieces, or a multiple or a part of it; else evenly.

    Where the pieces stand close a toggle is drawn just before one of them, as on the gear.
    """
    stretch_mm = shown[1] - shown[0]
    largest = [p for p in section.pieces if p.diameter_mm == section.largest_mm]
    pitch_mm = (largest[-1].at_mm - largest[0].at_mm) / (len(largest) - 1 or 1) if largest else 0
    pitches = stretch_mm / TOGGLES / pitch_mm if pitch_mm else 0.0
    if pitches > CLOSE_PITCHES:
        every = round(pitches) or 1
        middle = min(range(len(largest)), key=lambda place: abs(largest[place].at_mm))
        places = [p.start_mm for p in largest[middle % every :: every]]
    else:
        apart_mm = pitch_mm / round(1 / pitches) if pitches else stretch_mm / TOGGLES
        from_mm = min((p.at_mm for p in largest), key=abs, default=sum(shown) / 2)
        steps = range(-TOGGLES * 2, TOGGLES * 2)
        places = [from_mm + (step + 0.5) * apart_mm for step in steps]
    return [place for place in places if shown[0] < place < shown[1]]
