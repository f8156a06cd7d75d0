"""The answer in a few sentences says of a ground only what is true of it."""

from __future__ import annotations

from typing import Any

import pytest

from reports.lead import lead
from tests.spec.test_doubts import effect, found

Row = dict[str, Any]


def fished(sand: tuple[int, float], rocky: tuple[int, float]) -> list[Row]:
    return [
        {"rig_version": "discs", "ground": ground, "hauls": hauls, "tow_hours": hours}
        for ground, (hauls, hours) in {"sand": sand, "rocky": rocky}.items()
    ]


@pytest.mark.parametrize(
    ("sand", "rocky", "told", "says"),
    [
        (
            (14, 41.2),
            (14, 44.2),
            ("sand", "rocky"),
            "On rocky ground alone, where it made the most ",
        ),
        (
            (15, 41.2),
            (14, 44.2),
            ("sand", "rocky"),
            "On sand alone, where it made the most hauls: ",
        ),
        ((15, 41.2), (14, 44.2), ("rocky",), "On rocky ground alone: "),
        ((14, 41.2), (14, 41.2), ("sand", "rocky"), "On sand alone: "),
    ],
)
def test_the_ground_fished_most_is_that_of_most_hauls_and_then_of_most_hours(
    sand: tuple[int, float], rocky: tuple[int, float], told: tuple[str, ...], says: str
) -> None:
    clear = {"ratio": 0.5, "low": 0.3, "high": 0.8, "raw_ratio": 0.5, "verdict": "lower"}
    effects = [effect(**clear), *(effect(ground=ground, **clear) for ground in told)]
    said = lead(found(effects, rig_by_ground=fished(sand, rocky)))
    assert f". {says}" in said


def test_a_ground_of_few_trips_or_hauls_is_not_told_in_the_answer() -> None:
    clear = {"ratio": 0.5, "low": 0.3, "high": 0.8, "raw_ratio": 0.5, "verdict": "lower"}
    effects = [
        effect(**clear),
        effect(ground="rocky", cautions=["few trips"], **clear),
        effect(ground="sand", **clear),
    ]
    said = lead(found(effects, rig_by_ground=fished((14, 41.2), (40, 120.0))))
    assert "rocky" not in said
    assert ". On sand alone: " in said
