"""A small share of `tests/proofs/measures_over_seasons.py`, which takes hundreds of seasons."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

import pytest

from pipeline.run_season import run_season
from synthetic_data.measured_season import Law, write_measured_season

SEASONS = 4
LAW = {
    ("damage_events", "largest_diameter_mm"): "damage_per_100_mm",
    ("damage_events", "length_difference_percent"): "damage_per_percent",
    ("bottom_living_kg", "largest_diameter_mm"): "kg_per_100_mm",
    ("bottom_living_kg", "length_difference_percent"): "kg_per_percent",
}


@pytest.fixture(scope="module")
def told() -> list[dict[tuple[str, str], dict[str, Any]]]:
    """What each season tells of its measures."""
    seasons = []
    for seed in range(SEASONS):
        with tempfile.TemporaryDirectory() as folder:
            write_measured_season(Path(folder), seed)
            measures = run_season(folder).findings["measures"]
        seasons.append({(effect["outcome"], effect["measure"]): effect for effect in measures})
    return seasons


def test_the_intervals_hold_the_law(told: list[dict[tuple[str, str], dict[str, Any]]]) -> None:
    """Of 16 intervals that each hold 19 times in 20, 12 or fewer hold once in 140 times."""
    held = [
        season[key]["low"] <= getattr(Law(), name) <= season[key]["high"]
        for season in told
        for key, name in LAW.items()
    ]
    assert len(held) == SEASONS * len(LAW)
    assert sum(held) > 12


def test_measures_without_an_effect_are_not_called_clear(
    told: list[dict[tuple[str, str], dict[str, Any]]],
) -> None:
    nothing = [
        effect["verdict"]
        for season in told
        for (_, measure), effect in season.items()
        if measure in {"weight_water_kg_per_m", "gap_mm"}
    ]
    assert len(nothing) == SEASONS * 4
    assert sum(verdict in {"lower", "higher"} for verdict in nothing) <= 2


def test_a_measure_that_nobody_recorded_is_not_told(
    told: list[dict[tuple[str, str], dict[str, Any]]],
) -> None:
    assert all(season["damage_events", "slack_m"]["ratio"] is None for season in told)
