"""How each part of a rig is drawn as it is seen from ahead, along the gear.

Bobbins are rounded bodies, discs, wheels and spacers are cylinders on edge, chain is links that
lie flat and stand by turns, wire and rope show the lay of their strands. All sizes are to scale;
the slope and distance of lay strokes are not (own judgement, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from pipeline.rigs.weight.chains import link_of
from reports.rig_drawing.svg import Point, element, line, number, path, rectangle, together

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from markupsafe import Markup

    from reports.rig_drawing.section import Piece, Run

LAY_OF_DIAMETER = {"wire": 0.55, "rope": 0.6, "rounding": 0.3, "discs": 0.25}
"""From one stroke of the lay to the next, over the diameter."""

SLOPE_OF_DIAMETER = {"wire": 0.6, "rope": 0.7, "rounding": 0.15, "discs": 0.0}
"""How far a stroke of the lay runs along, over the diameter."""

LEAST_LAY_PX = 2.6
THIN_PX = 2.5
"""Below this a run is drawn as one stroke."""

RUBBER = ("rubber", "tyre rubber")


@dataclass(frozen=True)
class Frame:
    """Where mm stand on the drawing: `origin` is the seabed at 0 mm along."""

    origin: Point
    px_per_mm: float

    def at(self, along_mm: float, height_mm: float) -> Point:
        """The place of a point so far along (to the right) and so far above the seabed."""
        return Point(self.origin.x + self.px(along_mm), self.origin.y - self.px(height_mm))

    def px(self, mm: float) -> float:
        """A length in units of the drawing."""
        return mm * self.px_per_mm


def look_of(material: str | None) -> str:
    """Rubber is shaded, all else is left white."""
    return "rig-rubber" if material in RUBBER else "rig-body"


def piece_mark(piece: Piece, frame: Frame, axis_mm: float) -> Markup:
    """A threaded piece, its middle `axis_mm` above the seabed."""
    centre = frame.at(piece.at_mm, axis_mm)
    high = frame.px(piece.diameter_mm)
    look = look_of(piece.material)
    if piece.width_mm is None:
        ends = Point(centre.x, centre.y - high / 2), Point(centre.x, centre.y + high / 2)
        return line(*ends, look="rig-ink")
    wide = frame.px(piece.width_mm)
    if piece.kind == "bobbin":
        return _bobbin(centre, wide, high, look)
    corner = Point(centre.x - wide / 2, centre.y - high / 2)
    rounded = min(wide / 3, high / 3, frame.px(ROUNDED_MM.get(piece.kind or "", 4.0)))
    return rectangle(corner, wide, high, look, rounded) + _tread(piece, centre, wide, high)


ROUNDED_MM = {"wheel": 25.0, "disc": 8.0}
"""How far the rims are rounded, to look at (own judgement, no source)."""


def _bobbin(centre: Point, wide: float, high: float, look: str) -> Markup:
    """A body between a ball and a barrel, with the seam round its middle."""
    body = element("ellipse", cx=centre.x, cy=centre.y, rx=wide / 2, ry=high / 2, class_=look)
    seam = line(Point(centre.x, centre.y - high / 2), Point(centre.x, centre.y + high / 2))
    return body + seam


def _tread(piece: Piece, centre: Point, wide: float, high: float) -> Markup:
    """Two thin lines round a wheel; nothing on other cylinders."""
    if piece.kind != "wheel":
        return together(())
    return together(
        line(Point(x, centre.y - high / 2), Point(x, centre.y + high / 2))
        for x in (centre.x - wide / 5, centre.x + wide / 5)
    )


def run_mark(
    run: Run, frame: Frame, spans: Sequence[tuple[float, float]], axis_mm: float, lay: str = ""
) -> Markup:
    """A run along the gear over each span (from, to, in mm), its middle `axis_mm` high."""
    if run.kind == "chain":
        return _chain(run, frame, spans, axis_mm)
    return together(_laid(run, frame, span, axis_mm, lay or run.kind) for span in spans)


def _chain(run: Run, frame: Frame, spans: Sequence[tuple[float, float]], axis_mm: float) -> Markup:
    """Links of the chain's own pitch, one standing and one lying flat by turns."""
    link = link_of(run.diameter_mm, run.standard)
    long_mm, wide_mm = link.pitch_mm + 2 * link.wire_mm, run.height_mm
    standing, flat = [], []
    for place, at_mm in _links(spans, link.pitch_mm, long_mm):
        centre = frame.at(at_mm, axis_mm)
        if place % 2 == 0:
            outer = _stadium(centre, frame.px(long_mm), frame.px(wide_mm))
            inner = _stadium(centre, frame.px(link.pitch_mm), frame.px(link.inner_width_mm))
            standing.append(
                element("path", d=outer + inner, fill_rule="evenodd", class_="rig-link")
            )
        else:
            bar = _stadium(centre, frame.px(long_mm), frame.px(link.wire_mm))
            flat.append(path(bar, "rig-link"))
    return together(standing) + together(flat)


