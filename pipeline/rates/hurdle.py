"""A ratio in two parts: how often a haul had any per hour, and how much it had when it had some.

Each part is the rate model of its own sums; the ratio is the product of the two. Its error is that
of both together: the log product moves by what each trip moves either part.

Source, from memory: Duan et al., Journal of Business & Economic Statistics 1 (1983) 115.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import polars as pl

from pipeline.rates.cells import term
from pipeline.rates.fits import Fitted, Question, fit_question, per_event
from pipeline.rates.poisson import NARROWEST, WIDEST, moves_by_trip

if TYPE_CHECKING:
    from numpy.typing import NDArray

LEAST_WITHOUT = 0.05
"""Where fewer hauls than one in twenty have none, there is no hurdle to tell of. Own judgement."""


def share_without(sums: pl.DataFrame, rigs: list[str]) -> float:
    """The share of the two rigs' hauls that had none."""
    of_both = sums.filter(pl.col("rig_version").is_in(rigs))
    return 1 - float(of_both["hauls_with_some"].sum()) / float(of_both["hauls"].sum())


def hurdle_ratio(question: Question, sums: pl.DataFrame, rig: str) -> tuple[float, float] | None:
    """The log ratio of the rig to the reference in both parts together, and its standard error.

    `sums` are as for `fit_question`, with hauls_with_some. None where either part can't be told.
    """
    some = sums.filter(pl.col("hauls_with_some") > 0)
    often = fit_question(question, sums.with_columns(total=pl.col("hauls_with_some").cast(float)))
    much = fit_question(question, per_event(some.with_columns(events="hauls_with_some")))
    name = term("rig_version", rig)
    if often is None or much is None:
        return None
    parts = [fitted.fit.effect(name) for fitted in (often, much)]
    if parts[0] is None or parts[1] is None:
        return None
    trips = pl.concat([_moves(fitted, name) for fitted in (often, much)])
    together = trips.group_by("vessel", "trip").agg(pl.col("move").sum()).sort("vessel", "trip")
    count = together.height
    variance = float((together["move"].to_numpy() ** 2).sum()) * count / (count - 1)
    if not NARROWEST**2 < variance < WIDEST**2:
        return None
    return parts[0][0] + parts[1][0], float(np.sqrt(variance))


def _moves(fitted: Fitted, name: str) -> pl.DataFrame:
    """How far each trip moves the term: vessel, trip, move."""
    at = fitted.cells.terms.index(name)
    moves: NDArray[np.float64] = moves_by_trip(fitted.cells, fitted.fit.estimate)[:, at]
    return trips_of(fitted).with_columns(move=pl.Series(moves))


def trips_of(fitted: Fitted) -> pl.DataFrame:
    """The trips of a fit in the order of their numbers: vessel, trip."""
    return (
        fitted.seen.rows.frame[fitted.cells.row]
        .select("vessel", "trip")
        .with_columns(number=pl.Series(fitted.cells.trip))
        .unique("number")
        .sort("number")
        .select("vessel", "trip")
    )
