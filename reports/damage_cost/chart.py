"""The chart of how mending adds up: a strip a rig, with its interval, checks and changes."""

from __future__ import annotations

from typing import TYPE_CHECKING

import altair as alt

from reports.charts import INK, WIDTH, by_rig, layered, panels, whole
from reports.damage_cost.adding_up import at_hours, boats_at, step_at, told
from reports.damage_cost.amounts import between_ends, figure
from reports.language import say, say_many
from reports.rig_drawing.svg import wrapped
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.marks import Marks
    from reports.parts import Row

STRIP = 64
HEADROOM = 1.15
MOST_OF_A_BAND = 2.0
"""The axis ends no further than so many times the highest mean, whatever the intervals."""

MOMENT_WORDS = {
    "checked": saying("{rig}: {vessel}, {moment}, measured, after {hours:,.0f} hours fished"),
    "evened": saying(
        "{rig}: {vessel}, {moment}, made length for length, after {hours:,.0f} hours fished"
    ),
    "changed": saying(
        "{rig}: {vessel}, {moment}, changed to {changed_to}, after {hours:,.0f} hours fished"
    ),
}

KEY_WORDS = {
    "checked": saying("full dot below: chain and traveller measured"),
    "evened": saying("hollow dot below: made length for length"),
    "changed": saying("dashed upright line: changed to a new version"),
}


def adding_up_chart(findings: Findings, marks: Marks) -> Row | None:
    """The mean cumulative mending hours by hours fished, a strip a rig on common axes."""
    rigs = told(findings)
    if not any(rig["steps"] for rig in rigs):
        return None
    top = _top(rigs)
    rows = [row for rig in rigs for row in (*_line(rig, top), *_points(rig), *_moments(rig))]
    x = alt.X(
        "hours:Q",
        title=say("hours fished"),
        scale=alt.Scale(domain=[0, max(rig["hours"] for rig in rigs)], nice=False),
        axis=alt.Axis(tickCount=6),
    )
    scale = alt.Scale(domain=[0, top], nice=False)
    axis = alt.Axis(tickCount=3, title=say("mended, h"))
    y = alt.Y("mean:Q", title=say("mean"), scale=scale, axis=axis)
    low = alt.Y("low:Q", title=say("low"), scale=scale, axis=axis)
    colour, shape = (channel.title(say("rig")) for channel in by_rig(marks))
    filled = alt.Scale(domain=["checked", "evened"], range=["#333333", "#ffffff"])

    def of(kind: str) -> alt.Chart:
        return alt.Chart().transform_filter(f"datum.kind == '{kind}'").encode(x=x)

    strips = layered(
        of("line")
        .transform_filter("isValid(datum.high)")
        .mark_area(interpolate="step-after", opacity=0.18)
        .encode(y=low, y2=alt.Y2("high:Q", title=say("high")), color=colour),
        of("line").mark_line(interpolate="step-after", strokeWidth=2).encode(y=y, color=colour),
        of("changed")
        .mark_rule(strokeDash=[4, 3], strokeWidth=1.5, color="#9c3d12")
        .encode(description="says:N"),
        of("check")
        .mark_point(size=34, stroke="#333333", strokeWidth=1, opacity=1)
        .encode(y=y, fill=alt.Fill("what:N", scale=filled, legend=None), description="says:N"),
        of("point")
        .mark_point(filled=True, size=60, opacity=1)
        .encode(y=y, color=colour, shape=shape, description="says:N"),
        height=STRIP,
    )
    chart = panels(strips, "rig", marks.rigs)
    return whole({**chart, "title": _key(rows)}, rows=rows)


def _key(rows: list[Row]) -> Row:
    """What is drawn and in which unit, so that the picture can be read where it stands alone."""
    kinds = {row.get("what") for row in rows}
    if any(row.get("high") is not None for row in rows):
        said = [say("Mean hours mended on a boat's set of a rig; shaded, the 95 % interval")]
    else:
        said = [say("Mean hours mended on a boat's set of a rig")]
    said += [say(words) for kind, words in KEY_WORDS.items() if kind in kinds]
    first, *others = (line for words in said for line in wrapped(words, WIDTH))
    return {
        "text": first,
        "subtitle": others,
        "anchor": "start",
        "frame": "group",
        "fontSize": 13,
        "fontWeight": "normal",
        "subtitleFontSize": 13,
        "color": INK,
        "subtitleColor": INK,
        "offset": 14,
    }


def _line(rig: Row, top: float) -> list[Row]:
    """The steps from nothing to the end of the longest life, their intervals cut off at the top."""
    first = {"hours": 0.0, "mean": 0.0, "low": None, "high": None}
    last = {**step_at(rig, rig["hours"]), "hours": rig["hours"]}
    return [
        {
            **step,
            "high": None if step["high"] is None else min(step["high"], top),
            "rig": rig["rig"],
            "kind": "line",
        }
        for step in (first, *rig["steps"], last)
    ]


def _points(rig: Row) -> list[Row]:
    """The figures of the table, which a touched mark says."""
    return [
        {
            "rig": rig["rig"],
            "kind": "point",
            "hours": hours,
            "mean": step["mean"],
            "says": _point_words(rig, hours, step),
        }
        for hours in at_hours(rig)
        for step in [step_at(rig, hours)]
    ]


def _point_words(rig: Row, hours: float, step: Row) -> str:
    mended = say(
        "{rig}: {mean} hours mended by {hours:,.0f} hours fished",
        rig=rig["rig"],
        mean=figure(step["mean"]),
        hours=hours,
    )
    limits = "" if step["high"] is None else f", {between_ends(step)}"
    boats = say_many("{number} boat got so far", "{number} boats got so far", boats_at(rig, hours))
    return f"{mended}{limits}; {boats}"


def _moments(rig: Row) -> list[Row]:
    """Checks as marks on the line below, changes as upright lines."""
    return [
        {
            "rig": rig["rig"],
            "kind": "changed" if moment["kind"] == "changed" else "check",
            "what": moment["kind"],
            "hours": moment["hours"],
            "mean": 0.0,
            "says": _moment_words(rig, moment),
        }
        for moment in rig["moments"]
        if moment["hours"] <= rig["hours"]
    ]


def _moment_words(rig: Row, moment: Row) -> str:
    words = MOMENT_WORDS[moment["kind"]]
    return say(words, **{**moment, "rig": rig["rig"]})


def _top(rigs: list[Row]) -> float:
    """Where the axis ends: past every mean, and past the intervals as far as they are not wild."""
    steps = [step for rig in rigs for step in rig["steps"]]
    highest = max(step["mean"] for step in steps)
    highs = max((step["high"] for step in steps if step["high"] is not None), default=0.0)
    return float(min(max(highest * HEADROOM, highs), highest * MOST_OF_A_BAND))
