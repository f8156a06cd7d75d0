"""The map of hauls: what it shows, what it leaves off, and that nothing lies outside of it."""

from __future__ import annotations

from typing import Any

import numpy as np
import polars as pl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.trip_findings import thinned
from reports.haul_map.chart import map_chart, mark_size, with_room
from reports.haul_map.extent import LEAST_DEGREES, degree_words, far_off, round_the_globe
from reports.haul_map.hauls import in_dashes, rarest_last, shown_hauls
from reports.haul_map.section import haul_map
from reports.haul_map.squares import in_squares
from reports.marks import marks

MARKS = marks(["rope"], "rope")


def at(latitude: float, longitude: float, *, damaged: bool | None = False) -> dict[str, Any]:
    place = {"latitude": latitude, "longitude": longitude}
    return {"rig": "rope", "damaged": damaged, "hauls": 1, "cell_degrees": 0.0} | place


def findings_of(positions: list[dict[str, Any]], without: int = 0) -> dict[str, Any]:
    hauls = sum(row["hauls"] for row in positions) + without
    return {"season": {"hauls": hauls}, "haul_positions": positions}


def test_without_positions_there_is_no_map() -> None:
    assert haul_map(findings_of([])) is None
    assert map_chart({"haul_positions": []}, MARKS) is None


def test_all_hauls_in_one_place_have_a_map_of_some_miles() -> None:
    shown = shown_hauls({"haul_positions": [at(57.5, 1.5)] * 3})
    assert shown is not None
    assert shown.extent.north - shown.extent.south >= LEAST_DEGREES
    assert shown.extent.west < 1.5 < shown.extent.east


def test_latitude_and_longitude_in_each_others_place_are_left_off_and_told() -> None:
    positions = [*(at(57.5, 1.0 + n / 100) for n in range(100)), at(1.3, 57.3)]
    section = haul_map(findings_of(positions, without=16))
    assert section is not None
    assert section.paragraphs == [
        "1 haul far from all others is not on the map, at 1°18′ N 57°18′ E: as a rule latitude and "
        "longitude in each other's place, or a slip of the pen.",
        "16 hauls have no position.",
    ]
    assert section.figures[0].title == "Of 100 hauls on the map 0 had damage"


def test_two_grounds_far_apart_are_both_on_the_map() -> None:
    assert not any(far_off([*[at(57.5, 1.0)] * 60, *[at(40.0, -9.0)] * 40]))


@pytest.mark.parametrize("latitude", [60.0, -43.0])
def test_hauls_on_both_sides_of_180_degrees_lie_side_by_side(latitude: float) -> None:
    shown = shown_hauls({"haul_positions": [at(latitude, 179.5), at(latitude, -179.5)]})
    assert shown is not None
    longitudes = [row["longitude"] for row in shown.hauls]
    assert abs(longitudes[1] - longitudes[0]) == pytest.approx(1)
    assert shown.extent.east - shown.extent.west < 3


@given(
    st.lists(
        st.tuples(st.floats(-90, 90), st.floats(-180, 180), st.sampled_from([True, False, None])),
        min_size=1,
        max_size=30,
    )
)
def test_no_haul_lies_outside_the_map_and_none_is_lost(
    places: list[tuple[float, float, bool | None]],
) -> None:
    positions = [at(north, east, damaged=damaged) for north, east, damaged in places]
    shown = shown_hauls({"haul_positions": positions})
    assert shown is not None
    assert len(shown.hauls) + len(shown.far) == len(positions)
    dashes = in_dashes(shown)
    assert sum(row["hauls"] for row in dashes) == len(shown.hauls)
    west, east, south, north = shown.extent
    for row in dashes:
        assert west <= row["longitude"] <= east
        assert south <= row["latitude"] <= north


@given(st.lists(st.floats(-180, 180), min_size=1, max_size=20))
def test_longitudes_stay_where_they_are_on_the_globe(longitudes: list[float]) -> None:
    turned = round_the_globe(np.array(longitudes))
    turns = (turned - longitudes) / 360
    assert turns == pytest.approx(np.round(turns), abs=1e-9)
    assert turned.max() - turned.min() <= 360


def test_the_land_beside_the_hauls_is_drawn_and_the_open_sea_has_none() -> None:
    # General geography: Scotland's east coast, and the middle of the Atlantic.
    off_scotland = {"haul_positions": [at(57.5, -1.0), at(57.5, -2.5)]}
    far_out = {"haul_positions": [at(45.0, -30.0), at(45.5, -30.0)]}
    coast, sea = (map_chart(each, MARKS) for each in (off_scotland, far_out))
    assert "geoshape" in str(coast)
    assert "geoshape" not in str(sea)


def test_degrees_are_told_as_on_a_chart() -> None:
    assert degree_words(57.5, "N", "S") == "57°30′ N"
    assert degree_words(-0.25, "E", "W") == "0°15′ W"
    assert degree_words(181.0, "E", "W") == "179° W"
    assert degree_words(180.0, "E", "W") == "180°"
    assert degree_words(0.0, "N", "S") == "0°"


def test_the_numbers_are_those_of_the_squares_of_the_grid() -> None:
    hauls = [at(57.9, 1.1, damaged=True), at(57.95, 1.2), at(56.1, 1.9, damaged=None)]
    section = haul_map(findings_of(hauls))
    assert section is not None
    (figure,) = section.figures
    assert figure.table.rows == [
        ["57°30′ N 1° E", "2", "1", "0"],
        ["56° N 1°30′ E", "1", "0", "1"],
    ]


