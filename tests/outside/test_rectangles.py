"""Rectangles against those that ICES names on its page "ICES statistical rectangles"."""

from __future__ import annotations

import polars as pl
import pytest

from pipeline.sharing.rectangle import rectangle

LETTERS = {
    "A": (-44, -40),
    "B": (-40, -30),
    "C": (-30, -20),
    "D": (-20, -10),
    "E": (-10, 0),
    "F": (0, 10),
    "G": (10, 20),
    "H": (20, 30),
    "J": (30, 40),
    "K": (40, 50),
    "L": (50, 60),
}
"""From which longitude to which, as ICES lists them; what follows is M."""


def of(*positions: tuple[float | None, float | None]) -> list[str | None]:
    frame = pl.DataFrame(
        positions, schema={"latitude": pl.Float64, "longitude": pl.Float64}, orient="row"
    )
    return frame.select(rectangle(pl.col("latitude"), pl.col("longitude"))).to_series().to_list()


def test_the_rectangles_that_ices_names() -> None:
    assert of((54.0, 3.0), (54 + 29.9 / 60, 3 + 59.9 / 60)) == ["37F3", "37F3"]
    assert of((58 + 12 / 60, 10 + 33 / 60)) == ["45G0"]


def test_rows_run_from_01_at_36_north_to_99_below_85_and_a_half() -> None:
    assert of((36.0, -44.0), (36.49, -43.1), (36.5, -44.0)) == ["01A0", "01A0", "02A0"]
    assert of((85.49, 60.5), (85.5, 60.5), (35.9, -40.5)) == ["99M0", "85N 60E", "35N 41W"]


@pytest.mark.parametrize("letter", LETTERS)
def test_columns_have_the_letters_that_ices_lists(letter: str) -> None:
    west, east = LETTERS[letter]
    found = of(*((54.1, at + half) for at in range(west, east) for half in (0.0, 0.5, 0.999)))
    assert found == [f"37{letter}{at}" for at in range(east - west) for _ in range(3)]


def test_the_last_letter_ends_at_68_and_a_half_east() -> None:
    assert of((54.1, 60.0), (54.1, 68.49), (54.1, 68.5)) == ["37M0", "37M8", "54N 68E"]


def test_elsewhere_it_is_a_whole_degree_by_its_south_west_corner() -> None:
    assert of((57.5, -170.5), (-34.2, 18.2), (-0.5, -0.5)) == ["57N 171W", "35S 18E", "1S 1W"]
    assert of((57.5, 180.0), (57.5, -180.0), (90.0, 0.0)) == ["57N 180W", "57N 180W", "89N 0E"]


def test_a_blank_position_is_nowhere() -> None:
    assert of((None, 3.0), (54.0, None), (None, None)) == [None, None, None]