def _links(
    spans: Sequence[tuple[float, float]], pitch_mm: float, long_mm: float
) -> Iterator[tuple[int, float]]:
    """Number and middle of each link that shows in one of the spans, whole."""
    seen = set()
    for start_mm, end_mm in spans:
        place = int((start_mm - long_mm / 2) // pitch_mm) + 1
        while place * pitch_mm - long_mm / 2 < end_mm:
            if place not in seen:
                seen.add(place)
                yield place, place * pitch_mm
            place += 1


def _stadium(centre: Point, long: float, high: float) -> str:
    """A box with round ends, as a path."""
    radius = min(long, high) / 2
    left, right = centre.x - long / 2 + radius, centre.x + long / 2 - radius
    top, foot = number(centre.y - high / 2), number(centre.y + high / 2)
    round_end = f"A{number(radius)} {number(radius)} 0 0 1"
    return (
        f"M{number(left)} {top}H{number(right)}{round_end} {number(right)} {foot}"
        f"H{number(left)}{round_end} {number(left)} {top}Z"
    )


def _laid(run: Run, frame: Frame, span: tuple[float, float], axis_mm: float, lay: str) -> Markup:
    """A round body with the strokes of its lay; one stroke where it is too thin for them."""
    radius_mm = run.diameter_mm / 2
    corner = frame.at(span[0], axis_mm + radius_mm)
    far = frame.at(span[1], axis_mm - radius_mm)
    if far.y - corner.y < THIN_PX:
        middle = (corner.y + far.y) / 2
        return line(Point(corner.x, middle), Point(far.x, middle), "rig-ink")
    high = far.y - corner.y
    body = rectangle(corner, far.x - corner.x, high, look_of(run.material))
    apart = max(LEAST_LAY_PX, LAY_OF_DIAMETER[lay] * high)
    return body + _strokes(corner, far, apart, SLOPE_OF_DIAMETER[lay] * high)


def _strokes(corner: Point, far: Point, apart: float, slope: float) -> Markup:
    """Strokes that rise to the right from foot to top, slightly curved, within the body."""
    steps = []
    foot = corner.x + apart / 2
    while foot + slope <= far.x:
        steps.append(
            f"M{number(foot)} {number(far.y)}C{number(foot + slope * 0.6)} {number(far.y)} "
            f"{number(foot + slope * 0.4)} {number(corner.y)} "
            f"{number(foot + slope)} {number(corner.y)}"
        )
        foot += apart
    return path("".join(steps), "rig-thin") if steps else together(())


def spans_between(
    pieces: Sequence[Piece], start_mm: float, end_mm: float
) -> list[tuple[float, float]]:
    """The stretches from `start_mm` to `end_mm` that no piece covers."""
    edges = [(start_mm, start_mm), *((p.start_mm, p.end_mm) for p in pieces), (end_mm, end_mm)]
    shown = [(max(start_mm, before[1]), min(end_mm, after[0])) for before, after in pairwise(edges)]
    return [(start, end) for start, end in shown if end - start > 0]
