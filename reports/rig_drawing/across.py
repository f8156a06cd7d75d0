"""The gear and its fishing line as they are seen from the side: the lower half of the side view.

The way of tow is to the left, so that what is aft lies to the right. Where the line is forward of
the gear the labels change sides, so that the gap's always stand beside the line.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin, sqrt
from typing import TYPE_CHECKING

from reports.language import say
from reports.rig_drawing.ahead import seabed, tallest_ahead_mm
from reports.rig_drawing.marks import look_of
from reports.rig_drawing.svg import (
    LINE_PX,
    MARGIN,
    WIDTH,
    Point,
    circle,
    dimension,
    kept_apart,
    line,
    lines_of_text,
    number,
    path,
    rectangle,
    together,
    width_of,
    wrapped,
)
from reports.rig_drawing.words import gap_lines, mm
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Sequence

    from markupsafe import Markup

    from reports.rig_drawing.line import FishingLine
    from reports.rig_drawing.section import Section

DIAMETER, FISHING_LINE = saying("diameter"), saying("fishing line")
OFF_PX = 16.0
"""From the gear to a dimension line beside it, or under the seabed."""
BESIDE_PX = 7.0
"""From a dimension line to its figure."""
OVER_PX = 13.0
"""How far a label stands off what it names."""
AWAY_WORDS_PX, BESIDE_WORDS_PX = 72.0, 108.0
"""What words have of the width, away from the line and on its side.

It is the same in every language, as the scale hangs on it; words that want more take a second line.
"""
DOT_PX = 2.6
CROSS_PX = 3.0
UNDER_PX = OFF_PX + LINE_PX + 6.0
"""What is drawn under the seabed."""
REACH_SHOWN_DEG = 50.0
"""How much is drawn of the reach of a toggle whose lean is not known."""


@dataclass(frozen=True)
class View:
    """The section across, in its place: `core` is the gear's core, `side` +1 where aft is right.

    Lengths are in units of the drawing from the core, `out` towards the line's side and `up`.
    """

    section: Section
    over: FishingLine
    px_per_mm: float
    core: Point
    side: int

    @property
    def radius(self) -> float:
        """Of the largest part."""
        return self.over.core_mm * self.px_per_mm

    def at(self, out: float, up: float) -> Point:
        """The place so far out and up from the core."""
        return Point(self.core.x + self.side * out, self.core.y - up)

    @property
    def line(self) -> tuple[float, float] | None:
        """How far out and up the line is."""
        if self.over.placed is None:
            return None
        drop_back_mm, height_mm = self.over.placed
        return abs(drop_back_mm) * self.px_per_mm, (height_mm - self.over.core_mm) * self.px_per_mm

    @property
    def seabed(self) -> float:
        """Where the seabed is."""
        return self.core.y + self.radius

    def label(self, lines: list[str], out: float, up: float, *, inward: bool = False) -> Markup:
        """Lines of text, the first at that height, that run outward, or inward, from `out`."""
        outward = (self.side > 0) != inward
        return lines_of_text(lines, self.at(out, up), "start" if outward else "end")


AWAY_PX = MARGIN + AWAY_WORDS_PX + BESIDE_PX + OFF_PX
"""What the diameter's dimension line and figure take of the width."""

COLUMNS_PX = AWAY_PX + OFF_PX + BESIDE_PX + BESIDE_WORDS_PX + MARGIN
"""What dimension lines and figures take of the width on both sides."""


def reach_mm(section: Section, over: FishingLine) -> tuple[float, float]:
    """How far the drawing reaches from the core: away from the line, and on its side."""
    radius, drop_back_mm = over.core_mm, over.drop_back_mm or 0.0
    links = [run.height_mm / 2 for run in section.runs]
    ahead = [2 * sqrt(radius * r) + r for run in section.alongside if (r := run.diameter_mm / 2)]
    to_the_line = [abs(drop_back_mm)]
    if over.placed is None and over.toggle_mm is not None:
        to_the_line.append(over.toggle_mm * sin(radians(REACH_SHOWN_DEG)))
    if drop_back_mm < 0:
        return max([radius, *links]), max([radius, *links, *ahead, *to_the_line])
    return max([radius, *links, *ahead]), max([radius, *links, *to_the_line])


def tallest_mm(section: Section, over: FishingLine) -> float:
    """How high the drawing reaches above the seabed."""
    high = [tallest_ahead_mm(section, over), over.level_mm or 0.0]
    if over.placed is None and over.toggle_mm is not None:
        high.append(over.core_mm + over.toggle_mm)
    return max(high)


