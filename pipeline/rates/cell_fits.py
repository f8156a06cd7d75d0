"""A fit with a rate of each rig on each ground, and what comes of its rates on a mix of grounds."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from pipeline.rates.cells import term
from pipeline.rates.fits import Fitted
from pipeline.rates.numbered import TOGETHER
from pipeline.rates.poisson import CONFIDENCE, interval

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from pipeline.rates.chosen_errors import ChosenErrors
    from pipeline.rates.numbered import Codes

    Floats = NDArray[np.float64]

CELL = f"rig_version{TOGETHER}ground"
"""The column of which each word is a rig and a ground."""


def cell_name(rig: str, ground: str) -> str:
    """The word of a rig on a ground."""
    return f"{rig}{TOGETHER}{ground}"


class Mixed(NamedTuple):
    """Two rigs' rates on a mix against the base's; how each term moves their log ratio."""

    rates: list[float]
    direction: Floats

    @property
    def log_ratio(self) -> float:
        """The log of the one rate by the other."""
        return float(np.log(self.rates[0] / self.rates[1]))


@dataclass(frozen=True, kw_only=True)
class CellFit(Fitted):
    """A fit with a term for each rig on each ground; `of_row` says which each sum is of.

    `base` is the cell that the others are held against.
    """

    base: str
    of_row: Codes

    def at(self, cell: str) -> int | None:
        """The place of a cell's term; None of the base."""
        return None if cell == self.base else self.fit.terms.index(term(CELL, cell))

    def tells(self, cell: str) -> bool:
        """Whether the rate of the cell can be told against that of the others."""
        name = term(CELL, cell)
        if cell == self.base:
            return True
        return name in self.fit.terms and bool(self.fit.estimable[self.fit.terms.index(name)])

    def elsewhere(self, names: Sequence[str]) -> float:
        """The mean of what all but the cell does to the rate, by hours, over these cells' hauls."""
        own = [self.of_row.words.index(cell) for cell in names]
        expected, hours = self._means
        others = expected[own] * np.exp(
            [-self._log_rate(cell, self.fit.estimate) for cell in names]
        )
        return float(others.sum() / hours[own].sum())

    def mixed(self, weights: Sequence[Mapping[str, float]], estimate: Floats) -> Mixed:
        """The rates of two rigs by an estimate of the terms; `weights` are of each one's cells."""
        mixed = Mixed([], np.zeros(len(estimate)))
        for of_rig, sign in zip(weights, (1.0, -1.0), strict=True):
            parts = {
                cell: weight * np.exp(self._log_rate(cell, estimate))
                for cell, weight in of_rig.items()
            }
            mixed.rates.append(float(sum(parts.values())))
            for cell, part in parts.items():
                if (at := self.at(cell)) is not None:
                    mixed.direction[at] += sign * part / mixed.rates[-1]
        return mixed

    def behind(
        self, weights: Sequence[Mapping[str, float]], found: ChosenErrors, more_variance: float
    ) -> tuple[float, float] | None:
        """The 95 % limits of the ratio of rates by the law of yes or no; None where it has none.

        Their error is beyond that of the law as that of the ratio told is beyond chance (as in
        `behind.py`); `more_variance` is what both have beside that of the terms.
        """
        law = self.as_yes_or_no
        if law is None:
            return None
        told, by_law = (self.mixed(weights, each.estimate) for each in (self.fit, law))
        by_chance, of_law = (
            float(np.sqrt(mixed.direction @ covariance @ mixed.direction + more_variance))
            for mixed, covariance in ((told, self.fit.from_model), (by_law, law.covariance))
        )
        error = of_law * max(1.0, found.std_error / by_chance)
        freedom = np.inf if found.freedom is None else found.freedom
        return interval(by_law.log_ratio, error, freedom, CONFIDENCE)

    def _log_rate(self, cell: str, estimate: Floats) -> float:
        """The log of its rate against that of the base."""
        at = self.at(cell)
        return 0.0 if at is None else float(estimate[at])

    @cached_property
    def _means(self) -> tuple[Floats, Floats]:
        """Of each cell the sum of its hauls' means by the fit, and their hours."""
        cells = self.cells
        mean = cells.hours * np.exp(cells.coded.mix(self.fit.estimate))[cells.pattern]
        of_cells = (np.bincount(self.of_row.codes, each) for each in (mean, cells.hours))
        expected, hours = (each.astype(float) for each in of_cells)
        return expected, hours
