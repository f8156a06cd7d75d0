"""What every drawing of a rig has round it: headings, the way of tow, a scale bar, notes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from markupsafe import Markup

from reports.language import say
from reports.rig_drawing.svg import (
    LINE_PX,
    MARGIN,
    WIDTH,
    Point,
    arrow_head,
    line,
    lines_of_text,
    together,
    width_of,
    wrapped,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

HEADING_PX = 24.0
TOW_PX = 34.0
TOW_UP_PX = 22.0
BAR_OF_WIDTH = 0.4
"""A scale bar takes no more of the width than this."""


def heading(words: str, top: float) -> Markup:
    """The words over a view."""
    return lines_of_text([words], Point(MARGIN, top + HEADING_PX / 2), look="rig-heading")


def way_of_tow(top: float, *, up: bool = False) -> Markup:
    """An arrow to the left, or up, with its words, at the right end of a heading's line."""
    words, middle = say("way of tow"), top + HEADING_PX / 2
    right = WIDTH - MARGIN
    if up:
        tip, start = Point(right - 4, middle - 11), Point(right - 4, middle + TOW_UP_PX - 11)
        beyond, text_end = Point(tip.x, tip.y - 1), right - 12
    else:
        start = Point(right - width_of(words) - 4, middle)
        tip, text_end = Point(start.x - TOW_PX, middle), right
        beyond = Point(tip.x - 1, middle)
    text = lines_of_text([words], Point(text_end, middle), "end")
    return line(start, tip, "rig-ink") + arrow_head(tip, beyond) + text


def scale_bar(
    px_per_unit: float, lengths: Sequence[float], words: str, top: float
) -> tuple[Markup, float]:
    """The longest of the bars that leaves room for its figure, and where the row ends.

    `words` have a place for its length, in the drawing's own unit.
    None is drawn where none of them does, as of a gear of a centimetre.
    """
    most = BAR_OF_WIDTH * WIDTH / px_per_unit
    length = max((each for each in lengths if each <= most), default=None)
    if length is None:
        return Markup(), top
    end, middle = MARGIN + length * px_per_unit, top + LINE_PX / 2
    bar = line(Point(MARGIN, middle), Point(end, middle), "rig-ink rig-scale")
    ticks = together(
        line(Point(x, middle - 3), Point(x, middle + 3), "rig-ink")
        for x in (MARGIN, (MARGIN + end) / 2, end)
    )
    text = lines_of_text([say(words, length=length)], Point(end + MARGIN, middle))
    return bar + ticks + text, top + LINE_PX + 2


def text_block(text: str, top: float, look: str) -> tuple[Markup, float]:
    """The text in lines across the drawing, and where it ends."""
    lines = wrapped(text)
    drawn = lines_of_text(lines, Point(MARGIN, top + LINE_PX / 2), look=look)
    return drawn, top + LINE_PX * len(lines)
