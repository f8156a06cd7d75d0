"""An invented co-op: a folder of season folders, each log kept in its boat's own way."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import polars as pl

from synthetic_data.scene import GROUNDS
from synthetic_data.season import invent_season
from synthetic_data.writing import (
    DECK_LOG,
    DECK_LOG_ENCODING,
    season_toml,
    truth_toml,
    write_table,
    write_text,
)

FATHOM_M = 1.8288
BOATS_WITH_A_SECOND_YEAR = 2
FIRST_YEAR, SECOND_YEAR = "2031", "2032"

_TITLE = "A year on the Hallow grounds (invented)"
_NOTE = """\
This co-op is invented. Its boats, people, grounds, catches and damage never existed; the
positions are open sea chosen at random. It was made by the program synthetic_data with {boats}
boats, {hauls} hauls in the first year and seed {seed}. The second year of two of the boats is
invented anew: their rigs do the same as in the first, and their crews differ.

truth.toml holds the ratios between rigs that the hauls of both years were drawn from.
"""
_TAB_SETTINGS = """\
[season]
time_zone = "UTC"

[hauls]
file = "tows.tsv"
keep = ["tide"]

[hauls.read]
separator = "\\t"

[hauls.columns]
vessel = "Ship"
trip = "Voyage"
haul = "Tow"
shot_at = "Down"
hauled_at = "Off bottom"
tow_hours = { from = "Hours", unit = "h" }
rig_version = "Rig"
ground = { from = "Seabed", words = { WORDS } }
depth_m = { from = "Metres", unit = "m" }
latitude = "N"
longitude = "E"
speed_kn = { from = "km/h", unit = "km/h" }
sea_state = "Sea"
debris_kg = "Stones"
valid = "Counts"
damaged = "Torn"
damage_note = "Net"
mending_hours = "Mended"
hours_lost = "Lost"
repair_cost = "Bill"
"""
_TEMPLATE_SETTINGS = """\
[season]
time_zone = "UTC"

[hauls]
keep = ["tide"]
"""
_TEMPLATE_NAMES = {
    "Boat": "vessel",
    "Trip": "trip",
    "Haul no": "haul",
    "Shot": "shot_at",
    "Up": "hauled_at",
    "Towed": "tow_hours",
    "Gear": "rig_version",
    "Bottom": "ground",
    "Depth": "depth_m",
    "Lat": "latitude",
    "Long": "longitude",
    "Speed": "speed_kn",
    "Sea": "sea_state",
    "Stones kg": "debris_kg",
    "Good tow": "valid",
    "Damage": "damaged",
    "Mending h": "mending_hours",
    "Lost h": "hours_lost",
    "Repair": "repair_cost",
    "Remarks": "damage_note",
}
_TAB_NAMES = {
    "Boat": "Ship",
    "Trip": "Voyage",
    "Haul no": "Tow",
    "Shot": "Down",
    "Up": "Off bottom",
    "Towed": "Hours",
    "Gear": "Rig",
    "Bottom": "Seabed",
    "Depth": "Metres",
    "Lat": "N",
    "Long": "E",
    "Speed": "km/h",
    "Stones kg": "Stones",
    "Good tow": "Counts",
    "Damage": "Torn",
    "Mending h": "Mended",
    "Lost h": "Lost",
    "Repair": "Bill",
    "Remarks": "Net",
}
_WITH_COMMAS = ("Lat", "Long", "Speed", "Stones kg", "Mending h", "Lost h")
_KM_H = 1.852


@dataclass(frozen=True)
class _Way:
    """A way of keeping a log: its file, how that is written, and the settings that read it."""

    file: str
    separator: str
    encoding: str
    settings: str
    told: Callable[[pl.DataFrame], pl.DataFrame]


def write_co_op(folder: Path, *, boats: int = 5, hauls: int = 1500, seed: int = 7) -> None:
    """Write a season folder for each boat, and for two of them one of a second year.

    The same arguments write the same bytes. Raises ``ImpossibleSeasonError`` for a co-op that
    cannot be invented.
    """
    first = invent_season(boats, hauls, seed)
    later_boats = min(BOATS_WITH_A_SECOND_YEAR, boats)
    later = invent_season(later_boats, max(later_boats * hauls // boats, 60), seed + 1)
    folder.mkdir(parents=True, exist_ok=True)
    _write_year(folder, first.tables, FIRST_YEAR)
    same_boats = first.tables["vessels"].head(later_boats)
    _write_year(folder, _a_year_later(later.tables) | {"vessels": same_boats}, SECOND_YEAR)
    write_text(folder / "season.toml", _of_the_whole())
    write_text(folder / "truth.toml", truth_toml(first.truth))
    write_text(folder / "NOTE.txt", _NOTE.format(boats=boats, hauls=hauls, seed=seed))


def _of_the_whole() -> str:
    """Return the settings that hold for every season: those of one, without its mapping.

    They name no factors, so that the season is one of those that a reader adjusts for.
    """
    own, _, _ = season_toml().partition("[hauls]")
    named = own.replace(_TITLE, "A co-op on the Hallow grounds (invented)")
    lines = named.splitlines(keepends=True)
    return "".join(line for line in lines if not line.startswith("adjust"))


def _write_year(folder: Path, tables: dict[str, pl.DataFrame], year: str) -> None:
    """Write a season folder for each boat of a year, its log in the boat's own way."""
    ways = _ways()
    for at, boat in enumerate(tables["vessels"]["vessel"]):
        season = folder / f"{boat} {year}"
        season.mkdir(exist_ok=True)
        way = ways[at % len(ways)]
        log = way.told(tables["hauls"].filter(pl.col("Boat") == boat))
        file = season / way.file.replace(FIRST_YEAR, year)
        write_table(file, log, separator=way.separator, encoding=way.encoding)
        write_text(season / "season.toml", way.settings.replace(FIRST_YEAR, year))
        for name, table in tables.items():
            if name != "hauls":
                own = table.filter(pl.col("vessel") == boat) if "vessel" in table.columns else table
                write_table(season / f"{name}.csv", own)


