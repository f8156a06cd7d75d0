"""The key to the shades, the same for every rig."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.language import say
from reports.net_drawing.shades import STEPS, end_words
from reports.net_drawing.words import UNIT
from reports.rig_drawing.svg import (
    LINE_PX,
    MARGIN,
    WIDTH,
    Point,
    identity,
    lines_of_text,
    picture,
    rectangle,
    together,
    width_of,
    wrapped,
)
from schemas.words import saying

if TYPE_CHECKING:
    from reports.net_drawing.shades import Shades

SIDES = saying(
    "P port, S starboard: tears whose notes tell the side, given where half of them or more do; "
    "each side is then shaded by its own. The rest are told without a side; a tear on both counts "
    "in each."
)
NO_SCALE = saying("drawn after no one net, and not to scale")
NONE_PX = 34.0
GAP_PX = 14.0
LAST_PX = 26.0
TALL_PX = 14.0


def legend(name: str, shades: Shades) -> str:
    """The shades side by side, with the figures at which they change, as SVG."""
    top = LINE_PX + 6
    none = say("none")
    none_wide = max(NONE_PX, width_of(none))
    first = MARGIN + none_wide + GAP_PX
    wide = (WIDTH - MARGIN - LAST_PX - first) / STEPS
    places = [(MARGIN, none_wide), *((first + place * wide, wide) for place in range(STEPS))]
    patches = [
        rectangle(Point(left, top), width, TALL_PX, f"net-part net-key tear-{level}")
        for level, (left, width) in enumerate(places)
    ]
    figures_y = top + TALL_PX + LINE_PX / 2 + 2
    texts = [
        lines_of_text([say(UNIT)], Point(MARGIN, LINE_PX / 2 + 1), look="net-name"),
        lines_of_text([none], Point(MARGIN + none_wide / 2, figures_y), "middle"),
        *(
            lines_of_text([end_words(end)], Point(first + place * wide, figures_y), "middle")
            for place, end in enumerate(shades.ends)
        ),
        lines_of_text([say("more")], Point(first + STEPS * wide, figures_y), "middle"),
    ]
    words = [*wrapped(say(SIDES)), *wrapped(say(NO_SCALE))]
    texts.append(lines_of_text(words, Point(MARGIN, figures_y + LINE_PX + 2), look="rig-quiet"))
    told = ", ".join(end_words(end) for end in shades.ends)
    return picture(
        identity("net-key", name),
        figures_y + (len(words) + 0.5) * LINE_PX + 4,
        say("Key to the shades"),
        say(
            "Damaged hauls per 100 hours towed: each shade is one step of {step}, from {ends} and "
            "more.",
            step=end_words(shades.step),
            ends=told,
        ),
        together((*patches, *texts)),
    )
