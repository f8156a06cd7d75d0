"""The section with the map: where the net was shot, and where it tore."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.haul_map.extent import WIDTH, place_words
from reports.haul_map.hauls import Shown, shown_hauls
from reports.haul_map.squares import in_squares
from reports.language import number, say, say_many
from reports.parts import Figure, Section, Table
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

MOST_NAMED = 5
CAPTION = saying(
    "A short grey dash: hauls with one rig and no damage, those close together as one. A "
    "rig's own mark, with an edge: a haul with damage. A grey ring: nobody knows."
)
A_SQUARE = saying(
    "A square, {up} of latitude by {across} of longitude: the hauls shot in it, the stronger the "
    "colour the more."
)
A_MARK = saying(
    "A rig's own mark in it, with an edge: those with damage, the larger the more; the "
    "largest stands for {most:,}."
)
PLACES_OF_MARKS = saying(
    "Within a square each rig's mark has a place of its own, in the order of the key: from left to "
    "right, then downwards."
)
OF_THE_LAND = saying(
    "Land, where there is any, is Natural Earth's outline at 1:50 million (public domain), good to "
    "a kilometre or two: not for navigation."
)


def haul_map(findings: Findings) -> Section | None:
    """The map and, by squares of its grid, its numbers; None where no position was recorded."""
    shown = shown_hauls(findings)
    if shown is None:
        return None
    hauls = sum(row["hauls"] for row in shown.hauls)
    damaged = sum(row["hauls"] for row in shown.hauls if row["damaged"])
    return Section(
        "haul-map",
        say("Where the net was shot, and where it was damaged"),
        [*_far_words(shown.far), *_without_position(findings)],
        figures=[
            Figure(
                name="map-of-hauls",
                kind="map",
                outcome="",
                title=say(
                    "Of {hauls:,} hauls on the map {damaged:,} had damage",
                    hauls=hauls,
                    damaged=damaged,
                ),
                caption=_caption(shown),
                table=_table(shown),
            )
        ],
    )


def _caption(shown: Shown) -> str:
    """What stands on the map; of squares how large they are, and what is where in them."""
    return " ".join([*(_of_squares(shown) if shown.in_cells else [say(CAPTION)]), say(OF_THE_LAND)])


def _of_squares(shown: Shown) -> list[str]:
    counted = in_squares(shown, sorted(shown.torn_rigs), WIDTH)
    said = [say(A_SQUARE, up=_size(counted.up), across=_size(counted.across))]
    if counted.torn:
        said.append(say(A_MARK, most=max(mark["hauls"] for mark in counted.torn)))
    return [*said, say(PLACES_OF_MARKS)] if len(shown.torn_rigs) > 1 else said


def _without_position(findings: Findings) -> list[str]:
    """How many hauls could not be put on the map at all."""
    without = findings["season"]["hauls"] - sum(row["hauls"] for row in findings["haul_positions"])
    if not without:
        return []
    return [
        say_many("{number:,} haul has no position.", "{number:,} hauls have no position.", without)
    ]


def _far_words(far: list[Row]) -> list[str]:
    """The hauls that are left off, so that someone can put them right."""
    if not far:
        return []
    return [
        say_many(
            "{number:,} haul far from all others is not on the map, at {places}: as a rule "
            "latitude and longitude in each other's place, or a slip of the pen.",
            "{number:,} hauls far from all others are not on the map, at {places}: as a rule "
            "latitude and longitude in each other's place, or a slip of the pen.",
            sum(row["hauls"] for row in far),
            places=_places(far),
        )
    ]


def _places(far: list[Row]) -> str:
    named = "; ".join(place_words(row["latitude"], row["longitude"]) for row in far[:MOST_NAMED])
    if len(far) <= MOST_NAMED:
        return named
    return say("{places} and {more} places more", places=named, more=len(far) - MOST_NAMED)


def _size(step: float) -> str:
    """The side of a square: degrees, minutes, or both."""
    degrees, minutes = divmod(round(step * 60), 60)
    return f"{f'{degrees}°' if degrees else ''}{f'{minutes}′' if minutes else ''}"


def _table(shown: Shown) -> Table:
    step = shown.extent.step
    squares: dict[tuple[float, float], list[Row]] = {}
    for row in shown.hauls:
        corner = (row["latitude"] // step * step, row["longitude"] // step * step)
        squares.setdefault(corner, []).append(row)
    return Table(
        say("Hauls by squares of the grid, {size} by {size}", size=_size(step)),
        [say("south-west corner"), say("hauls"), say("damaged"), say("not known")],
        [
            [
                place_words(*corner),
                *(
                    number(sum(row["hauls"] for row in rows if row["damaged"] in of), ",")
                    for of in ((True, False, None), (True,), (None,))
                ),
            ]
            for corner, rows in sorted(squares.items(), reverse=True)
        ],
    )
