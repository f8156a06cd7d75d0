"""The fit that answers a question, adjusted for as many factors as the trips will bear."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
import polars as pl

from pipeline.rates.cells import Cells, lay_out, term
from pipeline.rates.numbered import Sums, numbered
from pipeline.rates.poisson import NoFitError, RateFit, fit_rates
from pipeline.rates.yes_or_no import YesOrNoFit, fit_yes_or_no
from schemas.words import ALL_GROUNDS


@dataclass(frozen=True)
class Question:
    """What is compared: an outcome on a ground, adjusted for some factors.

    `measure` names a column of numbers in the sums; each rig is then held against itself at other
    values of it.
    """

    outcome: str
    ground: str
    reference: str
    factors: tuple[str, ...]
    errors: Literal["trip", "model"]
    measure: str | None = None


@dataclass(frozen=True)
class Fitted:
    """A fit, the factors that it is adjusted for, and what it was fitted to.

    `bound` are the factors that have no term in it, as the terms before them give all of theirs.
    `cells` are laid out from `seen`: the sums without the levels that have none of the outcome.
    """

    fit: RateFit
    factors: tuple[str, ...]
    cells: Cells
    seen: Sums
    bound: tuple[str, ...] = ()

    @property
    def in_model(self) -> Sums:
        """The sums that the model holds: those seen, but where the mean goes to nought."""
        kept = np.zeros(len(self.seen), dtype=bool)
        kept[self.cells.row] = True
        return self.seen.at(kept)

    @cached_property
    def as_yes_or_no(self) -> YesOrNoFit | None:
        """The fit of the same terms to each haul as with some or none; None if it has no end."""
        try:
            return fit_yes_or_no(self.cells, self.seen.with_some[self.cells.row], self.fit.estimate)
        except NoFitError:
            return None


def fit_question(question: Question, sums: pl.DataFrame | Sums) -> Fitted | None:
    """The fit over all rigs that have some of the outcome, adjusted for as much as it will bear.

    Where there are too few trips for all the factors, the last named is given up first, and so on
    down to the first; the effect says what it is adjusted for. Without any it is not given.
    """
    sums = numbered(sums)
    over_all = question.ground == ALL_GROUNDS
    factors = [name for name in question.factors if over_all or name != "ground"]
    for many in range(len(factors), 0 if factors else -1, -1):
        fitted = _fit_with(question, sums, factors[:many])
        if fitted is not None:
            return fitted
    return None


def _fit_with(question: Question, sums: Sums, factors: list[str]) -> Fitted | None:
    """The fit with just these factors; none where there is no finite one.

    A level without any of the outcome tells nothing of the ratios of others: its own mean goes
    to zero. Such levels are left out, which is the limit of the fit.
    """
    seen = levels_with_some(sums, ["rig_version", *factors])
    rigs = seen.codes("rig_version").words
    if question.reference not in rigs or (len(rigs) < 2 and question.measure is None):
        return None
    telling = [name for name in factors if len(seen.codes(name).words) > 1]
    try:
        cells = lay_out(seen, "rig_version", question.reference, telling, question.measure)
        fit = fit_rates(cells, question.errors)
    except NoFitError:
        return None
    held = with_terms(telling, seen, cells)
    bound = tuple(name for name in telling if name not in held)
    return Fitted(fit, held, cells, seen, bound)


def with_terms(factors: list[str], seen: Sums, cells: Cells) -> tuple[str, ...]:
    """The factors that have a term of their own: others go wholly with those before them."""
    terms = set(cells.terms)
    return tuple(
        name
        for name in factors
        if any(term(name, level) in terms for level in seen.codes(name).words)
    )


def levels_with_some(sums: pl.DataFrame | Sums, columns: list[str]) -> Sums:
    """The sums of levels that have some of the outcome, of every column."""
    sums = numbered(sums)
    levels = [sums.codes(column).codes for column in columns]
    kept = np.ones(len(sums), dtype=bool)
    while True:
        some = kept.copy()
        for codes in levels:
            with_some = np.bincount(codes, sums.total * kept) > 0
            if not with_some.all():
                some &= with_some[codes]
        if (some == kept).all():
            return sums.at(kept)
        kept = some


def per_event(sums: pl.DataFrame) -> pl.DataFrame:
    """The sums with their events in place of tow hours, so that a rate of them is one per event."""
    return sums.with_columns(tow_hours=pl.col("events").cast(pl.Float64))
