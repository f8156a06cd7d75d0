"""Money of several seasons: sums in two currencies are no sum."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.check_season import set_aside, with_remarks
from pipeline.rows import refusal
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.rows import CheckedSeason

IS_MONEY = saying("is money, and the seasons have several currencies ({}); left out")
MONEY_LEFT_OUT = saying(
    "The seasons have several currencies ({}): prices and costs of repair are left out."
)
REASONS = (IS_MONEY, MONEY_LEFT_OUT)


def without_money(season: CheckedSeason, currencies: Sequence[str]) -> CheckedSeason:
    """The season without its prices and costs of repair, each with a word on why."""
    why = IS_MONEY.format(", ".join(currencies))
    hauls = season.tables["hauls"]
    costed = hauls.filter(pl.col("repair_cost").is_not_null())
    season = with_remarks(season, "hauls", refusal(costed, "repair_cost", why))
    blank = hauls.with_columns(pl.lit(None, pl.Float64).alias("repair_cost"))
    season = replace(season, tables={**season.tables, "hauls": blank})
    if "prices" not in season.tables:
        return season
    return set_aside(season, "prices", refusal(season.tables["prices"], "price_per_kg", why))


def money_left_out(currencies: Sequence[str]) -> str:
    """The sentence on it."""
    return MONEY_LEFT_OUT.format(", ".join(currencies))
