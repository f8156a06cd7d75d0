"""A ratio in words: never as never, and judged only where it tells."""

from __future__ import annotations

from typing import Any

import pytest

from reports.coop.boat_page import boat_screen
from reports.ratio_words import amount, span

TEARS = {
    "name": "damage_events",
    "title": "Net damage",
    "said": "{rig} damaged the net {amount} per hour towed than {reference}",
    "said_of_times": "{rig} damaged the net {amount} per hour towed as {reference}",
    "fish": "",
    "less": "less often",
    "more": "more often",
    "better": "lower",
}


@pytest.mark.parametrize(
    ("ratio", "said"),
    [
        (0.006, "99 % less often"),
        (0.0049, "more than 99 % less often"),
        (0.0, "more than 99 % less often"),
        (0.996, "neither less often nor more often"),
    ],
)
def test_hardly_any_is_not_told_as_none(ratio: float, said: str) -> None:
    assert amount(ratio, TEARS) == said


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [
        (0.003, 49.0, "anything from more than 99 % less often to 49 times as often"),
        (0.0, 0.4, "between 60 and more than 99 % less often"),
        (0.001, 0.004, "more than 99 % less often"),
        (0.3, 0.8, "between 20 and 70 % less often"),
    ],
)
def test_no_range_ends_at_never(low: float, high: float, said: str) -> None:
    assert span(low, high, TEARS) == said


@pytest.mark.parametrize(
    ("ratio", "low", "high", "judged"),
    [
        (1.001, 0.48, 2.1, ": by itself too little to tell."),
        (0.38, 0.003, 49.0, ": by itself too little to tell."),
        (0.5, 0.4, 0.7, ": what a skipper would want."),
        (2.5, 1.2, 3.0, ": not what a skipper would want."),
        (0.998, 0.997, 0.999, ")."),
    ],
)
def test_a_boat_is_told_whether_it_gains_where_its_hauls_tell_it(
    ratio: float, low: float, high: float, judged: str
) -> None:
    row: dict[str, Any] = {"outcome": "damage_events", "rig": "discs", "reference": "bobbins"}
    row |= {"ratio": ratio, "low": low, "high": high, "gains": ratio < 1, "mean": None}
    season = {"reference_rig": "bobbins", "title": "2031", "first_month": None}
    screen = boat_screen({"boat": "Skua", "season": season, "outcomes": [TEARS], "ratios": [row]})
    assert screen.untold[0].endswith(judged)
    assert ("would want" in screen.untold[0]) == ("would want" in judged)
