"""The map drawn: land, a grid of degrees, sound hauls as dashes, damaged ones as marks."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import altair as alt
import numpy as np
import shapely

from pipeline.checking.land import outline
from reports.charts import KEY_OF_RIGS, ROWS, by_rig, whole
from reports.haul_map.extent import HALF_TURN, WHOLE_TURN, degree_words, grid, place_words
from reports.haul_map.hauls import in_dashes, shown_hauls
from reports.language import say, say_many
from reports.marks import REFERENCE_COLOUR

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.haul_map.extent import Extent
    from reports.marks import Marks
    from reports.parts import Row

WIDTH = 300
KINDS = {True: "damaged", False: "sound", None: "not known"}


def map_chart(findings: Findings, marks: Marks) -> Row | None:
    """The hauls on their map; None where no position was recorded."""
    shown = shown_hauls(findings)
    if shown is None:
        return None
    extent = shown.extent
    rows = [
        {
            "rig": row["rig"],
            "kind": KINDS[row["damaged"]],
            "north": row["latitude"],
            "east": row["longitude"],
            "says": f"{row['rig']}: {_became(row)}",
        }
        for row in in_dashes(shown)
    ]
    colour, shape = (channel.legend(KEY_OF_RIGS) for channel in by_rig(marks))
    x = _across("east:Q", grid(extent.west, extent.east, extent.step), extent)
    y = _up("north:Q", grid(extent.south, extent.north, extent.step), extent)
    says = alt.Description("says:N")

    def of(kind: str) -> alt.Chart:
        return alt.Chart(ROWS).transform_filter(f"datum.kind == '{kind}'").encode(x=x, y=y)

    height = round(WIDTH * extent.tall)
    chart = alt.layer(
        *_land(extent, height),
        of("sound")
        .mark_point(shape="stroke", size=14, strokeWidth=1.4, opacity=0.8, stroke="#888888")
        .encode(description=says),
        of("not known")
        .mark_point(shape="circle", size=26, opacity=1, stroke=REFERENCE_COLOUR)
        .encode(description=says),
        of("damaged")
        .mark_point(filled=True, size=40, opacity=1, stroke="#000000", strokeWidth=0.7)
        .encode(color=colour, shape=shape, description=says),
    ).properties(width=WIDTH, height=height, view=alt.ViewConfig(stroke="#888888"))
    return whole(chart, rows=rows)


def _became(row: Row) -> str:
    """Where the hauls were, and what became of the net."""
    hauls, place = row["hauls"], _place(row)
    if row["damaged"] is None:
        return say_many(
            "{number:,} haul at {place}, nobody knows what became of the net",
            "{number:,} hauls at {place}, nobody knows what became of the net",
            hauls,
            place=place,
        )
    if row["damaged"]:
        return say_many(
            "{number:,} haul at {place}, damaged the net",
            "{number:,} hauls at {place}, damaged the net",
            hauls,
            place=place,
        )
    return say_many(
        "{number:,} haul at {place}, left the net whole",
        "{number:,} hauls at {place}, left the net whole",
        hauls,
        place=place,
    )


def _place(row: Row) -> str:
    place = place_words(row["latitude"], row["longitude"])
    return say("about {place}", place=place) if row["hauls"] > 1 or row["cell_degrees"] else place


def _across(field: str, lines: list[float], extent: Extent) -> alt.X:
    words = [degree_words(line, "E", "W") for line in lines]
    scale = alt.Scale(domain=[extent.west, extent.east], nice=False, zero=False)
    return alt.X(field, scale=scale, axis=_axis(lines, words))


def _up(field: str, lines: list[float], extent: Extent) -> alt.Y:
    words = [degree_words(line, "N", "S") for line in lines]
    scale = alt.Scale(domain=[extent.south, extent.north], nice=False, zero=False)
    return alt.Y(field, scale=scale, axis=_axis(lines, words))


def _axis(lines: list[float], words: list[str]) -> alt.Axis:
    return alt.Axis(
        values=lines,
        labelExpr=f"{words}[indexof({lines}, datum.value)]",
        labelOverlap="greedy",
        title=None,
    )


def _land(extent: Extent, height: int) -> list[alt.Chart]:
    """The land within the edges, in the map's own pixels; nothing where there is only sea."""
    edges = (extent.west, extent.south, extent.east, extent.north)
    first = int(np.floor((extent.west + HALF_TURN) / WHOLE_TURN))
    last = int(np.floor((extent.east + HALF_TURN) / WHOLE_TURN))
    turned = [
        shapely.transform(outline(), lambda at, turn=turn: np.add(at, (WHOLE_TURN * turn, 0.0)))
        for turn in range(first, last + 1)
    ]
    seen = shapely.union_all([shapely.clip_by_rect(land, *edges) for land in turned])
    if seen.is_empty:
        return []
    scale = [WIDTH / (extent.east - extent.west), -height / (extent.north - extent.south)]
    drawn = shapely.transform(seen, lambda at: (at - [extent.west, extent.north]) * scale)
    shape: dict[str, Any] = {
        "type": "Feature",
        "properties": {},
        "geometry": shapely.geometry.mapping(shapely.simplify(drawn, 0.4)),
    }
    return [
        alt.Chart(alt.InlineData(values=[shape]))
        .mark_geoshape(fill="#88888855", stroke="#888888", strokeWidth=0.8, aria=False)
        .project(type="identity", scale=1, translate=[0, 0])
    ]
