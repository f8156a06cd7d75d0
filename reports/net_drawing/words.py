"""What the drawing of a net says in words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from reports.net_drawing.shades import rate_words

if TYPE_CHECKING:
    from collections.abc import Mapping

UPPER = ("headline", "wing", "square", "belly", "lengthener", "codend", "selvedge", "sweep")
LOWER = (
    "ground_gear", "fishing_line", "wing", "bunt", "bosom", "belly", "lengthener", "codend",
    "selvedge", "sweep",
)  # fmt: skip
WHOLE_NET = "whole_net"


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
    """`ground gear`."""
    return part.replace("_", " ")


def figure_lines(part: str, rate: PartRate) -> list[str]:
    """The part and its rate; port and starboard under it where the side is told."""
    lines = [f"{part_word(part)} {rate_words(rate.per_100_h)}"]
    if rate.side_told:
        lines.append(f"P {rate_words(rate.port)}  S {rate_words(rate.starboard)}")
    return lines


def view_told(view: str, torn: Mapping[str, PartRate]) -> str:
    """What a view shows, for those who cannot see it; parts that were never named together."""
    where = {
        "above": "The upper panel of a bottom trawl from above, the mouth up the page, port on the "
        "left.",
        "below": "The lower panel of a bottom trawl from below, the mouth up the page, port on the "
        "right.",
    }[view]
    parts = (*(UPPER if view == "above" else LOWER), WHOLE_NET)
    rates = {part: torn.get(part, NOT_TORN) for part in parts}
    named = [_told(part, rate) for part, rate in rates.items() if rate.per_100_h > 0]
    never = [part_word(part) for part, rate in rates.items() if rate.per_100_h <= 0]
    return " ".join(
        (
            where,
            "Damaged hauls that name the part, per 100 hours towed:",
            f"{'; '.join(named)}." if named else "none.",
            *([f"Not named: {', '.join(never)}."] if never else []),
        )
    )


def _told(part: str, rate: PartRate) -> str:
    sides = (
        f", port {rate_words(rate.port)}, starboard {rate_words(rate.starboard)}"
        if rate.side_told
        else ""
    )
    return f"{part_word(part)} {rate_words(rate.per_100_h)}{sides}"
