"""Where the fishing line hangs over the ground gear, and what a stretched ground chain does to it.

Toggles of length t hold the line to the gear's core. Seen from the side a toggle leans from the
vertical by θ: 0 straight above, +90° straight aft, −90° straight forward. Seen from above the gear
turns through φ from wing end to wing end, so a line that lies t sin θ outside it is longer by
t φ sin θ, whatever the curve. Lengths thus give the angle, and the angle gives height and gap.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import acos, asin, asinh, degrees, pi, radians, sin, sqrt, tan
from typing import Literal

from schemas.words import saying

Lies = Literal["aft", "above", "forward", "slack hangs", "drawn tight", "on the gear"]

MM_PER_M = 1000

TURN_RAD = 2.4
"""Turn of the ground gear from wing end to wing end where no spread was measured.

Each wing end then points some 21° off the way of the tow (common practice, no source).
"""

ABOVE_WITHIN_DEG = 10.0
"""Toggles that lean no more than this count as straight above: they lose 1.5 % of their height.

Own judgement, no source.
"""

NO_TOGGLE_MM = 20.0
"""A toggle up to here is a shackle or a lashing: the line lies on the gear (own judgement)."""

HOLES_APART_OF_RADIUS = 2 / 3
"""From the middle hole of a disc to the traveller's, over its radius (own assumption)."""

ASSUMPTIONS = {
    "toggles from the core": saying(
        "Toggles are measured from the chain or wire through the middle of the ground gear to the "
        "fishing line."
    ),
    "on the seabed": saying(
        "The gear lies on flat ground, does not sink in and does not lift, so that its middle is "
        "at half its diameter."
    ),
    "largest diameter": saying(
        "The gear is as thick as its thickest part in the bosom; chain, wire and rope count with "
        "their own diameter, though the links of a chain are wider."
    ),
    "even curve": saying(
        "The line hangs as far from the gear at the wing ends as in the bosom, in one even curve."
    ),
    "no sag": saying(
        "The toggles are taut and of one length, and the line does not sag between them."
    ),
    "usual turn": f"No wing end spread is recorded, so that the gear is taken to turn through "
    f"{TURN_RAD:g} radians (common practice, no source).",
    "catenary": "Seen from above the gear hangs in a catenary, the curve of an even chain, "
    "between wing ends as far apart as was measured.",
    "spread too wide": "The wing end spread that is recorded is not less than the length of the "
    f"ground gear, which cannot be; the gear is taken to turn through {TURN_RAD:g} radians.",
    "spread without a length": "A wing end spread is recorded, but not the length of the ground "
    f"gear; the gear is taken to turn through {TURN_RAD:g} radians.",
    "traveller holes": saying(
        "The traveller runs through holes two thirds of the way from the middle of a disc to its "
        "rim, straight above the ground chain while the two are of one length."
    ),
}
"""What a worked-out number rests on, in a sentence for whoever shows it."""


@dataclass(frozen=True)
class LinePosition:
    """Where the line is; None is not known.

    `angle_deg` is the toggle's lean, `drop_back_mm` how far the line is aft of the core, and
    `height_mm` how far above the seabed. `gap_mm` is the opening seen from ahead between the top
    of the gear and the line: 0 where the line is hidden behind the gear.
    """

    lies: Lies
    angle_deg: float | None
    drop_back_mm: float
    height_mm: float | None
    gap_mm: float | None


def offset_length_m(offset_m: float, turn_rad: float) -> float:
    """How much longer a line is that lies `offset_m` outside a curve that turns through an angle.

    Steiner's formula for offset curves: along a curve of bend κ the offset is longer by a κ ds,
    and the sum of κ ds is the turn, so that the whole is a φ for any curve that bends one way.
    """
    return offset_m * turn_rad


def turn_of_spread_rad(spread_m: float, gear_m: float) -> float:
    """How far a ground gear of that length turns between wing ends that far apart.

    The gear as a catenary y = c cosh(x/c): half of it is c sinh(S/2c) = L/2 long, and its end
    runs at an angle φ/2 from square to the tow, of which the tangent is sinh(S/2c). So with
    x = tan(φ/2) = L/2c the spread is S = 2c asinh(x), or S/L = asinh(x)/x, which falls from 1 to 0
    as φ goes from 0 to π; found by halving. Raises `ValueError` unless 0 < spread < length.
    """
    if not 0 < spread_m < gear_m:
        message = f"wing ends {spread_m:g} m apart on a ground gear of {gear_m:g} m cannot be"
        raise ValueError(message)
    narrow, wide = 0.0, pi
    while (middle := (narrow + wide) / 2) not in {narrow, wide}:
        x = tan(middle / 2)
        if asinh(x) / x > spread_m / gear_m:
            narrow = middle
        else:
            wide = middle
    return middle


