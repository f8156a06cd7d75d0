"""Fishing lines hang where it was worked out by hand in `rig_geometry.md`."""

from __future__ import annotations

from math import asin, degrees, radians, sin
from typing import get_args

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from polars.testing import assert_frame_equal

from pipeline.rigs.line.geometry import (
    ABOVE_WITHIN_DEG,
    ASSUMPTIONS,
    NO_TOGGLE_MM,
    Lies,
    gap_closed_at_slack_m,
    line_position,
    slack_for_angle_m,
    slack_for_gap_m,
)
from pipeline.rigs.line.rig_geometry import RIG_GEOMETRY_SCHEMA, rig_geometry
from pipeline.rigs.weight.rig_weights import RIG_WEIGHTS_SCHEMA
from schemas.rigs import RIG_VERSIONS
from schemas.types import TYPES
from tests.spec.test_rig_weights import worked_out
from tests.spec.text_tables import cases_of, number, page_text, rows_of

RIGS_TEXT, RESTS_TEXT = page_text("rig_geometry.md").split("\n## What a rig's numbers rest on\n")
RIGS = cases_of(RIGS_TEXT)
RECORDED = {
    "fishing line": "fishing_line_m",
    "ground gear": "ground_gear_m",
    "toggles": "toggle_mm",
    "spread": "wing_end_spread_m",
    "measured gap": "gap_mm",
}
WORKED = {
    # Column of the page, of the table, and half of the last place on the page, and a bit.
    "turn": ("turn_rad", 0.0001),
    "slack": ("slack_m", 0.0001),
    "drop back": ("drop_back_mm", 0.06),
    "height": ("height_mm", 0.06),
    "gap": ("gap_mm", 0.06),
    "closes at": ("gap_closed_at_slack_m", 0.0001),
}
VERSION_SCHEMA = {column.name: TYPES[column.kind] for column in RIG_VERSIONS.columns}
each_rig = pytest.mark.parametrize("rig", RIGS, ids=lambda rig: rig["rig"])


def versions(*rigs: dict[str, str]) -> pl.DataFrame:
    rows = [
        dict.fromkeys(VERSION_SCHEMA)
        | {"rig_version": rig["rig"]}
        | {column: number(rig[name]) for name, column in RECORDED.items()}
        for rig in rigs
    ]
    return pl.DataFrame(rows, schema=VERSION_SCHEMA)


def weights(*rigs: dict[str, str]) -> pl.DataFrame:
    rows = [
        dict.fromkeys(RIG_WEIGHTS_SCHEMA)
        | {"rig_version": rig["rig"], "section": section, "largest_diameter_mm": number(rig[name])}
        for rig in rigs
        for section, name in (("bosom", "thickest in the bosom"), ("whole", "thickest of all"))
        if rig[name]
    ]
    return pl.DataFrame(rows, schema=RIG_WEIGHTS_SCHEMA)


def told(rig: dict[str, str]) -> dict[str, object]:
    (row,) = rig_geometry(versions(rig), weights(rig)).to_dicts()
    return row


@each_rig
def test_the_sums_come_to_what_is_written_after_them(rig: dict[str, str]) -> None:
    for name, cell in rig.items():
        worked, equals, _ = cell.rpartition("=")
        if equals and name != "rig":
            places = 0.06 if name in {"drop back", "height", "gap"} else 0.0001
            assert worked_out(worked.strip()) == pytest.approx(number(cell), abs=places), name


@each_rig
@pytest.mark.parametrize("name", WORKED)
def test_the_line_hangs_where_it_was_worked_out(rig: dict[str, str], name: str) -> None:
    column, places = WORKED[name]
    expected = number(rig[name])
    assert told(rig)[column] == (None if expected is None else pytest.approx(expected, abs=places))


@each_rig
def test_the_toggles_lean_as_was_worked_out(rig: dict[str, str]) -> None:
    row, sine = told(rig), number(rig["lean"])
    assert row["lies"] == (rig["lies"] or None)
    if sine is None:
        assert row["angle_deg"] is None
    else:
        assert sin(radians(float(str(row["angle_deg"])))) == pytest.approx(sine, abs=0.0001)


@each_rig
def test_a_measured_gap_goes_first_and_the_one_worked_out_stands_beside(
    rig: dict[str, str],
) -> None:
    row = told(rig)
    if rig["measured gap"]:
        assert (row["gap_mm"], row["gap_from"]) == (float(rig["measured gap"]), "measured")
    else:
        assert row["gap_from"] == ("worked out" if rig["gap"] else None)
        assert row["gap_by_geometry_mm"] == row["gap_mm"]


def test_beside_a_measured_gap_of_40_mm_stands_the_22_mm_of_the_same_rig() -> None:
    row = told(next(rig for rig in RIGS if rig["rig"] == "the same, gap measured"))
    assert row["gap_by_geometry_mm"] == pytest.approx(22)


def test_every_way_for_a_line_to_lie_is_there() -> None:
    assert len(RIGS) >= 12
    assert {rig["lies"] for rig in RIGS} == {*get_args(Lies), ""}


@each_rig
def test_what_the_line_would_need_to_lie_straight_aft(rig: dict[str, str]) -> None:
    row, toggle_mm = told(rig), number(rig["toggles"])
    turn = number(rig["turn"]) or 0.0
    expected = None if toggle_mm is None else pytest.approx(toggle_mm / 1000 * turn, abs=1e-4)
    assert row["straight_aft_m"] == expected
    measured = {"wing ends measured, x = 2", "wing ends closer together, x = 3"}
    assert row["turn_from"] == ("wing end spread" if rig["rig"] in measured else "assumed")


