"""Charts of the rigs' measures, and of their length checks."""

from __future__ import annotations

from datetime import date
from functools import cache
from math import exp, log
from typing import TYPE_CHECKING, Literal

import altair as alt

from reports.charts import KEY_OF_RIGS, by_rig, layered, panels, whole
from reports.language import say
from reports.rigs.measures import LEAST_SHOWN, MOST_SHOWN, points_with_limits
from schemas.measures import measure
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.marks import Marks
    from reports.parts import Row

HEIGHT = 220
STRIP = 70
FEWEST_CHECKS = 2
TICKS = (0.05, 0.1, 0.2, 0.3, 0.5, 0.7, 1, 1.4, 2, 3, 5, 10, 20)


def measure_chart(findings: Findings, outcome: Row, marks: Marks, of: str) -> Row | None:
    """Each rig's ratio to the reference against a measure, and the line through them."""
    effect = next(
        e for e in findings["measures"] if e["outcome"] == outcome["name"] and e["measure"] == of
    )
    if not effect["points"]:
        return None
    rows = [_point(point, effect) for point in points_with_limits(findings, effect)]
    line = _line(effect)
    ends = _ends([*rows, *line])
    scale = alt.Scale(type="log", domain=ends, nice=False, clamp=True)
    x = alt.X(
        "value:Q",
        title=f"{say(measure(of).title)} ({effect['unit']})",
        scale=alt.Scale(zero=False),
        axis=alt.Axis(tickCount=5),
    )
    axis = alt.Axis(values=[at for at in TICKS if ends[0] <= at <= ends[1]], format="~g")
    reference = findings["season"]["reference_rig"]
    key = KEY_OF_RIGS.copy(deep=False)
    key.values = [rig for rig in marks.rigs if any(row["rig"] == rig for row in rows)]
    colour, shape = by_rig(marks, key)
    base = alt.Chart().encode(x=x, color=colour, description="says:N")
    ratio = alt.Y("ratio:Q", scale=scale)
    chart = layered(
        alt.Chart(alt.NamedData(name="line"))
        .mark_line(color="#888888", strokeWidth=2, aria=False)
        .encode(x=x, y=ratio),
        base.transform_filter("isValid(datum.low)")
        .mark_rule(strokeWidth=2)
        .encode(
            y=alt.Y(
                "low:Q",
                scale=scale,
                axis=axis,
                title=say("times the {reference} rate", reference=reference),
            ),
            y2="high:Q",
        ),
        base.mark_point(filled=True, size=110, opacity=1).encode(y=ratio, shape=shape),
        height=HEIGHT,
    )
    return whole(chart, rows=rows, line=line)


def _ends(rows: list[Row]) -> list[float]:
    """Where the axis ends: past all that is drawn, but for intervals that are wild."""
    drawn = [row[name] for row in rows for name in ("low", "high") if row.get(name)]
    ratios = [row["ratio"] for row in rows]
    low = max(min([*drawn, 0.5]), LEAST_SHOWN) * 0.9
    high = min(max([*drawn, 2.0]), MOST_SHOWN) * 1.1
    return [min(low, *ratios), max(high, *ratios)]


def _point(point: Row, effect: Row) -> Row:
    limits = {} if point["low"] is None else {name: point[name] for name in ("low", "high")}
    said = say(
        "{rig}: {value:g} {unit}, {ratio:z.2f} times the reference",
        rig=point["rig"],
        value=point["value"],
        unit=effect["unit"],
        ratio=point["ratio"],
    )
    between = say(", between {low:.2f} and {high:.2f}", **limits) if limits else ""
    return {
        "rig": point["rig"],
        "value": point["value"],
        "ratio": point["ratio"],
        **limits,
        "says": f"{said}{between}",
    }


def _line(effect: Row) -> list[Row]:
    """Two ends of the line: the slope that is told, through the rigs' middle."""
    points = effect["points"]
    middle_x = sum(point["value"] for point in points) / len(points)
    middle_y = sum(point["log_ratio"] for point in points) / len(points)
    slope = log(effect["ratio"]) / effect["step"]
    return [
        {"value": end, "ratio": exp(middle_y + slope * (end - middle_x))}
        for end in (effect["lowest"], effect["highest"])
    ]


def length_chart(findings: Findings, rig_version: str) -> Row | None:
    """The whole gear's length difference at every check, a strip a boat, and the season's limit."""
    rig = next(rig for rig in findings["rigs"] if rig["rig_version"] == rig_version)
    limit = next((row["limit_percent"] for row in rig["stretch"]), None)
    rows = [
        _check(rig_version, check, limit)
        for check in rig["length_checks"]
        if check["section"] == "whole" and check["difference_percent"] is not None
    ]
    if len(rows) < FEWEST_CHECKS:
        return None
    return {**_strips(*days_axis([row["day"] for row in rows])), "datasets": {"rows": rows}}


def days_axis(days: list[str]) -> tuple[str, int | Literal["day"]]:
    """How days are written under an axis with these, and how many are: none reads as another.

    Over less than half a year marks fall within months, so the day is told; past a new year the
    year is, which takes more room.
    """
    first, last = map(date.fromisoformat, (min(days), max(days)))
    if (last - first).days < HALF_A_YEAR:
        return "%-d %b", 5 if (last - first).days > A_WEEK else "day"
    return ("%b", 6) if first.year == last.year else ("%b %Y", 4)


A_WEEK, HALF_A_YEAR = 7, 183


@cache
def _strips(form: str, ticks: int | Literal["day"]) -> Row:
    """The chart of length checks without its rows, which is the same for many rigs."""
    base = alt.Chart()
    x = alt.X("day:T", title=None, axis=alt.Axis(format=form, tickCount=ticks))
    y = alt.Y("percent:Q", title="%", axis=alt.Axis(tickCount=3, format="~g"))
    filled = alt.Scale(domain=["left", "evened"], range=["#333333", "#ffffff"])
    strips = layered(
        base.mark_rule(strokeDash=[4, 3], color="#9c3d12", aria=False).encode(y="limit:Q"),
        base.mark_line(color="#888888", aria=False).encode(x=x, y=y, detail="spell:N"),
        base.mark_point(size=70, stroke="#333333", opacity=1).encode(
            x=x, y=y, fill=alt.Fill("left:N", scale=filled, legend=None), description="says:N"
        ),
        height=STRIP,
    )
    return whole(panels(strips, "boat"))


def _check(rig_version: str, check: Row, limit: float | None) -> Row:
    evened = "evened" if check["evened"] else "left"
    words = EVENED if check["evened"] else LEFT
    percent, day = check["difference_percent"], check["checked_on"][:10]
    return {
        "boat": check["vessel"],
        "day": day,
        "spell": f"{check['vessel']} {check['spell']}",
        "percent": percent,
        "limit": limit,
        "left": evened,
        "says": say(words, rig_version=rig_version, boat=check["vessel"], day=day, percent=percent),
    }


EVENED = saying("{rig_version}: {boat}, {day}, {percent:z.2f} %, evened")
LEFT = saying("{rig_version}: {boat}, {day}, {percent:z.2f} %, left")
