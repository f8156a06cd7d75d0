"""The section with the map: where the net was shot, and where it tore."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.haul_map.extent import place_words
from reports.haul_map.hauls import Shown, shown_hauls
from reports.parts import Figure, Section, Table

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

MOST_NAMED = 5
CAPTION = (
    "A short grey dash: hauls with one rig that left the net whole, those close together as one. A "
    "rig's own mark, with an edge: a haul that damaged the net. A grey ring: nobody knows. Land, "
    "where there is any, is Natural Earth's outline at 1:50 million (public domain), good to a "
    "kilometre or two: not for navigation."
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
        "Where the net was shot, and where it tore",
        _far_words(shown.far),
        figures=[
            Figure(
                name="map-of-hauls",
                kind="map",
                outcome="",
                title=f"Of {hauls:,} hauls on the map {damaged:,} damaged the net",
                caption=CAPTION,
                table=_table(shown),
            )
        ],
    )


def _far_words(far: list[Row]) -> list[str]:
    """The hauls that are left off, so that someone can put them right."""
    if not far:
        return []
    many = sum(row["hauls"] for row in far)
    places = [place_words(row["latitude"], row["longitude"]) for row in far[:MOST_NAMED]]
    more = f" and {len(far) - MOST_NAMED} places more" if len(far) > MOST_NAMED else ""
    hauls, are = ("haul", "is") if many == 1 else ("hauls", "are")
    return [
        f"{many:,} {hauls} far from all others {are} not on the map, at {'; '.join(places)}{more}: "
        "as a rule latitude and longitude in each other's place, or a slip of the pen."
    ]


def _table(shown: Shown) -> Table:
    step = shown.extent.step
    squares: dict[tuple[float, float], list[Row]] = {}
    for row in shown.hauls:
        corner = (row["latitude"] // step * step, row["longitude"] // step * step)
        squares.setdefault(corner, []).append(row)
    return Table(
        f"Hauls by squares of the grid, {round(step * 60)}′ by {round(step * 60)}′",
        ["south-west corner", "hauls", "damaged", "not known"],
        [
            [
                place_words(*corner),
                *(
                    f"{sum(row['hauls'] for row in rows if row['damaged'] in of):,}"
                    for of in ((True, False, None), (True,), (None,))
                ),
            ]
            for corner, rows in sorted(squares.items(), reverse=True)
        ],
    )
