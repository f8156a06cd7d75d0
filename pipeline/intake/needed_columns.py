"""What no haul can be used without, where no header is known for it; with lines to copy."""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING

import polars as pl

from pipeline.intake.headers import found_columns
from pipeline.intake.moments import ways_together
from pipeline.intake.text_tables import UNREADABLE, read_text_table
from pipeline.intake.units import SPELT, UNITS
from pipeline.problems import SeasonUnusableError
from schemas.column import SOURCE_COLUMNS
from schemas.hauls import HAULS
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from pipeline.intake.season_folder import SeasonFolder
    from pipeline.rows import TextTable
    from schemas.settings import TableSource

TIMES = ("shot_at", "hauled_at")

NO_HOURS = saying(
    "{}: no header is known for the hours towed, tow_hours, nor for both times to work them out "
    "from, shot_at and hauled_at."
)
NO_RIG = saying(
    "{}: no header is known for the rig, rig_version, and no table fittings says which was fished."
)
NONE_KNOWN = saying(
    "{}: none of its headers is known: {}. If lines stand above the headers, say how many with "
    "skip_lines under [hauls.read] in season.toml; if it is no part of hauls, leave it out."
)
SOME_KNOWN = saying("Its headers are {}; known of these: {}.")
REASONS = (NO_HOURS, NO_RIG, NONE_KNOWN, SOME_KNOWN)
TO_COPY = (
    "Say which header is which in a text file season.toml (not season.toml.txt) beside it, in "
    "lines such as these. They are guessed from the headers, so look them over; ? stands for a "
    "header that was not guessed.\n\n{}\n"
)

DAY = ("date", "day", "fecha", "día")
WORDS = {
    "vessel": ("vessel", "boat", "ship", "barco", "buque"),
    "trip": ("trip", "voyage", "marea"),
    "shot_at": ("shot", "shoot", "shooting", "start", "down", "largado", "largada"),
    "hauled_at": ("hauled", "hauling", "up", "end", "virado", "virada"),
    "tow_hours": ("hours", "hrs", "towed", "duration", "horas"),
    "rig_version": ("rig", "gear", "aparejo", "armado"),
    "ground": ("ground", "bottom", "fondo"),
    "depth_m": ("depth", "fathom", "fathoms", "fm", "profundidad"),
    "damage_note": ("remarks", "remark", "notes", "note", "comments", "comment", "observaciones"),
}
"""By column, the words of a header by which it may be meant."""


def need_columns(season: SeasonFolder, texts: Mapping[str, TextTable]) -> None:
    """Raise `SeasonUnusableError` if the log has no column for what no haul is used without."""
    found = texts["hauls"].found
    hours = "tow_hours" in found or set(TIMES) <= set(found)
    rig = "rig_version" in found or "fittings" in texts
    if hours and rig:
        return
    (hauls,) = (table for table in season.tables if table.name == "hauls")
    place, file = hauls.places[0], hauls.labels[0]
    raw = read_text_table(place.file, hauls.source.read, place.sheet).frame
    headers = _headers(raw)
    of_columns = found_columns(HAULS, hauls.source, headers).values()
    known = dict.fromkeys(header for how in of_columns for header in how.headers)
    missing = [*([] if hours else [NO_HOURS]), *([] if rig else [NO_RIG])]
    raise SeasonUnusableError(
        [
            *(sentence.format(file) for sentence in missing),
            SOME_KNOWN.format(", ".join(filter(None, headers)), ", ".join(known) or "none"),
            TO_COPY.format("\n".join(_lines(raw, hauls.source))),
        ]
    )


def none_known(raw: pl.DataFrame, source: TableSource, file: str) -> list[str]:
    """What is said of a file of hauls of whose headers none is known, and none is asked for."""
    headers = ", ".join(filter(None, _headers(raw)))
    return [NONE_KNOWN.format(file, headers), TO_COPY.format("\n".join(_lines(raw, source)))]


def _headers(raw: pl.DataFrame) -> list[str]:
    return [name.strip() for name in raw.columns if name not in (*SOURCE_COLUMNS, UNREADABLE)]


def _lines(raw: pl.DataFrame, source: TableSource) -> list[str]:
    """The lines of `season.toml` that say where the columns stand that were not found."""
    raw = raw.rename({name: name.strip() for name in raw.columns})
    headers = _headers(raw)
    found = found_columns(HAULS, source, headers)
    used = {header for how in found.values() for header in how.headers}
    free = [header for header in headers if header and header not in used]
    guessed = {
        column: line
        for column, words in WORDS.items()
        if column not in found
        if (line := _guess(column, words, free, raw))
    }
    there = {*found, *guessed}
    if "tow_hours" not in there and not set(TIMES) <= there:
        guessed["tow_hours"] = _as_toml("?")
    if "rig_version" not in there:
        guessed["rig_version"] = _as_toml("?")
    heading = [] if source.columns else ["[hauls.columns]"]
    return [*heading, *(f"{column} = {line}" for column, line in guessed.items())]


def _guess(column: str, words: Iterable[str], free: list[str], raw: pl.DataFrame) -> str | None:
    """How the column may be read, as `season.toml` says it; none where no header is like it."""
    header = _with_a_word(words, free)
    if header is None:
        return None
    if column in TIMES:
        return _guessed_time(header, _with_a_word(DAY, free), raw)
    unit = HAULS.column(column).unit
    other = next((name for name in UNITS.get(unit, ()) if _words(header) & _spelt(name)), unit)
    if other == unit:
        return _as_toml(header)
    return f"{{ from = {_as_toml(header)}, unit = {_as_toml(other)} }}"


def _guessed_time(header: str, day: str | None, raw: pl.DataFrame) -> str | None:
    """A time by itself, or with the day that stands apart; none where no cell tells one so."""
    for headers in ([header], [day, header] if day else [header]):
        parts = [pl.col(name).str.strip_chars() for name in headers]
        cells = raw.select(pl.concat_str(parts, separator=" ")).to_series()
        if ways := ways_together(cells):
            told = _as_toml(headers if len(headers) > 1 else header)
            return f"{{ from = {told}, format = {_as_toml(ways if len(ways) > 1 else ways[0])} }}"
    return None


def _with_a_word(words: Iterable[str], headers: list[str]) -> str | None:
    return next((header for header in headers if not _words(header).isdisjoint(words)), None)


def _words(header: str) -> set[str]:
    return set(re.findall(r"[^\W\d_]+", header.lower()))


def _spelt(unit: str) -> set[str]:
    return {unit, *SPELT.get(unit, ())}


def _as_toml(value: str | list[str]) -> str:
    return json.dumps(value, ensure_ascii=False)
