"""How the error of an effect is come by: a rule that was fixed before any data were seen.

1. Where the season asks for the model's errors, events have those, and the normal.
2. Else each trip is left out in turn, with t on the degrees of freedom that the trips have for this
   ratio: few where one rig was out on few of them, or a few trips carry most of it. The variance is
   such that it is right in the mean were chance alone at work. Weights, hours and money may come
   seldom and much at once; of these they are no more than as many trips, alike, would have moved
   the ratio so unevenly as these did.
3. Of so many trips that leaving one out changes nothing, the sandwich clustered by trip, with t on
   the trips of the rig that had fewer, less one.
4. Of events, the model's interval where that is the wider: a few trips that happen to agree do not
   make counts more certain than chance lets them be. Where no haul had more than one, that is the
   chance of yes or no, which is smaller. It is chosen by the 95 % intervals; the limits that allow
   for other comparisons have the errors so chosen, though t on few trips would make them wider.

`tests/calibration/RESULTS.md` has what the rule holds, and is made by a command. Rule 4 is this
project's own judgement; sources of the others stand in `leave_out.py` and `poisson.py`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

import numpy as np

from pipeline.rates.poisson import half_width, interval
from schemas.codes import ErrorsBy
from schemas.words import saying

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pipeline.rates.poisson import RateFit

ASKED_FOR = saying("the season asks for the model's errors")
TRIPS_DIFFER = saying(
    "hauls of a trip go together, and few trips can be unlike one another by chance"
)
MANY_TRIPS_AGREE = saying("of so many trips leaving one out changes nothing")
LESS_THAN_CHANCE = saying("the error by trip is smaller than chance alone makes it")
NOTHING_OF_ONE = saying("one of the two had none")
NO_END = saying(
    "the plain likelihood has no end: where they can be held together, one of the two had none"
)


@dataclass(frozen=True)
class ChosenErrors:
    """A log ratio, its error, the freedom of t (None: the normal), and why the error is this."""

    log_ratio: float
    std_error: float
    freedom: float | None
    errors: ErrorsBy
    reason: str

    @property
    def half_width(self) -> float:
        """How far the 95 % interval of the log ratio reaches to either side."""
        return half_width(np.inf if self.freedom is None else self.freedom) * self.std_error

    @property
    def limits(self) -> tuple[float, float]:
        """The 95 % limits of the ratio."""
        freedom = np.inf if self.freedom is None else self.freedom
        return interval(self.log_ratio, self.std_error, freedom)


def choose_errors(
    fit: RateFit,
    term: str,
    *,
    asked: Literal["trip", "model"],
    counted: bool,
    fewest_trips: int,
) -> ChosenErrors | None:
    """The log ratio of a term with the error that the rule gives it; None where it can't be told.

    `asked` is what the fit was asked for, `fewest_trips` those of the rig that had fewer.
    """
    told = fit.effect(term, counted=counted)
    if told is None:
        return None
    direction = np.zeros(len(fit.terms))
    direction[fit.terms.index(term)] = 1.0
    return choose_along(
        fit, told[0], direction, asked=asked, counted=counted, fewest_trips=fewest_trips
    )


def choose_along(
    fit: RateFit,
    log_ratio: float,
    direction: NDArray[np.float64],
    *,
    asked: Literal["trip", "model"],
    counted: bool,
    fewest_trips: int,
    more_variance: float = 0.0,
) -> ChosenErrors:
    """The error of a log ratio that moves with the coefficients as `direction` says.

    `direction` has its slope in each term; `more_variance` is what it has beside theirs. A ratio of
    sums of rates is such a one to the first order (the delta method).
    """
    model_error, trip_error = (
        float(np.sqrt(direction @ covariance @ direction + more_variance))
        for covariance in (fit.from_model, fit.covariance)
    )
    by_model = ChosenErrors(log_ratio, model_error, None, ErrorsBy.MODEL, LESS_THAN_CHANCE)
    if asked == "model":
        return replace(by_model, reason=ASKED_FOR)
    if fit.left_out is None:
        by_trip = ChosenErrors(
            log_ratio, trip_error, fewest_trips - 1, ErrorsBy.SANDWICH, MANY_TRIPS_AGREE
        )
    else:
        freedom = fit.left_out.freedom(direction)
        if not counted:
            freedom = min(freedom, fit.left_out.trips_alike(direction))
        by_trip = ChosenErrors(log_ratio, trip_error, freedom, ErrorsBy.TRIP, TRIPS_DIFFER)
    return by_model if counted and by_model.half_width > by_trip.half_width else by_trip
