"""Boxes on a page, each its left, top, right and bottom in pixels: which lies in which."""

from __future__ import annotations

SLACK_PX = 0.5
"""So much of a box may stand over the edge: half of what a screen can show."""
TOUCHING_PX = 1.0
"""Boxes that share no more than this touch, and do not lie over one another."""


def within(box: list[float], frame: list[float]) -> bool:
    """Whether the box lies in the frame."""
    return (
        box[0] >= frame[0] - SLACK_PX
        and box[1] >= frame[1] - SLACK_PX
        and box[2] <= frame[2] + SLACK_PX
        and box[3] <= frame[3] + SLACK_PX
    )


def overlap(one: list[float], other: list[float]) -> bool:
    """Whether the two lie over one another."""
    wide = min(one[2], other[2]) - max(one[0], other[0])
    high = min(one[3], other[3]) - max(one[1], other[1])
    return wide > TOUCHING_PX and high > TOUCHING_PX
