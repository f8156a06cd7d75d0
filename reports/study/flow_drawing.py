"""The flow of rows drawn: boxes one under the other, what leaves the way to the right."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from reports.counts import haul_count, trip_count
from reports.language import number, say, say_many
from reports.rig_drawing.svg import (
    LINE_PX,
    WIDTH,
    Point,
    arrow_head,
    line,
    lines_of_text,
    picture,
    rectangle,
    together,
    wrapped,
)
from reports.sentences import capital
from reports.study.flow import (
    NO_OTHER_RIG,
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
PAD, GAP = 7.0, 18.0
BESIDE = 186.0
"""Where the boxes of what leaves the way begin."""
ALONE = BESIDE + GAP
"""Where a box of the way ends that has nothing beside it."""
TRUNK, BRANCH = 8.0, 17.0
"""Where the way goes down that all outcomes branch off from, and where their boxes begin."""
STEM = 20.0
"""How far from the left of its boxes a way goes down."""
MOST_RIGS = 14
"""So many rigs are named in a box; the table has them all."""
AGAINST = saying("with {rig}: {hauls}, {trips}")
ALONE_THERE = saying("{rig}: {hauls}, {trips}")
H_BESIDE = saying("(h beside: the rig's hours side by side with {rig})")


class _Words(NamedTuple):
    """What stands in a box, in lines that fit: its heading, and what is below it."""

    heading: list[str]
    below: list[str]


@dataclass
class _Way:
    """The drawing as it grows downwards.

    `left` is where the boxes of the way begin; `trunk` how far down the trunk goes that branches
    leave, None where there is none yet.
    """

    down: float = TOP
    left: float = LEFT
    trunk: float | None = None
    drawn: list[Markup] = field(default_factory=list)

    def step(self, words: _Words, right: float = RIGHT) -> float:
        """A box on the way, with an arrow to it from the one above; its middle."""
        if self.drawn:
            stem = self.left + STEM
            self._arrow(Point(stem, self.down), Point(stem, self.down + GAP))
            self.down += GAP
        return self._below(words, right)

    def branch(self, words: _Words, right: float) -> float:
        """The first box of a branch, with an arrow to it from the trunk; its middle."""
        parted = self.down if self.trunk is None else self.trunk
        self.left = BRANCH
        self.down += GAP
        middle = self._below(words, right)
        self.drawn.append(line(Point(TRUNK, parted), Point(TRUNK, middle), "rig-ink"))
        self._arrow(Point(TRUNK, middle), Point(BRANCH, middle))
        self.trunk = middle
        return middle

    def aside(self, words: _Words, middle: float, start: float) -> None:
        """A box beside the last one, to which an arrow leads from `start`."""
        top = middle - PAD - LINE_PX / 2
        height = self._box(words, BESIDE, RIGHT, top)
        self._arrow(Point(start, middle), Point(BESIDE, middle))
        self._lengthen(top + height)

    def _below(self, words: _Words, right: float) -> float:
        """A box below all that is drawn; its middle."""
        top = self.down
        self.down += self._box(words, self.left, right, top)
        return (top + self.down) / 2

    def _box(self, words: _Words, left: float, right: float, top: float) -> float:
        lines = len(words.heading) + len(words.below)
        height = lines * LINE_PX + 2 * PAD
        first = Point(left + PAD, top + PAD + LINE_PX / 2)
        below = Point(first.x, first.y + len(words.heading) * LINE_PX)
        self.drawn += [
            rectangle(Point(left, top), right - left, height, "rig-body"),
            lines_of_text(words.heading, first, look="net-name"),
            lines_of_text(words.below, below),
        ]
        return height

    def _arrow(self, start: Point, tip: Point) -> None:
        self.drawn += [line(start, tip, "rig-ink"), arrow_head(tip, _beyond(start, tip))]

    def _lengthen(self, bottom: float) -> None:
        """Let the way go on below a box beside it that reaches further down."""
        if bottom > self.down:
            stem = self.left + STEM
            self.drawn.append(line(Point(stem, self.down), Point(stem, bottom), "rig-ink"))
            self.down = bottom


def _beyond(start: Point, tip: Point) -> Point:
    """A place further on, the way that leads from the one to the other."""
    return Point(2 * tip.x - start.x, 2 * tip.y - start.y)


WITHOUT = saying("{hauls:,} without")


def flow_drawing(findings: Findings) -> str:
    """The flow of the rows of hauls as SVG, with its words for those who cannot see it."""
    flow, way = flow_of(findings), _Way()
    narrow = BESIDE - GAP
    rows_read = say_many("{number:,} row read", "{number:,} rows read", flow.read)
    read = _fitted([rows_read], narrow - LEFT)
    middle = way.step(read, narrow)
    if flow.set_aside:
        heading = say_many("{number:,} set aside", "{number:,} set aside", flow.set_aside)
        reasons = [f"{number(count, ',')}: {reason}" for reason, count in reasons_in_brief(flow)]
        way.aside(_fitted([heading, *reasons]), middle, narrow)
    boats = say_many("{number} boat", "{number} boats", flow.boats)
    used = [
        say_many("{number:,} haul used", "{number:,} hauls used", flow.used),
        say("on {trips} of {boats}", trips=trip_count(flow.trips), boats=boats),
    ]
    way.step(_alone(used), ALONE)
    for outcome in flow.outcomes:
        _draw_outcome(way, outcome, narrow)
    return picture("flow", way.down + 1, say("Flow of rows"), flow_told(flow), together(way.drawn))


def _draw_outcome(way: _Way, outcome: OutcomeFlow, narrow: float) -> None:
    """An outcome's own branch of the hauls used, down to the rigs that are compared."""
    recorded = say_many("{number:,} haul recorded", "{number:,} hauls recorded", outcome.recorded)
    lines = [outcome.title, recorded]
    middle = way.branch(_fitted(lines, narrow - BRANCH), narrow)
    left_out = [say(WITHOUT, hauls=outcome.unrecorded)] if outcome.unrecorded else []
    if outcome.foul:
        left_out.append(say_many("{number:,} foul tow", "{number:,} foul tows", outcome.foul))
    if left_out:
        way.aside(_fitted(left_out), middle, narrow)
    _draw_model(way, outcome, narrow)
    way.step(_fitted(_rig_lines(outcome), RIGHT - BRANCH))


