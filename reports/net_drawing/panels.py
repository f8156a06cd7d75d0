"""The parts of the two panels as paths: netting on both sides or across, and the lines."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from reports.net_drawing.shape import (
    BELLY_BACK,
    BOSOM_BACK,
    BRIDLE_JOINT,
    CODEND_BACK,
    FISHING_LINE,
    FISHING_LINE_BUNT_BACK,
    FISHING_LINE_WING_BACK,
    GROUND_GEAR,
    HEADLINE,
    HEADLINE_WING_BACK,
    LENGTHENER_BACK,
    SELVEDGE,
    SQUARE_BACK,
    SWEEP_END,
    WING_BACK,
    WING_END,
    Edge,
    Half,
    across,
    at,
    half,
    pair,
)

if TYPE_CHECKING:
    from reports.rig_drawing.svg import Point

SIDES = (-1, 1)


@dataclass(frozen=True)
class Netting:
    """A part made of netting: its outline, piece by piece, and what of it is left and right."""

    part: str
    outlines: tuple[str, ...]
    sides: tuple[str, ...]


@dataclass(frozen=True)
class Rope:
    """A part that is a line: its paths."""

    part: str
    paths: tuple[str, ...]


def upper_panel() -> tuple[Netting, ...]:
    """The netting seen from above, from the wings aft."""
    return (
        _in_two("wing", _wings(HEADLINE, HEADLINE_WING_BACK)),
        Netting("square", (_square(),), tuple(map(_half_of_square, SIDES))),
        _whole("belly", SQUARE_BACK, BELLY_BACK),
        *_bag(),
    )


def lower_panel() -> tuple[Netting, ...]:
    """The netting seen from below, from the wings aft."""
    return (
        _in_two("wing", _wings(FISHING_LINE, FISHING_LINE_WING_BACK)),
        _in_two("bunt", tuple(map(_bunt, SIDES))),
        Netting("bosom", (_bosom(),), tuple(map(_half_of_bosom, SIDES))),
        _whole("belly", BOSOM_BACK, BELLY_BACK),
        *_bag(),
    )


def headline() -> Rope:
    """The line along the mouth's upper edge."""
    return Rope("headline", (_line(HEADLINE),))


def fishing_line() -> Rope:
    """The line along the mouth's lower edge."""
    return Rope("fishing_line", (_line(FISHING_LINE),))


def ground_gear() -> Rope:
    """The line through the ground gear, ahead of the fishing line."""
    return Rope("ground_gear", (_line(GROUND_GEAR),))


def selvedges() -> Rope:
    """Where the two panels are laced together, on both sides."""
    edges = (half(SELVEDGE, side) for side in SIDES)
    return Rope(
        "selvedge",
        tuple(f"M{pair(edge.places[0])}{edge.steps(0, CODEND_BACK)}" for edge in edges),
    )


def sweeps(line: Half) -> Rope:
    """The two bridles of each side and the sweep that they run into; one comes from that line."""
    return Rope("sweep", tuple(_sweep(line, side) for side in SIDES))


def _bag() -> tuple[Netting, Netting]:
    return (
        _whole("lengthener", BELLY_BACK, LENGTHENER_BACK),
        _whole("codend", LENGTHENER_BACK, CODEND_BACK),
    )


def _wings(line: Half, back: int) -> tuple[str, ...]:
    """Both wings: forward along the selvedge, over the wing end, aft along the line."""
    return tuple(_wing(line, back, side) for side in SIDES)


def _wing(line: Half, back: int, side: int) -> str:
    outer, inner = half(SELVEDGE, side), _across_from(line, side)
    return (
        f"M{pair(outer.places[WING_BACK])}{outer.steps(WING_BACK, WING_END)}"
        f"L{pair(inner.places[0])}{inner.steps(0, back)}Z"
    )


def _across_from(line: Half, side: int) -> Edge:
    """The whole line counted from the end on that side, so that its pieces fit together."""
    whole = across(line)
    return whole if side < 0 else Edge(whole.places[::-1])


def _in_two(part: str, outlines: tuple[str, ...]) -> Netting:
    """A part that is a piece on either side."""
    return Netting(part, outlines, outlines)


