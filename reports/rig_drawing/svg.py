"""Line drawings as SVG text: elements, arrows, dimension lines, labels that keep apart.

Nothing here has a style of its own: how a class looks is said in the page's style sheet.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from hashlib import sha256
from math import hypot, inf
from typing import TYPE_CHECKING
from unicodedata import east_asian_width

from markupsafe import Markup, escape

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

WIDTH = 360.0
"""Units across a drawing: about as many as a phone's page has pixels, so that 12 stays 12."""

MARGIN = 6.0
TEXT_PX = 12.0
LINE_PX = 15.0
"""From one line of text to the next."""

_CHARACTER_PX = 6.6
"""Width of a small letter at `TEXT_PX` in a wide font; a narrow font leaves some room."""

_CAPITAL_PX = 9.0
_FULL_WIDTH_PX = 13.0

_ARROW_PX = 6.0
_ARROW_HALF_PX = 2.2
_ROOM_FOR_ARROWS_PX = 16.0


@dataclass(frozen=True)
class Point:
    """A place on the drawing, in its units, right and down."""

    x: float
    y: float


def element(tag: str, *inside: str, **attributes: str | float | None) -> Markup:
    """An element with its attributes escaped; `_` in their names stands for `-`, None for none."""
    written = "".join(
        f' {name.rstrip("_").replace("_", "-")}="{_value(value)}"'
        for name, value in attributes.items()
        if value is not None
    )
    content = "".join(escape(part) for part in inside)
    return Markup(f"<{tag}{written}>{content}</{tag}>")  # noqa: S704 - every part is escaped


def together(parts: Iterable[str]) -> Markup:
    """The elements one after the other; text among them is escaped."""
    return Markup("").join(parts)


def _value(value: str | float) -> str:
    return escape(value) if isinstance(value, str) else number(value)


def number(value: float) -> str:
    """A coordinate to a hundredth, as short as it can be written."""
    return f"{round(value, 2) + 0.0:z.2f}".rstrip("0").rstrip(".")


LONGEST_IDENTITY = 80
PLAIN = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
"""Words that can stand in an id as they are: two hyphens between them can't be in them."""


def identity(*words: str) -> str:
    """An id for those words that no other words have, of small letters, digits, `-` and `_`.

    Small letters, digits and single hyphens stay as they are. Of any other words as much as can
    be read is followed by `_` and a digest of the whole. It may be a file's name, on a disk that
    takes capitals for small letters, so it is never long and has no capitals.
    """
    whole = "--".join(words)
    plain = all(PLAIN.fullmatch(word) for word in words)
    if plain and len(whole) <= LONGEST_IDENTITY:
        return whole
    read = "--".join(re.sub(r"[^a-z0-9]+", "-", word.lower()).strip("-") for word in words)
    digest = sha256(json.dumps(words).encode()).hexdigest()[:16]
    return f"{read[:LONGEST_IDENTITY]}_{digest}"


def line(start: Point, end: Point, look: str = "rig-thin") -> Markup:
    """A straight line."""
    return element("line", x1=start.x, y1=start.y, x2=end.x, y2=end.y, class_=look)


def path(steps: str, look: str) -> Markup:
    """A path of SVG's own steps."""
    return element("path", d=steps, class_=look)


def circle(centre: Point, radius: float, look: str) -> Markup:
    """A circle."""
    return element("circle", cx=centre.x, cy=centre.y, r=radius, class_=look)


def rectangle(
    corner: Point, width: float, height: float, look: str, rounded: float | None = None
) -> Markup:
    """A rectangle by its upper left corner, its own corners rounded where that is asked."""
    return element(
        "rect", x=corner.x, y=corner.y, width=width, height=height, rx=rounded, class_=look
    )


def lines_of_text(
    lines: Sequence[str], at: Point, anchor: str = "start", look: str = "rig-text"
) -> Markup:
    """Lines of text, the first with its middle at `at`; each its own element."""
    drop = TEXT_PX * 0.36
    return together(
        element(
            "text",
            text,
            x=at.x,
            y=at.y + drop + place * LINE_PX,
            text_anchor=None if anchor == "start" else anchor,
            class_=look,
        )
        for place, text in enumerate(lines)
    )


