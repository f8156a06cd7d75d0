"""A whole rig from above, to scale: its curve, sections, fishing line, spread and weights."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from reports.language import say
from reports.rig_drawing.curve import Curve, Stretch, curve_of, stretches
from reports.rig_drawing.frame import HEADING_PX, heading, scale_bar, text_block, way_of_tow
from reports.rig_drawing.plan_words import plan_notes, plan_told, spread_words, weight_lines
from reports.rig_drawing.svg import (
    LINE_PX,
    MARGIN,
    WIDTH,
    Point,
    circle,
    dimension,
    identity,
    kept_apart,
    line,
    lines_of_text,
    number,
    path,
    picture,
    together,
    wrapped,
)
from reports.rig_drawing.words import METRES

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from markupsafe import Markup

COLUMN_PX = 121.2
"""How wide the labels beside the curve are, in every language: 1,360 kg a metre has room in it."""
CURVE_PX = WIDTH - 3 * MARGIN - COLUMN_PX - 10
"""What they leave of the width for the curve."""
TALLEST_PX = 250.0
SPREAD_PX = 34.0
"""Room for the dimension over the wing ends."""
BAND_PX = 4.0
"""How thick the bands are that tell the sections apart."""
TICK_PX = 7.0
END_PX = 2.0
MM_PER_M = 1000
BARS_M = (1, 2, 5, 10, 20, 50, 100)
BANDS = {"bunt": "rig-bunt", "bosom": "rig-bosom"}


def plan_view(rig: Mapping[str, Any]) -> str | None:
    """The rig from above as SVG; None if the length of its ground gear is not known.

    `rig` is one of the findings' rigs: `rig_version`, `ground_gear_m`, `weights` and `geometry`;
    all but the length may be missing.
    """
    curve = curve_of(rig)
    if curve is None:
        return None
    name = str(rig.get("rig_version") or say("a rig"))
    plan = _plan(curve, _outside_m(rig) or 0.0)
    sections = stretches(rig, curve)
    beside, below = _labels(rig, plan, sections)
    bar, below = scale_bar(plan.px_per_m, BARS_M, METRES, below)
    notes, below = text_block(" ".join(plan_notes(rig, curve)), below, "rig-quiet")
    return picture(
        identity("rig-plan", name),
        below + MARGIN,
        say("{rig} from above", rig=name),
        plan_told(rig, curve),
        heading(say("from above"), 0.0) + way_of_tow(0.0, up=True),
        _spread(rig, plan),
        _bands(plan, sections),
        _lines(rig, plan),
        beside,
        bar,
        notes,
    )


@dataclass(frozen=True)
class Plan:
    """The curve in its place: `middle` is that of the bosom, lowest on the drawing."""

    curve: Curve
    px_per_m: float
    middle: Point

    def place(self, x_and_y_m: tuple[float, float]) -> Point:
        """A place on the seabed on the drawing."""
        x, y = x_and_y_m
        return Point(self.middle.x + x * self.px_per_m, self.middle.y - y * self.px_per_m)

    def at(self, along_m: float, outside_px: float = 0.0) -> Point:
        """The place so far along the gear, so far outside it on the drawing."""
        return self.place(self.curve.at(along_m, outside_px / self.px_per_m))

    def steps(self, start_m: float, end_m: float, outside_m: float = 0.0) -> list[str]:
        """The curve from one place to another, or a line outside it, as points of a path."""
        places = map(self.place, self.curve.between(start_m, end_m, outside_m))
        return [f"{number(place.x)} {number(place.y)}" for place in places]


def _plan(curve: Curve, outside_m: float) -> Plan:
    """The curve as large as it fits, the fishing line `outside_m` of it too."""
    aft_m = max(0.0, outside_m)
    wide_m, deep_m = curve.spread_m + 2 * aft_m, curve.depth_m + aft_m
    px_per_m = min(CURVE_PX / wide_m, TALLEST_PX / deep_m)
    top = HEADING_PX + SPREAD_PX
    return Plan(curve, px_per_m, Point(MARGIN + CURVE_PX / 2, top + curve.depth_m * px_per_m))


def _outside_m(rig: Mapping[str, Any]) -> float | None:
    """How far outside the gear the fishing line is, if that is known."""
    drop_back_mm = (rig.get("geometry") or {}).get("drop_back_mm")
    return None if drop_back_mm is None else drop_back_mm / MM_PER_M


def _lines(rig: Mapping[str, Any], plan: Plan) -> Markup:
    """The ground gear, and the fishing line as far outside it as it drops back."""
    half = plan.curve.gear_m / 2
    drawn = [path(f"M{'L'.join(_both_sides(plan, 0.0))}", "rig-gear")]
    if outside_m := _outside_m(rig):
        drawn.append(path(f"M{'L'.join(_both_sides(plan, outside_m))}", "rig-thin rig-behind"))
    ends = (plan.at(-half), plan.at(half))
    drawn += [circle(end, END_PX, "rig-solid") for end in ends]
    return together(drawn)


def _both_sides(plan: Plan, outside_m: float) -> list[str]:
    half = plan.curve.gear_m / 2
    return [*plan.steps(-half, 0.0, outside_m), *plan.steps(0.0, half, outside_m)[1:]]


def _bands(plan: Plan, sections: Sequence[Stretch]) -> Markup:
    """A hatched band inside the bunts and a full one inside the bosom, and ticks between."""
    drawn = []
    for each in sections:
        if each.section in BANDS:
            outer = plan.steps(each.start_m, each.end_m)
            inner = plan.steps(each.end_m, each.start_m, -BAND_PX / plan.px_per_m)
            drawn.append(path(f"M{'L'.join((*outer, *inner))}Z", BANDS[each.section]))
    ends = [each.start_m for each in sections[1:]]
    drawn += [line(plan.at(end, -TICK_PX), plan.at(end, TICK_PX), "rig-ink") for end in ends]
    return together(drawn)


def _spread(rig: Mapping[str, Any], plan: Plan) -> Markup:
    """The dimension from wing end to wing end, over them."""
    half = plan.curve.gear_m / 2
    ends = plan.at(-half), plan.at(half)
    over = [Point(end.x, HEADING_PX + LINE_PX + 3) for end in ends]
    up = [line(Point(e.x, e.y - 4), Point(e.x, o.y - 4)) for e, o in zip(ends, over, strict=True)]
    words = lines_of_text(
        [spread_words(rig, plan.curve)], Point(plan.middle.x, HEADING_PX + LINE_PX / 2), "middle"
    )
    return together((*up, dimension(*over), words))


def _labels(
    rig: Mapping[str, Any], plan: Plan, sections: Sequence[Stretch]
) -> tuple[Markup, float]:
    """Length and weight of each section: wing and bunt beside the curve, the bosom under it.

    Of a section that is on both sides it is told at the one to starboard.
    """
    aft_px = max(0.0, _outside_m(rig) or 0.0) * plan.px_per_m
    under = plan.middle.y + max(TICK_PX, aft_px) + MARGIN
    if not sections:
        return together(()), under
    to_starboard = {each.section: each for each in sections}
    words = _of_the_bosom(rig) if "bosom" in to_starboard else []
    drawn = [lines_of_text(words, Point(plan.middle.x, under + LINE_PX / 2), "middle")]
    under += LINE_PX * len(words)
    beside = [to_starboard[name] for name in ("wing", "bunt") if name in to_starboard]
    if not beside:
        return together(drawn), under + MARGIN
    labels = [
        [line for told in weight_lines(rig, each.section) for line in wrapped(told, COLUMN_PX)]
        for each in beside
    ]
    heights = [LINE_PX * len(lines) + MARGIN for lines in labels]
    targets = [plan.at(each.middle_m, 3.0) for each in beside]
    column = WIDTH - MARGIN - COLUMN_PX
    middles = kept_apart([target.y for target in targets], heights)
    for lines, target, middle in zip(labels, targets, middles, strict=True):
        first = middle - LINE_PX * (len(lines) - 1) / 2
        drawn.append(line(target, Point(column - 4, middle)))
        drawn.append(lines_of_text(lines, Point(column, first)))
    return together(drawn), max(under, middles[-1] + heights[-1] / 2) + MARGIN


def _of_the_bosom(rig: Mapping[str, Any]) -> list[str]:
    """Its length, and its weights in one line under that."""
    length, *weights = weight_lines(rig, "bosom")
    return [length, ", ".join(weights)] if weights else [length]
