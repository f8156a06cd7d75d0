"""Which further cells to hide so that nothing shown gives a hidden cell away.

What must not be worked out are all hidden cells and, where one row, column or total holds several
that are of few boats, or mostly one boat's, and are so together as well, their sum: what it is of a
boat would be told even if no cell were. By whom: by anyone from all that is shown; and, of cells
that are unsafe in themselves, by each boat that knows its own part. What a further cell costs is
its hours.

Every sum is tried, with every reader and measure, and where one can be told too closely the
cheapest cells that prevent it are hidden. What holds stays so when more is hidden, so this ends:
at worst with nothing shown, from which nothing can be told.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from pipeline.sharing.cells import boats_in, few_boats, mostly_one_boats
from pipeline.sharing.reader import DOWN, FEW_CELLS, PROTECTED, ROUNDING, UP, Reader

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from pipeline.sharing.cells import Cells
    from schemas.settings import Sharing

SEVERAL = 2


@dataclass
class _Open:
    """A reader, which boat it is (None for anyone), and what is not yet known to hold."""

    reader: Reader
    boat: int | None
    left: NDArray[np.bool_] = field(init=False)

    def __post_init__(self) -> None:
        self.left = self.reader.needed > 0


def hide_more(cells: Cells, unsafe: NDArray[np.bool_], sharing: Sharing) -> NDArray[np.bool_]:
    """Which cells to hide (cells), the unsafe ones among them."""
    together = sums_of_unsafe(cells, unsafe, sharing)
    sums = np.vstack([cells.sums, together])
    always = np.concatenate([unsafe, np.ones(len(together), dtype=bool)])
    hours = cells.totals()[0]
    cost = hours / hours.max() + FEW_CELLS
    readers = list(_readers(cells, sums))
    hidden, before = unsafe, np.zeros_like(unsafe)
    while (hidden != before).any():
        before = hidden
        secret = always | np.concatenate([hidden, np.zeros(len(together), dtype=bool)])
        for each in readers:
            if _knows_some(each.boat, cells, hidden):
                hidden = _settle(each, cells, hidden, secret if each.boat is None else always, cost)
    return hidden


def sums_of_unsafe(cells: Cells, unsafe: NDArray[np.bool_], sharing: Sharing) -> NDArray[np.bool_]:
    """Sums of several unsafe cells that one total holds and that are unsafe together.

    Of all unsafe cells of a total, and of those in which one boat has the most hours.
    """
    hours = cells.sums @ cells.amounts[0].T
    first = hours.argmax(axis=1)
    found: dict[bytes, NDArray[np.bool_]] = {}
    for inner in cells.inner:
        for total in cells.sums:
            held = inner & unsafe & ~(cells.sums & ~total).any(axis=1)
            for group in (held, *(held & (first == boat) for boat in np.unique(first[held]))):
                if group.sum() >= SEVERAL:
                    together = cells.sums[group].any(axis=0)
                    found[together.tobytes()] = together
    known = {row.tobytes() for row in cells.sums}
    sums = np.array([row for key, row in found.items() if key not in known], dtype=bool)
    sums = sums.reshape(-1, cells.sums.shape[1])
    return sums[few_boats(sums, cells, sharing) | mostly_one_boats(sums, cells, sharing)]


def _readers(cells: Cells, sums: NDArray[np.bool_]) -> Iterator[_Open]:
    """Anyone, then each boat; of each measure that is anywhere more than zero."""
    for boat in (None, *range(len(cells.boats))):
        others = np.array([at != boat for at in range(len(cells.boats))])
        fished = cells.present[others].any(axis=0)
        # A boat that was alone somewhere in a table knows that the others were not there.
        empty = ~(cells.sums & fished).any(axis=1)
        open_ = ~cells.sums[empty].any(axis=0)
        hours = cells.amounts[0, others].sum(axis=0)
        for amounts in cells.amounts:
            if amounts.any():
                unknown = amounts[others].sum(axis=0)
                needed = _needed(unknown, hours, sums, whole=bool((amounts % 1 == 0).all()))
                yield _Open(Reader(unknown, open_, sums, needed), boat)


def _needed(
    unknown: NDArray[np.float64],
    hours: NDArray[np.float64],
    sums: NDArray[np.bool_],
    *,
    whole: bool,
) -> NDArray[np.float64]:
    """By how much each sum must be able to be less and more; 0 where nobody fished.

    A share of the value; of counts, at least one, as between whole numbers there is nothing. Where
    there was none, it can't be less, and the share is of what so many hours bring on average.
    """
    value, fished = sums @ unknown, sums @ hours
    average = fished * (unknown.sum() / max(hours.sum(), ROUNDING))
    share = PROTECTED * np.where(value > 0, value, average)
    more = np.maximum(share, 1.0) if whole else share
    return np.where(fished > 0, np.array([np.where(value > 0, more, 0.0), more]), 0.0)


def _knows_some(boat: int | None, cells: Cells, hidden: NDArray[np.bool_]) -> bool:
    """Whether the reader knows more of what is hidden than anyone does."""
    return boat is None or bool(boats_in(cells.sums[hidden], cells)[:, boat].any())


def _settle(
    each: _Open,
    cells: Cells,
    hidden: NDArray[np.bool_],
    secret: NDArray[np.bool_],
    cost: NDArray[np.float64],
) -> NDArray[np.bool_]:
    """The cells to hide so that this reader can tell none of the secret sums too closely."""
    while (each.left & secret).any() and not hidden.all():
        side, at = np.nonzero(each.left & secret)
        way = np.array([DOWN, UP])[side]
        reached = each.reader.reaches(at, way, cells.sums[~hidden])
        each.left[side[reached], at[reached]] = False
        if not reached.all():
            needed = np.where(reached, 0.0, each.reader.needed[side, at])
            worst = int(needed.argmax())
            shown = np.flatnonzero(~hidden)
            more = each.reader.cheapest(
                int(at[worst]), int(way[worst]), cells.sums[shown], cost[shown]
            )
            if not more.any():
                # The two programs differ by rounding: hide one more, so that this goes on.
                more[cost[shown].argmin()] = True
            hidden = hidden.copy()
            hidden[shown[more]] = True
    return hidden
