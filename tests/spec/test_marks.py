"""The colours and shapes of the rigs: seen on either paper, and no two rigs marked alike."""

from __future__ import annotations

from itertools import pairwise

import pytest

from reports.marks import COLOURS, REFERENCE_COLOUR, SHAPES, marks
from reports.rates_drawn import axis_end, of_edges

WHITE, DARK = "#fdfcf8", "#16191b"
"""The paper by day and by night, as in the page's style sheet."""
LEAST_CONTRAST = 2.0
"""Short of the 3 of WCAG 1.4.11: two of Okabe & Ito's own lie at 2.2 on white, and no mark is
told by its colour alone."""


def luminance(colour: str) -> float:
    """The relative luminance of WCAG 2."""
    parts = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    darker, lighter = sorted(map(luminance, (one, other)))
    return (lighter + 0.05) / (darker + 0.05)


@pytest.mark.parametrize("paper", [WHITE, DARK])
def test_every_colour_is_seen_on_either_paper(paper: str) -> None:
    assert min(contrast(colour, paper) for colour in (REFERENCE_COLOUR, *COLOURS)) > LEAST_CONTRAST


def test_as_many_rigs_as_there_are_colours_have_each_its_own() -> None:
    marked = marks([f"rig {n}" for n in range(len(COLOURS) + 1)], "rig 0")
    assert len(set(marked.colours)) == len(COLOURS) + 1


def test_no_two_rigs_of_many_are_marked_alike() -> None:
    marked = marks([f"rig {n:02d}" for n in range(len(COLOURS) * len(SHAPES) + 1)], "rig 00")
    pairs = list(zip(marked.colours, marked.shapes, strict=True))
    assert len(set(pairs)) == len(pairs)


def test_neighbours_differ_in_colour_and_in_shape() -> None:
    marked = marks([f"rig {n:02d}" for n in range(30)], "rig 00")
    assert all(one != other for one, other in pairwise(marked.colours))
    assert all(one != other for one, other in pairwise(marked.shapes))


def test_no_mark_points_along_an_axis() -> None:
    assert not {"triangle-right", "triangle-left"} & {*SHAPES}


def test_edges_and_marks_without_a_bar_are_explained_where_there_are_some() -> None:
    known = {"rate": 2.0, "low": 1.0, "high": 3.0}
    wild = {"rate": 1.0, "low": 0.1, "high": 90.0}
    assert of_edges([known]) == []
    assert of_edges([known] * 7 + [wild]) == [
        "A bar with an arrow at the edge is wider than shown."
    ]
    alone = {"rate": 1.0, "low": None, "high": None}
    assert of_edges([known, alone]) == ["A mark without a bar has no interval."]


@pytest.mark.parametrize(
    ("case", "rates", "end"),
    [
        ("past an interval", [(2.0, 3.0), (1.0, 2.0)], 3.3),
        ("one of few is wild", [(44.0, 623.0), (47.0, 60.0), (40.0, 55.0), (38.0, 50.0)], 141.0),
        ("nothing was seen", [(0.0, 3.0)], 3.3),
        ("no interval", [(2.0, None)], 2.3),
        ("no rate", [(0.0, None)], 1.0),
    ],
)
def test_a_wild_interval_does_not_set_the_scale(
    case: str, rates: list[tuple[float, float | None]], end: float
) -> None:
    rows = [{"rate": rate, "low": 0.0, "high": high} for rate, high in rates]
    assert axis_end(rows) == pytest.approx(end), case
