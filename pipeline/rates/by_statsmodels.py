"""A fit made once more by statsmodels, so that a reader need not take our word for it.

The likelihood is the same, so the estimates must be. The errors are not: statsmodels' are the
sandwich of its one fit, clustered by trip (HC1), where ours leave out each trip in turn, which
makes them wider where trips are few.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
import statsmodels
import statsmodels.api as sm

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pipeline.rates.fits import Fitted


class MadeAgain(NamedTuple):
    """How far statsmodels is from a model.

    `apart` is the largest difference of two estimates of one term, as a log ratio; `narrowest` and
    `widest` are its error as a part of ours, least and most.
    """

    version: str
    apart: float
    narrowest: float
    widest: float


def made_again(fitted: Mapping[str, Fitted], model: Mapping[str, Any]) -> MadeAgain | None:
    """The terms told of a model, fitted by statsmodels on the same hauls; None where it can't.

    A generalised linear model: Poisson, log link, the log of the hours towed as offset. `fitted`
    has the fits by the names of models, `model` is a `ModelTable` as it stands in `findings.json`.
    """
    cells, fit = fitted[model["name"]].cells, fitted[model["name"]].fit
    theirs = sm.GLM(
        cells.total,
        cells.design[cells.pattern],
        family=sm.families.Poisson(),
        offset=np.log(cells.hours),
    ).fit(cov_type="cluster", cov_kwds={"groups": cells.trip}, tol=1e-12)
    told = [term for term in model["terms"] if term["std_error"] is not None]
    if not theirs.converged or not told:
        return None
    places = [fit.terms.index(term["term"]) for term in told]
    apart = theirs.params[places] - [term["estimate"] for term in told]
    parts = theirs.bse[places] / [term["std_error"] for term in told]
    return MadeAgain(
        str(statsmodels.__version__),
        float(np.abs(apart).max()),
        float(parts.min()),
        float(parts.max()),
    )
