"""A word on rows that are used all the same: a position on land, text that looks like a program."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.complete import hours_between
from pipeline.checking.damage_remarks import damage_remarks
from pipeline.checking.day_or_month import day_or_month
from pipeline.checking.land import on_land
from pipeline.checking.names_alike import names_alike
from pipeline.checking.nearly_alike import nearly_alike, rigs_nearly_alike, told_of_pairs
from pipeline.checking.past_midnight import next_days, one_day_for_both
from pipeline.checking.slips import (
    catches_from_the_rest,
    depths_from_the_rest,
    nets_beside_others,
    tows_past_the_next_shot,
    years_from_the_rest,
)
from pipeline.rows import REMARK_SCHEMA, filled_in, placed, refusal
from schemas.tables import TABLES
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.rows import ValueTable
    from schemas.settings import Settings

LONG_LOST_HOURS = 240.0
"""Ten days: longer than most trips (own judgement, no source)."""
FAR_DEGREES = 10.0
"""A position further than this from the season's middle, and near it when swapped, is swapped."""

ON_LAND = saying("is a position on land; the haul is used all the same")
SWAPPED = saying("has latitude and longitude swapped, it seems; the haul is used all the same")
MUCH_LOST = saying("is more than {} h lost to one haul; it is used as it stands")
OTHER_HOURS = saying("h towed, where shooting and hauling are {} h apart; the tow hours are used")
REASONS = (MUCH_LOST, OTHER_HOURS)

COPIED = ("damage_review", "damage_note")
"""What stands in the log too, where it is remarked on."""


def remarks(values: dict[str, ValueTable], settings: Settings) -> pl.DataFrame:
    """All remarks on the season's rows, with the columns of `REMARK_SCHEMA`."""
    found = [
        placed(refusals, name, table.frame)
        for name, table in values.items()
        for refusals in (*_text_remarks(name, table), *_remarks_of(name, values, settings))
        if not refusals.is_empty()
    ]
    return pl.concat([pl.DataFrame(schema=REMARK_SCHEMA), *found])


def _text_remarks(name: str, values: ValueTable) -> list[pl.DataFrame]:
    """Text that a spreadsheet or a browser would run; here it stays text."""
    texts = [
        column.name
        for column in TABLES[name].columns
        if column.kind == "text" and column.name in values.found
        if (name, column.name) != COPIED
    ]
    return [
        refusal(
            values.frame.filter(pl.col(column).str.contains(r"(?i)^[=+@]\s*\w|<\s*/?\w+[^<]*>")),
            column,
            saying("looks like a formula or a script; it is kept as plain text and never run"),
        )
        for column in texts
    ]


def _remarks_of(name: str, values: dict[str, ValueTable], settings: Settings) -> list[pl.DataFrame]:
    """What is said of the rows of this table alone."""
    if name == "catches":
        return [catches_from_the_rest(values["catches"], values["hauls"])]
    if name == "fittings":
        return [_rigs_nearly_alike(values[name], values)]
    if name != "hauls":
        return []
    hauls = values["hauls"]
    one_day = one_day_for_both(settings.source("hauls"))
    return [
        *([next_days(hauls.frame)] if one_day else []),
        _swapped(hauls),
        _on_land(hauls),
        _times_that_differ(hauls, settings),
        *damage_remarks(values, settings),
        day_or_month(hauls),
        years_from_the_rest(hauls.frame),
        tows_past_the_next_shot(hauls),
        nets_beside_others(hauls),
        depths_from_the_rest(hauls),
        _lost_beyond_a_trip(hauls),
        *names_alike(hauls.frame),
        told_of_pairs(hauls.frame, nearly_alike(hauls.frame)),
        _rigs_nearly_alike(hauls, values),
    ]


def _rigs_nearly_alike(table: ValueTable, values: dict[str, ValueTable]) -> pl.DataFrame:
    described = values["rig_versions"].frame["rig_version"] if "rig_versions" in values else ()
    return rigs_nearly_alike(table.frame, {*described})


def _on_land(values: ValueTable) -> pl.DataFrame:
    on_the_map = values.frame.filter(
        pl.col("latitude").is_between(-90, 90) & pl.col("longitude").is_between(-180, 180)
    )
    there = on_land(on_the_map["latitude"].to_numpy(), on_the_map["longitude"].to_numpy())
    return _position_remark(values, on_the_map.filter(pl.Series(there, dtype=pl.Boolean)), ON_LAND)


def _swapped(values: ValueTable) -> pl.DataFrame:
    """Positions far from the season's middle that would be near it the other way round."""
    frame = values.frame
    latitude, longitude = frame["latitude"].median(), frame["longitude"].median()
    if latitude is None or longitude is None:
        return refusal(frame.clear(), "latitude", "")

    def far(north: str, east: str) -> pl.Expr:
        off_north, off_east = (pl.col(north) - latitude).abs(), (pl.col(east) - longitude).abs()
        return pl.max_horizontal(off_north, off_east) > FAR_DEGREES

    swapped = far("latitude", "longitude") & ~far("longitude", "latitude")
    return _position_remark(values, frame.filter(swapped), SWAPPED)


def _position_remark(values: ValueTable, frame: pl.DataFrame, remark: str) -> pl.DataFrame:
    """The remark on these rows, with the position as the log writes it, so that it can be found."""
    as_written = values.text.filter(pl.col("row").is_in(frame["row"].implode()))
    if as_written.is_empty():
        return refusal(frame.clear(), "latitude", remark)
    position = filled_in("{} / {}", "latitude", "longitude")
    return refusal(as_written.with_columns(position.alias("latitude")), "latitude", remark)


def _lost_beyond_a_trip(values: ValueTable) -> pl.DataFrame:
    """More fishing lost to one haul's damage than most trips last."""
    return refusal(
        values.frame.filter(pl.col("hours_lost") > LONG_LOST_HOURS),
        "hours_lost",
        MUCH_LOST.format(f"{LONG_LOST_HOURS:g}"),
    )


def _times_that_differ(values: ValueTable, settings: Settings) -> pl.DataFrame:
    """Tow hours that the two times do not bear out."""
    if "tow_hours" not in values.found:
        return refusal(values.frame.clear(), "tow_hours", "")
    by_the_clock = hours_between(settings.season.time_zone)
    frame = values.frame.with_columns(by_the_clock.round(2).alias("by_the_clock"))
    apart = (pl.col("tow_hours") - pl.col("by_the_clock")).abs()
    return refusal(
        frame.filter((apart > 1.0) & (pl.col("by_the_clock") > 0)),
        "tow_hours",
        filled_in(OTHER_HOURS, "by_the_clock"),
    )
