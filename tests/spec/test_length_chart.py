"""The days under the chart of length checks: no mark reads as another."""

from __future__ import annotations

import json
import re

import pytest

from reports.pictures import svg_of
from reports.rigs.charts import length_chart

CASES = [
    ("two days", ["2031-02-10", "2031-02-11"], r"\d+ \w{3}"),
    ("a week", ["2031-02-10", "2031-02-17"], r"\d+ \w{3}"),
    ("two months", ["2031-02-10", "2031-03-02", "2031-04-16"], r"\d+ \w{3}"),
    ("over a new year", ["2030-12-10", "2031-02-16"], r"\d+ \w{3}"),
    ("eight months", ["2031-02-10", "2031-10-10"], r"\w{3}"),
    ("three years", ["2029-04-01", "2030-02-10", "2031-04-16"], r"\w{3} \d{4}"),
    ("ten years", ["2021-04-01", "2031-04-16"], r"\w{3} \d{4}"),
]


@pytest.mark.parametrize(("days", "form"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_marks_of_days_are_told_apart(days: list[str], form: str) -> None:
    checks = [
        {
            "vessel": "Skua",
            "section": "whole",
            "checked_on": f"{day} 00:00",
            "difference_percent": 0.4,
            "evened": False,
            "spell": 0,
        }
        for day in days
    ]
    rig = {"rig_version": "discs", "stretch": [{"limit_percent": 1.0}], "length_checks": checks}
    chart = length_chart({"rigs": [rig]}, "discs")
    assert chart is not None
    words = re.findall(r">([^<>]+)</text>", svg_of(json.dumps(chart)))
    told = [word for word in words if re.fullmatch(form, word)]
    assert len(told) >= 2
    assert len(set(told)) == len(told)
