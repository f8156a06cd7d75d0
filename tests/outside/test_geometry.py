"""The geometry of a rig against what other ways of measuring curves, and unit tables, say."""

from __future__ import annotations

from math import atan, pi, sinh
from typing import TYPE_CHECKING

import numpy as np
import pint
import pytest
import shapely

from pipeline.rigs.line.geometry import (
    HOLES_APART_OF_RADIUS,
    MM_PER_M,
    TURN_RAD,
    disc_tip_deg,
    line_position,
    offset_length_m,
    slack_for_angle_m,
    traveller_shift_mm,
    turn_of_spread_rad,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

POINTS = 2001
"""With four times as many, GEOS leaves the last piece of an offset of 1 m out, as too short."""


def catenary(across: NDArray[np.float64]) -> NDArray[np.float64]:
    """Like a ground gear of 35 m between wing ends 21 m apart, as the cosh of x over 6 m."""
    return 6.0 * np.cosh(across / 6.0)


def lopsided(across: NDArray[np.float64]) -> NDArray[np.float64]:
    """One that bends one way all along, most to one side: its second derivative is above 0."""
    return 0.08 * across**2 + 0.01 * across**3 + 0.004 * across**4


def half_circle(across: NDArray[np.float64]) -> NDArray[np.float64]:
    return -np.sqrt(np.maximum(0.0, 25.0 - across**2))


CURVES = [
    (catenary, -10.5, 10.5),
    (catenary, -3.0, 10.5),
    (lopsided, -5.0, 4.0),
    (half_circle, -4.9, 4.9),
]


def seen_from_above(
    curve: Callable[[NDArray[np.float64]], NDArray[np.float64]], start: float, end: float
) -> tuple[shapely.LineString, float]:
    """The curve as a line of many points, and the turn from its first piece to its last."""
    across = np.linspace(start, end, POINTS)
    points = np.column_stack([across, curve(across)])
    pieces = np.diff(points, axis=0)
    way = np.unwrap(np.arctan2(pieces[:, 1], pieces[:, 0]))
    return shapely.LineString(points), float(way[-1] - way[0])


@pytest.mark.parametrize("offset_m", [0.1, 0.35, 1.0])
@pytest.mark.parametrize(("curve", "start", "end"), CURVES)
def test_a_line_outside_any_curve_is_longer_by_its_offset_times_the_turn(
    curve: Callable[[NDArray[np.float64]], NDArray[np.float64]],
    start: float,
    end: float,
    offset_m: float,
) -> None:
    # The offset is GEOS's own. At a corner of δ it is mitred, and so longer by 2 a tan(δ/2), which
    # is a δ within a δ³/12; the sharpest corners, at the ends of the half circle, are 0.005 rad.
    # Measured for all curves: 3e-8 m at most at 0.1 m, 2.4e-7 m at 0.35 m, 7e-7 m at 1 m.
    gear, turn_rad = seen_from_above(curve, start, end)
    # Outside is to the right of a curve that bends to the left.
    line = shapely.offset_curve(gear, -offset_m, join_style="mitre")
    assert turn_rad > 1
    longer_m = line.length - gear.length
    assert longer_m == pytest.approx(offset_length_m(offset_m, turn_rad), abs=1e-6)


def test_a_line_inside_the_curve_is_as_much_shorter() -> None:
    gear, turn_rad = seen_from_above(*CURVES[0])
    line = shapely.offset_curve(gear, 0.35, join_style="mitre")
    assert line.length - gear.length == pytest.approx(offset_length_m(-0.35, turn_rad), abs=1e-6)


def test_the_turn_of_the_points_is_that_of_the_curve() -> None:
    # The first and last pieces run half a step in from the ends, where the curve turns by
    # 1/(c cosh(x/c)) a metre across: 2 × ½ × 0.0105 m × 0.0564/m = 6e-4.
    _, turn_rad = seen_from_above(*CURVES[0])
    assert turn_rad == pytest.approx(2 * atan(sinh(10.5 / 6.0)), abs=6e-4)


@pytest.mark.parametrize("half_spread_over_c", [0.05, 0.4, 1.0, 1.75, 3.0, 6.0])
def test_the_turn_of_a_catenary_is_that_of_its_bends_added_up(half_spread_over_c: float) -> None:
    # Bend of y = c cosh(x/c) by y'' / (1 + y'²)^1.5 and length by √(1 + y'²), with c = 1, added up
    # by Simpson's rule over 20,000 steps: its error, some step⁴, is far below 1e-9.
    steps = 20_000
    across = np.linspace(-half_spread_over_c, half_spread_over_c, steps + 1)
    slope, bend = np.sinh(across), np.cosh(across)
    along = np.sqrt(1 + slope**2)
    simpson = np.ones(steps + 1)
    simpson[1:-1:2], simpson[2:-1:2] = 4, 2
    step = across[1] - across[0]
    length = float((simpson * along).sum() * step / 3)
    turn_rad = float((simpson * bend / along**3 * along).sum() * step / 3)
    assert turn_of_spread_rad(2 * half_spread_over_c, length) == pytest.approx(turn_rad, abs=1e-9)


def test_the_turn_of_a_spread_answers_to_the_catenary_in_closed_form() -> None:
    # L = 2c sinh(S/2c), with c = 6.2 m and S = 21 m.
    length_m = 2 * 6.2 * sinh(21 / 12.4)
    assert turn_of_spread_rad(21, length_m) == pytest.approx(2 * atan(sinh(21 / 12.4)), abs=1e-12)


@pytest.mark.parametrize("gear_m", [1e-3, 34.1, 500.0])
def test_the_turn_goes_from_none_at_full_spread_to_half_a_circle(gear_m: float) -> None:
    widest = float(np.nextafter(gear_m, 0))
    assert 0 <= turn_of_spread_rad(widest, gear_m) < 1e-6
    assert pi - 1e-6 < turn_of_spread_rad(gear_m * 1e-9, gear_m) <= pi


@pytest.mark.parametrize(("spread_m", "gear_m"), [(34.1, 34.1), (40, 34.1), (0, 34.1), (-1, 34.1)])
def test_a_spread_that_cannot_be_is_refused(spread_m: float, gear_m: float) -> None:
    with pytest.raises(ValueError, match="cannot be"):
        turn_of_spread_rad(spread_m, gear_m)


def test_toggles_of_350_mm_straight_aft_round_2_4_radians_take_840_mm() -> None:
    assert slack_for_angle_m(90, 350, 2.4) == 0.84
    position = line_position(350, 0.84, 2.4, 356)
    assert (position.lies, position.angle_deg) == ("aft", 90)
    assert (position.drop_back_mm, position.height_mm, position.gap_mm) == (350, 178, 0)


def test_one_per_cent_of_a_ground_chain_of_20_m() -> None:
    # 0.20 m longer than its traveller, which round 2.4 radians is pulled 83 mm forward.
    assert traveller_shift_mm(0.01 * 20, TURN_RAD) == pytest.approx(83.33, abs=0.01)
    # A line that lies those 83 mm inside is the 0.20 m shorter.
    assert offset_length_m(-0.08333, TURN_RAD) == pytest.approx(-0.20, abs=1e-4)


def test_the_usual_turn_leaves_the_wing_ends_21_degrees_off_the_way_of_the_tow() -> None:
    off_deg = pint.UnitRegistry().Quantity((pi - TURN_RAD) / 2, "radian").to("degree").magnitude
    assert off_deg == pytest.approx(21.2, abs=0.05)


def test_a_disc_of_300_mm_is_tipped_by_a_shift_of_its_holes_distance_and_no_more() -> None:
    # The holes are 100 mm apart: 50 mm forward is a sine of a half.
    assert pytest.approx(100) == HOLES_APART_OF_RADIUS * 150
    tips = [disc_tip_deg(shift, 300) for shift in (0, 50, 100, 170, -50)]
    assert tips == pytest.approx([0, 30, 90, 90, -30])


def test_millimetres_and_degrees_are_those_of_the_unit_tables() -> None:
    units = pint.UnitRegistry()
    assert units.Quantity(1, "metre").to("millimetre").magnitude == MM_PER_M
    toggle, turn = units.Quantity(350, "millimetre"), units.Quantity(2.4, "radian")
    lean = units.Quantity(30, "degree")
    slack = (toggle * np.sin(lean) * turn).to("metre").magnitude
    assert slack_for_angle_m(30, 350, 2.4) == pytest.approx(slack)
    position = line_position(350, slack, 2.4, 0.0)
    assert position.angle_deg == pytest.approx(30)
    assert position.height_mm == pytest.approx((toggle * np.cos(lean)).to("millimetre").magnitude)
    shift = (units.Quantity(0.2, "metre") / turn).to("millimetre").magnitude
    assert traveller_shift_mm(0.2, 2.4) == pytest.approx(shift)