def spread_of_turn_m(turn_rad: float, gear_m: float) -> float:
    """How far apart the wing ends of a catenary of that length are that turns by so much."""
    x = tan(turn_rad / 2)
    return gear_m * asinh(x) / x


def slack_for_angle_m(angle_deg: float, toggle_mm: float, turn_rad: float) -> float:
    """How much longer than the gear the line is when its toggles lean by that angle."""
    return offset_length_m(toggle_mm / MM_PER_M * sin(radians(angle_deg)), turn_rad)


def slack_for_gap_m(
    gap_mm: float, toggle_mm: float, gear_diameter_mm: float, turn_rad: float
) -> float | None:
    """The slack at which a line that lies aft leaves that gap: t cos θ = R + gap.

    None if the toggles are too short for it at any slack.
    """
    needed_mm = gear_diameter_mm / 2 + gap_mm
    if toggle_mm <= NO_TOGGLE_MM or needed_mm > toggle_mm:
        return None
    return slack_for_angle_m(degrees(acos(needed_mm / toggle_mm)), toggle_mm, turn_rad)


def gap_closed_at_slack_m(
    toggle_mm: float, gear_diameter_mm: float, turn_rad: float
) -> float | None:
    """The slack at which the gap closes, t φ √(1 − (R/t)²); None if it is closed at any slack."""
    if toggle_mm <= gear_diameter_mm / 2:
        return None
    return slack_for_gap_m(0.0, toggle_mm, gear_diameter_mm, turn_rad)


def line_position(
    toggle_mm: float, slack_m: float, turn_rad: float, gear_diameter_mm: float | None
) -> LinePosition:
    """Where toggles of that length hold a line that is `slack_m` longer than the ground gear.

    The slack is negative for a shorter line. Where the toggles cannot take it up, they are
    straight aft, or straight forward. On toggles of no length the line is at the core.
    """
    if toggle_mm <= NO_TOGGLE_MM:
        return _placed("on the gear", None, 0.0, 0.0, gear_diameter_mm)
    most_m = offset_length_m(toggle_mm / MM_PER_M, turn_rad)
    lean = slack_m / most_m
    sine = max(-1.0, min(1.0, lean))
    # Of 1 − s² as (1 − s)(1 + s), nothing is lost near straight aft.
    cosine = sqrt((1 - sine) * (1 + sine))
    return _placed(
        _lies(lean), degrees(asin(sine)), toggle_mm * sine, toggle_mm * cosine, gear_diameter_mm
    )


def _lies(lean: float) -> Lies:
    """The state by slack over the most that the toggles can take up."""
    rounding = 1e-9
    if abs(lean) > 1 + rounding:
        return "slack hangs" if lean > 0 else "drawn tight"
    if abs(lean) <= sin(radians(ABOVE_WITHIN_DEG)) + rounding:
        return "above"
    return "aft" if lean > 0 else "forward"


def _placed(
    lies: Lies,
    angle_deg: float | None,
    drop_back_mm: float,
    above_core_mm: float,
    gear_diameter_mm: float | None,
) -> LinePosition:
    if gear_diameter_mm is None:
        return LinePosition(lies, angle_deg, drop_back_mm, None, None)
    radius_mm = gear_diameter_mm / 2
    gap_mm = max(0.0, above_core_mm - radius_mm)
    return LinePosition(lies, angle_deg, drop_back_mm, radius_mm + above_core_mm, gap_mm)


def traveller_shift_mm(difference_m: float, turn_rad: float = TURN_RAD) -> float:
    """How far forward of the ground chain a traveller is pulled that is shorter by so much.

    The ground chain runs through the middle of the discs, the traveller through holes towards the
    rim, and it carries the line. Offset curves again: d/φ, aft (below 0) if it is the longer. The
    discs let it go as far as their holes are apart; `disc_tip_deg` minds that.
    """
    return difference_m / turn_rad * MM_PER_M


def disc_tip_deg(shift_mm: float, diameter_mm: float) -> float:
    """How far discs are tipped forward by a traveller pulled forward by `shift_mm`.

    The shift over the distance of the two holes is the sine of it; 90° at most.
    """
    holes_apart_mm = HOLES_APART_OF_RADIUS * diameter_mm / 2
    return degrees(asin(max(-1.0, min(1.0, shift_mm / holes_apart_mm))))
