"""What a season is called, and from when to when it is."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from reports.language import day_of, say
from reports.sentences import listed

if TYPE_CHECKING:
    from reports.parts import Row


def period(season: Row) -> str:
    """From the first day to the last: 3 Jan to 26 Dec 2031."""
    if not season["first_day"]:
        return ""
    first, last = (date.fromisoformat(season[f"{end}_day"]) for end in ("first", "last"))
    if first == last:
        return day_of(first)
    return say(
        "{first} to {last}",
        first=day_of(first, "d MMM" if first.year == last.year else "d MMM y"),
        last=day_of(last),
    )


NAMED_BY = 3
"""A season without a title is called by so many boats, or by their number."""


def season_title(season: Row) -> str:
    """What the season is called; where nobody said, by its boats as far as the page names them."""
    if season["title"]:
        return str(season["title"])
    boats = season.get("vessels", [])
    if 0 < len(boats) <= NAMED_BY:
        return listed(boats)
    return say("A season of {boats} boats", boats=len(boats)) if boats else say("A season")
