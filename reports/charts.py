"""The charts, as Vega-Lite through altair.

A chart's marks carry their own words (`description`), beginning with the rig and a colon: these
are what a screen reader says, what the page shows on touch, and how it finds a rig's marks.
"""

from __future__ import annotations

import re
from math import log
from typing import TYPE_CHECKING

import altair as alt

from reports.cells import (
    had_none,
    over_all_grounds,
    ratio_cell,
    ratio_or_none,
    short_ground,
    unit_of_rates,
)
from reports.language import say
from reports.marks import REFERENCE_COLOUR
from reports.one_tow import as_effect
from reports.rates_drawn import axis_end, rates_drawn
from reports.sentences import in_part, is_told, title_of, where

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from pipeline.findings import Findings
    from reports.marks import Marks
    from reports.parts import Row

WIDTH = 330
WHOLE_WIDTH, BESIDE = 424, 40
"""How wide a chart with names at its side may be, and what it takes beside names and marks.

On a phone of 360 pixels the letters of a chart so wide are still ten pixels high.
"""
LETTER, LONGEST_NAME = 7, 140
"""About how wide a letter of a name is, and the widest that a name may be."""
STEP = 26
CLOSE_RATIOS, WIDE_RATIOS = (0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20), (0.05, 0.2, 1, 5, 20)
RATIO_ROOM = 32
"""What the name of a ratio takes, so that it is not left out beside the next."""
INK = "#333333"
GRID = "#8888884d"
NO_DIFFERENCE: Row = {"strokeDash": [4, 3], "color": "#888888", "aria": False}
"""How the line looks at which nothing differs."""
GREY = REFERENCE_COLOUR
"""Seen on white paper and on a dark screen."""
OF_ALL: Row = {
    "filled": True,
    "shape": "diamond",
    "size": 190,
    "opacity": 1,
    "color": "#ffffff",
    "stroke": GREY,
}
"""How the mark of a mean looks."""
FURTHEST = 20.0
"""Intervals are drawn no further than to so large a ratio, either way, unless a dot lies there."""

ROWS: Row = {"name": "rows"}
"""The table that a chart's marks are drawn from."""

KEY_OF_RIGS = alt.Legend(
    orient="bottom", columns=3, title=None, labelFontSize=13, labelLimit=110, symbolSize=70
)
"""The key to the rigs' marks, where they are not named in the chart."""

NAME_TO_PANEL, BETWEEN_PANELS = -8, 24
"""The room under a panel's name, beside that of the name itself, and that between two panels."""

NO_DATA = {"name": "empty"}
"""What altair writes of a chart that is given no data."""

CONFIG = {
    "background": "transparent",
    "font": "Helvetica, Arial, sans-serif",
    "padding": {"left": 14, "right": 14, "top": 6, "bottom": 6},
    "view": {"stroke": None},
    "axis": {
        "labelFontSize": 13,
        "titleFontSize": 13,
        "titleFontWeight": "normal",
        "gridColor": GRID,
        "domainColor": "#888888",
        "tickColor": "#888888",
        "labelColor": INK,
        "titleColor": INK,
        "labelLimit": LONGEST_NAME,
        "aria": False,
    },
    "legend": {"aria": False},
    "title": {"aria": False},
    "header": {"labelFontSize": 14, "labelFontWeight": "bold", "labelColor": INK, "title": None},
}


def ratio_chart(findings: Findings, outcome: Row, marks: Marks) -> Row | None:
    """Each rig against the reference over all grounds: interval, estimate, and the raw ratio."""
    rows = [
        {
            "rig": effect["rig"],
            "ratio": effect["ratio"] or None,
            "low": effect["low"],
            "high": effect["high"],
            "raw": effect["raw_ratio"] or None,
            "says": _ratio_words(effect, outcome),
        }
        for effect in over_all_grounds(findings["effects"], outcome["name"])
        if is_told(effect)
        and effect["high"] is not None
        and (had_none(effect) or (effect["low"] and effect["ratio"]))
    ]
    if not rows:
        return None
    told = [value for row in rows for value in (row["low"], row["high"], row["raw"]) if value]
    ends = [min([*told, 0.5]) * 0.9, max([*told, 2.0]) * 1.1]
    from_none_on = [row for row in rows if row["low"] == 0]
    for row in from_none_on:
        row["low"] = ends[0] / 2  # a log scale has no place for nought, so beyond its edge
    scale = alt.Scale(type="log", domain=ends, nice=False, clamp=bool(from_none_on))
    axis = alt.Axis(
        values=[at for at in (0.1, 0.2, 0.5, 1, 2, 5, 10) if ends[0] <= at <= ends[1]],
        format="~g",
        title=say("times the {reference} rate", reference=findings["season"]["reference_rig"]),
    )
    colour, shape = by_rig(marks)
    base = alt.Chart().encode(y=rig_by_rig(marks), description="says:N")
    chart = layered(
        alt.Chart(alt.NamedData(name="alike"))
        .mark_rule(**NO_DIFFERENCE)
        .encode(x=alt.X("at:Q", scale=scale)),
        base.mark_rule(strokeWidth=3).encode(
            x=alt.X("low:Q", scale=scale, axis=axis), x2="high:Q", color=colour
        ),
        base.mark_point(filled=True, size=130, opacity=1).encode(
            x="ratio:Q", color=colour, shape=shape
        ),
        base.mark_tick(thickness=2.5, size=22, color=INK, opacity=1).encode(x="raw:Q"),
        *(arrows_beyond(base, scale, ends, rig_by_rig(marks), colour) if from_none_on else []),
        height={"step": STEP + 4},
        width=width_beside(row["rig"] for row in rows),
    )
    return whole(chart, rows=rows, alike=[{"at": 1}])


