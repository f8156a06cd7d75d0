"""What was caught, and how often the net tore, per hour: each rig in the same mix of conditions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import polars as pl

from pipeline.damage.resampling import refit
from pipeline.rates.cells import lay_out, term
from pipeline.rates.fits import levels_with_some
from pipeline.rates.poisson import NoFitError, fit_rates

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from pipeline.rates.cells import Cells
    from pipeline.rates.poisson import RateFit

RIG = "rig_version"


@dataclass(frozen=True)
class MoneyModel:
    """The log-rate model of one outcome: catch value, or damage.

    `trip` is the row of each sum's trip in the weights that draws are made with. `rigs` are those
    that were fished and can be told from the conditions; `base` is the one that others are held
    against, None where nobody had any of the outcome. `met` are the conditions in which those rigs
    were fished, and `living` those of them that have a mean above nought.
    """

    cells: Cells | None
    fit: RateFit | None
    base: str | None
    trip: NDArray[np.int64]
    rigs: frozenset[str]
    met: pl.DataFrame
    living: pl.DataFrame

    def drawn(self, weights: NDArray[np.float64]) -> NDArray[np.float64]:
        """The coefficients, terms × (1 + draws): the season's own first, then each draw's."""
        if self.cells is None or self.fit is None:
            return np.zeros((0, 1 + weights.shape[1]))
        draws = refit(self.cells, self.fit.estimate, self.trip, weights)
        return np.column_stack([self.fit.estimate, draws])

    def per_hour(
        self, mix: pl.DataFrame, rig: str, drawn: NDArray[np.float64]
    ) -> NDArray[np.float64]:
        """The outcome per hour with the rig over the mix, for each column of `drawn`.

        `mix` has the conditions and `share`, which adds up to 1.
        """
        name = term(RIG, rig)
        if self.cells is None or (rig != self.base and name not in self.cells.terms):
            return np.zeros(drawn.shape[1])
        names = [each for each in mix.columns if each != "share"]
        living = mix.join(self.living, on=names, how="semi", maintain_order="left")
        of_base = living["share"].to_numpy() @ np.exp(self._rows(living, names, self.cells) @ drawn)
        if rig == self.base:
            return np.asarray(of_base)
        return np.asarray(of_base * np.exp(drawn[self.cells.terms.index(name)]))

    def _rows(self, mix: pl.DataFrame, names: list[str], cells: Cells) -> NDArray[np.float64]:
        """The terms of the model for the base rig in each condition of the mix."""
        columns = [np.ones(mix.height)]
        for name in cells.terms[1:]:
            column, _, level = name.partition(": ")
            here = (mix[column] == level).to_numpy() if column in names else np.zeros(mix.height)
            columns.append(here.astype(float))
        return np.column_stack(columns)


@dataclass(frozen=True)
class MoneyFit:
    """The models of the outcomes that were recorded, adjusted for the same factors.

    `factors` are those in which hauls differed.
    """

    models: dict[str, MoneyModel]
    factors: tuple[str, ...]

    def told(self, rig: str) -> bool:
        """Whether the rig is told from the conditions in every model."""
        return all(rig in model.rigs for model in self.models.values())


def fit_money(
    sums: Mapping[str, pl.DataFrame], reference: str, factors: Sequence[str]
) -> MoneyFit | None:
    """The models of each outcome in `sums`, adjusted for as many factors as both will bear.

    Each table has vessel, trip, trip_number, rig_version, ground, hauls, tow_hours, total and the
    factors. The last named factor is given up first, down to the first, as for single outcomes.
    None where there is no fit.
    """
    for many in range(len(factors), 0 if factors else -1, -1):
        kept = list(factors[:many])
        models = {name: _fit(part, reference, kept) for name, part in sums.items()}
        fitted = {name: model for name, model in models.items() if model is not None}
        if len(fitted) == len(models):
            differing = (n for n in kept if any(part[n].n_unique() > 1 for part in sums.values()))
            return MoneyFit(fitted, tuple(differing))
    return None


def _fit(sums: pl.DataFrame, reference: str, factors: list[str]) -> MoneyModel | None:
    """The model of one outcome; none where there is no finite fit, or too few trips for it.

    Levels without any of the outcome are left out, which is the limit of the fit: their mean is
    nought. Where the reference is one of them the first rig that has some is the base.
    """
    names = factors or ["ground"]
    seen = levels_with_some(sums, [RIG, *factors])
    fished = frozenset(sums[RIG].unique().to_list())
    if not len(seen):
        met = sums.select(names).unique()
        return MoneyModel(None, None, None, np.zeros(0, np.int64), fished, met, met.clear())
    with_some = seen.codes(RIG).words
    base = reference if reference in with_some else with_some[0]
    telling = [name for name in factors if len(seen.codes(name).words) > 1]
    try:
        cells = lay_out(seen, RIG, base, telling)
        fit = fit_rates(cells, "trip")
    except NoFitError:
        return None
    apart = {rig for rig in with_some if rig != base and fit.effect(term(RIG, rig)) is None}
    linked = pl.col(RIG).is_in(sorted(set(with_some) - apart))
    kept = seen.rows.frame[cells.row]
    return MoneyModel(
        cells,
        fit,
        base,
        kept["trip_number"].to_numpy().astype(np.int64),
        fished - apart,
        sums.filter(linked).select(names).unique(),
        kept.filter(linked).select(names).unique(),
    )
