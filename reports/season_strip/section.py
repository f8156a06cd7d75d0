"""The season, trip by trip: what was fished, on what, what tore, what was caught."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import count_of, rate_cell, short_ground
from reports.counts import haul_count, trip_count
from reports.language import day_of, number, say
from reports.on_deck import depth, fish_weight
from reports.parts import Figure, Section, table_of
from reports.season_strip.strips import (
    all_strips,
    drawn_strips,
    have_many_damaged,
    tells_damage,
    tells_fish,
)
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Callable

    from pipeline.findings import Findings
    from reports.on_deck import Unit
    from reports.parts import Row, Table
    from reports.season_strip.strips import Strip

HOW_TO_READ = saying(
    "One column is one trip, or the part of it that was fished with one rig; the rows say the rig "
    "and the ground that was towed over longest."
)
PROVES_NOTHING = saying(
    "A good trip after a change of rig proves nothing by itself: grounds and days differ as well."
)
A_RING = saying("A ring: of none of that trip's hauls is it known whether the net was damaged.")
THE_LATEST = saying(
    "{drawn:,} of {trips:,} trips are drawn, of each boat the latest: first of boats that changed "
    "their rig, then of those that fished last. All trips stand in the file results.duckdb beside "
    "this page, under trips."
)
A_BAR_A_HAUL = saying("Damaged hauls: one bar is one haul.")
A_BAR_A_TRIP = saying("Damaged hauls: one bar is all of a trip's, and as tall as they are many.")
OF_FISH = saying("Fish: bottom-living fish per hour towed.")


def season_strip(findings: Findings) -> Section | None:
    """Each boat's trips as a strip of columns; None where no trip is known."""
    if not findings.get("trips"):
        return None
    drawn, times = drawn_strips(findings), _tells_times(findings["trips"])
    weight, deep = fish_weight(findings), depth(findings)
    return Section(
        "season-strip",
        say("The season, trip by trip"),
        [_how_to_read(drawn), *_left_out(drawn, all_strips(findings))],
        figures=[_figure(strip, weight, deep, times=times) for strip in drawn],
    )


def _tells_times(trips: list[Row]) -> bool:
    """Whether on any trip a haul was damaged more than once, so that times are not hauls."""
    return any(
        trip["damage_events"] != trip["damaged_hauls"]
        for trip in trips
        if trip["damage_known_hauls"]
    )


def _how_to_read(drawn: list[Strip]) -> str:
    """What a column and, where they are drawn, a bar and a ring are."""
    said = [HOW_TO_READ]
    of_damage = [strip for strip in drawn if tells_damage(strip)]
    if of_damage:
        said.append(A_BAR_A_TRIP if have_many_damaged(drawn) else A_BAR_A_HAUL)
    if any(map(tells_fish, drawn)):
        said.append(OF_FISH)
    if any(not trip["damage_known_hauls"] for strip in of_damage for trip in strip.trips):
        said.append(A_RING)
    return " ".join(map(say, [*said, PROVES_NOTHING]))


def _left_out(drawn: list[Strip], strips: list[Strip]) -> list[str]:
    """What is drawn, where that is not all."""
    if len(drawn) == len(strips):
        return []
    return [say(THE_LATEST, drawn=_trips_of(drawn), trips=_trips_of(strips))]


def _trips_of(strips: list[Strip]) -> int:
    return len({(strip.vessel, trip["trip"]) for strip in strips for trip in strip.trips})


def _figure(strip: Strip, weight: Unit, deep: Unit, *, times: bool) -> Figure:
    return Figure(
        name=strip.name,
        kind="strip",
        outcome="",
        of=strip.name,
        title=_title(strip),
        caption="",
        table=_table(strip, weight, deep, times=times),
    )


def _table(strip: Strip, weight: Unit, deep: Unit, *, times: bool) -> Table:
    def depth_in(trip: Row) -> str:
        return "–" if trip["depth_m"] is None else number(deep.of(trip["depth_m"]), ",.0f")

    def fish_in(trip: Row) -> str:
        fish = trip["bottom_living_kg_per_hour"]
        return rate_cell(None if fish is None else weight.of(fish))

    return table_of(
        say("{strip}, trip by trip", strip=_name(strip)),
        strip.trips,
        [
            (say("trip"), lambda trip: trip["trip"]),
            (say("first day"), _first_day),
            (say("rig"), lambda trip: trip["rig"]),
            (say("mostly on"), lambda trip: short_ground(trip["ground"])),
            (say("depth, {unit}", unit=say(deep.word)), depth_in),
            (say("hauls"), count_of("hauls")),
            (say("hours"), count_of("tow_hours")),
            (say("damaged hauls"), _if_known("damaged_hauls")),
            *([(say("times damaged"), _if_known("damage_events"))] if times else []),
            (say("fish, {unit} per hour", unit=say(weight.word)), fish_in),
        ],
    )


def _if_known(name: str) -> Callable[[Row], str]:
    """A cell with a count of damage, where of any haul of the trip that is known."""
    return lambda trip: number(trip[name], ",") if trip["damage_known_hauls"] > 0 else "–"


def _title(strip: Strip) -> str:
    hauls, known, damaged = (
        sum(trip[name] for trip in strip.trips)
        for name in ("hauls", "damage_known_hauls", "damaged_hauls")
    )
    words = WITH_DAMAGE if known == hauls else OF_THE_KNOWN if known else NOT_KNOWN
    return say(
        words,
        strip=_name(strip),
        trips=trip_count(_trips_of([strip])),
        hauls=haul_count(hauls),
        damaged=damaged,
        known=known,
    )


WITH_DAMAGE = saying("{strip}: {trips}, {hauls}, {damaged:,} of them with damage")
OF_THE_KNOWN = saying("{strip}: {trips}, {hauls}; damage on {damaged:,} of {known:,} known")
NOT_KNOWN = saying("{strip}: {trips}, {hauls}; damage known of none")


def _name(strip: Strip) -> str:
    """The boat, and which of its strips it is."""
    if strip.parts == 1:
        return strip.vessel
    return say(
        "{vessel}, {part} of {parts}", vessel=strip.vessel, part=strip.part, parts=strip.parts
    )


def trip_words(trip: Row, weight: Unit) -> str:
    """All of one column, as it is said where it is touched."""
    said = say(
        "{rig}: {trip}, {ground}, {hours:,.0f} hours; {damage}",
        rig=trip["rig"],
        trip=_trip_and_day(trip),
        ground=short_ground(trip["ground"]),
        hours=trip["tow_hours"],
        damage=_damage(trip),
    )
    fish = trip["bottom_living_kg_per_hour"]
    if fish is None:
        return said
    caught = say("{fish:.3g} {unit} per hour", fish=weight.of(fish), unit=say(weight.word))
    return f"{said}; {caught}"


def _first_day(trip: Row) -> str:
    return day_of(trip["first_day"]) if trip["first_day"] else "–"


def _trip_and_day(trip: Row) -> str:
    if not trip["first_day"]:
        return say("trip {trip}", trip=trip["trip"])
    return say("trip {trip}, {day}", trip=trip["trip"], day=day_of(trip["first_day"]))


def _damage(trip: Row) -> str:
    if not trip["damage_known_hauls"]:
        return say("nobody knows if the net was damaged")
    return say(
        "{damaged:,} of {hauls} with damage",
        damaged=trip["damaged_hauls"],
        hauls=haul_count(trip["damage_known_hauls"]),
    )
