"""Tables as a co-op may see them: what would expose a boat is hidden, and what was is said."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import polars as pl

from pipeline.sharing.cells import few_boats, lay_out, mostly_one_boats, told_by_few
from pipeline.sharing.secondary import hide_more

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.sharing.cells import Dimension
    from schemas.settings import Sharing

FEW_BOATS, ONE_BOAT, GIVES_AWAY = "few boats", "one boat", "gives another away"
FEW_RECORDED = "recorded on few boats"


@dataclass(frozen=True)
class SharedCells:
    """The cells of shared tables, and what was hidden of them.

    `cells` has the tables' columns (null where summed over), `vessels` and the measures (null where
    hidden), and `hidden`: why, or null. Cells in which nobody fished have no row. Which reason a
    cell has is not for the report, as it tells of the boats there: that is `said`, in a sentence.
    """

    cells: pl.DataFrame
    said: str


def share_table(
    contributions: pl.DataFrame,
    tables: Sequence[Sequence[Dimension]],
    measures: Sequence[str],
    sharing: Sharing,
    recorded: Sequence[str] = (),
) -> SharedCells:
    """The cells of the tables with all their totals, those hidden that would expose a boat.

    `contributions` has the tables' columns, `vessel`, `tow_hours` and the measures, any number of
    rows a boat. A table is its sides, a side its columns from coarse to fine:
    [[["rig_version"], ["ground"]], [["ground_gear", "rig_version"]]] is rig by ground and, linked
    to it, rigs by their ground gear. All that is shown of a season must go through one call: tables
    shared one by one may give each other's cells away, and so may two reports on the same season.

    `recorded` are those measures that are hours of which another was recorded: where few boats
    recorded it, or mostly one, it is theirs, however many fished there.

    ValueError where there are no rows, a column of a table is blank, or an amount is blank, below
    zero or no number, or hours are zero.
    """
    if contributions.is_empty():
        raise ValueError("there are no rows to share")
    cells = lay_out(contributions, tables, measures)
    few = few_boats(cells.sums, cells, sharing)
    mostly_one = mostly_one_boats(cells.sums, cells, sharing)
    by_few = np.zeros_like(few)
    for measure in recorded:
        by_few |= told_by_few(measure, cells, sharing)
    hidden = hide_more(cells, few | mostly_one | by_few, sharing)
    reason = np.select(
        [few, mostly_one, by_few, hidden], [FEW_BOATS, ONE_BOAT, FEW_RECORDED, GIVES_AWAY], ""
    )
    shown = pl.col("hidden").is_null()
    table = cells.keys.with_columns(
        pl.Series("hidden", reason).replace("", None),
        pl.Series("vessels", cells.vessels()),
        *(
            pl.Series(name, amounts)
            for name, amounts in zip(cells.measures, cells.totals(), strict=True)
        ),
    ).with_columns(pl.when(shown).then(pl.col("vessels", *cells.measures)))
    return SharedCells(table, what_was_hidden(table["hidden"], sharing))


def what_was_hidden(reasons: pl.Series, sharing: Sharing) -> str:
    """How many cells were hidden for which reason, from the reason of each cell, in a sentence."""
    counts = {
        reason: int((reasons == reason).sum())
        for reason in (FEW_BOATS, ONE_BOAT, FEW_RECORDED, GIVES_AWAY)
    }
    hidden = sum(counts.values())
    if not hidden:
        return f"No cell of {len(reasons)} was hidden."
    why = {
        FEW_BOATS: f"of fewer than {sharing.min_vessels} boats",
        ONE_BOAT: f"in which one boat has more than {100 * sharing.max_share:g} % of the hours",
        FEW_RECORDED: "of which damage or catch was recorded on too few boats, or mostly on one",
        GIVES_AWAY: "that would give a hidden one away, by a total or to a boat that knows its own",
    }
    told = [f"{count:,} {why[reason]}" for reason, count in counts.items() if count]
    return f"{hidden:,} of {len(reasons):,} cells are hidden: {', '.join(told)}."
