"""Changes of rig on one axis, two rigs a panel; below them the days without a change, as ticks."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import altair as alt

from reports.cells import ratio_cell
from reports.changes.sentences import KIND, moved, told_in_turn
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

TOGETHER, QUIET = saying("all together"), saying("days without a change")
ALL_OF_KIND = {True: saying("all between trips"), False: saying("all during a trip")}
AT_EDGE = {"none after": "triangle-left", "none before": "triangle-right"}
"""Hollow triangles, unlike any rig's mark, at the ends of the scale, on which a ratio of nought, or
of something to nought, has no place."""


def changes_chart(findings: Findings, outcome: Row, marks: Marks) -> Row | None:
    """The changes of each two rigs, all of them together, and the days without a change."""
    found, name = findings["changes"], outcome["name"]
    rows = [*_changes(found, outcome), *_pairs(found, name), *_quiet(found, name)]
    if not any(row["kind"] == "change" for row in rows):
        return None
    ends = _ends([row for row in rows if row["kind"] not in AT_EDGE])
    rows = [_at_edge(row, ends) if row["kind"] in AT_EDGE else row for row in rows]
    scale = alt.Scale(type="log", domain=ends, clamp=True, nice=False)
    together, quiet = say(TOGETHER), say(QUIET)
    pairs = list(dict.fromkeys(row["panel"] for row in rows if row["panel"] != quiet))
    names = list(dict.fromkeys(row["name"] for row in rows if row["name"] != together))
    width = width_beside([*names, together])
    axis = alt.Axis(
        values=ratio_ticks(ends, width),
        format="~g",
        title=say("times the rate before"),
    )
    y = alt.Y("name:N", sort=[*names, together], title=None)
    across = partial(alt.X, scale=scale, axis=axis)
    colour, shape = by_rig(marks)

    def of(*kinds: str) -> alt.Chart:
        return alt.Chart().transform_filter(f"indexof({list(kinds)}, datum.kind) >= 0")

    def told(*kinds: str) -> alt.Chart:
        return of(*kinds).encode(y=y, description="says:N")

    layers = layered(
        alt.Chart().mark_rule(**NO_DIFFERENCE).encode(x=alt.X(datum=1, scale=scale)),
        told("change", *AT_EDGE)
        .mark_rule(strokeWidth=3)
        .encode(x=across("low:Q"), x2="high:Q", color=colour),
        told("together")
        .mark_rule(strokeWidth=7, color=GREY)
        .encode(x=across("low:Q"), x2="high:Q"),
        told("quiet").mark_tick(thickness=2, size=16, color=GREY).encode(x=across("ratio:Q")),
        told("change")
        .mark_point(filled=True, size=110, opacity=1)
        .encode(x=across("ratio:Q"), color=colour, shape=shape),
        told("together").mark_point(**OF_ALL).encode(x=across("ratio:Q")),
        *(
            told(kind)
            .mark_point(filled=False, shape=arrow, size=130, strokeWidth=2, opacity=1)
            .encode(x=across("ratio:Q"), color=colour)
            for kind, arrow in AT_EDGE.items()
        ),
        *arrows_beyond(of("change", *AT_EDGE), scale, ends, y, colour),
        *arrows_beyond(of("together"), scale, ends, y),
        height={"step": STEP},
        width=width,
    )
    return whole(panels(layers, "panel", [*pairs, quiet], apart="y"), rows=rows)


def _changes(found: Row, outcome: Row) -> list[Row]:
    """Each change of rig that has a ratio, or that nothing came before or after."""
    return [
        {
            "panel": say(
                "{before} to {after}", before=change["rig_before"], after=change["rig_after"]
            ),
            "kind": _kind(held["about"]),
            "rig": change["rig_after"],
            "name": f"{change['vessel']} {change['day']}",
            **_limits(held["about"]),
            "says": _change_words(change, held["about"], outcome),
        }
        for change, held in told_in_turn(found, outcome)
        if held["about"]["why_none"] is None
    ]


def _kind(about: Row) -> str:
    if about["ratio"] is None:
        return "none before"
    return "change" if about["ratio"] else "none after"


def _change_words(change: Row, about: Row, outcome: Row) -> str:
    named = {
        "rig": change["rig_after"],
        "boat": change["vessel"],
        "day": change["day"],
        "rig_before": change["rig_before"],
    }
    if _kind(about) in AT_EDGE:
        return say(
            "{rig}: {boat}, {day}, after {rig_before}: {what}; drawn at the end of the scale",
            what=moved(about, outcome),
            **named,
        )
    return say(
        "{rig}: {boat}, {day}, {ratio} times (between {low} and {high}) {rig_before}'s before",
        **named,
        **_in_words(about),
    )


def _at_edge(row: Row, ends: list[float]) -> Row:
    """The row at its end of the scale, with a bar as far as the limit that it has."""
    if row["kind"] == "none after":
        return row | {"ratio": ends[0], "low": ends[0], "high": row["high"] or ends[0]}
    return row | {"ratio": ends[1], "low": row["low"] or ends[1], "high": ends[1]}


def _pairs(found: Row, name: str) -> list[Row]:
    """All changes between two rigs, in a panel of their own where they went both ways."""
    return [
        {
            "panel": say("{rig}, times {reference}", rig=pair["rig"], reference=pair["reference"]),
            "kind": "together",
            "rig": pair["rig"],
            "name": say(TOGETHER),
            **_limits(pooled["ratio"]),
            "says": say(
                "{rig}: {changes} changes together, {ratio} times (between {low} and {high}) "
                "{reference}'s",
                rig=pair["rig"],
                changes=pooled["days"],
                reference=pair["reference"],
                **_in_words(pooled["ratio"]),
            ),
        }
        for pair in found["pairs"]
        for pooled in pair["ratios"]
        if pooled["ratio"]["outcome"] == name and pooled["ratio"]["log_ratio"] is not None
    ]


def _quiet(found: Row, name: str) -> list[Row]:
    """A tick a day without a change, and all of a kind together."""
    days = [
        {
            "panel": say(QUIET),
            "kind": "quiet",
            "rig": day["rig"],
            "name": say(KIND[day["between_trips"]]),
            **_limits(about),
            "says": say(
                "{rig}: {boat}, {day}, no change, {ratio} times (between {low} and {high}) that "
                "before",
                rig=day["rig"],
                boat=day["vessel"],
                day=day["day"],
                **_in_words(about),
            ),
        }
        for day in found["without"]
        for about in day["ratios"]
        if about["outcome"] == name and about["log_ratio"] is not None
    ]
    return days + [
        {
            "panel": say(QUIET),
            "kind": "together",
            "rig": "",
            "name": say(ALL_OF_KIND[placebo["between_trips"]]),
            **_limits(placebo["together"]),
            "says": say(
                "{days} days without a change, {kind}: {ratio} times (between {low} and {high}) "
                "that before",
                days=placebo["days"],
                kind=say(KIND[placebo["between_trips"]]),
                **_in_words(placebo["together"]),
            ),
        }
        for placebo in found["placebos"]
        if placebo["outcome"] == name and placebo["together"]["log_ratio"] is not None
    ]


def _limits(about: Row) -> Row:
    return {name: about[name] for name in ("ratio", "low", "high")}


def _in_words(about: Row) -> dict[str, str]:
    return {name: ratio_cell(value) for name, value in _limits(about).items()}


def _ends(rows: list[Row]) -> list[float]:
    """Where the axis ends, by all dots, and by the intervals of what is no quiet day."""
    told = [row for row in rows if row["low"] is not None and row["kind"] != "quiet"]
    lows, highs = ([row[name] for row in told] or [1.0] for name in ("low", "high"))
    return ratio_ends([row["ratio"] for row in rows], lows, highs)
