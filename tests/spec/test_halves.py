"""A tall chart of panels is cut between two of them for paper, and nothing of it is lost."""

from __future__ import annotations

import re

import altair as alt
import pytest

from reports.charts import in_page, layered, panels, whole
from reports.halves import in_halves
from reports.pictures import DRAWN_HERE

WINDOW = re.compile(r'<svg viewBox="0 ([\d.]+) ([\d.]+) ([\d.]+)"><use href="#(.*?)"/>')


def drawn(names: str, height: int) -> str:
    bars = alt.Chart().mark_bar().encode(x=alt.X("much:Q"), y=alt.Y("name:N"))
    rows = [{"panel": name, "name": name, "much": 1.0} for name in names]
    chart = whole(panels(layered(bars, height=height), "panel", list(names), apart="y"), rows=rows)
    return in_page(DRAWN_HERE.chart(chart)(), "tall")


def test_the_halves_are_all_of_the_chart_and_share_its_axis() -> None:
    svg, halves = in_halves(drawn("abcdef", 120), "tall")
    wide, high = map(float, re.findall(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)[0])
    windows = [(*map(float, found[:3]), found[3]) for found in WINDOW.findall(halves)]
    (upper, axis, lower) = windows
    assert {window[1] for window in windows} == {wide}
    assert (upper[0], lower[0], lower[0] + lower[2]) == (0, upper[2], high)
    assert axis[0] + axis[2] == pytest.approx(high)
    assert lower[0] < axis[0]
    assert {window[3] for window in windows} == {"tall-whole"}
    assert svg.count('id="tall-whole"') == 1


@pytest.mark.parametrize(("names", "height"), [("abc", 300), ("abcd", 40)])
def test_a_chart_of_few_panels_or_not_tall_is_left_whole(names: str, height: int) -> None:
    svg = drawn(names, height)
    assert in_halves(svg, "low") == (svg, "")
