"""A word on cells that lie far from all others of their kind, as a slip of the pen makes them.

A cell is told of where it stands apart, not where it is merely large: the bounds are wide, so that
a good season is told of none. They are own judgement, no source; see each.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import polars as pl

from pipeline.checking.shape_reasons import WORKED_OUT
from pipeline.rows import filled_in, no_refusals, refusal, table_or_empty
from schemas.hauls import HAUL_KEY
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.rows import CheckedSeason, ValueTable

FAR_DAYS = 730
"""Two years: a haul further than this from any other is most often a slip (own judgement)."""
ONE_IN = 20
"""A trip of fewer than one haul in so many may lie far off by a slip as well (own judgement)."""
ENOUGH_ROWS = 20
"""So many cells of a kind are needed to say that one lies far from the others (own judgement)."""
FAR_SPREADS = 5.0
"""A catch an hour this many spreads above its median is far off. Own judgement: of 279,000 catches
of a survey of 27 years (Gulf of Alaska and Aleutians) ten are told of so."""
LEAST_TIMES = 8.0
"""It is so many times the median at the least, where catches hardly differ (own judgement)."""
TIMES_THE_NEXT = 20.0
"""Or so many times the next largest an hour, where catches differ widely (own judgement): none of
the invented season's, some thirty of the survey's."""
LEAST_KILOS = 10.0
"""A lighter catch than this changes little, however rare it is (own judgement)."""
TWICE = 2.0
"""No other haul between half and twice of a depth: none of the survey's 13,000 is such."""
LONG_AFTER = 1.0
"""Hours by which a tow may run on past the next shot: clocks are put back, times rounded."""

MEDIAN_DEVIATIONS, UPPER_TENTH = 1.4826, 1.2816
"""What makes a standard deviation of a normal spread's median deviation, and of its upper tenth."""

FAR_YEARS = saying(
    "is more than two years from the other hauls, so its day counts as unknown; if the year is a "
    "slip, put it right"
)
FAR_CATCH = saying(
    "is {} kg, where this boat had {} kg as a rule of the species in as many hours; if the weight "
    "or the hours are a slip, put them right"
)
FAR_DEPTH = saying(
    "is a depth that no other haul comes near, none between half and twice of it; if it is a slip, "
    "put it right"
)
PAST_THE_NEXT = saying(
    "is a tow that runs on past this boat's next shot; put right the hours, or the time of one of "
    "the two"
)

NET_BESIDE_ANOTHER = saying(
    "is when another haul of this boat was shot too: they are taken for two nets of one tow, each "
    "with hours of its own, so that the hours towed are those of nets; if it is a slip, put one of "
    "the times right"
)

REASONS = (FAR_CATCH,)
WEIGHTS = ("kept_kg", "discarded_kg")

WORKED_OUT_PAST = WORKED_OUT.format(PAST_THE_NEXT)
"""The same of hours that stand in no cell."""


def years_from_the_rest(hauls: pl.DataFrame) -> pl.DataFrame:
    """A word on hauls that no other haul lies near in time: the year is most often a slip.

    Nor do a few of one trip whose others are far off lie near any, as no trip lasts for years; nor
    does a whole trip, where it is less than one haul in twenty.
    """
    dated = hauls.drop_nulls("shot_at").sort("shot_at", "row")
    begins = (pl.col("shot_at").diff() > pl.duration(days=FAR_DAYS)).fill_null(value=False)
    dated = dated.with_columns(begins.cum_sum().alias("stretch"))
    near = pl.len().over("stretch")
    of_one_trip = pl.struct("vessel", "trip").n_unique().over("stretch") == 1
    rest_of_trip = pl.len().over("vessel", "trip") - near
    few = (near == 1) | (near < rest_of_trip) | (ONE_IN * near < pl.len())
    far = of_one_trip & (2 * near < pl.len()) & few
    return refusal(dated.filter(far), "shot_at", FAR_YEARS)


def depths_from_the_rest(hauls: ValueTable) -> pl.DataFrame:
    """A word on depths that no other haul of the season comes near."""
    frame = hauls.frame.filter(pl.col("depth_m") > 0).sort("depth_m")
    if frame.height < ENOUGH_ROWS:
        return no_refusals()
    size = pl.col("depth_m").log()
    alone = pl.min_horizontal(size.diff(), size.diff(-1).abs()) > math.log(TWICE)
    return refusal(as_written(frame.filter(alone), hauls, "depth_m"), "depth_m", FAR_DEPTH)


