"""So many hauls or trips, in the number that the language has for so many."""

from __future__ import annotations

from reports.language import say_many


def haul_count(hauls: int) -> str:
    """1 haul, 1,493 hauls."""
    return say_many("{number:,} haul", "{number:,} hauls", hauls)


def trip_count(trips: int) -> str:
    """1 trip, 156 trips."""
    return say_many("{number:,} trip", "{number:,} trips", trips)