def one_tow_chart(findings: Findings, outcome: Row, marks: Marks) -> Row | None:
    """The same from the tows that fished a rig and the reference at once."""
    reference = findings["season"]["reference_rig"]
    rows = [as_effect(row) for row in findings["twin_tows"] if row["reference"] == reference]
    return ratio_chart({**findings, "effects": rows}, outcome, marks)


def _ratio_words(effect: Row, outcome: Row) -> str:
    if had_none(effect):
        return say(
            "{rig}: {outcome} in {none}, up to {high} times {reference}'s",
            rig=effect["rig"],
            outcome=title_of(outcome),
            none=ratio_or_none(effect),
            high=ratio_cell(effect["high"]),
            reference=effect["reference"],
        ) + in_part(effect)
    said = say(
        "{rig}: {outcome} {ratio} times {reference}'s, between {low} and {high}",
        rig=effect["rig"],
        outcome=title_of(outcome),
        reference=effect["reference"],
        **{name: ratio_cell(effect[name]) for name in ("ratio", "low", "high")},
    )
    raw = effect["raw_ratio"]
    as_recorded = say("; as recorded {ratio}", ratio=ratio_cell(raw)) if raw else ""
    return f"{said}{in_part(effect)}{as_recorded}"


def rate_chart(findings: Findings, outcome: Row, marks: Marks) -> Row | None:
    """The rate as recorded on each ground, a small chart a ground, with its interval."""
    grounds = findings["season"]["grounds"]
    rows = [
        {
            "rig": rate["rig"],
            "ground": short_ground(rate["ground"]),
            **{name: rate[name] for name in ("rate", "low", "high")},
            "says": _rate_words(rate, outcome),
        }
        for rate in rates_drawn(findings, outcome)
    ]
    if not rows:
        return None
    y, (colour, shape) = rig_by_rig(marks), by_rig(marks)
    unit = unit_of_rates(outcome)
    top = axis_end(rows)
    x = alt.Scale(domain=[0, top], clamp=True)
    base = alt.Chart().encode(y=y, color=colour, description="says:N")
    layers = layered(
        base.mark_rule(strokeWidth=2.5).encode(
            x=alt.X("low:Q", scale=x, title=unit, axis=alt.Axis(tickCount=4)), x2="high:Q"
        ),
        base.mark_point(filled=True, size=90, opacity=1).encode(
            x=alt.X("rate:Q", scale=x), shape=shape
        ),
        *arrows_beyond(alt.Chart(), x, [0, top], y, colour),
        height={"step": STEP - 4},
        width=width_beside(row["rig"] for row in rows),
    )
    order = [short_ground(ground) for ground in grounds]
    return whole(panels(layers, "ground", order, apart="y"), rows=rows)


def _rate_words(rate: Row, outcome: Row) -> str:
    known = rate["high"] is not None
    limits = say(", between {low:.3g} and {high:.3g}", **rate) if known else ""
    return say(
        "{rig}:{place} {rate:.3g} {unit}{limits}; {hauls} hauls, {tow_hours:,.0f} hours",
        **{**rate, "unit": unit_of_rates(outcome)},
        place=where(rate["ground"]),
        limits=limits,
    )


def rig_by_rig(marks: Marks) -> alt.Y:
    """The rigs one below another, by name."""
    return alt.Y("rig:N", sort=list(marks.rigs), title=None)


def by_rig(marks: Marks, key: alt.Legend | None = None) -> tuple[alt.Color, alt.Shape]:
    """The colour and the shape of each rig, with the key to them, if they are to have one."""
    colours, shapes = (
        alt.Scale(domain=list(marks.rigs), range=list(looks))
        for looks in (marks.colours, marks.shapes)
    )
    colour = alt.Color("rig:N", scale=colours, legend=key)
    return colour, alt.Shape("rig:N", scale=shapes, legend=key)