def tows_past_the_next_shot(hauls: ValueTable) -> pl.DataFrame:
    """A word on tows that had not ended when the boat shot again.

    A shot at midnight sharp is most often a day without its time, and is left out. Nets shot at
    one time are towed side by side.
    """
    timed = hauls.frame.filter(pl.col("shot_at") != pl.col("shot_at").dt.truncate("1d"))
    shots = timed.select("vessel", "shot_at").unique().sort("vessel", "shot_at")
    following = shots.with_columns(pl.col("shot_at").shift(-1).over("vessel").alias("next_shot"))
    until_next = (pl.col("next_shot") - pl.col("shot_at")).dt.total_seconds() / 3600
    past = (
        timed.join(following, on=["vessel", "shot_at"], how="inner")
        .filter(pl.col("tow_hours") > until_next + LONG_AFTER)
        .sort("row")
    )
    no_cell = pl.col("tow_hours").is_null()
    reason = pl.when(no_cell).then(pl.lit(WORKED_OUT_PAST)).otherwise(pl.lit(PAST_THE_NEXT))
    return refusal(as_written(past, hauls, "tow_hours"), "tow_hours", reason)


def nets_beside_others(hauls: ValueTable) -> pl.DataFrame:
    """A word on hauls shot at the time of another of their boat: a twin rig, or a slip.

    A shot at midnight sharp is most often a day without its time.
    """
    timed = hauls.frame.filter(pl.col("shot_at") != pl.col("shot_at").dt.truncate("1d"))
    another = ~pl.struct("vessel", "shot_at").is_first_distinct()
    beside = as_written(timed.filter(another), hauls, "shot_at")
    return refusal(beside, "shot_at", NET_BESIDE_ANOTHER)


def catches_from_the_rest(catches: ValueTable, hauls: ValueTable) -> pl.DataFrame:
    """A word on weights of a species that are far more an hour than the boat otherwise had."""
    towed = _with_hours(catches.frame, hauls.frame)
    return pl.concat(
        refusal(
            as_written(_far_weights(towed, column), catches, column).with_columns(
                _kilos("kg"), _kilos("usual")
            ),
            column,
            filled_in(FAR_CATCH, "kg", "usual"),
        )
        for column in WEIGHTS
    )


def far_catches(season: CheckedSeason) -> pl.DataFrame:
    """The good rows of catches whose weight is far from the rest of them.

    Their haul, `species`, `source_file`, `source_row`, the kilos (`kg`) and what was `usual`.
    """
    towed = _with_hours(table_or_empty(season, "catches"), season.tables["hauls"])
    far = pl.concat(_far_weights(towed, column) for column in WEIGHTS).sort("row", "kg")
    of_a_row = far.unique("row", keep="last", maintain_order=True)
    return of_a_row.select(*HAUL_KEY, "species", "source_file", "source_row", "kg", "usual")


def _with_hours(catches: pl.DataFrame, hauls: pl.DataFrame) -> pl.DataFrame:
    """The rows of catches of hauls whose hours are known, with these."""
    hours = hauls.filter(pl.col("tow_hours") > 0).select(*HAUL_KEY, "tow_hours")
    return catches.join(hours.unique(HAUL_KEY, keep="none"), on=HAUL_KEY, how="inner")


def _far_weights(towed: pl.DataFrame, column: str) -> pl.DataFrame:
    """The rows whose weight of `column` is far above the median of their boat and species.

    With the weight as `kg`, and what was `usual` in as many hours.

    Catches spread by factors, so that it is their logarithms that are compared. Their spread is
    that of the middle half or that of the upper tenth, whichever is wider: now and then a bag is
    full. Where they differ so widely that none is far, one may still stand alone above all others.
    A small weight overturns no sum, and is not told of.
    """
    of_a_kind = ["vessel", "species"]
    caught = towed.filter(pl.col(column) > 0, pl.col("species").is_not_null())
    caught = caught.filter(pl.len().over(of_a_kind) >= ENOUGH_ROWS)
    an_hour = pl.col(column) / pl.col("tow_hours")
    usual = an_hour.median().over(of_a_kind) * pl.col("tow_hours")
    above = an_hour.log() - an_hour.log().median().over(of_a_kind)
    spread = pl.max_horizontal(
        above.abs().median().over(of_a_kind) * MEDIAN_DEVIATIONS,
        above.quantile(0.9).over(of_a_kind) / UPPER_TENTH,
    )
    bound = pl.max_horizontal(FAR_SPREADS * spread, math.log(LEAST_TIMES))
    alone = above - above.top_k(2).min().over(of_a_kind) > math.log(TIMES_THE_NEXT)
    told = caught.with_columns(pl.col(column).alias("kg"), usual.alias("usual"))
    return told.filter((above > bound) | alone, pl.col(column) > LEAST_KILOS).sort("row")


def _kilos(name: str) -> pl.Expr:
    """A weight as it is told: whole kilos, of few to a tenth."""
    weight = pl.col(name)
    whole = weight.round(0).cast(pl.Int64).cast(pl.String)
    few = weight.round(1).cast(pl.String)
    return pl.when(weight >= LEAST_KILOS).then(whole).otherwise(few).alias(name)


def as_written(rows: pl.DataFrame, table: ValueTable, column: str) -> pl.DataFrame:
    """The rows with the cells of `column` as they stand in the file, so that they are quoted so."""
    if column not in table.found:
        return rows.with_columns(pl.lit(None, pl.String).alias(column))
    written = table.text.select("row", column)
    return rows.drop(column).join(written, on="row", how="left", maintain_order="left")
