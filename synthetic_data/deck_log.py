"""The tables as text: a lived-in deck log with headings of its own, the rest as the template.

The deck log is kept in fathoms, minutes, decimal commas and letters for the bottom; the
``[hauls]`` section of ``season.toml`` says how to read it.
"""

import numpy as np
import polars as pl

from synthetic_data.boat_tables import rig_names
from synthetic_data.fleet import Boat
from synthetic_data.scene import GROUNDS

_OWN_RIG_BLANK = 0.15
_BLANK_SHARES = {"Depth": 0.03, "Sea": 0.05, "Stones kg": 0.06, "Lat": 0.01, "Speed": 0.04}


def deck_log(
    hauls: pl.DataFrame, notes: pl.DataFrame, fleet: list[Boat], rng: np.random.Generator
) -> pl.DataFrame:
    """Return the hauls as the boats wrote them, all text."""
    fills = _of_boat("boat", [boat.fills_damaged for boat in fleet])
    ground = _of_boat("ground", [ground.letter for ground in GROUNDS])
    written = hauls.with_columns(notes["note"]).select(
        pl.col("boat").replace_strict(range(len(fleet)), [b.name for b in fleet]).alias("Boat"),
        pl.col("trip").cast(pl.String).alias("Trip"),
        pl.col("haul").cast(pl.String).alias("Haul no"),
        *_day_and_time("shot_at", "Date", "Shot"),
        *_day_and_time("hauled_at", "Date up", "Up"),
        pl.col("tow_minutes").cast(pl.String).alias("Towed"),
        _of_boat("rig", rig_names().to_list()).alias("Gear"),
        ground.alias("Bottom"),
        _comma("depth_fathom", 1).alias("Depth"),
        _comma("latitude", 3).alias("Lat"),
        _comma("longitude", 3).alias("Long"),
        _comma("speed_kn", 1).alias("Speed"),
        pl.col("sea_state").cast(pl.String).alias("Sea"),
        pl.when("springs").then(pl.lit("springs")).otherwise(pl.lit("neaps")).alias("tide"),
        _comma("debris_kg", 1).alias("Stones kg"),
        _letter("valid").alias("Good tow"),
        pl.when(fills).then(_letter("damaged")).alias("Damage"),
        pl.when(fills).then(_comma("mending_hours", 1)).alias("Mending h"),
        pl.when(fills).then(_comma("hours_lost", 1)).alias("Lost h"),
        pl.when(fills).then(pl.col("repair_cost").cast(pl.Int64).cast(pl.String)).alias("Repair"),
        pl.col("note").alias("Remarks"),
    )
    blank_shares = _BLANK_SHARES | {"Gear": _OWN_RIG_BLANK}
    return written.with_columns(
        pl.when(pl.Series(rng.random(hauls.height) >= share)).then(column).alias(column)
        for column, share in blank_shares.items()
    ).fill_null("")


def catches_text(catches: pl.DataFrame, hauls: pl.DataFrame, fleet: list[Boat]) -> pl.DataFrame:
    """Return catches in the template's columns, all text, in the order of the hauls."""
    keys = hauls.select("boat", "trip", "haul")[catches["haul_row"]]
    return pl.concat([keys, catches], how="horizontal").select(
        pl.col("boat").replace_strict(range(len(fleet)), [b.name for b in fleet]).alias("vessel"),
        pl.col("trip", "haul").cast(pl.String),
        "species",
        pl.col("kept_kg", "discarded_kg").cast(pl.String),
        pl.col("count").cast(pl.String).fill_null(""),
    )


def fittings_text(fittings: pl.DataFrame, fleet: list[Boat]) -> pl.DataFrame:
    """Return fittings in the template's columns, all text."""
    minute = pl.col("fitted_from", "fitted_to").dt.strftime("%Y-%m-%d %H:%M")
    return fittings.sort("fitted_from", "boat").select(
        _of_boat("boat", [boat.name for boat in fleet]).alias("vessel"),
        minute.name.keep(),
        _of_boat("rig", rig_names().to_list()).alias("rig_version"),
    ).select("vessel", "fitted_from", "rig_version", pl.col("fitted_to").fill_null(""))  # fmt: skip


def length_checks_text(checks: pl.DataFrame, fleet: list[Boat]) -> pl.DataFrame:
    """Return length checks in the template's columns, all text."""
    return checks.select(
        _of_boat("boat", [boat.name for boat in fleet]).alias("vessel"),
        pl.col("at").dt.strftime("%Y-%m-%d").alias("checked_on"),
        "section",
        _of_boat("rig", rig_names().to_list()).alias("rig_version"),
        pl.col("ground_chain_m", "traveller_m").round(2).cast(pl.String),
        pl.when("evened").then(pl.lit("yes")).otherwise(pl.lit("no")).alias("evened"),
    )


def as_text(table: pl.DataFrame) -> pl.DataFrame:
    """Return the table with every cell as text and blanks where nothing is recorded."""
    return table.select(pl.all().cast(pl.String).fill_null(""))


def _of_boat(column: str, words: list[str] | list[bool]) -> pl.Expr:
    """Word for each number in the column: boat, ground or rig."""
    return pl.col(column).replace_strict(range(len(words)), words)


def _day_and_time(column: str, day: str, time: str) -> tuple[pl.Expr, pl.Expr]:
    """Split a time into the log's two columns."""
    at = pl.col(column)
    return at.dt.strftime("%d/%m/%Y").alias(day), at.dt.strftime("%H%M").alias(time)


def _comma(column: str, decimals: int) -> pl.Expr:
    """Write a number with a decimal comma."""
    return pl.col(column).round(decimals).cast(pl.String).str.replace(".", ",", literal=True)


def _letter(column: str) -> pl.Expr:
    """Write yes and no as the log does."""
    return pl.when(column).then(pl.lit("Y")).otherwise(pl.lit("N"))
