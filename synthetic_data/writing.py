"""Write an invented season as the folder that a fleet would hand over."""

from io import BytesIO
from pathlib import Path

import polars as pl

from synthetic_data.scene import GROUNDS, REFERENCE_RIG
from synthetic_data.season import invent_season
from synthetic_data.truth import Truth

DECK_LOG = "deck log 2031.csv"
DECK_LOG_ENCODING = "cp1252"
_ROWS_AT_A_TIME = 50_000

_NOTE = """\
This season is invented. The boats, people, grounds, catches and damage in this folder never
existed; the positions are open sea chosen at random. It was made by the program
synthetic_data with {boats} boats, {hauls} hauls and seed {seed}.

truth.toml holds the ratios between rigs that the hauls were drawn from, and counts the
spoilt rows that were put in on purpose. No reader of the season needs it; it is there to
check what a reader finds.
"""

_SEASON_TOML = """\
# An invented season: no boat, person or ground in it exists.
[season]
title = "A year on the Hallow grounds (invented)"
currency = "EUR"
time_zone = "UTC"                # the boats keep UTC all year
reference_rig = "{reference_rig}"

[costs]
mending_hour = 35.0
hour_lost = 210.0

[model]
adjust = ["ground", "vessel", "depth_band", "quarter"]
errors = "trip"

[sharing]
min_vessels = 3
max_share = 0.8

[hauls]
file = "{deck_log}"
keep = ["tide"]

[hauls.read]
encoding = "{encoding}"
separator = ";"
decimal = ","
missing = ["", "n/a"]            # not "-": one skipper writes it for a sound net

[hauls.columns]
vessel = "Boat"
trip = "Trip"
haul = "Haul no"
shot_at = {{ from = ["Date", "Shot"], format = "%d/%m/%Y %H%M" }}
hauled_at = {{ from = ["Date up", "Up"], format = "%d/%m/%Y %H%M" }}
tow_hours = {{ from = "Towed", unit = "min" }}
rig_version = "Gear"
ground = {{ from = "Bottom", words = {{ {ground_words} }} }}
depth_m = {{ from = "Depth", unit = "fathom" }}
latitude = "Lat"
longitude = "Long"
speed_kn = "Speed"
sea_state = "Sea"
debris_kg = "Stones kg"
valid = {{ from = "Good tow", words = {{ Y = "yes", N = "no" }} }}
damaged = {{ from = "Damage", words = {{ Y = "yes", N = "no" }} }}
damage_note = "Remarks"
mending_hours = "Mending h"
hours_lost = "Lost h"
repair_cost = "Repair"
"""


def write_season(
    folder: Path, *, boats: int = 4, hauls: int = 1500, seed: int = 7, spoilt: bool = True
) -> None:
    """Write the season folder; the same arguments write the same bytes."""
    season = invent_season(boats, hauls, seed, spoilt=spoilt)
    folder.mkdir(parents=True, exist_ok=True)
    for name, table in season.tables.items():
        if name == "hauls":
            write_table(folder / DECK_LOG, table, separator=";", encoding=DECK_LOG_ENCODING)
        else:
            write_table(folder / f"{name}.csv", table)
    write_text(folder / "season.toml", season_toml())
    write_text(folder / "truth.toml", truth_toml(season.truth))
    write_text(folder / "NOTE.txt", _NOTE.format(boats=boats, hauls=hauls, seed=seed))


def season_toml() -> str:
    """Return the season's settings, with how to read its deck log."""
    words = ", ".join(f'{ground.letter} = "{ground.word}"' for ground in GROUNDS)
    return _SEASON_TOML.format(
        reference_rig=REFERENCE_RIG,
        deck_log=DECK_LOG,
        encoding=DECK_LOG_ENCODING,
        ground_words=words,
    )


def truth_toml(truth: Truth) -> str:
    """Return the truth as TOML: plain values first, then one section a table."""
    lines = ["# What the invented hauls were drawn from: rates per tow hour against the"]
    lines += [f"# reference rig {REFERENCE_RIG}, and against sand, neaps and the first quarter."]
    lines += [f"{key} = {value}" for key, value in truth.items() if isinstance(value, int)]
    for section, values in truth.items():
        if isinstance(values, dict):
            lines += ["", f"[{section}]"]
            lines += [f'"{key}" = {_toml_value(value)}' for key, value in values.items()]
    return "\n".join(lines) + "\n"


def _toml_value(value: float | list[str]) -> str:
    """Write a number or a list of words."""
    if isinstance(value, list):
        return "[" + ", ".join(f'"{word}"' for word in value) + "]"
    return str(value)


def write_table(
    path: Path, table: pl.DataFrame, *, separator: str = ",", encoding: str = "utf-8"
) -> None:
    """Write the table some rows at a time, so that a long one never stands in memory twice."""
    with path.open("wb") as file:
        for start in range(0, max(table.height, 1), _ROWS_AT_A_TIME):
            part = BytesIO()
            rows = table.slice(start, _ROWS_AT_A_TIME)
            # A blank is written as nothing between separators, not as an empty quoted text.
            rows.with_columns(pl.all().replace("", None)).write_csv(
                part, separator=separator, include_header=start == 0
            )
            file.write(part.getvalue().decode("utf-8").encode(encoding))


def write_text(path: Path, text: str) -> None:
    """Write text with the same line ends everywhere."""
    path.write_text(text, encoding="utf-8", newline="\n")
