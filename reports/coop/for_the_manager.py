"""What whoever makes a co-op's report is told on the terminal, and no file of it says."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.check_season import sentence_of
from pipeline.checking.names_alike import ALIKE
from pipeline.checking.nearly_alike import NEARLY
from pipeline.seasons.boats import ANOTHER_BOAT
from pipeline.sharing.consent import agreeing_twice

if TYPE_CHECKING:
    from pipeline.rows import CheckedSeason
    from pipeline.run_season import SeasonResults


def for_the_manager(results: SeasonResults) -> list[str]:
    """A line on each thing to look at before the report is handed on."""
    sharing = results.folder.settings.sharing
    return [
        *agreeing_twice(sharing),
        *_boats_that_may_be_one(results.season),
        *_grounds_of_few_boats(results.season.tables["hauls"], sharing.min_vessels),
    ]


def _grounds_of_few_boats(hauls: pl.DataFrame, min_vessels: int) -> list[str]:
    """A line on each ground that is hidden as few boats fished it, which hides others with it."""
    of_few = (
        hauls.filter(pl.col("ground").is_not_null())
        .group_by("ground")
        .agg(pl.col("vessel").n_unique().alias("boats"))
        .filter(pl.col("boats") < min_vessels)
    )
    return [
        f"Ground {ground!r} was fished by fewer boats than {min_vessels}: it is hidden, and others "
        "may be with it, so that no total gives it away. Where it is another ground by the trade, "
        "map it with words under [hauls.columns]."
        for ground in of_few["ground"].sort()
    ]


def _boats_that_may_be_one(season: CheckedSeason) -> list[str]:
    """What `check` says of boats' names that are nearly another's: one boat more opens cells."""
    of_names = season.remarks.filter(
        (pl.col("table") == "hauls")
        & (pl.col("column") == "vessel")
        & pl.any_horizontal(
            pl.col("reason").str.starts_with(asked.split("{}")[0])
            for asked in (ALIKE, NEARLY, ANOTHER_BOAT)
        )
    )
    each_once = of_names.unique(["value", "reason"], keep="first", maintain_order=True)
    return [sentence_of(row) for row in each_once.iter_rows(named=True)]
