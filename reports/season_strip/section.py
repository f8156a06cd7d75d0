"""The season, trip by trip: what was fished, on what, what tore, what was caught."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from reports.cells import rate_cell, short_ground
from reports.on_deck import depth, fish_weight
from reports.parts import Figure, Section, Table
from reports.season_strip.strips import all_strips, drawn_strips

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.on_deck import Unit
    from reports.parts import Row
    from reports.season_strip.strips import Strip

HOW_TO_READ = (
    "One column is one trip, or the part of it that was fished with one rig; the rows say the rig "
    "and the ground that was towed over longest. One bar in the row of damage is one damaged haul, "
    "and a ring stands where of no haul of the trip it is known. Touch a column for its figures. "
    "A good trip after a change of rig proves nothing by itself: grounds and days differ as well."
)


def season_strip(findings: Findings) -> Section | None:
    """Each boat's trips as a strip of columns; None where no trip is known."""
    if not findings.get("trips"):
        return None
    drawn = drawn_strips(findings)
    left_out = len(all_strips(findings)) - len(drawn)
    more = (
        [
            "Here are the latest trips; the earlier ones stand with all others in the table trips "
            "of results.duckdb."
        ]
        if left_out
        else []
    )
    return Section(
        "season-strip",
        "The season, trip by trip",
        [HOW_TO_READ, *more],
        figures=[_figure(strip, fish_weight(findings), depth(findings)) for strip in drawn],
    )


def _figure(strip: Strip, weight: Unit, deep: Unit) -> Figure:
    trips = len({trip["trip"] for trip in strip.trips})
    damaged = sum(trip["damaged_hauls"] for trip in strip.trips)
    hauls = sum(trip["hauls"] for trip in strip.trips)
    part = f", {strip.part} of {strip.parts}" if strip.parts > 1 else ""
    return Figure(
        name=strip.name,
        kind="strip",
        outcome="",
        of=strip.name,
        title=f"{strip.vessel}{part}: {counted(trips, 'trip')}, {counted(hauls, 'haul')}, "
        f"{damaged:,} of them damaged the net",
        caption="Fish: bottom-living fish per hour towed.",
        table=Table(
            f"{strip.vessel}{part}, trip by trip",
            [
                *("trip", "first day", "rig", "mostly on", f"depth, {deep.word}", "hauls"),
                *("hours", "damaged hauls", "times damaged", f"fish, {weight.word} per hour"),
            ],
            [_cells(trip, weight, deep) for trip in strip.trips],
        ),
    )


def _cells(trip: Row, weight: Unit, deep: Unit) -> list[str]:
    known = trip["damage_known_hauls"] > 0
    fish, depth_m = trip["bottom_living_kg_per_hour"], trip["depth_m"]
    return [
        trip["trip"],
        trip["first_day"] or "–",
        trip["rig"],
        short_ground(trip["ground"]),
        "–" if depth_m is None else f"{deep.of(depth_m):,.0f}",
        f"{trip['hauls']:,}",
        f"{trip['tow_hours']:,.0f}",
        f"{trip['damaged_hauls']:,}" if known else "–",
        f"{trip['damage_events']:,}" if known else "–",
        rate_cell(None if fish is None else weight.of(fish)),
    ]


def trip_words(trip: Row, weight: Unit) -> str:
    """All of one column, as it is said where it is touched."""
    day = f", {short_day(trip['first_day'])}" if trip["first_day"] else ""
    known, fish = trip["damage_known_hauls"], trip["bottom_living_kg_per_hour"]
    torn = (
        f"{trip['damaged_hauls']:,} of {counted(known, 'haul')} damaged the net"
        if known
        else "nobody knows if the net was damaged"
    )
    caught = f"; {weight.of(fish):.3g} {weight.word} per hour" if fish is not None else ""
    return (
        f"{trip['rig']}: trip {trip['trip']}{day}, {short_ground(trip['ground'])}, "
        f"{trip['tow_hours']:,.0f} hours; {torn}{caught}"
    )


def short_day(day: str) -> str:
    """`2031-03-04` as 4 Mar 2031."""
    read = date.fromisoformat(day)
    return f"{read.day} {read:%b %Y}"


def counted(many: int, thing: str) -> str:
    """`1 haul`, `3 hauls`."""
    return f"{many:,} {thing}{'s' * (many != 1)}"
