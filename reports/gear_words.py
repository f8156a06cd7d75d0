"""The names of what a season's tables know by fixed words: kinds of ground gear, its sections."""

from __future__ import annotations

import re

from reports.language import say
from schemas.words import saying

GROUND_GEAR_NAMES = {
    "chain": saying("chain"),
    "grass rope": saying("grass rope"),
    "rope rounded": saying("rope rounded"),
    "rubber discs": saying("rubber discs"),
    "bobbins": saying("bobbins"),
    "wheels": saying("wheels"),
    "rockhopper": saying("rockhopper"),
    "other": saying("other"),
}
SECTION_NAMES = {
    "wing": saying("wing"),
    "bunt": saying("bunt"),
    "bosom": saying("bosom"),
    "whole": saying("whole"),
}
EACH_SIDE = {
    "wing": saying("wing, each side"),
    "bunt": saying("bunt, each side"),
}


def ground_gear_name(ground_gear: str) -> str:
    """The kind of a ground gear."""
    return say(GROUND_GEAR_NAMES.get(ground_gear, ground_gear))


def section_name(section: str) -> str:
    """A section of the gear, or the whole: `bosom`."""
    return say(SECTION_NAMES.get(section, section))


def section_of_sides(section: str, sides: int | None) -> str:
    """The same where there is one on each side: `wing, each side`."""
    if sides is not None and sides > 1 and section in EACH_SIDE:
        return say(EACH_SIDE[section])
    return section_name(section)


def says_its_size(name: str, diameter_mm: float) -> bool:
    """Whether a part's own name tells its diameter: `16 mm chain`."""
    return any(
        re.search(rf"(?<![\d.,]){re.escape(size)}\s*mm\b", name, re.IGNORECASE)
        for size in (f"{diameter_mm:g}", f"{diameter_mm:.0f}")
    )
