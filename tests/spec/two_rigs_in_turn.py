"""A season of one boat that fished two rigs in turn on every trip, all on mud."""

from __future__ import annotations

from tests.spec.season_texts import SeasonText

TRIPS, HAULS = 12, 40
"""Trips of the season, and hauls."""


def season_with(species: str, hauls: int, own: list[list[str]] | None = None) -> SeasonText:
    """Two rigs in turn on every trip, all hauls with plaice and cod, the first also with that."""
    rows = [["trip", "haul", "shot_at", "tow_hours", "rig_version", "ground", "damaged"]]
    catches = [["trip", "haul", "species", "kept_kg"]]
    for at in range(HAULS):
        trip, haul = str(at % TRIPS + 1), str(at // TRIPS + 1)
        day = f"2031-03-{at % TRIPS + 1:02} {4 * (at // TRIPS) + 3:02}:00"
        rig = ("discs", "hoppers")[(at + at // TRIPS) % 2]
        rows.append([trip, haul, day, "3", rig, "mud", "yes" if at % 5 == 0 else "no"])
        catches += [[trip, haul, "PLE", str(50 + at % 7)], [trip, haul, "COD", "40"]]
        if at < hauls:
            catches.append([trip, haul, species, "10"])
    tables = {"hauls": rows, "catches": catches}
    if own is not None:
        tables["species"] = [["species", "name", "bottom_living"], *own]
    return SeasonText(tables, '[season]\nreference_rig = "discs"\n')
