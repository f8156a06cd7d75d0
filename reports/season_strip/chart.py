"""A strip of trips: one under the other their rig, their ground, what tore and what was caught."""

from __future__ import annotations

from datetime import date
from functools import partial
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
from reports.season_strip.strips import drawn_strips, have_many_damaged, tells_damage, tells_fish

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
BETWEEN_HAULS = 0.2
"""The gap between one damaged haul's mark and the next, in hauls."""
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
        row | {"height": top, "under": under, "known": trip["damage_known_hauls"] > 0}
        for row, trip in zip(rows, strip.trips, strict=True)
        for under, top in _heights(trip, one_bar=one_bar)
    ]
    grounds = [short_ground(ground) for ground in findings["season"]["grounds"]]
    x = alt.Scale(domain=[0.4, columns + 0.6], nice=False)
    rigs = [rig for rig in marks.rigs if _met("rig", rig, rows)]
    met = [ground for ground in grounds if _met("ground", ground, rows)]
    most = max((row["height"] for row in torn), default=0)
    panels = [
        partial(_words, "rig", say("Rig"), rigs, marks, x),
        partial(_words, "ground", say("Ground"), met, marks, x),
        *([partial(_damage, most, marks, x)] if tells_damage(strip) else []),
        *([partial(_fish, marks, x, weight.word)] if tells_fish(strip) else []),
    ]
    months = _axis_of(month_words(strip.trips, columns, _years(findings)))
    drawn_panels = [*(panel(None) for panel in panels[:-1]), panels[-1](months)]
    return whole({"data": ROWS, "vconcat": drawn_panels, "spacing": 6}, rows=rows, torn=torn)


def _heights(trip: Row, *, one_bar: bool) -> list[tuple[float, int]]:
    """From where to where marks of damage stand: one a haul, or one of all; 0 for a ring."""
    damaged = trip["damaged_hauls"]
    if not trip["damage_known_hauls"]:
        return [(0, 0)]
    if one_bar:
        return [(0, damaged)] if damaged else []
    return [(at and at + BETWEEN_HAULS, at + 1) for at in range(damaged)]


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


def _words(
    name: str, title: str, order: list[str], marks: Marks, x: alt.Scale, months: alt.Axis | None
) -> Row:
    """A row a rig or a ground, with a mark where the trip was fished with it, or on it."""
    colour, shape = by_rig(marks)
    axis = alt.Axis(title=None, grid=True, labelLimit=LABELS, domain=False, ticks=False)
    base = alt.Chart(title=_title(title), width=WIDTH, height=alt.Step(ROW)).encode(
        y=alt.Y(f"{name}:N", sort=order, scale=alt.Scale(domain=order), axis=axis),
        color=colour,
        description="says:N",
    )
    across = alt.X("place:Q", scale=x, axis=months)
    return alone(
        base.mark_point(filled=True, size=42, opacity=1).encode(x=across, shape=shape)
        if name == "rig"
        else base.mark_bar(height=7).encode(x=alt.X("from:Q", scale=x, axis=months), x2="to:Q")
    )


def _damage(most: int, marks: Marks, x: alt.Scale, months: alt.Axis | None) -> Row:
    """A bar a damaged haul, one on the other, or one bar for all; a ring where nobody knows."""
    colour, _ = by_rig(marks)
    lowest, highest = -0.4, max(most, 3) + 0.5
    scale = alt.Scale(domain=[lowest, highest], nice=False)
    ticks = damage_ticks(lowest, highest)
    axis = alt.Axis(title=None, values=ticks, format="d", labelLimit=LABELS, domain=False)
    y = alt.Y("height:Q", scale=scale, axis=axis)
    base = alt.Chart().encode(y=y, description="says:N")
    layers = layered(
        base.transform_filter("datum.known")
        .mark_rect()
        .encode(x=alt.X("from:Q", scale=x, axis=months), x2="to:Q", y2="under:Q", color=colour),
        base.transform_filter("!datum.known")
        .mark_point(shape="circle", size=22, opacity=1, stroke=REFERENCE_COLOUR)
        .encode(x=alt.X("place:Q", scale=x, axis=months)),
        width=WIDTH,
        height=DAMAGE_HEIGHT,
    )
    return {**layers, "data": TORN, "title": _title(say("Damaged hauls"))}


def damage_ticks(lowest: float, highest: float) -> list[int]:
    """The numbers beside the damaged hauls: as many as have room, so that none is left out."""
    apart = (each * DAMAGE_HEIGHT / (highest - lowest) for each in TICK_STEPS)
    fit = (step for step, room in zip(TICK_STEPS, apart, strict=True) if room >= TICK_ROOM)
    return list(range(0, floor(highest) + 1, next(fit, TICK_STEPS[-1])))


def _fish(marks: Marks, x: alt.Scale, unit: str, months: alt.Axis | None) -> Row:
    """How much bottom-living fish an hour."""
    colour, _ = by_rig(marks)
    title = _title(say("Fish, {unit} per hour", unit=say(unit)))
    up = alt.Axis(title=None, tickCount=3, labelLimit=LABELS, domain=False)
    return alone(
        alt.Chart(title=title, width=WIDTH, height=FISH_HEIGHT)
        .mark_rect()
        .encode(
            x=alt.X("from:Q", scale=x, axis=months),
            x2="to:Q",
            y=alt.Y("fish:Q", axis=up),
            y2=alt.Y2Datum(0),
            color=colour,
            description="says:N",
        )
    )


def _axis_of(months: dict[int, str]) -> alt.Axis:
    """The axis that stands under the lowest row, with the months where they begin."""
    places, words = list(months), list(months.values())
    return alt.Axis(
        values=places,
        labelExpr=f"{words}[indexof({places}, datum.value)]",
        title=None,
        labelOverlap=False,
        labelFlush=False,
        gridColor=GRID,
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