def _a_year_later(tables: dict[str, pl.DataFrame]) -> dict[str, pl.DataFrame]:
    """Return the tables with every day a year later."""
    days = ("Date", "Date up", "fitted_from", "fitted_to", "checked_on", "valid_from")
    return {
        name: table.with_columns(
            pl.col(column).str.replace(FIRST_YEAR, SECOND_YEAR)
            for column in days
            if column in table.columns
        )
        for name, table in tables.items()
    }


def _ways() -> tuple[_Way, ...]:
    """Return the ways in which the boats keep their logs."""
    _, mark, mapping = season_toml().partition("[hauls]")
    words = ", ".join(f'{ground.letter.lower()} = "{ground.word}"' for ground in GROUNDS)
    zone = '[season]\ntime_zone = "UTC"\n\n'
    return (
        _Way(DECK_LOG, ";", DECK_LOG_ENCODING, zone + mark + mapping, lambda log: log),
        _Way("tows.tsv", "\t", "utf-8", _TAB_SETTINGS.replace("WORDS", words), _with_tabs),
        _Way("hauls.csv", ",", "utf-8", _TEMPLATE_SETTINGS, _as_the_template),
    )


def _with_tabs(log: pl.DataFrame) -> pl.DataFrame:
    """Return the log in metres, hours and km/h, with small letters for the bottom."""
    return (
        _in_metres_and_hours(log)
        .with_columns(_times("Speed", _KM_H, 2), pl.col("Bottom").str.to_lowercase())
        .rename(_TAB_NAMES)
    )


def _as_the_template(log: pl.DataFrame) -> pl.DataFrame:
    """Return the log in the columns, units and words of the season table itself."""
    words = {ground.letter: ground.word for ground in GROUNDS}
    return (
        _in_metres_and_hours(log)
        .with_columns(pl.col("Bottom").replace(words))
        .rename(_TEMPLATE_NAMES)
    )


def _in_metres_and_hours(log: pl.DataFrame) -> pl.DataFrame:
    """Return the log with metres, hours, decimal points, yes and no, and a day with its time."""
    answers = pl.col("Good tow", "Damage").replace({"Y": "yes", "N": "no"})
    points = pl.col(_WITH_COMMAS).str.replace(",", ".", literal=True)
    return log.with_columns(
        _day_and_time("Date", "Shot"),
        _day_and_time("Date up", "Up"),
        _times("Towed", 1 / 60, 4),
        _times("Depth", FATHOM_M, 1),
        answers,
        points,
    ).drop("Date", "Date up")


def _times(column: str, factor: float, decimals: int) -> pl.Expr:
    """Return the numbers times a factor; what is no number stays as it was written."""
    number = pl.col(column).str.replace(",", ".", literal=True).cast(pl.Float64, strict=False)
    return pl.coalesce((number * factor).round(decimals).cast(pl.String), column).alias(column)


def _day_and_time(day: str, time: str) -> pl.Expr:
    """Return 2031-01-07 05:30 of 07/01/2031 and 0530, under the name of the time."""
    parts = pl.col(day).str.split("/")
    date = pl.concat_str((parts.list.get(at, null_on_oob=True) for at in (2, 1, 0)), separator="-")
    clock = pl.concat_str(pl.col(time).str.head(2), pl.col(time).str.slice(2), separator=":")
    return pl.concat_str(date, clock, separator=" ").fill_null("").alias(time)
