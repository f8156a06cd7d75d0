"""The headline outcomes year by year: how often as it was, and each rig against the reference.

A year's rate is of all its hauls, nothing adjusted. A ratio is that of the year's hauls alone, by
the same rules as over the whole record, each judged by itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

import polars as pl

from pipeline.rates.effects import find_effects
from pipeline.rates.rate_table import rate_table
from schemas.outcomes import HEADLINES
from schemas.words import ALL_GROUNDS, WHOLE_RECORD

if TYPE_CHECKING:
    from collections.abc import Sequence

    from schemas.codes import Verdict

OF_A_STRETCH = r"^\d+"
"""A stretch of the record is a year, or begins with one (`haul_factors.sql`)."""


@dataclass(frozen=True)
class OfYear:
    """What all hauls of a year came to, or one rig's against the reference; for `findings.json`.

    `rig` is None of all hauls; `ratio` with its own limits and verdict is there for a rig alone,
    and only where the two were fished side by side in that year.
    """

    outcome: str
    year: str
    rig: str | None
    hauls: int
    trips: int
    tow_hours: float
    total: float
    rate: float
    low: float | None
    high: float | None
    ratio: float | None = None
    ratio_low: float | None = None
    ratio_high: float | None = None
    verdict: Verdict | None = None


def find_by_year(
    sums: pl.DataFrame, reference: str, adjust: Sequence[str], errors: Literal["trip", "model"]
) -> list[OfYear]:
    """Each headline outcome in each year, all hauls and then each rig; nothing of a single year.

    `sums` are those of `find_effects`.
    """
    dated = sums.filter(pl.col("outcome").is_in(HEADLINES)).with_columns(
        year=pl.col("stretch").str.extract(OF_A_STRETCH, 0)
    )
    years = dated["year"].drop_nulls().unique().sort().to_list()
    if len(years) == 1:
        return []
    found = [
        of_year
        for year in years
        for of_year in _of_year(year, dated.filter(year=year), reference, adjust, errors)
    ]
    return sorted(found, key=lambda row: (HEADLINES.index(row.outcome), row.year))


def _of_year(
    year: str,
    sums: pl.DataFrame,
    reference: str,
    adjust: Sequence[str],
    errors: Literal["trip", "model"],
) -> list[OfYear]:
    """All hauls of a year, and then each rig."""
    fished = sums.select("rig_version", "ground").unique()
    ratios: dict[tuple[str, str], dict[str, Any]] = {
        (effect.outcome, effect.rig): {
            "ratio": effect.ratio,
            "ratio_low": effect.low,
            "ratio_high": effect.high,
            "verdict": effect.verdict_alone,
        }
        for effect in find_effects(sums, fished, reference, adjust, errors, (ALL_GROUNDS,))
        if effect.side_by_side and effect.part == WHOLE_RECORD and effect.low is not None
    }
    whole = rate_table(sums.with_columns(rig_version=pl.lit("")), errors)
    by_rig = rate_table(sums, errors)
    return [
        OfYear(
            year=year,
            **{**row, "rig": row["rig"] or None},
            **ratios.get((row["outcome"], row["rig"]), {}),
        )
        for table in (whole, by_rig)
        for row in table.filter(ground=ALL_GROUNDS).drop("ground").to_dicts()
    ]