def ratio_ends(dots: list[float], lows: list[float], highs: list[float]) -> list[float]:
    """Where an axis of ratios ends: past all dots, and past intervals that are not wild."""
    return [
        min(min(dots) * 0.8, 0.5, max(min(lows) * 0.9, 1 / FURTHEST)),
        max(max(dots) * 1.25, 2.0, min(max(highs) * 1.1, FURTHEST)),
    ]


def ratio_ticks(ends: list[float], width: float) -> list[float]:
    """The ratios to mark on an axis with these ends: one beyond them would be drawn at the end.

    On an axis so short that two of them would run into each other every second one is left out.
    """
    apart = log(2) / log(ends[1] / ends[0]) * width
    marked = CLOSE_RATIOS if apart >= RATIO_ROOM else WIDE_RATIOS
    return [at for at in marked if ends[0] <= at <= ends[1]]


def arrows_beyond(
    bars: alt.Chart, scale: alt.Scale, ends: list[float], y: alt.Y, colour: alt.Color | None = None
) -> list[alt.Chart]:
    """An arrow head where a bar goes on beyond the edge, in the bars' colour or else in grey."""
    beyond = (
        (f"datum.low < {ends[0]}", ends[0], "M0.6,-1L-0.6,0L0.6,1"),
        (f"datum.high > {ends[1]}", ends[1], "M-0.6,-1L0.6,0L-0.6,1"),
    )
    return [
        bars.transform_filter(f"isValid(datum.low) && {is_beyond}")
        .mark_point(shape=head, filled=False, size=90, strokeWidth=2.5, opacity=1, aria=False)
        .encode(x=alt.XDatum(end, scale=scale), y=y, color=colour or alt.ColorValue(GREY))
        for is_beyond, end, head in beyond
    ]


def width_beside(names: Iterable[str]) -> int:
    """How wide the marks are drawn beside such names, so that a phone's letters stay readable."""
    longest = max(map(len, names), default=0) * LETTER
    return min(WIDTH, WHOLE_WIDTH - BESIDE - min(longest, LONGEST_NAME))


def alone(chart: alt.Chart) -> Row:
    """A chart as Vega-Lite, to be put together with others.

    They are put together by `layered`, `panels` and `whole`: where altair does it, it copies all
    that they hold, again and again.
    """
    spec: Row = chart.to_dict(validate=False, context={"top_level": False})
    return {name: value for name, value in spec.items() if value != NO_DATA}


def layered(*charts: alt.Chart, height: float | Row, width: float = WIDTH) -> Row:
    """Charts one upon the other, all drawn from the rows but those with a table of their own."""
    layers = [alone(chart) for chart in charts]
    return {"data": ROWS, "layer": layers, "width": width, "height": height}


def panels(
    layers: Row,
    by: str,
    order: Sequence[str] | None = None,
    *,
    apart: str | None = None,
) -> Row:
    """The layers once for each of what stands in a column of the rows, one below another.

    Each panel has its name above it, nearer to it than to the panel before, and a scale of its own
    on the axis `apart`.
    """
    header = {
        "labelAnchor": "start",
        "labelAngle": 0,
        "labelOrient": "top",
        "labelPadding": NAME_TO_PANEL,
    }
    split: Row = {"field": by, "type": "nominal", "title": None, "header": header}
    if order is not None:
        split["sort"] = list(order)
    chart = {
        "data": layers["data"],
        "facet": {"row": split},
        "spec": {name: value for name, value in layers.items() if name != "data"},
        "spacing": BETWEEN_PANELS,
    }
    return chart if apart is None else {**chart, "resolve": {"scale": {apart: "independent"}}}


def whole(chart: Row, **tables: list[Row]) -> Row:
    """The chart with the look that all of them have, and its tables by name."""
    return {"$schema": alt.SCHEMA_URL, **chart, "config": CONFIG, "datasets": tables}


EMPTY = re.compile(r"<text[^>]*?/>|<g [^>]*role=\"graphics-symbol\"[^>]*></g>")
"""What a chart draws of nothing: a screen reader would stop at it and have nothing to say."""


TITLE = re.compile(r"aria-label=\"Title text '(.*?)'\"")
"""How a title of a chart is called, in English whatever the language; its words are enough."""


def in_page(svg: str, name: str) -> str:
    """The SVG to stand in a page: it takes the page's width, and its ids are its own."""
    svg = re.sub(
        r'(<svg[^>]*?) width="([\d.]+)" height="[\d.]+"', r'\1 data-width="\2"', svg, count=1
    )
    for number, identity in enumerate(dict.fromkeys(re.findall(r'\bid="([^"]+)"', svg))):
        svg = re.sub(rf'(id="|url\(#){identity}(?=["\)])', rf"\g<1>{name}-{number}", svg)
    return EMPTY.sub("", TITLE.sub(r'aria-label="\1"', svg))
