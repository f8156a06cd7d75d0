"""The flow of rows drawn: boxes one under the other, what leaves the way to the right."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from reports.rig_drawing.svg import (
    LINE_PX,
    WIDTH,
    Point,
    arrow_head,
    element,
    line,
    lines_of_text,
    picture,
    together,
    wrapped,
)
from reports.study.flow import (
    NOT_COMPARED,
    OutcomeFlow,
    RigFlow,
    flow_of,
    flow_told,
    reasons_in_brief,
)

if TYPE_CHECKING:
    from markupsafe import Markup

    from pipeline.findings import Findings

LEFT, RIGHT, TOP = 0.5, WIDTH - 0.5, 1.0
BESIDE = 186.0
"""Where the boxes of what leaves the way begin."""
STEM = 20.0
"""Where the way goes down, under the left of each box."""
PAD, GAP = 7.0, 18.0
MOST_RIGS = 14
"""So many rigs are named in a box; the table has them all."""


@dataclass
class _Way:
    """The drawing as it grows downwards."""

    down: float = TOP
    drawn: list[Markup] = field(default_factory=list)

    def step(self, lines: list[str], right: float = RIGHT) -> float:
        """A box on the way, with an arrow to it from the one above; its middle."""
        if self.drawn:
            tip = Point(STEM, self.down + GAP)
            self.drawn += [
                line(Point(STEM, self.down), tip, "rig-ink"),
                arrow_head(tip, Point(STEM, tip.y + 1)),
            ]
            self.down += GAP
        top = self.down
        self.down += self._box(lines, LEFT, right, top)
        return (top + self.down) / 2

    def aside(self, lines: list[str], middle: float, start: float) -> None:
        """A box beside the last one, to which an arrow leads from `start`."""
        top = middle - PAD - LINE_PX / 2
        height = self._box(lines, BESIDE, RIGHT, top)
        tip = Point(BESIDE, middle)
        self.drawn += [
            line(Point(start, middle), tip, "rig-ink"),
            arrow_head(tip, Point(BESIDE + 1, middle)),
        ]
        self._lengthen(top + height)

    def _box(self, lines: list[str], left: float, right: float, top: float) -> float:
        height = len(lines) * LINE_PX + 2 * PAD
        self.drawn += [
            element(
                "rect",
                x=left,
                y=top,
                width=right - left,
                height=height,
                class_="rig-body",
            ),
            lines_of_text(lines[:1], Point(left + PAD, top + PAD + LINE_PX / 2), look="net-name"),
            lines_of_text(lines[1:], Point(left + PAD, top + PAD + LINE_PX * 1.5)),
        ]
        return height

    def _lengthen(self, bottom: float) -> None:
        """Let the way go on below a box beside it that reaches further down."""
        if bottom > self.down:
            end = Point(STEM, bottom)
            self.drawn.append(line(Point(STEM, self.down), end, "rig-ink"))
            self.down = bottom


def flow_drawing(findings: Findings) -> str:
    """The flow of the rows of hauls as SVG, with its words for those who cannot see it."""
    flow, way = flow_of(findings), _Way()
    narrow = BESIDE - GAP
    middle = way.step(_fitted([f"{flow.read:,} rows read"], narrow), narrow)
    if flow.set_aside:
        reasons = [f"{count:,}: {reason}" for reason, count in reasons_in_brief(flow)]
        way.aside(_fitted([f"{flow.set_aside:,} set aside", *reasons]), middle, narrow)
    boats = "1 boat" if flow.boats == 1 else f"{flow.boats} boats"
    way.step([f"{flow.used:,} good hauls", f"on {flow.trips:,} trips of {boats}"], narrow)
    for outcome in flow.outcomes:
        _draw_outcome(way, outcome, narrow)
    return picture("flow", way.down + 1, "Flow of rows", flow_told(flow), together(way.drawn))


def _draw_outcome(way: _Way, outcome: OutcomeFlow, narrow: float) -> None:
    lines = [outcome.title, f"{outcome.recorded:,} hauls recorded"]
    middle = way.step(_fitted(lines, narrow), narrow)
    if outcome.unrecorded:
        way.aside(_fitted([f"{outcome.unrecorded:,} without"]), middle, narrow)
    if outcome.modelled is None:
        way.step(["No model over all grounds"], narrow)
    else:
        hauls, trips = outcome.modelled
        middle = way.step([f"{hauls:,} in the model", f"on {trips:,} trips"], narrow)
        if outcome.recorded > hauls:
            out = [f"{outcome.recorded - hauls:,} not in it", "why: beside the model, below"]
            way.aside(_fitted(out), middle, narrow)
    rigs = outcome.rigs[:MOST_RIGS]
    told = [_rig_line(rig) for rig in rigs if rig.told]
    untold = [_rig_line(rig) for rig in rigs if not rig.told]
    more = len(outcome.rigs) - len(rigs)
    if outcome.reference:
        own = outcome.reference
        against = [
            f"with {own.rig}: {own.hauls:,} hauls, {own.trips:,} trips; the hours are those fished "
            "side by side with it"
        ]
    else:
        against = []
    heading = f"{len(told)} rigs compared" if len(told) != 1 else "1 rig compared"
    further = [f"and {more} more rigs in the table"] if more > 0 else []
    way.step(_fitted([heading, *against, *told, *untold, *further], WIDTH))


def _rig_line(rig: RigFlow) -> str:
    fished = f"{rig.rig}: {rig.hauls:,} hauls, {rig.trips:,} trips"
    if rig.told:
        return f"{fished}, {rig.shared_hours:,.0f} h"
    return f"{rig.rig}: {rig.hauls:,} hauls; {rig.compared.removeprefix(NOT_COMPARED)}"


def _fitted(lines: list[str], right: float = WIDTH - BESIDE) -> list[str]:
    """The lines broken to fit into a box of that width."""
    return [part for text in lines for part in wrapped(text, right - 2 * PAD - 1)]
