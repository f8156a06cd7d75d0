"""The boats of each rig on one axis: a dot and an interval a boat, their mean, a further boat."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import altair as alt

from reports.boats.sentences import with_a_ratio
from reports.cells import ratio_cell
from reports.charts import (
    GREY,
    NO_DIFFERENCE,
    OF_ALL,
    STEP,
    arrows_beyond,
    by_rig,
    layered,
    panels,
    ratio_ends,
    ratio_ticks,
    whole,
    width_beside,
)
from reports.language import say
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.marks import Marks
    from reports.parts import Row

OVER_BOATS = saying("mean over boats")


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
    across = partial(alt.X, scale=scale, axis=axis)
    colour, shape = by_rig(marks)

    def of(kind: str, needs: str = "ratio") -> alt.Chart:
        return alt.Chart().transform_filter(f"datum.kind == '{kind}' && isValid(datum.{needs})")

    boat, ranged, mean, further, drawn = (
        of(*told).encode(y=y, description="says:N")
        for told in (
            ("boat",),
            ("boat", "low"),
            ("mean",),
            ("mean", "further_low"),
            ("boat", "drawn"),
        )
    )
    layers = layered(
        alt.Chart().mark_rule(**NO_DIFFERENCE).encode(x=alt.X(datum=1, scale=scale)),
        ranged.mark_rule(strokeWidth=3).encode(x=across("low:Q"), x2="high:Q", color=colour),
        further.mark_rule(strokeWidth=1.5, color=GREY).encode(
            x=across("further_low:Q"), x2="further_high:Q"
        ),
        mean.mark_rule(strokeWidth=7, color=GREY).encode(x=across("low:Q"), x2="high:Q"),
        boat.mark_point(filled=True, size=110, opacity=1).encode(
            x=across("ratio:Q"), color=colour, shape=shape
        ),
        drawn.mark_tick(thickness=3, size=16, color=GREY).encode(x=across("drawn:Q")),
        mean.mark_point(**OF_ALL).encode(x=across("ratio:Q")),
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
    """Where the axis ends, by what boats, means and further boats have."""

    def told(*names: str) -> list[float]:
        return [row[name] for row in rows for name in names if row.get(name) is not None]

    return ratio_ends(
        told("ratio", "drawn"), told("low", "further_low"), told("high", "further_high")
    )
