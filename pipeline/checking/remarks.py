"""A word on rows that are used all the same: a position on land, text that looks like a program."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.complete import hours_between
from pipeline.checking.land import on_land
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

FAR_DAYS = 730
"""Two years: a haul further than this from any other is most often a slip (own judgement)."""
FAR_YEARS = saying(
    "is more than two years from any other haul; if the year is a slip, put it right"
)

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
        for refusals in (*_text_remarks(name, table), *_haul_remarks(name, table, settings))
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


def _haul_remarks(name: str, values: ValueTable, settings: Settings) -> list[pl.DataFrame]:
    if name != "hauls":
        return []
    return [
        _swapped(values),
        _on_land(values),
        _times_that_differ(values, settings),
        *_costs_without_damage(values),
        years_from_the_rest(values.frame),
        _lost_beyond_a_trip(values),
    ]


def _on_land(values: ValueTable) -> pl.DataFrame:
    on_the_map = values.frame.filter(
        pl.col("latitude").is_between(-90, 90) & pl.col("longitude").is_between(-180, 180)
    )
    there = on_land(on_the_map["latitude"].to_numpy(), on_the_map["longitude"].to_numpy())
    return _position_remark(
        on_the_map.filter(pl.Series(there, dtype=pl.Boolean)),
        saying("is a position on land; the haul is used all the same"),
    )


def _swapped(values: ValueTable) -> pl.DataFrame:
    """Positions far from the season's middle that would be near it the other way round."""
    frame = values.frame
    latitude, longitude = frame["latitude"].median(), frame["longitude"].median()
    if latitude is None or longitude is None:
        return refusal(frame.clear(), "latitude", "")

    def far(north: str, east: str) -> pl.Expr:
        off_north, off_east = (pl.col(north) - latitude).abs(), (pl.col(east) - longitude).abs()
        return pl.max_horizontal(off_north, off_east) > FAR_DEGREES

    return _position_remark(
        frame.filter(far("latitude", "longitude") & ~far("longitude", "latitude")),
        saying("has latitude and longitude swapped, it seems; the haul is used all the same"),
    )


def _position_remark(frame: pl.DataFrame, remark: str) -> pl.DataFrame:
    position = filled_in("{}, {}", "latitude", "longitude")
    return refusal(frame.with_columns(position.alias("latitude")), "latitude", remark)


def _costs_without_damage(values: ValueTable) -> list[pl.DataFrame]:
    """What damage cost in a haul that is said to have had none."""
    none = pl.when(pl.col("damage_events").is_not_null())
    sound = none.then(pl.col("damage_events") == 0).otherwise(~pl.col("damaged"))
    return [
        refusal(
            values.frame.filter(sound & (pl.col(column) > 0)),
            column,
            saying("is said of a haul without damage; what damage cost leaves it out"),
        )
        for column in ("mending_hours", "hours_lost", "repair_cost")
    ]


def years_from_the_rest(hauls: pl.DataFrame) -> pl.DataFrame:
    """A word on hauls that no other haul lies near in time: the year is most often a slip."""
    hauls = hauls.drop_nulls("shot_at").sort("shot_at")
    before, behind = pl.col("shot_at").diff(), pl.col("shot_at").diff(-1).abs()
    alone = pl.min_horizontal(before, behind) > pl.duration(days=FAR_DAYS)
    return refusal(hauls.filter(alone), "shot_at", FAR_YEARS)


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
