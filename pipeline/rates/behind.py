"""What stands behind a ratio of hauls that had some: that of rates, by the law of such hauls.

Of hauls that have damage once at most the ratio told is that of hauls damaged per hour. On ground
where nearly every haul has damage that says next to nothing of tears, and a mean over grounds hides
it. So what is said of no difference, and what is planned by, goes through the fit of yes or no
(`yes_or_no.py`), with its error made larger by as much as trips made that of the ratio told.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from pipeline.rates.poisson import interval
from pipeline.rates.yes_or_no import chance_of_some, log_chance_of_none

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pipeline.rates.fits import Fitted

    Floats = NDArray[np.float64]

Limits = tuple[float, float]
Behind = Callable[[float], Limits | None]
"""The limits of the ratio of rates by how sure they are to be; None where it has none."""


def rates_behind(fitted: Fitted, term: str, std_error: float) -> Limits | None:
    """The log ratio of rates behind a term, and its error; None where it can't be told.

    `std_error` is that of the ratio told: as far as it is beyond what chance alone makes it, so is
    that of the law.
    """
    fit = fitted.as_yes_or_no
    found = None if fit is None else fit.effect(term)
    if found is None:
        return None
    at = fitted.fit.terms.index(term)
    by_chance = float(np.sqrt(fitted.fit.from_model[at, at]))
    return found[0], found[1] * max(1.0, std_error / by_chance)


def rates_behind_all(
    fitted: Fitted, terms: Sequence[str], covariance: Floats
) -> tuple[Floats, Floats] | None:
    """The same of several terms: their log ratios of rates, and the covariance of these.

    `covariance` is that of the ratios told. None where one of them can't be told.
    """
    fit = fitted.as_yes_or_no
    found = [
        rates_behind(fitted, term, float(np.sqrt(variance)))
        for term, variance in zip(terms, np.diag(covariance), strict=True)
    ]
    told = [each for each in found if each is not None]
    if fit is None or len(told) < len(terms):
        return None
    log_ratio, error = np.array(told).T
    at = [fit.terms.index(term) for term in terms]
    by_law = fit.covariance[np.ix_(at, at)]
    more = error / np.sqrt(np.diag(by_law))
    return log_ratio, by_law * np.outer(more, more)


def limits_behind(
    fitted: Fitted | None, term: str, std_error: float | None, freedom: float | None
) -> Behind:
    """The limits of the ratio of rates behind a term, found when they are asked for."""

    def limits(confidence: float) -> Limits | None:
        if fitted is None or std_error is None:
            return None
        found = rates_behind(fitted, term, std_error)
        return found and interval(*found, np.inf if freedom is None else freedom, confidence)

    return limits


@dataclass(frozen=True)
class RigHauls:
    """The hauls of a rig by the law of yes or no: the mean of each sum's, how many, the luck."""

    mean: Floats
    hauls: Floats
    luck: float

    def share(self, ratio: float) -> float:
        """The share of them that would have some at so many times their rates."""
        return float(np.average(self._chance(ratio), weights=self.hauls))

    def reads(self, ratio: float) -> float:
        """How a ratio of rates reads as one of hauls with some."""
        return self.share(ratio) / self.share(1.0)

    def variance(self, ratio: float) -> float:
        """The variance by chance alone of the log of that share, from one haul of them.

        As in the error of a rate model, no haul is surer of damage than `SUREST`.
        """
        chance = self._chance(ratio)
        spread = np.average(chance * (1 - chance_of_some(chance)), weights=self.hauls)
        return float(spread) / self.share(ratio) ** 2

    def _chance(self, ratio: float) -> Floats:
        return -np.expm1(log_chance_of_none(ratio * self.mean, self.luck))


def hauls_of_rig(fitted: Fitted, rig: str) -> RigHauls | None:
    """The hauls of a rig in a fit; None where they are not in it, or the law has no fit."""
    fit = fitted.as_yes_or_no
    cells = fitted.cells
    rigs = fitted.seen.rows.taken(cells.row).codes("rig_version")
    if fit is None or rig not in rigs.words:
        return None
    own = rigs.codes == rigs.words.index(rig)
    return RigHauls(fit.mean[own], cells.hauls[own], fit.luck)
