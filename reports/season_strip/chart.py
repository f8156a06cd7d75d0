"""A strip of trips: one under the other their rig, their ground, what tore and what was caught."""

from __future__ import annotations

from datetime import date
from itertools import pairwise
from math import floor
from typing import TYPE_CHECKING

import altair as alt

from reports.cells import short_ground
from reports.charts import GRID, INK, ROWS, alone, by_rig, layered, whole
from reports.language import day_of, say
from reports.marks import REFERENCE_COLOUR
from reports.on_deck import fish_weight
from reports.season_strip.section import trip_words
from reports.season_strip.strips import drawn_strips, have_many_damaged

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.marks import Marks
    from reports.parts import Row

WIDTH, ROW, LABELS = 236, 17, 104
DAMAGE_HEIGHT, FISH_HEIGHT = 48, 64
FEWEST_COLUMNS = 12
"""So many columns are left room for, so that a few trips do not become a wall."""
WIDE = 0.42
"""Half of a column's width, in columns."""
THICKEST, THICK_SHARE = 3.2, 0.7
"""A mark of a damaged haul is no thicker than this, and leaves a gap to the next."""
TICK_STEPS, TICK_ROOM = (1, 2, 5, 10, 20, 50, 100), 16
"""Numbers beside the damaged hauls go up by one of these, and stand so far from each other."""
LETTER, BETWEEN_WORDS = 7.0, 6.0
"""About how wide a letter of a month is, and the least room between two of them."""
TORN: Row = {"name": "torn"}
"""A row a damaged haul, the first of a trip lowest; one at 0 where nobody knows."""


def strip_chart(findings: Findings, marks: Marks, name: str) -> Row:
    """The strip of that name."""
    drawn = drawn_strips(findings)
    strip = next(strip for strip in drawn if strip.name == name)
    columns = max(FEWEST_COLUMNS, len(strip.trips))
    weight = fish_weight(findings)
    rows = [
        {
            "place": place,
            "from": place - WIDE,
            "to": place + WIDE,
            "rig": trip["rig"],
            "ground": short_ground(trip["ground"]),
            "fish": weight.of(trip["bottom_living_kg_per_hour"] or 0),
            "says": trip_words(trip, weight),
        }
        for place, trip in enumerate(strip.trips, start=1)
    ]
    one_bar = have_many_damaged(drawn)
    torn = [
        row | {"height": height, "known": trip["damage_known_hauls"] > 0}
        for row, trip in zip(rows, strip.trips, strict=True)
        for height in _heights(trip, one_bar=one_bar)
    ]
    grounds = [short_ground(ground) for ground in findings["season"]["grounds"]]
    x = alt.Scale(domain=[0.4, columns + 0.6], nice=False)
    most = max((row["height"] for row in torn), default=0)
    strips = [
        _words("rig", say("Rig"), [rig for rig in marks.rigs if _met("rig", rig, rows)], marks, x),
        _words("ground", say("Ground"), [g for g in grounds if _met("ground", g, rows)], marks, x),
        _damage(most, marks, x, one_bar=one_bar),
        _fish(marks, x, month_words(strip.trips, columns, _years(findings)), weight.word),
    ]
    return whole({"data": ROWS, "vconcat": strips, "spacing": 6}, rows=rows, torn=torn)


def _heights(trip: Row, *, one_bar: bool) -> list[int]:
    """Where marks of damage stand: one a damaged haul, or one at the top of all; 0 for a ring."""
    damaged = trip["damaged_hauls"]
    if not trip["damage_known_hauls"]:
        return [0]
    if one_bar:
        return [damaged] if damaged else []
    return list(range(1, damaged + 1))


def _met(name: str, value: str, rows: list[Row]) -> bool:
    return any(row[name] == value for row in rows)


def _title(text: str) -> Row:
    return {
        "text": text,
        "anchor": "start",
        "fontSize": 13,
        "fontWeight": "bold",
        "color": INK,
        "offset": 2,
        "frame": "group",
    }


def _words(name: str, title: str, order: list[str], marks: Marks, x: alt.Scale) -> Row:
    """A row a rig or a ground, with a mark where the trip was fished with it, or on it."""
    colour, shape = by_rig(marks)
    axis = alt.Axis(title=None, grid=True, labelLimit=LABELS, domain=False, ticks=False)
    base = alt.Chart(title=_title(title), width=WIDTH, height=alt.Step(ROW)).encode(
        y=alt.Y(f"{name}:N", sort=order, scale=alt.Scale(domain=order), axis=axis),
        color=colour,
        description=alt.Description("says:N"),
    )
    across = alt.X("place:Q", scale=x, axis=None)
    return alone(
        base.mark_point(filled=True, size=42, opacity=1).encode(x=across, shape=shape)
        if name == "rig"
        else base.mark_bar(height=7).encode(
            x=alt.X("from:Q", scale=x, axis=None), x2=alt.X2("to:Q")
        )
    )


