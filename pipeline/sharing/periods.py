"""The parts of the record that not all boats fished.

A report of the whole record, handed on beside one that has not such a part, gives away what the
boats did there, as it is all that was added: whatever either hides by itself.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import polars as pl

if TYPE_CHECKING:
    from schemas.settings import Sharing

Row = dict[str, Any]
MONTHS_A_YEAR = 12


@dataclass(frozen=True)
class Part:
    """A year, or its time from a `month` on, and the boats that fished then."""

    year: int
    month: int | None
    boats: tuple[str, ...]

    def shared(self) -> Row:
        """What a co-op's page may tell of it: when it was, and not whose it is."""
        return {"year": self.year, "from_month": self.month}


def parts_of_some_boats(hauls: pl.DataFrame, sharing: Sharing) -> list[Part]:
    """The years in which not every boat fished, and the last months if they are of too few boats.

    Months are whole: boats that end a season on other days of one month end it together. What
    comes after the start of a year that is named goes without saying.
    """
    day = pl.coalesce("shot_at", "hauled_at").dt
    months = hauls.select(
        "vessel", (day.year() * MONTHS_A_YEAR + day.month() - 1).alias("month")
    ).drop_nulls()
    boats = months["vessel"].n_unique()
    of_year = (
        months.group_by((pl.col("month") // MONTHS_A_YEAR).alias("year"))
        .agg(pl.col("vessel").unique().sort())
        .filter(pl.col("vessel").list.len() < boats)
        .sort("year")
    )
    years = [Part(year, None, tuple(vessels)) for year, vessels in of_year.iter_rows()]
    ends = months.group_by("vessel").agg(pl.col("month").max())["month"].sort(descending=True)
    if boats < sharing.min_vessels:
        return years
    late = months.filter(pl.col("month") > ends[sharing.min_vessels - 1]).sort("month")
    if late.is_empty():
        return years
    year, month = divmod(late["month"][0], MONTHS_A_YEAR)
    named = any(part.year == year for part in years)
    return (
        years if named else [*years, Part(year, month + 1, tuple(late["vessel"].unique().sort()))]
    )