def _square() -> str:
    """The square: across the net behind the headline, from wing to wing."""
    left, right, edge = half(SELVEDGE, -1), half(SELVEDGE, 1), across(HEADLINE)
    last = len(edge.places) - 1 - HEADLINE_WING_BACK
    return (
        f"M{pair(left.places[SQUARE_BACK])}{left.steps(SQUARE_BACK, WING_BACK)}"
        f"L{pair(edge.places[HEADLINE_WING_BACK])}{edge.steps(HEADLINE_WING_BACK, last)}"
        f"L{pair(right.places[WING_BACK])}{right.steps(WING_BACK, SQUARE_BACK)}Z"
    )


def _half_of_square(side: int) -> str:
    outer, edge = half(SELVEDGE, side), _across_from(HEADLINE, side)
    return (
        f"M{pair(outer.places[SQUARE_BACK])}{outer.steps(SQUARE_BACK, WING_BACK)}"
        f"L{pair(edge.places[HEADLINE_WING_BACK])}"
        f"{edge.steps(HEADLINE_WING_BACK, len(HEADLINE) - 1)}"
        f"L{pair(_in_the_middle(SQUARE_BACK))}Z"
    )


def _in_the_middle(seam: int) -> Point:
    """The middle of the seam that ends at that place of the selvedge."""
    return at(0, SELVEDGE[seam][1], 1)


def _whole(part: str, front: int, back: int) -> Netting:
    """A part that goes across the net between two seams."""
    left, right = half(SELVEDGE, -1), half(SELVEDGE, 1)
    outline = (
        f"M{pair(left.places[back])}{left.steps(back, front)}"
        f"L{pair(right.places[front])}{right.steps(front, back)}Z"
    )
    return Netting(part, (outline,), tuple(_half_of(front, back, side) for side in SIDES))


def _half_of(front: int, back: int, side: int) -> str:
    """Of a part across the net between two seams the half on one side."""
    outer = half(SELVEDGE, side)
    return (
        f"M{pair(outer.places[back])}{outer.steps(back, front)}"
        f"L{pair(_in_the_middle(front))}L{pair(_in_the_middle(back))}Z"
    )


def _bunt(side: int) -> str:
    outer, inner = half(SELVEDGE, side), _across_from(FISHING_LINE, side)
    corner = inner.places[FISHING_LINE_BUNT_BACK]
    seam = at(abs(corner.x - at(0, 0, side).x), SELVEDGE[BOSOM_BACK][1], side)
    return (
        f"M{pair(outer.places[BOSOM_BACK])}{outer.steps(BOSOM_BACK, WING_BACK)}"
        f"L{pair(inner.places[FISHING_LINE_WING_BACK])}"
        f"{inner.steps(FISHING_LINE_WING_BACK, FISHING_LINE_BUNT_BACK)}L{pair(seam)}Z"
    )


def _bosom() -> str:
    edge, down = across(FISHING_LINE), SELVEDGE[BOSOM_BACK][1]
    first = FISHING_LINE_BUNT_BACK
    last = len(edge.places) - 1 - first
    out = FISHING_LINE[first][0]
    return (
        f"M{pair(at(out, down, -1))}L{pair(edge.places[first])}{edge.steps(first, last)}"
        f"L{pair(at(out, down, 1))}Z"
    )


def _half_of_bosom(side: int) -> str:
    edge, first = _across_from(FISHING_LINE, side), FISHING_LINE_BUNT_BACK
    return (
        f"M{pair(at(FISHING_LINE[first][0], SELVEDGE[BOSOM_BACK][1], side))}"
        f"L{pair(edge.places[first])}{edge.steps(first, len(FISHING_LINE) - 1)}"
        f"L{pair(_in_the_middle(BOSOM_BACK))}Z"
    )


def _line(places: Half) -> str:
    edge = across(places)
    return f"M{pair(edge.places[0])}{edge.steps(0, len(edge.places) - 1)}"


def _sweep(line: Half, side: int) -> str:
    joint, end = at(*BRIDLE_JOINT, side), at(*SWEEP_END, side)
    inner, outer = at(*line[0], side), at(*SELVEDGE[WING_END], side)
    return f"M{pair(inner)}L{pair(joint)}L{pair(end)}M{pair(outer)}L{pair(joint)}"