def _draw_model(way: _Way, outcome: OutcomeFlow, narrow: float) -> None:
    """What is in the model over all grounds, and beside it what is not, and why."""
    if outcome.modelled is None:
        why = [outcome.no_model] if outcome.no_model else []
        way.step(_alone([say("No model over all grounds"), *why], BRANCH), ALONE)
        return
    hauls, trips = outcome.modelled
    lines = [
        say("{hauls:,} in the model", hauls=hauls),
        say("on {trips}", trips=trip_count(trips)),
    ]
    middle = way.step(_fitted(lines, narrow - BRANCH), narrow)
    if outcome.recorded > hauls:
        not_in_it = say("{hauls:,} not in it", hauls=outcome.recorded - hauls)
        way.aside(_fitted([not_in_it, *outcome.kept_out]), middle, narrow)


def _rig_lines(outcome: OutcomeFlow) -> list[str]:
    """How many rigs are compared, with what, and each of them; then those that are not."""
    rigs = outcome.rigs[:MOST_RIGS]
    compared = [rig for rig in rigs if rig.told]
    lines = [_how_many(compared) if rigs else capital(say(NO_OTHER_RIG))]
    own = outcome.reference
    if own:
        hauls, trips = haul_count(own.hauls), trip_count(own.trips)
        words = AGAINST if rigs else ALONE_THERE
        lines.append(say(words, rig=own.rig, hauls=hauls, trips=trips))
    lines += [_rig_line(rig) for rig in (*compared, *(rig for rig in rigs if not rig.told))]
    if own and compared:
        lines.append(say(H_BESIDE, rig=own.rig))
    more = len(outcome.rigs) - len(rigs)
    if more > 0:
        lines.append(
            say_many(
                "and {number} more rig in the table", "and {number} more rigs in the table", more
            )
        )
    return lines


def _how_many(compared: list[RigFlow]) -> str:
    """How many rigs are compared, and whether all of them in a part of the record alone."""
    if compared and all(rig.beside for rig in compared):
        return say_many(
            "{number} rig compared, in a part of the record alone",
            "{number} rigs compared, each in a part of the record alone",
            len(compared),
        )
    return say_many("{number} rig compared", "{number} rigs compared", len(compared))


def _rig_line(rig: RigFlow) -> str:
    if rig.told:
        beside = say("{hours:,.0f} h beside", hours=rig.shared_hours)
        fished = say(
            "{rig}: {hauls}, {trips}; {beside}",
            rig=rig.rig,
            hauls=haul_count(rig.hauls),
            trips=trip_count(rig.trips),
            beside=beside.replace(" ", NO_BREAK),
        )
        return f"{fished}; {rig.beside}" if rig.beside else fished
    said = OVER_THE_WHOLE if rig.partly else NOT_COMPARED
    return say(said, rig=rig.rig, hauls=haul_count(rig.hauls), why=rig.compared)


NO_BREAK = "\u00a0"
"""A blank at which no line ends."""
NOT_COMPARED = saying("{rig}: {hauls}; {why}")
OVER_THE_WHOLE = saying("{rig} over the whole record: {hauls}; {why}")


def _alone(lines: list[str], left: float = LEFT) -> _Words:
    """The lines of a box with nothing beside it."""
    return _fitted(lines, ALONE - left)


def _fitted(lines: list[str], width: float = WIDTH - BESIDE) -> _Words:
    """The lines, of which the first is the heading, broken to fit into a box of that width."""
    heading, *below = ([*wrapped(text, width - 2 * PAD - 1)] for text in lines)
    return _Words(heading, [part for text in below for part in text])
