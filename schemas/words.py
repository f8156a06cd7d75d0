"""The trade's words that a cell may hold."""

from __future__ import annotations

GROUNDS = ("mud", "sand", "stones", "mixed", "hard", "rocky")
"""Kinds of ground, softest first; a season may name grounds of its own beside them."""

UNKNOWN_GROUND = "unknown"
"""The ground of a haul whose ground was not recorded."""

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

SECTIONS = ("wing", "bunt", "bosom")

DAMAGED = ("yes", "no", "unknown")
