"""A strip of trips: one under the other their rig, their ground, what tore and what was caught."""

from __future__ import annotations

from datetime import date
from math import inf
from typing import TYPE_CHECKING

import altair as alt

from reports.cells import short_ground
from reports.charts import GRID, INK, ROWS, by_rig, whole
from reports.language import day_of, say
from reports.marks import REFERENCE_COLOUR
from reports.on_deck import fish_weight
from reports.season_strip.section import trip_words
from reports.season_strip.strips import drawn_strips, has_many_damaged

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.marks import Marks
    from reports.parts import Row

Panel = alt.Chart | alt.LayerChart | alt.FacetChart
WIDTH, ROW, LABELS = 236, 17, 104
DAMAGE_HEIGHT, FISH_HEIGHT = 48, 64
FEWEST_COLUMNS = 12
"""So many columns are left room for, so that a few trips do not become a wall."""
WIDE = 0.42
"""Half of a column's width, in columns."""
THICKEST, THICK_SHARE = 3.2, 0.7
"""A mark of a damaged haul is no thicker than this, and leaves a gap to the next."""
TICK_STEPS, MOST_TICKS = (1, 2, 5, 10, 20, 50, 100), 4
LETTER, BETWEEN_WORDS = 7.0, 6.0
"""About how wide a letter of a month is, and the least room between two of them."""
TORN = alt.NamedData(name="torn")
"""A row a damaged haul, the first of a trip lowest; one at 0 where nobody knows."""


def strip_chart(findings: Findings, marks: Marks, name: str) -> Row:
    """The strip of that name."""
    strip = next(strip for strip in drawn_strips(findings) if strip.name == name)
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
    one_bar = has_many_damaged(strip)
    torn = [
        row | {"height": height, "known": trip["damage_known_hauls"] > 0}
        for row, trip in zip(rows, strip.trips, strict=True)
        for height in _heights(trip, one_bar=one_bar)
    ]
    grounds = [short_ground(ground) for ground in findings["season"]["grounds"]]
    x = alt.Scale(domain=[0.4, columns + 0.6], nice=False)
    most = max((row["height"] for row in torn), default=0)
    panels = alt.vconcat(
        _words("rig", say("Rig"), [rig for rig in marks.rigs if _met("rig", rig, rows)], marks, x),
        _words("ground", say("Ground"), [g for g in grounds if _met("ground", g, rows)], marks, x),
        _damage(most, marks, x, one_bar=one_bar),
        _fish(marks, x, month_words(strip.trips, columns, _years(findings)), weight.word),
        spacing=6,
    )
    return whole(panels, rows=rows, torn=torn)


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


def _title(text: str) -> alt.TitleParams:
    return alt.TitleParams(
        text, anchor="start", fontSize=13, fontWeight="bold", color=INK, offset=2, frame="group"
    )


def _words(name: str, title: str, order: list[str], marks: Marks, x: alt.Scale) -> Panel:
    """A row a rig or a ground, with a mark where the trip was fished with it, or on it."""
    colour, shape = by_rig(marks)
    axis = alt.Axis(title=None, grid=True, labelLimit=LABELS, domain=False, ticks=False)
    base = alt.Chart(ROWS, title=_title(title), width=WIDTH, height=alt.Step(ROW)).encode(
        y=alt.Y(f"{name}:N", sort=order, scale=alt.Scale(domain=order), axis=axis),
        color=colour,
        description=alt.Description("says:N"),
    )
    across = alt.X("place:Q", scale=x, axis=None)
    drawn: Panel = (
        base.mark_point(filled=True, size=42, opacity=1).encode(x=across, shape=shape)
        if name == "rig"
        else base.mark_bar(height=7).encode(x=alt.X("from:Q", scale=x, axis=None), x2="to:Q")
    )
    return drawn


def _damage(most: int, marks: Marks, x: alt.Scale, *, one_bar: bool) -> Panel:
    """A bar a damaged haul, one on the other, or one bar for all; a ring where nobody knows."""
    colour, _ = by_rig(marks)
    lowest, highest = -0.4, max(most, 3) + 0.5
    scale = alt.Scale(domain=[lowest, highest], nice=False)
    step = next((each for each in TICK_STEPS if most <= MOST_TICKS * each), TICK_STEPS[-1])
    ticks = list(range(0, max(most, 3) + 1, step))
    axis = alt.Axis(title=None, values=ticks, format="d", labelLimit=LABELS, domain=False)
    y = alt.Y("height:Q", scale=scale, axis=axis)
    says = alt.Description("says:N")
    base = alt.Chart(TORN)
    known = base.transform_filter("datum.known")
    across = {"x": alt.X("from:Q", scale=x, axis=None), "x2": alt.X2("to:Q")}
    thick = min(THICKEST, THICK_SHARE * DAMAGE_HEIGHT / (highest - lowest))
    drawn = (
        known.mark_rect().encode(**across, y=y, y2=alt.datum(0), color=colour, description=says)
        if one_bar
        else known.mark_bar(height=thick).encode(**across, y=y, color=colour, description=says)
    )
    panel: Panel = alt.layer(
        drawn,
        base.transform_filter("!datum.known")
        .mark_point(shape="circle", size=22, opacity=1, stroke=REFERENCE_COLOUR)
        .encode(x=alt.X("place:Q", scale=x, axis=None), y=y, description=says),
    ).properties(title=_title(say("Damaged hauls")), width=WIDTH, height=DAMAGE_HEIGHT)
    return panel


def _fish(marks: Marks, x: alt.Scale, months: dict[int, str], unit: str) -> Panel:
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
    panel: Panel = (
        alt.Chart(ROWS, title=title, width=WIDTH, height=FISH_HEIGHT)
        .mark_rect()
        .encode(
            x=alt.X("from:Q", scale=x, axis=axis),
            x2="to:Q",
            y=alt.Y("fish:Q", axis=up),
            y2=alt.datum(0),
            color=colour,
            description=alt.Description("says:N"),
        )
    )
    return panel


def _years(findings: Findings) -> int:
    """In how many years of the whole record trips began."""
    return len({trip["first_day"][:4] for trip in findings["trips"] if trip["first_day"]})


def month_words(trips: list[Row], columns: int, years: int) -> dict[int, str]:
    """The places at which a month begins, by its name; with the year where there are several.

    The name is left out where it would run into the one before it.
    """
    months: dict[int, str] = {}
    before, free_from = "", -inf
    for place, trip in enumerate(trips, start=1):
        if trip["first_day"] and trip["first_day"][:7] != before:
            before = trip["first_day"][:7]
            word = day_of(date.fromisoformat(trip["first_day"]), "MMM" if years == 1 else "MMM y")
            middle = place * WIDTH / columns
            half = (len(word) * LETTER + BETWEEN_WORDS) / 2
            months[place] = word if middle - half >= free_from else ""
            free_from = middle + half if months[place] else free_from
    return months