def from_the_side(
    section: Section, over: FishingLine, seabed_px: float, px_per_mm: float
) -> Markup:
    """The gear across, the line, and their dimensions in mm."""
    away, out = (mm_ * px_per_mm for mm_ in reach_mm(section, over))
    side = -1 if (over.drop_back_mm or 0.0) < 0 else 1
    spare = WIDTH - COLUMNS_PX - away - out
    left = AWAY_PX + away + spare / 2
    core_x = left if side > 0 else WIDTH - left
    core = Point(core_x, seabed_px - over.core_mm * px_per_mm)
    view = View(section, over, px_per_mm, core, side)
    edges = sorted((view.at(-away - OFF_PX - 6, 0).x, view.at(out + OFF_PX + 6, 0).x))
    return together(
        (
            seabed(edges[0], edges[1], seabed_px),
            _behind(view),
            _gear(view),
            _toggle(view),
            _diameter(view, away),
            _gap(view, out),
            _drop_back(view),
            _core(view),
        )
    )


def _gear(view: View) -> Markup:
    """The largest part standing on the seabed, the next smaller one and the core within it."""
    pieces = view.section.kinds_of_pieces
    largest = view.section.body or (pieces[0] if pieces else None)
    look = look_of(largest.material if largest else None)
    drawn = [circle(view.core, view.radius, f"{look} rig-largest")]
    smaller = [p for p in pieces if p.diameter_mm < (view.over.gear_mm or 0.0)]
    if smaller:
        radius = smaller[0].diameter_mm / 2 * view.px_per_mm
        drawn.append(circle(view.core, radius, "rig-hidden"))
    return together(drawn)


def _behind(view: View) -> Markup:
    """The links of a chain, end on, and what lies along the gear ahead of it."""
    scale, drawn = view.px_per_mm, []
    body = view.section.body
    if body is not None and body.kind == "chain":
        high, iron = body.height_mm * scale, body.diameter_mm * scale
        for wide, tall in ((iron, high), (high, iron)):
            corner = Point(view.core.x - wide / 2, view.seabed - high / 2 - tall / 2)
            drawn.append(rectangle(corner, wide, tall, "rig-hidden", iron / 2))
    for run in view.section.alongside:
        radius = run.diameter_mm / 2 * scale
        forward = 2 * sqrt(view.radius * radius)
        drawn.append(circle(Point(view.core.x - forward, view.seabed - radius), radius, "rig-body"))
    return together(drawn)


def _core(view: View) -> Markup:
    """The chain or wire through the middle, the bore if it is known, and a cross."""
    drawn = []
    pieces, core = view.section.kinds_of_pieces, view.section.core
    if pieces and pieces[0].bore_mm:
        drawn.append(circle(view.core, pieces[0].bore_mm / 2 * view.px_per_mm, "rig-body"))
    if core is not None:
        drawn.append(circle(view.core, core.diameter_mm / 2 * view.px_per_mm, "rig-body"))
    for out, up in ((CROSS_PX, 0.0), (0.0, CROSS_PX)):
        drawn.append(line(view.at(-out, -up), view.at(out, up)))
    if view.line is not None:
        dot = view.at(*view.line)
        chains = [run.diameter_mm / 2 * view.px_per_mm for run in view.section.on_the_line]
        drawn += [circle(dot, radius, "rig-body") for radius in chains]
        drawn.append(circle(dot, DOT_PX, "rig-solid rig-dot"))
    return together(drawn)


def _toggle(view: View) -> Markup:
    """The toggle from the core to the line, or how far it reaches, with its length."""
    if view.over.toggle_mm is None:
        return together(())
    if view.line is None:
        return _toggle_reach(view, view.over.toggle_mm * view.px_per_mm)
    out, up = view.line
    length = sqrt(out**2 + up**2)
    if not length:
        return together(())
    from_rim = (view.radius + length) / 2 if length > view.radius else length / 2
    out_px, up_px = out / length * from_rim, up / length * from_rim
    drawn = line(view.core, view.at(out, up), "rig-toggle")
    return drawn + _toggle_label(view, out_px, up_px, from_rim)