@pytest.mark.parametrize(("name", "rests_on"), rows_of(RESTS_TEXT)[1])
def test_what_the_numbers_rest_on_is_named(name: str, rests_on: str) -> None:
    row = told(next(rig for rig in RIGS if rig["rig"] == name))
    expected = [said.strip() for said in rests_on.split(";") if said.strip()]
    assert row["assumes"] == expected
    assert set(expected) <= set(ASSUMPTIONS)


def test_every_assumption_is_a_plain_sentence() -> None:
    for said in ASSUMPTIONS.values():
        assert said[0].isupper()
        assert said.endswith(".")


def test_a_rig_of_which_nothing_is_known_has_no_row() -> None:
    blank = dict.fromkeys(RIGS[0], "") | {"rig": "blank"}
    assert rig_geometry(versions(blank), weights()).is_empty()
    table = rig_geometry(versions(), weights())
    assert (table.height, dict(table.schema)) == (0, RIG_GEOMETRY_SCHEMA)


@settings(deadline=None)
@given(st.permutations(RIGS))
def test_the_order_of_the_rigs_does_not_matter(shuffled: list[dict[str, str]]) -> None:
    assert_frame_equal(
        rig_geometry(versions(*shuffled), weights(*reversed(shuffled))),
        rig_geometry(versions(*RIGS), weights(*RIGS)),
    )


toggles = st.floats(NO_TOGGLE_MM + 1, 3000)
turns = st.floats(0.3, 3.1)
thicknesses = st.floats(5, 2000)
slacks = st.floats(0, 12)


@given(toggles, turns, thicknesses, slacks, slacks)
def test_more_slack_never_raises_a_line_nor_opens_its_gap(
    toggle_mm: float, turn: float, thick_mm: float, one_m: float, other_m: float
) -> None:
    less, more = (
        line_position(toggle_mm, slack_m, turn, thick_mm) for slack_m in sorted((one_m, other_m))
    )
    assert less.height_mm is not None
    assert more.height_mm is not None
    assert more.height_mm <= less.height_mm + 1e-9
    assert (more.gap_mm or 0) <= (less.gap_mm or 0) + 1e-9
    assert more.drop_back_mm >= less.drop_back_mm


@given(toggles, toggles, turns, thicknesses, st.floats(-85, 85))
def test_longer_toggles_at_the_same_lean_raise_a_line(
    one_mm: float, other_mm: float, turn: float, thick_mm: float, lean_deg: float
) -> None:
    short, long = (
        line_position(toggle_mm, slack_for_angle_m(lean_deg, toggle_mm, turn), turn, thick_mm)
        for toggle_mm in sorted((one_mm, other_mm))
    )
    assert short.angle_deg == pytest.approx(lean_deg, abs=1e-6)
    assert (long.height_mm or 0) >= (short.height_mm or 0) - 1e-6


@given(toggles, turns)
def test_just_enough_slack_to_lie_straight_aft_does_not_hang(toggle_mm: float, turn: float) -> None:
    for lean_deg, lies in ((90, "aft"), (-90, "forward")):
        slack_m = slack_for_angle_m(lean_deg, toggle_mm, turn)
        assert line_position(toggle_mm, slack_m, turn, None).lies == lies


@given(toggles, turns, thicknesses, slacks)
def test_a_line_too_short_by_so_much_is_as_far_forward_and_as_high(
    toggle_mm: float, turn: float, thick_mm: float, slack_m: float
) -> None:
    aft = line_position(toggle_mm, slack_m, turn, thick_mm)
    forward = line_position(toggle_mm, -slack_m, turn, thick_mm)
    assert forward.drop_back_mm == -aft.drop_back_mm
    assert (forward.height_mm, forward.gap_mm) == (aft.height_mm, aft.gap_mm)
    mirrored = {"aft": "forward", "slack hangs": "drawn tight", "above": "above"}
    assert forward.lies == mirrored[aft.lies]


@given(toggles, turns, thicknesses, st.floats(0, 1500))
def test_the_slack_for_a_gap_gives_that_gap(
    toggle_mm: float, turn: float, thick_mm: float, gap_mm: float
) -> None:
    slack_m = slack_for_gap_m(gap_mm, toggle_mm, thick_mm, turn)
    if slack_m is None:
        assert toggle_mm < thick_mm / 2 + gap_mm
    else:
        assert line_position(toggle_mm, slack_m, turn, thick_mm).gap_mm == pytest.approx(
            gap_mm, abs=1e-4
        )


@given(toggles, turns, thicknesses)
def test_the_gap_closes_at_its_slack_and_not_before(
    toggle_mm: float, turn: float, thick_mm: float
) -> None:
    slack_m = gap_closed_at_slack_m(toggle_mm, thick_mm, turn)
    straight_above = line_position(toggle_mm, 0, turn, thick_mm)
    if slack_m is None:
        assert straight_above.gap_mm == 0
    else:
        assert line_position(toggle_mm, slack_m, turn, thick_mm).gap_mm == pytest.approx(
            0, abs=1e-4
        )
        half_way = line_position(toggle_mm, slack_m / 2, turn, thick_mm).gap_mm
        assert half_way is not None
        assert half_way > 0


def test_ten_degrees_is_where_above_ends() -> None:
    for lean_deg, lies in (
        (9.999, "above"),
        (10.001, "aft"),
        (-9.999, "above"),
        (-10.001, "forward"),
    ):
        slack_m = slack_for_angle_m(lean_deg, 300, 2.4)
        assert line_position(300, slack_m, 2.4, 200).lies == lies
    assert degrees(asin(0.1736)) == pytest.approx(ABOVE_WITHIN_DEG, abs=0.01)
