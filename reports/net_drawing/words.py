"""What the drawing of a net says in words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from reports.language import say
from reports.net_drawing.shades import rate_words
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

UPPER = ("headline", "wing", "square", "belly", "lengthener", "codend", "selvedge", "sweep")
LOWER = (
    "ground_gear", "fishing_line", "wing", "bunt", "bosom", "belly", "lengthener", "codend",
    "selvedge", "sweep",
)  # fmt: skip
WHOLE_NET = "whole_net"
UNIT = saying("damaged hauls per 100 hours towed")

PART_WORDS = {
    "wing": saying("wing"),
    "bunt": saying("bunt"),
    "bosom": saying("bosom"),
    "belly": saying("belly"),
    "square": saying("square"),
    "lengthener": saying("lengthener"),
    "codend": saying("codend"),
    "headline": saying("headline"),
    "selvedge": saying("selvedge"),
    "fishing_line": saying("fishing line"),
    "ground_gear": saying("ground gear"),
    "sweep": saying("sweep"),
    WHOLE_NET: saying("whole net"),
}

FROM_ABOVE = saying(
    "The upper panel of a bottom trawl from above, the mouth up the page, port on the left."
)
FROM_BELOW = saying(
    "The lower panel of a bottom trawl from below, the mouth up the page, port on the right."
)


@dataclass(frozen=True)
class PartRate:
    """Tears per 100 h of a part, and of them those told to be of one side; both count on both."""

    per_100_h: float
    port: float
    starboard: float

    @property
    def side_told(self) -> bool:
        """Whether the notes of at least half its tears tell the side; fewer would mislead."""
        return self.per_100_h > 0 and 2 * (self.port + self.starboard) >= self.per_100_h


NOT_TORN = PartRate(0.0, 0.0, 0.0)


def part_word(part: str) -> str:
    """A part of the net in words: ground gear."""
    return say(PART_WORDS[part])


def figure_lines(part: str, rate: PartRate) -> list[str]:
    """The part and its rate; port and starboard under it where the side is told."""
    lines = [f"{part_word(part)} {rate_words(rate.per_100_h)}"]
    if rate.side_told:
        port, starboard = rate_words(rate.port), rate_words(rate.starboard)
        lines.append(say("P {port}  S {starboard}", port=port, starboard=starboard))
    return lines


def told_above(torn: Mapping[str, PartRate]) -> str:
    """What the view from above shows, for those who cannot see it."""
    return f"{say(FROM_ABOVE)} {_parts_told(UPPER, torn)}"


def told_below(torn: Mapping[str, PartRate]) -> str:
    """What the view from below shows."""
    return f"{say(FROM_BELOW)} {_parts_told(LOWER, torn)}"


def _parts_told(parts: Sequence[str], torn: Mapping[str, PartRate]) -> str:
    """Each part with its rate; those that were never named together."""
    rates = {part: torn.get(part, NOT_TORN) for part in (*parts, WHOLE_NET)}
    named = "; ".join(_told(part, rate) for part, rate in rates.items() if rate.per_100_h > 0)
    never = ", ".join(part_word(part) for part, rate in rates.items() if rate.per_100_h <= 0)
    said = [
        say("Damaged hauls that name the part, per 100 hours towed: {parts}.", parts=named)
        if named
        else say("Damaged hauls that name the part, per 100 hours towed: none.")
    ]
    if never:
        said.append(say("Not named: {parts}.", parts=never))
    return " ".join(said)


def _told(part: str, rate: PartRate) -> str:
    named = f"{part_word(part)} {rate_words(rate.per_100_h)}"
    if not rate.side_told:
        return named
    return say(
        "{part}, port {port}, starboard {starboard}",
        part=named,
        port=rate_words(rate.port),
        starboard=rate_words(rate.starboard),
    )
