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
    return _from_to(season["first_day"], season["last_day"], "d MMM")


def months(season: Row) -> str:
    """From the first month to the last: Jan to Dec 2031."""
    if season["first_month"] is None:
        return ""
    return _from_to(f"{season['first_month']}-01", f"{season['last_month']}-01", "MMM")


def _from_to(first_day: str, last_day: str, form: str) -> str:
    """From one day to another in a form without its year; the year is told once where it can be."""
    first, last = date.fromisoformat(first_day), date.fromisoformat(last_day)
    whole = f"{form} y"
    if first == last:
        return day_of(first, whole)
    return say(
        "{first} to {last}",
        first=day_of(first, form if first.year == last.year else whole),
        last=day_of(last, whole),
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
