"""A word on hauls whose columns gainsay each other about damage to the net."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.slips import as_written
from pipeline.rows import filled_in, refusal
from schemas.hauls import HAUL_KEY
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.rows import ValueTable
    from schemas.settings import Settings

COSTS = ("mending_hours", "hours_lost", "repair_cost")

GAINSAID = saying(
    "stands beside {} in damage_events; the number is what counts, so put right which is wrong"
)
SOUND = saying("is said of a haul without damage; what damage cost leaves it out")
UNTOLD = saying(
    "is said of a haul of which nothing tells whether the net was damaged; what damage cost leaves "
    "it out until damaged says yes"
)
REASONS = (GAINSAID,)


def damage_remarks(values: dict[str, ValueTable], settings: Settings) -> list[pl.DataFrame]:
    """What is said of the hauls: two columns that differ, and costs of a haul without damage."""
    hauls = values["hauls"]
    frame = hauls.frame.join(_reviewed(values), on=HAUL_KEY, how="left").sort("row")
    return [_gainsaid(frame, hauls), *_costs_without_damage(frame, settings)]


def _reviewed(values: dict[str, ValueTable]) -> pl.DataFrame:
    """What a person said of a haul's damage (`reviewed`), in the rows of a review that count."""
    if "damage_review" not in values:
        return pl.DataFrame(schema=dict.fromkeys((*HAUL_KEY, "reviewed"), pl.String))
    review = values["damage_review"]
    named = pl.col("who").is_not_null() if "who" in review.found else pl.lit(value=True)
    counted = review.frame.filter(named, pl.col("damaged").is_not_null())
    return counted.unique(HAUL_KEY, keep="none").select(*HAUL_KEY, reviewed="damaged")


def _gainsaid(frame: pl.DataFrame, hauls: ValueTable) -> pl.DataFrame:
    """Hauls of which the two columns differ, and no person settled it in a review."""
    differing = frame.filter(
        pl.col("damaged") != (pl.col("damage_events") > 0), pl.col("reviewed").is_null()
    )
    reason = filled_in(GAINSAID, "damage_events")
    return refusal(as_written(differing, hauls, "damaged"), "damaged", reason)


def _costs_without_damage(frame: pl.DataFrame, settings: Settings) -> list[pl.DataFrame]:
    """What damage cost in a haul that had none, or of which nothing tells."""
    in_columns = pl.coalesce(pl.col("damage_events") > 0, "damaged")
    by_person = pl.when(pl.col("reviewed") != "unknown").then(pl.col("reviewed") == "yes")
    said = pl.when(pl.col("reviewed").is_null()).then(in_columns).otherwise(by_person)
    blank = said.is_null() & (pl.col("reviewed").is_not_null() | pl.col("damage_note").is_null())
    sound = ~said
    if settings.notes.blank_means == "no damage":
        sound, blank = sound | (blank & pl.col("reviewed").is_null()), pl.lit(value=False)
    return [
        refusal(frame.filter(which & (pl.col(column) > 0)), column, reason)
        for which, reason in ((sound, SOUND), (blank, UNTOLD))
        for column in COSTS
    ]
