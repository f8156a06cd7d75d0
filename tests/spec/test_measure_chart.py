"""The chart of a measure draws the intervals that the tables tell, and says so where one is cut."""

from __future__ import annotations

from dataclasses import asdict
from math import log
from typing import Any

import pytest

from pipeline.rates.measures import MeasureEffect, RigPoint
from reports.marks import marks
from reports.rigs.charts import measure_chart
from reports.rigs.measures import measures

MARKS = marks(["chain", "discs", "rope"], "rope")
OUTCOME = {
    "name": "damage_events",
    "title": "Net damage",
    "unit": "times",
    "better": "lower",
    "less": "less often",
    "more": "more often",
}


def findings_of(limits: tuple[float, float]) -> dict[str, Any]:
    points = [("rope", 100.0, 1.0), ("chain", 13.0, 2.0), ("discs", 400.0, 0.5)]
    effect = MeasureEffect(
        "damage_events",
        "largest_diameter_mm",
        100.0,
        "mm",
        ratio=0.7,
        low=0.5,
        high=0.9,
        lowest=13.0,
        highest=400.0,
        hauls=90,
        trips=30,
        rigs=[rig for rig, *_ in points],
        points=[RigPoint(rig, value, log(ratio), 0.1) for rig, value, ratio in points],
        verdict="lower",
    )
    told = {"rig": "chain", "outcome": "damage_events", "ground": "all", "ratio": 2.0}
    return {
        "season": {"reference_rig": "rope"},
        "outcomes": [OUTCOME],
        "measures": [asdict(effect)],
        "effects": [
            told | {"low": limits[0], "high": limits[1]},
            told | {"rig": "discs", "ratio": 0.5, "low": None, "high": None},
            told | {"ground": "mud", "low": 1.9, "high": 2.1},
        ],
    }


@pytest.mark.parametrize(("high", "cut"), [(5.0, False), (900.0, True)])
def test_a_bar_is_the_rigs_own_interval_and_a_cut_one_is_told(high: float, *, cut: bool) -> None:
    findings = findings_of((0.8, high))
    section = measures(findings)
    assert section is not None
    (figure,) = section.figures
    assert ("runs off the edge" in figure.caption) is cut
    assert [row[0] for row in figure.table.rows] == ["rope", "chain", "discs"]
    assert [row[-1] for row in figure.table.rows] == ["–", f"0.80 to {high:.2f}", "–"]
    chart = measure_chart(findings, OUTCOME, MARKS, "largest_diameter_mm")
    assert chart is not None
    rows = {row["rig"]: row for row in chart["datasets"]["rows"]}
    assert (rows["chain"]["low"], rows["chain"]["high"]) == (0.8, high)
    assert "high" not in rows["discs"]
    assert "between 0.80 and" in rows["chain"]["says"]
    lowest, highest = chart["layer"][1]["encoding"]["y"]["scale"]["domain"]
    assert lowest < 0.5
    assert highest > 2.0
    assert (highest < high) is cut
