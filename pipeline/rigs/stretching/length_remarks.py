"""A word on rows of `length_checks` that are used, but cannot be quite right."""

from __future__ import annotations

import polars as pl

from pipeline.rows import filled_in, no_refusals, refusal
from schemas.words import saying

FAR_APART_PERCENT = 10.0
"""Chain and traveller that differ by more are asked about (own judgement, no source)."""

BACK_BY_PERCENT, BACK_BY_M = 0.5, 0.05
"""Chain that is less longer than at the check before, by as much of either, is asked about: it is
more than two tapes are read amiss (own judgement, no source)."""

FAR_OUT_DAYS = 90
"""A check so long before or after the boat's hauls is asked about (own judgement, no source)."""

NOT_YET_FITTED = saying(
    "is before {} was first fitted on {}, {}; put the day, the boat or the rig right, or add the "
    "earlier fitting"
)
NEVER_FISHED = saying(
    "is a rig that no haul of {} was fished with; put the boat or the rig right, as the check "
    "tells nothing of stretch without fishing hours"
)
OUT_OF_THE_RECORD = saying(
    "is {} days outside the record of {}, {} to {}; put the day right if it is a slip"
)
MUCH_LONGER = saying(
    "is {} % longer than the traveller, {} m; if one of them is a slip of the pen, put it right"
)
MUCH_SHORTER = saying(
    "is {} % shorter than the traveller, {} m; if one of them is a slip of the pen, put it right"
)
WENT_BACK = saying(
    "makes {} % against the traveller, after {} % on {}; chain does not shrink: if the two were "
    "evened that day write yes in its evened, and if this is another chain give it a rig version "
    "of its own"
)
REASONS = (NOT_YET_FITTED, NEVER_FISHED, OUT_OF_THE_RECORD, MUCH_LONGER, MUCH_SHORTER, WENT_BACK)

_RIG = ["vessel", "rig_version"]


def length_check_remarks(
    length_checks: pl.DataFrame, fittings: pl.DataFrame, fished: pl.DataFrame
) -> pl.DataFrame:
    """What is to be said on rows of `length_checks`, with the columns of `REFUSAL_SCHEMA`.

    `length_checks` has `row` beside its own columns; `fittings` has vessel, rig_version,
    fitted_from; `fished` has vessel, rig_version, shot_at of every haul, its rig that in force.
    """
    return pl.concat(
        [
            no_refusals(),
            _before_its_fitting(length_checks, fittings, fished),
            _never_fished(length_checks, fished),
            _out_of_the_record(length_checks, fished),
            _far_apart(length_checks),
            went_back(length_checks),
        ]
    ).sort("row", maintain_order=True)


def _before_its_fitting(
    length_checks: pl.DataFrame, fittings: pl.DataFrame, fished: pl.DataFrame
) -> pl.DataFrame:
    """Checks on a day before the boat's first fitting of the rig, with no haul before them."""
    first_fitted = fittings.group_by(_RIG).agg(pl.col("fitted_from").min().dt.date())
    first_fished = fished.group_by(_RIG).agg(pl.col("shot_at").min())
    known = length_checks.join(first_fitted, on=_RIG).join(first_fished, on=_RIG, how="left")
    too_early = pl.col("checked_on").dt.date() < pl.col("fitted_from")
    fished_before = (pl.col("shot_at") < pl.col("checked_on")).fill_null(value=False)
    return refusal(
        known.filter(too_early & ~fished_before),
        "checked_on",
        filled_in(NOT_YET_FITTED, "rig_version", "vessel", "fitted_from"),
    )


def _never_fished(length_checks: pl.DataFrame, fished: pl.DataFrame) -> pl.DataFrame:
    """Checks of a rig that the boat has no haul with."""
    return refusal(
        length_checks.join(fished, on=_RIG, how="anti"),
        "rig_version",
        filled_in(NEVER_FISHED, "vessel"),
    )


def _out_of_the_record(length_checks: pl.DataFrame, fished: pl.DataFrame) -> pl.DataFrame:
    """Checks long before the boat's first haul, or long after its last."""
    record = fished.group_by("vessel").agg(
        pl.col("shot_at").min().alias("first"), pl.col("shot_at").max().alias("last")
    )
    before = (pl.col("first") - pl.col("checked_on")).dt.total_days()
    after = (pl.col("checked_on") - pl.col("last")).dt.total_days()
    known = length_checks.join(record, on="vessel").with_columns(
        pl.col("first", "last").dt.date(), pl.max_horizontal(before, after).alias("days")
    )
    return refusal(
        known.filter(pl.col("days") > FAR_OUT_DAYS),
        "checked_on",
        filled_in(OUT_OF_THE_RECORD, "days", "vessel", "first", "last"),
    )


def _far_apart(length_checks: pl.DataFrame) -> pl.DataFrame:
    """Checks whose two lengths are so far apart that one may be a slip of the pen."""
    percent = 100 * (pl.col("ground_chain_m") / pl.col("traveller_m") - 1)
    apart = length_checks.with_columns(percent.abs().round(1).alias("percent"))
    longer, shorter = (
        filled_in(reason, "percent", "traveller_m") for reason in (MUCH_LONGER, MUCH_SHORTER)
    )
    return refusal(
        apart.filter(percent.abs() > FAR_APART_PERCENT),
        "ground_chain_m",
        pl.when(percent > 0).then(longer).otherwise(shorter),
    )


def went_back(length_checks: pl.DataFrame) -> pl.DataFrame:
    """Checks that found less than the one before them, at which nothing was evened."""
    longer = pl.col("ground_chain_m") - pl.col("traveller_m")
    measured = (
        length_checks.with_columns(
            longer.alias("longer_m"),
            (100 * longer / pl.col("traveller_m")).round(2).alias("percent"),
        )
        .filter(longer.is_not_null() | pl.col("evened").fill_null(value=False))
        .with_columns(
            pl.col("longer_m", "percent", "checked_on", "evened")
            .shift(1)
            .over([*_RIG, "section"], order_by="checked_on")
            .name.suffix("_before")
        )
        .with_columns(pl.col("checked_on_before").dt.date())
    )
    back = (pl.col("longer_m_before") - pl.col("longer_m") >= BACK_BY_M) & (
        pl.col("percent_before") - pl.col("percent") >= BACK_BY_PERCENT
    )
    return refusal(
        measured.filter(back & ~pl.col("evened_before").fill_null(value=False)),
        "ground_chain_m",
        filled_in(WENT_BACK, "percent", "percent_before", "checked_on_before"),
    )
