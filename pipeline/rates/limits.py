"""A ratio and its limits: alone, and together with the other headline findings."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp
from typing import TYPE_CHECKING, Literal

import numpy as np
import polars as pl
from scipy.special import ndtr, stdtr

from pipeline.rates.exact import limits_without_events, p_without_events
from pipeline.rates.poisson import interval

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.rates.looks import Judging


@dataclass(frozen=True)
class Limits:
    """A ratio, its 95 % interval, and what it rests on; `freedom` is None for the normal.

    `p_value` is of no difference. The last three allow for all headline comparisons, and are
    None of a ratio that is none.
    """

    ratio: float | None = None
    low: float | None = None
    high: float | None = None
    log_ratio: float | None = None
    std_error: float | None = None
    freedom: float | None = None
    p_value: float | None = None
    p_adjusted: float | None = None
    low_together: float | None = None
    high_together: float | None = None


def limits_of_fit(
    log_ratio: float, std_error: float, freedom: float, together: Judging | None
) -> Limits:
    """The limits of a fitted ratio, by t; `together` is None where it is no headline finding.

    Without any freedom there is a ratio and no limits.
    """
    fitted = {
        "ratio": exp(log_ratio),
        "log_ratio": log_ratio,
        "std_error": std_error,
        "freedom": None if np.isinf(freedom) else float(freedom),
    }
    if freedom < 1:
        return Limits(**fitted)
    low, high = interval(log_ratio, std_error, freedom)
    p_value = two_sided(log_ratio / std_error, freedom)
    alone = {**fitted, "low": low, "high": high, "p_value": p_value}
    if together is None:
        return Limits(**alone)
    low, high = interval(log_ratio, std_error, freedom, together.confidence)
    adjusted = together.adjusted(p_value)
    return Limits(**alone, p_adjusted=adjusted, low_together=low, high_together=high)


def two_sided(t: float, freedom: float) -> float:
    """The p-value of no difference: of t, or of the normal where `freedom` is infinite."""
    tail = ndtr(-abs(t)) if np.isinf(freedom) else stdtr(freedom, -abs(t))
    return float(2 * tail)


def limits_of_none(
    sums: pl.DataFrame,
    factors: Sequence[str],
    rig: str,
    reference: str,
    errors: Literal["trip", "model"],
    together: Judging | None,
) -> Limits:
    """Exact limits where one of the two has no event, within each pattern that both rigs met.

    Unless errors are the model's, which takes trips to be alike, the events of a trip that fished
    only one of the two count once: such a trip says that there was damage with that rig, and its
    luck how much. Own judgement; no source.
    """
    told = sums.filter(pl.col("rig_version").is_in([rig, reference]))
    if errors == "trip":
        told = told.with_columns(_once_a_trip())
    hours = (
        told.group_by(list(factors) or pl.lit("all").alias("all"))
        .agg(
            *(
                pl.col(column).filter(pl.col("rig_version") == name).sum().alias(f"{column} {who}")
                for column in ("tow_hours", "total")
                for who, name in (("own", rig), ("reference", reference))
            )
        )
        .filter((pl.col("tow_hours own") > 0) & (pl.col("tow_hours reference") > 0))
    )
    strata = (
        hours["total own"].to_numpy(),
        hours["tow_hours own"].to_numpy(),
        hours["total reference"].to_numpy(),
        hours["tow_hours reference"].to_numpy(),
    )
    of_reference = told.filter(pl.col("rig_version") == reference)["total"].sum()
    ratio = 0.0 if of_reference > 0 else None
    low, high = limits_without_events(*strata)
    p_value = p_without_events(*strata)
    if together is None:
        return Limits(ratio, low, high, p_value=p_value)
    low_together, high_together = limits_without_events(*strata, together.confidence)
    return Limits(
        ratio,
        low,
        high,
        p_value=p_value,
        p_adjusted=together.adjusted(p_value),
        low_together=low_together,
        high_together=high_together,
    )


def _once_a_trip() -> pl.Expr:
    """The total, shared out so that a trip with one rig alone has one event, or none."""
    of_trip = pl.col("total").sum().over("vessel", "trip")
    one_rig = pl.col("rig_version").n_unique().over("vessel", "trip") == 1
    return (
        pl.when(one_rig & (of_trip > 1)).then(pl.col("total") / of_trip).otherwise(pl.col("total"))
    ).alias("total")