def width_of(text: str) -> float:
    """How wide a text is at most, more or less: no font is known before the page is shown."""
    return sum(map(_character_px, text))


def _character_px(character: str) -> float:
    if east_asian_width(character) in {"W", "F"}:
        return _FULL_WIDTH_PX
    return _CAPITAL_PX if character.isupper() or character in "%@mw" else _CHARACTER_PX


def wrapped(text: str, width: float = WIDTH - 2 * MARGIN) -> list[str]:
    """The text in lines that fit into the width; a word that does not is cut off with `…`.

    Lines break at plain blanks only, so that a figure keeps its unit.
    """
    lines = [""]
    for whole in text.split(" "):
        word = whole
        while width_of(word) > width:
            word = f"{word.removesuffix('…')[:-1]}…"
        if lines[-1] and width_of(f"{lines[-1]} {word}") > width:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".strip()
    return [each for each in lines if each]


def arrow_head(tip: Point, towards: Point) -> Markup:
    """A filled head whose tip is at `tip` and that points towards a place beyond it."""
    length = hypot(towards.x - tip.x, towards.y - tip.y)
    dx, dy = (towards.x - tip.x) / length, (towards.y - tip.y) / length
    back = Point(tip.x - dx * _ARROW_PX, tip.y - dy * _ARROW_PX)
    corners = (
        tip,
        Point(back.x - dy * _ARROW_HALF_PX, back.y + dx * _ARROW_HALF_PX),
        Point(back.x + dy * _ARROW_HALF_PX, back.y - dx * _ARROW_HALF_PX),
    )
    return path(f"M{'L'.join(f'{number(c.x)} {number(c.y)}' for c in corners)}Z", "rig-solid")


def dimension(start: Point, end: Point) -> Markup:
    """A dimension line with a head at each end; where it is short they point in from outside."""
    length = hypot(end.x - start.x, end.y - start.y)
    if length < 1 / _ARROW_PX:
        return Markup("")
    dx, dy = (end.x - start.x) / length, (end.y - start.y) / length
    beyond = Point(end.x + dx, end.y + dy)
    before = Point(start.x - dx, start.y - dy)
    if length >= _ROOM_FOR_ARROWS_PX:
        heads = (arrow_head(end, beyond), arrow_head(start, before))
        return line(start, end) + together(heads)
    tail = 2 * _ARROW_PX
    outer = (
        Point(start.x - dx * tail, start.y - dy * tail),
        Point(end.x + dx * tail, end.y + dy * tail),
    )
    heads = (arrow_head(end, start), arrow_head(start, end))
    return line(outer[0], start) + line(end, outer[1]) + together(heads)


def kept_apart(
    wanted: Sequence[float], heights: Sequence[float], lowest: float = inf
) -> list[float]:
    """Middles of labels in a column, top first, moved as little as needed to keep them apart.

    No label reaches below `lowest`; the upper ones give way upwards.
    """
    middles: list[float] = []
    for middle, height in zip(wanted, heights, strict=True):
        above = middles[-1] + heights[len(middles) - 1] / 2 if middles else middle - height
        middles.append(max(middle, above + height / 2))
    floor = lowest
    for place in reversed(range(len(middles))):
        middles[place] = min(middles[place], floor - heights[place] / 2)
        floor = middles[place] - heights[place] / 2
    return middles


def picture(name: str, height: float, title: str, told: str, *drawn: str) -> str:
    """The whole drawing, with a title and a description for those who cannot see it."""
    return str(
        element(
            "svg",
            element("title", title, id=f"{name}-title"),
            element("desc", told, id=f"{name}-told"),
            *drawn,
            xmlns="http://www.w3.org/2000/svg",
            viewBox=f"0 0 {number(WIDTH)} {number(height)}",
            role="img",
            aria_labelledby=f"{name}-title",
            aria_describedby=f"{name}-told",
            class_="rig-drawing",
            fill="none",
            stroke="currentColor",
        )
    )
