"""What a reader of shared tables can work out of what is hidden, and what more to hide.

The reader knows all that is shown, that nothing is below zero, and which cells are empty. A boat
that reads knows besides what it fished itself, so to it the tables are those of the other boats.
How far a hidden sum may be from its value, as the reader sees it, is a linear program; the cheapest
cells to hide for it to reach so far are a mixed one. Both are in changes, by the unit of what must
be reached, so that small cells are as exact as large ones.

Sources, from memory: Kelly, Golden & Assad, Networks 22 (1992) 397 (hiding for one cell after the
other); Fischetti & Salazar, Management Science 47 (2001) 1008 (the reader's linear programs, and
cells to hide as whole numbers). That the boats read too: Hundepool et al., Handbook on Statistical
Disclosure Control, 2nd ed. 2024, section 4.2, on singletons.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, linprog, milp
from scipy.sparse import block_diag, csr_array, eye_array, kron

from pipeline.sharing.silence import in_silence

if TYPE_CHECKING:
    from numpy.typing import NDArray

PROTECTED = 0.15
"""The share of a hidden value by which it must be able to be less, and to be more."""
ROUNDING = 1e-6
FAR_ENOUGH = 2.0
"""Times what must be reached, the reader's program goes no further."""
LARGEST_CHANGES = (3.0, 300.0)
"""By how much a cell may change, in the unit of what must be reached; the second if the first is
too little."""
FEW_CELLS = 0.01
"""What hiding any cell costs beside its share of the hours, so that fewer are hidden."""
MOST_TRIES = 1000
"""Branches in the search for the cheapest cells; then the best so far are taken."""
DOWN, UP = -1, 1


@dataclass(frozen=True)
class Reader:
    """What one reader does not know of one measure.

    `unknown` (combinations) is what the others have in each; where `open_` is False the reader
    knows that they have nothing. `sums` (sums × combinations) are what must not be worked out,
    `needed` (two × sums) by how much each must be able to be less and more.
    """

    unknown: NDArray[np.float64]
    open_: NDArray[np.bool_]
    sums: NDArray[np.bool_]
    needed: NDArray[np.float64]

    def reaches(
        self, at: NDArray[np.int64], way: NDArray[np.int64], shown: NDArray[np.bool_]
    ) -> NDArray[np.bool_]:
        """Whether each sum `at` can be as far off, less or more by its `way`, as is needed.

        `shown` (cells × combinations) are the sums that the reader sees. A straight step shows it
        of nearly all; what it leaves open the program decides.
        """
        aims = way[:, np.newaxis] * self.sums[at][:, self.open_]
        lowest = -self.unknown[self.open_] / self.needed[np.maximum(way, 0), at][:, np.newaxis]
        known = np.unique(shown[:, self.open_], axis=0).astype(float)
        reached = straight(aims, lowest, known)
        if not reached.all():
            reached[~reached] = furthest(aims[~reached], lowest[~reached], known)
        return reached

    def cheapest(
        self, at: int, way: int, shown: NDArray[np.bool_], cost: NDArray[np.float64]
    ) -> NDArray[np.bool_]:
        """Which of the shown cells to hide so that sum `at` can be as far off as needed.

        All of them, if no fewer are found.
        """
        for largest in LARGEST_CHANGES:
            hide = self._cover(at, way, shown, cost, largest)
            if hide is not None:
                return hide
        return np.ones(len(shown), dtype=bool)

    def _cover(
        self,
        at: int,
        way: int,
        shown: NDArray[np.bool_],
        cost: NDArray[np.float64],
        largest: float,
    ) -> NDArray[np.bool_] | None:
        """As above, with changes of at most `largest` units; None where that is too little."""
        known = shown[:, self.open_].astype(float)
        free, cells = known.shape[1], len(known)
        aim = np.concatenate([self.sums[at, self.open_], np.zeros(cells)])
        within = np.hstack([known, -largest * np.eye(cells)])
        without = np.hstack([known, largest * np.eye(cells)])
        least = np.maximum(-self.unknown[self.open_] / self._unit(at, way), -largest)
        with in_silence():  # HiGHS 1.12 writes a line of its own now and then: its issue 2783
            found = milp(
                np.concatenate([np.zeros(free), cost]),
                integrality=np.concatenate([np.zeros(free), np.ones(cells)]),
                bounds=Bounds(
                    np.concatenate([least, np.zeros(cells)]),
                    np.concatenate([np.full(free, largest), np.ones(cells)]),
                ),
                constraints=[
                    LinearConstraint(aim[np.newaxis], way, way),
                    LinearConstraint(within, -np.inf, 0),
                    LinearConstraint(without, 0, np.inf),
                ],
                options={"node_limit": MOST_TRIES},
            )
        if found.x is None:
            return None
        moved = np.abs(known @ found.x[:free]) > ROUNDING
        return np.asarray(moved | (found.x[free:] > 1 / 2))

    def _unit(self, at: int, way: int) -> float:
        """What sum `at` must be able to be off by."""
        return float(self.needed[max(way, 0), at])


def straight(
    aims: NDArray[np.int64], lowest: NDArray[np.float64], known: NDArray[np.float64]
) -> NDArray[np.bool_]:
    """Whether a step straight toward each aim, until something falls to its lowest, is far enough.

    It changes nothing that is known, and is tried twice: with each combination in its own size, as
    then the small ones last, and with all alike. Source, from memory: Dikin, Soviet Mathematics
    Doklady 8 (1967) 674, on affine scaling.
    """
    reached = np.zeros(len(aims), dtype=bool)
    for size in (-lowest[0], np.ones(lowest.shape[1])):
        toward, seen = aims * size, known * size
        step = (toward - toward @ np.linalg.pinv(seen) @ seen) * size
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            fallen = np.nanmax(np.where(step < 0, step / lowest, 0.0), axis=1, initial=0.0)
            gone = (aims * step).sum(axis=1) / FAR_ENOUGH
            step /= np.maximum(fallen, gone)[:, np.newaxis]
        step = np.nan_to_num(step, posinf=0.0, neginf=0.0)
        unchanged = np.abs(step @ known.T).max(axis=1, initial=0.0) <= ROUNDING
        reached |= unchanged & ((aims * step).sum(axis=1) >= 1)
    return reached


def furthest(
    aims: NDArray[np.int64], lowest: NDArray[np.float64], known: NDArray[np.float64]
) -> NDArray[np.bool_]:
    """Whether each aim can be reached at all; one program holds the tries, as each is small."""
    tries = csr_array(block_diag(aims[:, np.newaxis].astype(float)))
    furthest = linprog(
        -tries.sum(axis=0),
        A_ub=tries,
        b_ub=np.full(len(aims), FAR_ENOUGH),
        A_eq=kron(eye_array(len(aims)), csr_array(known), format="csr"),
        b_eq=np.zeros(len(aims) * len(known)),
        bounds=np.column_stack([lowest.ravel(), np.full(lowest.size, np.inf)]),
    )
    if furthest.x is None:
        return np.zeros(len(aims), dtype=bool)
    return np.asarray(tries @ furthest.x >= 1 - ROUNDING)
