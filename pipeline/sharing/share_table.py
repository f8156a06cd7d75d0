"""Tables as a co-op may see them: what would expose a boat is hidden, and what was is said."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import polars as pl

from pipeline.sharing.cells import few_boats, lay_out, mostly_one_boats, told_by_few
from pipeline.sharing.secondary import hide_more
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from pipeline.sharing.cells import Dimension
    from schemas.settings import Sharing

FEW_BOATS, ONE_BOAT, GIVES_AWAY = "few boats", "one boat", "gives another away"
FEW_RECORDED = "recorded on few boats"

HIDDEN_FOR = {
    FEW_BOATS: saying("{cells:,} of fewer than {boats} boats"),
    ONE_BOAT: saying("{cells:,} in which one boat has more than {percent:g} % of the hours"),
    FEW_RECORDED: saying(
        "{cells:,} of which damage or catch was recorded on too few boats, or mostly on one"
    ),
    GIVES_AWAY: saying(
        "{cells:,} that would give a hidden one away, by a total or to a boat that knows its own"
    ),
}
NONE_HIDDEN = saying("No cell of {cells} was hidden.")
SOME_HIDDEN = saying("{hidden:,} of {cells:,} cells are hidden: {reasons}.")


@dataclass(frozen=True)
class SharedCells:
    """The cells of shared tables, and what was hidden of them.

    `cells` has the tables' columns (null where summed over), `vessels` and the measures (null where
    hidden), and `hidden`: why, or null. Cells in which nobody fished have no row. Which reason a
    cell has is not for the report, as it tells of the boats there: how many have which is in
    `hidden_for`, and `said` says it in a sentence.
    """

    cells: pl.DataFrame
    hidden_for: dict[str, int]
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
    counts = {name: int((table["hidden"] == name).sum()) for name in HIDDEN_FOR}
    hidden_for = {name: count for name, count in counts.items() if count}
    said = said_of_hidden(hidden_for, table.height, sharing.min_vessels, sharing.max_share)
    return SharedCells(table, hidden_for, said)


def said_of_hidden(
    hidden_for: Mapping[str, int],
    cells: int,
    min_vessels: int,
    max_share: float,
    tell: Callable[..., str] = str.format,
) -> str:
    """How many cells were hidden for which reason, in a sentence.

    `tell` puts values into a message: as it is, or in another language.
    """
    if not hidden_for:
        return tell(NONE_HIDDEN, cells=cells)
    told = [
        tell(HIDDEN_FOR[reason], cells=count, boats=min_vessels, percent=100 * max_share)
        for reason, count in hidden_for.items()
    ]
    hidden = sum(hidden_for.values())
    return tell(SOME_HIDDEN, hidden=hidden, cells=cells, reasons=", ".join(told))
