"""Seasons written as what one boat fished in turn, for the tests of changes of rig.

`30 bobbins, torn 1 in 5; 30 discs, mud, 4 h` is thirty hauls with bobbins, every fifth of which
tore the net, and then thirty with discs on mud, four hours each. What is not said: stones, 3 h,
60 m, no tear, 10 kg of bottom-living fish; of fish every haul has in turn a tenth less and more.
Five hauls a day, ten a trip; a trip begins with each turn, but `same trip` goes on with the one
before. `50 days later` is a lay-up before the turn, `no depth` and `no damage` what was not
recorded.
"""

from __future__ import annotations

import re
from datetime import datetime, timedelta

import polars as pl

from schemas.types import TYPES

HAULS_A_DAY, HAULS_A_TRIP = 5, 10
SCHEMA = {
    "vessel": pl.String(),
    "trip": pl.String(),
    "haul": pl.String(),
    "shot_at": TYPES["moment"],
    "rig_version": pl.String(),
    "ground": pl.String(),
    "depth_m": pl.Float64(),
    "tow_hours": pl.Float64(),
    "damage_events": pl.Float64(),
    "bottom_living_kg": pl.Float64(),
}
GROUNDS = {"stones", "mud", "sand"}
FIRST_DAY = datetime(2031, 3, 3, 5)


def fished(text: str, vessel: str = "Skua") -> pl.DataFrame:
    """The hauls of one boat, in the order of time."""
    rows: list[tuple[object, ...]] = []
    day, trip = 0, 0
    for turn in text.split("; "):
        head, *said = turn.split(", ")
        many, rig = head.split(" ", 1)
        day += sum(int(words.split()[0]) for words in said if words.endswith("days later"))
        trip += "same trip" not in said
        for haul in range(int(many)):
            trip += haul > 0 and haul % HAULS_A_TRIP == 0
            moment = FIRST_DAY + timedelta(
                days=day + haul // HAULS_A_DAY, hours=3 * (haul % HAULS_A_DAY)
            )
            rows.append((vessel, str(trip), str(haul + 1), moment, rig, *_of_haul(haul, said)))
        day += -(-int(many) // HAULS_A_DAY)
    return pl.DataFrame(rows, schema=SCHEMA, orient="row")


def _of_haul(haul: int, said: list[str]) -> tuple[object, ...]:
    """Ground, depth, tow hours, tears and fish of a turn's haul."""
    ground, depth, hours, torn, kilos = "stones", 60.0, 3.0, 0.0, 10.0
    for words in said:
        if words in GROUNDS:
            ground = words
        elif every := re.fullmatch(r"torn 1 in (\d+)", words):
            torn = float(haul % int(every[1]) == 0)
        elif words.endswith(" h"):
            hours = float(words.removesuffix(" h"))
        elif words.endswith(" m"):
            depth = float(words.removesuffix(" m"))
        elif words.endswith(" kg"):
            kilos = float(words.removesuffix(" kg"))
    return (
        ground,
        None if "no depth" in said else depth,
        hours,
        None if "no damage" in said else torn,
        kilos * (1.1 if haul % 2 else 0.9),
    )
