"""The map drawn: land, a grid of degrees, sound hauls as dashes, damaged ones as marks."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING, Any

import altair as alt
import numpy as np
import shapely

from pipeline.checking.land import outline
from reports.charts import KEY_OF_RIGS, ROWS, by_rig, whole
from reports.haul_map.extent import HALF_TURN, WHOLE_TURN, degree_words, grid, place_words
from reports.haul_map.hauls import in_dashes, rarest_last, shown_hauls, side_by_side
from reports.language import say, say_many
from reports.marks import REFERENCE_COLOUR

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.haul_map.extent import Extent
    from reports.marks import Marks
    from reports.parts import Row

WIDTH = 300
LARGEST_MARK, SMALLEST_MARK, FEW_MARKS = 40.0, 14.0, 150
LETTER, BETWEEN_WORDS = 7.0, 10.0
"""About how wide a letter of an axis is, and the least room between two of its words."""
KINDS = {True: "damaged", False: "sound", None: "not known"}


def map_chart(findings: Findings, marks: Marks) -> Row | None:
    """The hauls on their map; None where no position was recorded."""
    shown = shown_hauls(findings)
    if shown is None:
        return None
    extent = shown.extent
    drawn = rarest_last(side_by_side(in_dashes(shown)))
    size = mark_size(sum(bool(row["damaged"]) for row in drawn))
    rows = [
        {
            "rig": row["rig"],
            "kind": KINDS[row["damaged"]],
            "north": row["latitude"],
            "east": row["longitude"],
            "says": f"{row['rig']}: {_became(row)}",
        }
        for row in drawn
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
        .mark_point(filled=True, size=size, opacity=0.85, stroke="#000000", strokeWidth=0.5)
        .encode(color=colour, shape=shape, description=says),
    ).properties(width=WIDTH, height=height, view=alt.ViewConfig(stroke="#888888"))
    return whole(chart, rows=rows)


def mark_size(marks: int) -> float:
    """How large the mark of a damaged haul is: of many, each is smaller, so that fewer are hid."""
    return min(LARGEST_MARK, max(SMALLEST_MARK, LARGEST_MARK * FEW_MARKS / max(marks, 1)))


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
    words = with_room(
        [degree_words(line, "E", "W") for line in lines],
        WIDTH * extent.step / (extent.east - extent.west),
    )
    scale = alt.Scale(domain=[extent.west, extent.east], nice=False, zero=False)
    return alt.X(field, scale=scale, axis=_axis(lines, words))


def _up(field: str, lines: list[float], extent: Extent) -> alt.Y:
    words = [degree_words(line, "N", "S") for line in lines]
    scale = alt.Scale(domain=[extent.south, extent.north], nice=False, zero=False)
    return alt.Y(field, scale=scale, axis=_axis(lines, words))


def with_room(words: list[str], apart: float) -> list[str]:
    """The words of lines that lie so many pixels apart; as many blank as the widest needs room."""
    widest = max(map(len, words), default=0) * LETTER + BETWEEN_WORDS
    every = max(1, ceil(widest / apart))
    return [word if at % every == 0 else "" for at, word in enumerate(words)]


def _axis(lines: list[float], words: list[str]) -> alt.Axis:
    return alt.Axis(
        values=lines,
        labelExpr=f"{words}[indexof({lines}, datum.value)]",
        labelOverlap=False,
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
