"""The flow of rows drawn: boxes one under the other, what leaves the way to the right."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from reports.language import number, say, say_many
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
    OutcomeFlow,
    RigFlow,
    flow_of,
    flow_told,
    reasons_in_brief,
)
from schemas.words import saying

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
AGAINST = saying(
    "with {rig}: {hauls:,} hauls, {trips:,} trips; the hours are those fished side by side with it"
)


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


WITHOUT = saying("{hauls:,} without")
WITHOUT_OR_FOUL = saying("{hauls:,} without, or foul tows")


def flow_drawing(findings: Findings) -> str:
    """The flow of the rows of hauls as SVG, with its words for those who cannot see it."""
    flow, way = flow_of(findings), _Way()
    narrow = BESIDE - GAP
    middle = way.step(_fitted([say("{rows:,} rows read", rows=flow.read)], narrow), narrow)
    if flow.set_aside:
        heading = say("{rows:,} set aside", rows=flow.set_aside)
        reasons = [f"{number(count, ',')}: {reason}" for reason, count in reasons_in_brief(flow)]
        way.aside(_fitted([heading, *reasons]), middle, narrow)
    boats = say_many("{number} boat", "{number} boats", flow.boats)
    good = [
        say("{hauls:,} good hauls", hauls=flow.used),
        say("on {trips:,} trips of {boats}", trips=flow.trips, boats=boats),
    ]
    way.step(_alone(good), narrow)
    for outcome in flow.outcomes:
        _draw_outcome(way, outcome, narrow)
    return picture("flow", way.down + 1, say("Flow of rows"), flow_told(flow), together(way.drawn))


def _draw_outcome(way: _Way, outcome: OutcomeFlow, narrow: float) -> None:
    lines = [outcome.title, say("{hauls:,} hauls recorded", hauls=outcome.recorded)]
    middle = way.step(_fitted(lines, narrow), narrow)
    if outcome.unrecorded:
        words = WITHOUT_OR_FOUL if outcome.foul_left_out else WITHOUT
        without = say(words, hauls=outcome.unrecorded)
        way.aside(_fitted([without]), middle, narrow)
    _draw_model(way, outcome, narrow)
    way.step(_fitted(_rig_lines(outcome), WIDTH))


def _draw_model(way: _Way, outcome: OutcomeFlow, narrow: float) -> None:
    """What is in the model over all grounds, and beside it what is not."""
    if outcome.modelled is None:
        way.step(_alone([say("No model over all grounds")]), narrow)
        return
    hauls, trips = outcome.modelled
    lines = [
        say("{hauls:,} in the model", hauls=hauls),
        say("on {trips:,} trips", trips=trips),
    ]
    middle = way.step(_fitted(lines, narrow), narrow)
    if outcome.recorded > hauls:
        out = [
            say("{hauls:,} not in it", hauls=outcome.recorded - hauls),
            say("why: see the model"),
        ]
        way.aside(_fitted(out), middle, narrow)


def _rig_lines(outcome: OutcomeFlow) -> list[str]:
    """How many rigs are compared, with what, and each of them; then those that are not."""
    rigs = outcome.rigs[:MOST_RIGS]
    told = [_rig_line(rig) for rig in rigs if rig.told]
    untold = [_rig_line(rig) for rig in rigs if not rig.told]
    lines = [say_many("{number} rig compared", "{number} rigs compared", len(told))]
    if outcome.reference:
        own = outcome.reference
        lines.append(say(AGAINST, rig=own.rig, hauls=own.hauls, trips=own.trips))
    lines += [*told, *untold]
    more = len(outcome.rigs) - len(rigs)
    if more > 0:
        lines.append(say("and {more} more rigs in the table", more=more))
    return lines


def _rig_line(rig: RigFlow) -> str:
    if rig.told:
        fished = say(
            "{rig}: {hauls:,} hauls, {trips:,} trips, {hours:,.0f} h",
            rig=rig.rig,
            hauls=rig.hauls,
            trips=rig.trips,
            hours=rig.shared_hours,
        )
        return f"{fished}; {rig.beside}" if rig.beside else fished
    return say("{rig}: {hauls:,} hauls; {why}", rig=rig.rig, hauls=rig.hauls, why=rig.compared)


def _alone(lines: list[str]) -> list[str]:
    """The lines of a narrow box with nothing beside it.

    In a wide font they may run past its side, as far as to where a box beside it would begin.
    """
    return _fitted(lines, BESIDE + PAD)


def _fitted(lines: list[str], right: float = WIDTH - BESIDE) -> list[str]:
    """The lines broken to fit into a box of that width."""
    return [part for text in lines for part in wrapped(text, right - 2 * PAD - 1)]
