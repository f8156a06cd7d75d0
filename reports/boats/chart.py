"""The boats of each rig on one axis: a dot and an interval a boat, their mean, a further boat."""

from __future__ import annotations

from typing import TYPE_CHECKING

import altair as alt

from reports.boats.sentences import with_a_ratio
from reports.cells import ratio_cell
from reports.charts import (
    STEP,
    arrows_beyond,
    by_rig,
    layered,
    panels,
    ratio_ticks,
    whole,
    width_beside,
)
from reports.language import say
from reports.marks import REFERENCE_COLOUR
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.marks import Marks
    from reports.parts import Row

GREY = REFERENCE_COLOUR
"""Seen on white paper and on a dark screen."""
OVER_BOATS = saying("mean over boats")
FURTHEST = 20.0
"""Intervals are drawn no further than to so large a ratio, either way, unless a dot lies there."""


def boats_chart(findings: Findings, outcome: Row, marks: Marks) -> Row | None:
    """Each rig with a mean over boats as a small chart: its boats, the mean, a further boat."""
    pooled = [
        row
        for row in findings["boats"]
        if row["outcome"] == outcome["name"] and row["mean"] is not None
    ]
    if not pooled:
        return None
    rows = [each for row in pooled for each in (*_boats(row), _mean(row))]
    ends = _ends(rows)
    scale = alt.Scale(type="log", domain=ends, clamp=True, nice=False)
    boats = dict.fromkeys(row["name"] for row in rows if row["kind"] == "boat")
    order = [*boats, say(OVER_BOATS)]
    width = width_beside(order)
    axis = alt.Axis(
        values=ratio_ticks(ends, width),
        format="~g",
        title=say("times {reference}'s", reference=findings["season"]["reference_rig"]),
    )
    y = alt.Y("name:N", sort=order, title=None)
    says = alt.Description("says:N")
    colour, shape = by_rig(marks)

    def across(low: str) -> alt.X:
        return alt.X(low, scale=scale, axis=axis)

    def of(kind: str, needs: str = "ratio") -> alt.Chart:
        return alt.Chart().transform_filter(f"datum.kind == '{kind}' && isValid(datum.{needs})")

    layers = layered(
        alt.Chart()
        .mark_rule(strokeDash=[4, 3], color="#888888", aria=False)
        .encode(x=alt.X(datum=1, scale=scale)),
        of("boat", "low")
        .mark_rule(strokeWidth=3)
        .encode(x=across("low:Q"), x2=alt.X2("high:Q"), y=y, color=colour, description=says),
        of("mean", "further_low")
        .mark_rule(strokeWidth=1.5, color=GREY)
        .encode(x=across("further_low:Q"), x2=alt.X2("further_high:Q"), y=y, description=says),
        of("mean")
        .mark_rule(strokeWidth=7, color=GREY)
        .encode(x=across("low:Q"), x2=alt.X2("high:Q"), y=y, description=says),
        of("boat")
        .mark_point(filled=True, size=110, opacity=1)
        .encode(x=across("ratio:Q"), y=y, color=colour, shape=shape, description=says),
        of("boat", "drawn")
        .mark_tick(thickness=3, size=16, color=GREY)
        .encode(x=across("drawn:Q"), y=y, description=says),
        of("mean")
        .mark_point(filled=True, shape="diamond", size=190, opacity=1, color="#ffffff", stroke=GREY)
        .encode(x=across("ratio:Q"), y=y, description=says),
        *arrows_beyond(of("boat"), scale, ends, y, colour),
        *arrows_beyond(of("mean"), scale, ends, y),
        height={"step": STEP},
        width=width,
    )
    return whole(panels(layers, "rig", marks.rigs, apart="y"), rows=rows)


def _boats(row: Row) -> list[Row]:
    return [
        {
            "rig": row["rig"],
            "kind": "boat",
            "name": boat["vessel"],
            "ratio": boat["ratio"],
            "low": boat["low"],
            "high": boat["high"],
            "drawn": boat["shrunken_ratio"],
            "says": _told(boat["vessel"], boat, row) + _drawn(boat),
        }
        for boat in with_a_ratio(row)
    ]


RATIO_ALONE = saying("{rig}: {name}, {ratio} times {reference}'s")
RATIO_AND_LIMITS = saying("{rig}: {name}, {ratio} times {reference}'s, between {low} and {high}")


def _mean(row: Row) -> Row:
    mean = row["mean"]
    return {
        "rig": row["rig"],
        "kind": "mean",
        "name": say(OVER_BOATS),
        **{name: mean[name] for name in ("ratio", "low", "high", "further_low", "further_high")},
        "says": _told(say(OVER_BOATS), mean, row) + _further(mean),
    }


def _drawn(boat: Row) -> str:
    """Where the boat is thought to lie when the others are heard too, if that is told."""
    drawn = boat["shrunken_ratio"]
    if drawn is None:
        return ""
    return "; " + say("drawn towards the other boats {ratio}", ratio=ratio_cell(drawn))


def _further(mean: Row) -> str:
    """Where a further boat might lie, if that is told."""
    low, high = mean["further_low"], mean["further_high"]
    if low is None:
        return ""
    return "; " + say(
        "a further boat between {low} and {high}", low=ratio_cell(low), high=ratio_cell(high)
    )


def _told(name: str, told: Row, row: Row) -> str:
    """The ratio in words; under a letter it has no limits."""
    return say(
        RATIO_ALONE if told["low"] is None else RATIO_AND_LIMITS,
        rig=row["rig"],
        name=name,
        ratio=ratio_cell(told["ratio"]),
        reference=row["reference"],
        low=ratio_cell(told["low"]),
        high=ratio_cell(told["high"]),
    )


def _ends(rows: list[Row]) -> list[float]:
    """The axis: all dots, and the intervals as far as they are not wild."""

    def told(*names: str) -> list[float]:
        return [row[name] for row in rows for name in names if row.get(name) is not None]

    dots = told("ratio", "drawn")
    lows, highs = told("low", "further_low"), told("high", "further_high")
    return [
        min(min(dots) * 0.8, 0.5, max(min(lows) * 0.9, 1 / FURTHEST)),
        max(max(dots) * 1.25, 2.0, min(max(highs) * 1.1, FURTHEST)),
    ]
