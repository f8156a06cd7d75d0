"""The map drawn: land, a grid of degrees, hauls one by one or, of very many, in squares."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

import altair as alt
import numpy as np
import shapely

from pipeline.checking.land import outline
from reports.charts import KEY_OF_RIGS, by_rig, layered, whole
from reports.haul_map.extent import HALF_TURN, WHOLE_TURN, WIDTH, degree_words, grid, place_words
from reports.haul_map.hauls import in_dashes, rarest_last, shown_hauls
from reports.haul_map.squares import in_squares
from reports.language import say, say_many
from reports.marks import REFERENCE_COLOUR

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.haul_map.extent import Extent
    from reports.haul_map.hauls import Shown
    from reports.marks import Marks
    from reports.parts import Row

LARGEST_MARK, SMALLEST_MARK, FEW_MARKS = 40.0, 14.0, 150
LETTER, BETWEEN_WORDS = 7.0, 10.0
"""About how wide a letter of an axis is, and the least room between two of its words."""
EDGED: Row = {"filled": True, "opacity": 0.85, "stroke": "#000000", "strokeWidth": 0.5}
"""How the mark of a damaged haul looks."""
SQUARE = "#4f8a9b"
KINDS = {True: "damaged", False: "sound", None: "not known"}


def map_chart(findings: Findings, marks: Marks) -> Row | None:
    """The hauls on their map, of very many counted in squares; None where no position is known."""
    shown = shown_hauls(findings)
    if shown is None:
        return None
    extent = shown.extent
    height = round(WIDTH * extent.tall)
    land = _land(extent, height)
    coast = (
        alt.Chart(alt.NamedData(name="land"))
        .project(type="identity", scale=1, translate=[0, 0])
        .mark_geoshape(fill="#88888855", stroke="#888888", strokeWidth=0.8, aria=False)
    )
    layers, tables = (_in_squares if shown.in_cells else _one_by_one)(shown, marks)
    chart = layered(*([coast] if land else ()), *layers, width=WIDTH, height=height)
    return whole({**chart, "view": {"stroke": "#888888"}}, **tables, land=land)


def _one_by_one(shown: Shown, marks: Marks) -> tuple[list[alt.Chart], dict[str, list[Row]]]:
    """Sound hauls as dashes, damaged ones as marks, and their table."""
    drawn = rarest_last(in_dashes(shown))
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
    colour, shape = by_rig(marks, KEY_OF_RIGS)
    x, y = _place_of(shown.extent, "east", "north")
    size = mark_size(sum(bool(row["damaged"]) for row in drawn))

    def of(kind: str) -> alt.Chart:
        of_kind = alt.Chart().transform_filter(f"datum.kind == '{kind}'")
        return of_kind.encode(x=x, y=y, description="says:N")

    layers = [
        of("sound").mark_point(
            shape="stroke", size=14, strokeWidth=1.4, opacity=0.8, stroke="#888888"
        ),
        of("not known").mark_point(shape="circle", size=26, opacity=1, stroke=REFERENCE_COLOUR),
        of("damaged").mark_point(size=size, **EDGED).encode(color=colour, shape=shape),
    ]
    return layers, {"rows": rows}


def _in_squares(shown: Shown, marks: Marks) -> tuple[list[alt.Chart], dict[str, list[Row]]]:
    """Squares shaded by their hauls, each rig's damaged ones as a mark in them; their tables."""
    counted = in_squares(shown, [rig for rig in marks.rigs if rig in shown.torn_rigs], WIDTH)
    most = max(square["hauls"] for square in counted.squares)
    squares = [square | {"says": _square_words(square)} for square in counted.squares]
    rows = [mark | {"says": f"{mark['rig']}: {_became(mark)}"} for mark in counted.torn]
    colour, shape = by_rig(marks, KEY_OF_RIGS)
    west, south = _place_of(shown.extent, "west", "south")
    x, y = _place_of(shown.extent, "longitude", "latitude")
    shade = alt.Opacity(
        "hauls:Q",
        scale=alt.Scale(type="sqrt", domain=[0, most], range=[0.1, 0.95]),
        legend=alt.Legend(
            title=say("hauls"),
            orient="bottom",
            values=[1, round(most / 4), most],
            format=",d",
            symbolType="square",
            symbolSize=140,
            symbolFillColor=SQUARE,
            symbolStrokeWidth=0,
            labelFontSize=13,
            titleFontSize=13,
            titleFontWeight="normal",
        ),
    )
    layers = [
        alt.Chart(alt.NamedData(name="squares"))
        .mark_rect(color=SQUARE, clip=True)
        .encode(x=west, x2="east:Q", y=south, y2="north:Q", opacity=shade, description="says:N"),
        alt.Chart()
        .mark_point(**EDGED)
        .encode(
            x=x,
            y=y,
            size=alt.Size("size:Q", scale=None),
            color=colour,
            shape=shape,
            description="says:N",
        ),
    ]
    return layers, {"rows": rows, "squares": squares}


def _square_words(square: Row) -> str:
    """How many hauls there were, and how many damaged the net."""
    return say_many(
        "{number:,} haul about {place}, {damaged:,} with damage",
        "{number:,} hauls about {place}, {damaged:,} with damage",
        square["hauls"],
        place=place_words(
            (square["south"] + square["north"]) / 2, (square["west"] + square["east"]) / 2
        ),
        damaged=square["damaged"],
    )


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
            "{number:,} haul at {place}, with damage",
            "{number:,} hauls at {place}, with damage",
            hauls,
            place=place,
        )
    return say_many(
        "{number:,} haul at {place}, no damage",
        "{number:,} hauls at {place}, no damage",
        hauls,
        place=place,
    )


def _place(row: Row) -> str:
    place = place_words(row["latitude"], row["longitude"])
    return say("about {place}", place=place) if row["hauls"] > 1 or row["cell_degrees"] else place


def _place_of(extent: Extent, across: str, up: str) -> tuple[alt.X, alt.Y]:
    """Where the columns of that name lie on the map."""
    x = _across(f"{across}:Q", grid(extent.west, extent.east, extent.step), extent)
    return x, _up(f"{up}:Q", grid(extent.south, extent.north, extent.step), extent)


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


def _land(extent: Extent, height: int) -> list[Row]:
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
    outlined = shapely.geometry.mapping(shapely.simplify(drawn, 0.4))
    return [{"type": "Feature", "properties": {}, "geometry": outlined}]
