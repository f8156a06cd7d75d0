"""The trade's words that a cell may hold."""

from __future__ import annotations

GROUNDS = ("mud", "sand", "stones", "mixed", "hard", "rocky")
"""Kinds of ground, softest first; a season may name grounds of its own beside them."""

UNKNOWN_GROUND = "unknown"
"""The ground of a haul whose ground was not recorded."""

CONDITIONS = ["ground", "vessel", "stretch"]
"""What hauls must have in common to be side by side."""
UNKNOWN_CONDITIONS = {"ground": UNKNOWN_GROUND, "stretch": "not dated"}
"""What is not known is not alike, unless nothing of the kind was recorded at all."""

FACTORS = ("ground", "vessel", "depth_band", "quarter", "year")
"""What `haul_factors.sql` says of each haul, beside the further columns that a season keeps."""

FRACTIONS = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4"}
"""A part of one that has a sign of its own, as it is written without."""

NOT_NAMED = "not named"
"""Who read a note, in a review of one's own that has no column for it."""

ALL_GROUNDS = "all"
"""What stands in place of a ground where all are taken together."""

GROUND_GEARS = (
    "chain",
    "grass rope",
    "rope rounded",
    "rubber discs",
    "bobbins",
    "wheels",
    "rockhopper",
    "other",
)

READERS = ("skipper", "coop", "study")
"""For whom a report is told."""

LANGUAGES = ("en", "es")
"""What a report can be told in: tags of BCP 47, English first."""

SECTIONS = ("wing", "bunt", "bosom")

PART_KINDS = {
    "chain": "chain",
    "wire": "wire",
    "rope": "rope",
    "rockhopper": "disc",
    "disc": "disc",
    "disk": "disc",
    "bobbin": "bobbin",
    "ball": "bobbin",
    "wheel": "wheel",
    "roller": "wheel",
    "spacer": "spacer",
    "ring": "spacer",
    "washer": "spacer",
    "lead": "weight",
    "weight": "weight",
}
"""What a part of a rig's word in the singular makes of it; a rockhopper is a disc."""

DAMAGED = ("yes", "no", "unknown")

NET_PARTS = (
    "wing", "bunt", "bosom", "belly", "square", "lengthener", "codend", "headline", "selvedge",
    "fishing_line", "ground_gear", "sweep", "whole_net",
)  # fmt: skip
"""Where a net tears, from the wing aft; then its edges and ropes; the whole net stands alone."""

SIDES = ("port", "starboard", "both")
NET_SIDES = ("port", "middle", "starboard")
"""Where a net was towed beside others, from port on."""

CAUSES = (
    "fast", "stones", "hard_ground", "mud", "debris", "other_gear", "animal", "chafe",
    "ground_gear", "wear", "overload", "handling",
)  # fmt: skip
"""What tears a net."""


def saying(words: str) -> str:
    """The words as they are; so marked, they are found by what collects them for translators."""
    return words


WHOLE_RECORD = saying("whole record")
"""The part of the record that a comparison is of, where it is of all of it."""