def _toggle_reach(view: View, reach: float) -> Markup:
    """Where the end of a toggle may be whose lean is not known: an arc from straight above aft."""
    lean = radians(REACH_SHOWN_DEG)
    top, end = view.at(0, reach), view.at(reach * sin(lean), reach * cos(lean))
    radius = number(reach)
    arc = (
        f"M{number(top.x)} {number(top.y)}A{radius} {radius} 0 0 1 {number(end.x)} {number(end.y)}"
    )
    words = _toggle_words(view)
    up = max(reach, _clear(view)) + OVER_PX
    out = max(-3.0, width_of(words) + MARGIN - view.core.x)
    return path(arc, "rig-hidden") + view.label([words], out, up, inward=True)


def _toggle_label(view: View, out: float, up: float, length: float) -> Markup:
    """The length, above the gear on the side away from the line, with a leader to the toggle."""
    label_out = out - OVER_PX * up / length
    label_up = max(up + OVER_PX * out / length, _clear(view) + OVER_PX)
    leader = line(view.at(label_out, label_up), view.at(out, up))
    return leader + view.label([_toggle_words(view)], label_out - 3, label_up, inward=True)


def _clear(view: View) -> float:
    """Above the gear, and above the diameter's figure, two lines high on the seabed."""
    links = [run.height_mm * view.px_per_mm - view.radius for run in view.section.runs]
    return max([view.radius, 2 * LINE_PX + 1 - view.radius, *links])


def _toggle_words(view: View) -> str:
    return say("toggle {length}", length=mm(view.over.toggle_mm or 0.0))


def _diameter(view: View, away: float) -> Markup:
    """The dimension of the largest part, on the side away from the line."""
    out, top = -away - OFF_PX, view.radius
    lines = _in_lines([say(DIAMETER), mm(view.over.gear_mm or 0.0)], AWAY_WORDS_PX)
    up = max(0.0, LINE_PX * (len(lines) - 1) + 1 - view.radius)
    return (
        line(view.at(0, top), view.at(out - 4, top))
        + dimension(view.at(out, -view.radius), view.at(out, top))
        + view.label(lines, out - BESIDE_PX, up + LINE_PX / 2, inward=True)
    )


def _gap(view: View, reach: float) -> Markup:
    """The level of the line and the gap under it, on the line's side."""
    over, scale = view.over, view.px_per_mm
    if over.level_mm is None:
        return together(())
    up = (over.level_mm - over.core_mm) * scale
    out = reach + OFF_PX
    start = view.line[0] if view.line is not None else 0.0
    level = line(
        view.at(start, up), view.at(out + 4, up), "rig-thin" if view.line else "rig-hidden"
    )
    drawn = [level]
    gap_px = up - view.radius
    if gap_px > 0:
        drawn.append(line(view.at(0, view.radius), view.at(out + 4, view.radius)))
        drawn.append(dimension(view.at(out, view.radius), view.at(out, up)))
    labels = [_in_lines(words, BESIDE_WORDS_PX) for words in ([say(FISHING_LINE)], gap_lines(over))]
    heights = [LINE_PX * len(lines) + 2 for lines in labels]
    wanted = [view.core.y - up, view.core.y - (up + min(view.radius, up)) / 2]
    middles = kept_apart(wanted, heights, view.seabed - 1)
    for lines, middle in zip(labels, middles, strict=True):
        first = view.core.y - middle + LINE_PX * (len(lines) - 1) / 2
        drawn.append(view.label(lines, out + BESIDE_PX, first))
    return together(drawn)


def _in_lines(words: Sequence[str], width: float) -> list[str]:
    """Words a line each, those that are too wide in as many as they take."""
    return [line for each in words for line in wrapped(each, width)]


AFT, FORWARD = saying("drop back {distance}"), saying("{distance} forward")


def _drop_back(view: View) -> Markup:
    """How far the line is aft of the core, or forward of it, under the seabed."""
    if view.line is None:
        return together(())
    out, up = view.line
    under = -view.radius - OFF_PX
    drop_back_mm = view.over.drop_back_mm or 0.0
    if round(abs(drop_back_mm)) == 0:
        text, drawn = say("no drop back"), together(())
    else:
        text = say(AFT if drop_back_mm > 0 else FORWARD, distance=mm(abs(drop_back_mm)))
        drawn = (
            line(view.core, view.at(0, under - 4))
            + line(view.at(out, up), view.at(out, under - 4))
            + dimension(view.at(0, under), view.at(out, under))
        )
    half = width_of(text) / 2 + MARGIN
    middle = min(max(view.at(out / 2, 0).x, half), WIDTH - half)
    label = lines_of_text([text], Point(middle, view.core.y - under + LINE_PX), "middle")
    return drawn + label