def _damage(most: int, marks: Marks, x: alt.Scale, *, one_bar: bool) -> Row:
    """A bar a damaged haul, one on the other, or one bar for all; a ring where nobody knows."""
    colour, _ = by_rig(marks)
    lowest, highest = -0.4, max(most, 3) + 0.5
    scale = alt.Scale(domain=[lowest, highest], nice=False)
    ticks = damage_ticks(lowest, highest)
    axis = alt.Axis(title=None, values=ticks, format="d", labelLimit=LABELS, domain=False)
    y = alt.Y("height:Q", scale=scale, axis=axis)
    says = alt.Description("says:N")
    base = alt.Chart()
    known = base.transform_filter("datum.known")
    across = {"x": alt.X("from:Q", scale=x, axis=None), "x2": alt.X2("to:Q")}
    thick = min(THICKEST, THICK_SHARE * DAMAGE_HEIGHT / (highest - lowest))
    drawn = (
        known.mark_rect().encode(**across, y=y, y2=alt.Y2Datum(0), color=colour, description=says)
        if one_bar
        else known.mark_bar(height=thick).encode(**across, y=y, color=colour, description=says)
    )
    layers = layered(
        drawn,
        base.transform_filter("!datum.known")
        .mark_point(shape="circle", size=22, opacity=1, stroke=REFERENCE_COLOUR)
        .encode(x=alt.X("place:Q", scale=x, axis=None), y=y, description=says),
        width=WIDTH,
        height=DAMAGE_HEIGHT,
    )
    return {**layers, "data": TORN, "title": _title(say("Damaged hauls"))}


def damage_ticks(lowest: float, highest: float) -> list[int]:
    """The numbers beside the damaged hauls: as many as have room, so that none is left out."""
    apart = (each * DAMAGE_HEIGHT / (highest - lowest) for each in TICK_STEPS)
    fit = (step for step, room in zip(TICK_STEPS, apart, strict=True) if room >= TICK_ROOM)
    return list(range(0, floor(highest) + 1, next(fit, TICK_STEPS[-1])))


def _fish(marks: Marks, x: alt.Scale, months: dict[int, str], unit: str) -> Row:
    """How much bottom-living fish an hour; the months stand under it."""
    colour, _ = by_rig(marks)
    places, words = list(months), list(months.values())
    axis = alt.Axis(
        values=places,
        labelExpr=f"{words}[indexof({places}, datum.value)]",
        title=None,
        labelOverlap=False,
        labelFlush=False,
        gridColor=GRID,
    )
    title = _title(say("Fish, {unit} per hour", unit=say(unit)))
    up = alt.Axis(title=None, tickCount=3, labelLimit=LABELS, domain=False)
    return alone(
        alt.Chart(title=title, width=WIDTH, height=FISH_HEIGHT)
        .mark_rect()
        .encode(
            x=alt.X("from:Q", scale=x, axis=axis),
            x2=alt.X2("to:Q"),
            y=alt.Y("fish:Q", axis=up),
            y2=alt.Y2Datum(0),
            color=colour,
            description=alt.Description("says:N"),
        )
    )


def _years(findings: Findings) -> int:
    """In how many years of the whole record trips began."""
    return len({trip["first_day"][:4] for trip in findings["trips"] if trip["first_day"]})


def month_words(trips: list[Row], columns: int, years: int) -> dict[int, str]:
    """The places at which a month begins, by its name; with the year where there are several.

    Of names that have no room every second one is left out, or every third, and so on. Where more
    years than months can be named, as of a boat with a trip a year, the years are.
    """
    months = _evenly(_beginnings(trips, "MMM" if years == 1 else "MMM y"), columns)
    by_year = _evenly(_beginnings(trips, "y"), columns) if years > 1 else {}
    return max(months, by_year, key=lambda words: sum(map(bool, words.values())))


def _beginnings(trips: list[Row], form: str) -> dict[int, str]:
    """The places at which the day, in that form, is another than at the one before."""
    days = [date.fromisoformat(trip["first_day"]) if trip["first_day"] else None for trip in trips]
    words = {place: day_of(day, form) for place, day in enumerate(days, start=1) if day}
    before = dict(zip(list(words)[1:], words.values(), strict=False))
    return {place: word for place, word in words.items() if word != before.get(place)}


def _evenly(words: dict[int, str], columns: int) -> dict[int, str]:
    """The words with as many left blank, evenly, as it takes that none runs into another."""
    ends = [
        (middle - half, middle + half)
        for place, word in words.items()
        for middle in [place * WIDTH / columns]
        for half in [(len(word) * LETTER + BETWEEN_WORDS) / 2]
    ]
    apart = range(1, len(words) + 1)
    every = next((n for n in apart if all(a[1] <= b[0] for a, b in pairwise(ends[::n]))), 1)
    return {place: "" if at % every else word for at, (place, word) in enumerate(words.items())}
