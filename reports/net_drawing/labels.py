"""Names and figures beside the parts, each with a thin leader to its part."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from reports.language import say
from reports.net_drawing.words import WHOLE_NET, figure_lines
from reports.rig_drawing.svg import (
    LINE_PX,
    MARGIN,
    WIDTH,
    Point,
    circle,
    line,
    lines_of_text,
    rectangle,
    together,
    width_of,
    wrapped,
)

if TYPE_CHECKING:
    from markupsafe import Markup

    from reports.net_drawing.words import PartRate

MIDDLE_PX = WIDTH / 2
DOT_PX = 2.2
OFF_PX = 4.0
UNDER_PX = 10.0
BESIDE_PX = 8.0
SIDES_PX = 164.0
WHOLE_PX = 520.0
SWATCH_PX = 12.0


@dataclass(frozen=True)
class Place:
    """Where a part's label stands, how it is set, and the places on the part that it points to."""

    part: str
    label: Point
    anchor: str
    dots: tuple[Point, ...]


def _right(part: str, out: float, down: float, dot: Point) -> Place:
    """To the right of the net, so far out from the middle."""
    return Place(part, Point(MIDDLE_PX + out, down), "start", (dot,))


def _left(part: str, out: float, down: float, dot: Point) -> Place:
    return Place(part, Point(MIDDLE_PX - out, down), "end", (dot,))


def _middle(part: str, down: float, *dots: Point) -> Place:
    """In the mouth."""
    return Place(part, Point(MIDDLE_PX, down), "middle", dots)


_SWEEP = _middle("sweep", 46, Point(MIDDLE_PX - 160, 68), Point(MIDDLE_PX + 160, 68))
_WING = _middle("wing", 82, Point(MIDDLE_PX - 104, 140), Point(MIDDLE_PX + 104, 140))
_SELVEDGE = _left("selvedge", 84, 270, Point(MIDDLE_PX - 73, 270))
_LENGTHENER = _left("lengthener", 42, 402, Point(MIDDLE_PX - 10, 402))
_CODEND = _right("codend", 46, 458, Point(MIDDLE_PX + 12, 458))

ABOVE = (
    _SWEEP,
    _WING,
    _middle("headline", 146, Point(MIDDLE_PX, 217)),
    _right("square", 94, 234, Point(MIDDLE_PX + 52, 234)),
    _SELVEDGE,
    _right("belly", 72, 312, Point(MIDDLE_PX + 20, 312)),
    _LENGTHENER,
    _CODEND,
)
BELOW = (
    _SWEEP,
    _WING,
    _middle("fishing_line", 118, Point(MIDDLE_PX + 83, 157)),
    _middle("ground_gear", 152, Point(MIDDLE_PX, 260)),
    _right("bunt", 94, 234, Point(MIDDLE_PX + 60, 240)),
    _SELVEDGE,
    _left("bosom", 70, 306, Point(MIDDLE_PX - 8, 289)),
    _right("belly", 60, 334, Point(MIDDLE_PX + 18, 334)),
    _LENGTHENER,
    _CODEND,
)


def label(rate: PartRate, place: Place) -> Markup:
    """The part's name and figures, and its leaders."""
    name, *sides = figure_lines(place.part, rate)
    named = wrapped(name, _room(place))
    top = Point(place.label.x, place.label.y - LINE_PX * (len(named) - 1))
    below = Point(place.label.x, place.label.y + LINE_PX)
    drawn = [
        lines_of_text(named, top, place.anchor, "net-name"),
        lines_of_text(sides, below, place.anchor, "rig-quiet"),
    ]
    for dot in place.dots:
        start = _start(place, dot, [named[-1], *sides])
        drawn += [line(start, dot), circle(dot, DOT_PX, "net-dot")]
    return together(drawn)


def _room(place: Place) -> float:
    """How wide a label may be and stay on the drawing; one that is wider goes on upwards."""
    if place.anchor == "middle":
        return 2 * min(place.label.x, WIDTH - place.label.x)
    return WIDTH - place.label.x if place.anchor == "start" else place.label.x


def _start(place: Place, dot: Point, lines: list[str]) -> Point:
    """Where the leader begins: under a label that stands above its part, else beside it."""
    if place.anchor == "middle":
        if dot.x == place.label.x:
            return Point(dot.x, place.label.y + LINE_PX * (len(lines) - 1) + UNDER_PX)
        beside = width_of(lines[0]) / 2 + BESIDE_PX
        return Point(place.label.x + (beside if dot.x > place.label.x else -beside), place.label.y)
    off = -OFF_PX if place.anchor == "start" else OFF_PX
    return Point(place.label.x + off, place.label.y)


def sides_named(port: int) -> Markup:
    """Port and starboard on the two sides, port on the left (−1) or on the right."""
    left, right = (say("port"), say("starboard"))[::-port]
    return lines_of_text([left], Point(MARGIN, SIDES_PX), "start", "net-side") + lines_of_text(
        [right], Point(WIDTH - MARGIN, SIDES_PX), "end", "net-side"
    )


def whole_net(rate: PartRate, shade: str) -> Markup:
    """A patch and a line of text for nets torn to bits, where no part is named."""
    corner, look = Point(MARGIN, WHOLE_PX - SWATCH_PX / 2), f"net-part net-whole_net {shade}"
    patch = rectangle(corner, SWATCH_PX, SWATCH_PX, look)
    words = "  ".join(figure_lines(WHOLE_NET, rate))
    return patch + lines_of_text([words], Point(MARGIN + SWATCH_PX + 5, WHOLE_PX), look="net-name")