@pytest.mark.parametrize(
    ("apart", "size"), [(0.2, "30′ by 30′"), (4.0, "10° by 10°"), (0.01, "5′ by 5′")]
)
def test_the_side_of_a_square_is_told_in_degrees_where_they_are_whole(
    apart: float, size: str
) -> None:
    section = haul_map(findings_of([at(1.0 + n * apart, 1.0) for n in range(11)]))
    assert section is not None
    assert section.figures[0].table.caption == f"Hauls by squares of the grid, {size}"


def test_the_rig_with_the_fewest_marks_is_drawn_over_the_others() -> None:
    rows = [at(57.0, 1.0, damaged=True) | {"rig": rig} for rig in "abacbac"]
    assert [row["rig"] for row in rarest_last(rows)] == [*"aaa", *"bcbc"]


CELLS = st.lists(
    st.tuples(
        st.integers(0, 60),
        st.integers(0, 60),
        st.sampled_from("abcde"),
        st.sampled_from([True, False, None]),
        st.integers(1, 500),
    ),
    min_size=1,
    max_size=60,
)


@given(CELLS)
def test_hauls_in_squares_are_all_counted_and_no_mark_hides_another(
    cells: list[tuple[int, int, str, bool | None, int]],
) -> None:
    rows = [
        at(50.25 + up / 2, -20.25 + across / 2, damaged=damaged)
        | {"rig": rig, "hauls": hauls, "cell_degrees": 0.5}
        for up, across, rig, damaged, hauls in cells
    ]
    shown = shown_hauls({"haul_positions": rows})
    assert shown is not None
    assert shown.in_cells
    counted = in_squares(shown, "abcde", 300.0)
    on_it = sum(row["hauls"] for row in shown.hauls)
    torn = sum(row["hauls"] for row in shown.hauls if row["damaged"])
    assert sum(square["hauls"] for square in counted.squares) == on_it
    assert sum(square["damaged"] for square in counted.squares) == torn
    assert sum(mark["hauls"] for mark in counted.torn) == torn
    west, east, south, north = shown.extent
    places = {(mark["longitude"], mark["latitude"]) for mark in counted.torn}
    assert len(places) == len(counted.torn)
    assert all(west <= x <= east and south <= y <= north for x, y in places)


def test_each_rig_has_its_own_place_in_a_square_and_more_damage_a_larger_mark() -> None:
    rows = [
        at(50.25, across, damaged=True) | {"rig": rig, "hauls": hauls, "cell_degrees": 0.5}
        for across, rig, hauls in ((0.25, "a", 40), (0.25, "b", 10), (19.75, "b", 2))
    ]
    shown = shown_hauls({"haul_positions": rows})
    assert shown is not None
    marks_of = in_squares(shown, "ab", 300.0).torn
    (much, some, little) = sorted(marks_of, key=lambda mark: -mark["hauls"])
    assert [much["rig"], some["rig"], little["rig"]] == ["a", "b", "b"]
    assert much["longitude"] < some["longitude"]
    assert much["latitude"] == some["latitude"]
    assert much["size"] == pytest.approx(4 * some["size"])
    assert little["size"] > 0.025 * much["size"]  # small, yet seen


def test_a_map_of_very_many_hauls_says_what_a_square_is() -> None:
    rows = [at(57.25, 1.25, damaged=damaged) | {"cell_degrees": 0.5} for damaged in (True, None)]
    section = haul_map(findings_of(rows))
    assert section is not None
    caption = section.figures[0].caption
    assert caption.startswith(
        "A square, 30′ of latitude by 30′ of longitude: the hauls shot in it, the stronger the "
        "colour the more. A rig's own mark in it, with an edge: those with damage, the "
        "larger the more; the largest stands for 1. Land"
    )
    chart = map_chart({"haul_positions": rows}, MARKS)
    assert chart is not None
    (square,) = chart["datasets"]["squares"]
    assert square["says"].startswith("2 hauls about 57°")
    assert square["says"].endswith(", 1 with damage")
    assert chart["datasets"]["rows"][0]["says"].startswith("rope: 1 haul at about ")


def test_where_each_rigs_mark_stands_in_a_square_is_said_where_there_are_several() -> None:
    rows = [
        at(57.25, 1.25, damaged=True) | {"cell_degrees": 0.5, "rig": rig, "hauls": hauls}
        for rig, hauls in (("discs", 3), ("rope", 7))
    ]
    section = haul_map(findings_of(rows))
    assert section is not None
    caption = section.figures[0].caption
    assert (
        "the largest stands for 7. Within a square each rig's mark has a place of its own"
        in caption
    )


@given(st.integers(0, 5000), st.integers(0, 5000))
def test_the_more_marks_the_smaller_they_are_and_all_are_seen(one: int, other: int) -> None:
    few, many = sorted((one, other))
    assert 14 <= mark_size(many) <= mark_size(few) <= 40


def test_degrees_along_the_edge_have_room() -> None:
    words = ["170° W", "160° W", "150° W", "140° W"]
    assert with_room(words, 60.0) == words
    assert with_room(words, 40.0) == ["170° W", "", "150° W", ""]


def test_more_hauls_than_a_page_holds_are_counted_in_cells_and_none_is_lost() -> None:
    generator = np.random.default_rng(7)
    positions = pl.DataFrame(
        {
            "rig_version": generator.choice(["rope", "discs"], 5000),
            "latitude": generator.uniform(57, 59, 5000),
            "longitude": generator.uniform(0, 3, 5000),
            "damaged": generator.choice([True, False], 5000),
        }
    )
    cells = thinned(positions)
    assert cells.height <= 3000
    assert cells["hauls"].sum() == 5000
    (cell,) = cells["cell_degrees"].unique()
    assert cell > 0
    assert thinned(positions.head(3000))["cell_degrees"].unique().to_list() == [0.0]
    damaged = cells.filter("damaged")["hauls"].sum()
    assert damaged == positions["damaged"].sum()
