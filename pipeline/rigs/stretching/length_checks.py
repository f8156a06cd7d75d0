"""How much longer than its traveller a ground chain was found, check by check.

Both are made length for length when fitted and at every evening. The checks from one evening to
the next are a spell; the check at which they are evened is measured before, and ends its spell.
"""

from __future__ import annotations

import polars as pl

from pipeline.rigs.weight.rig_weights import SIDES, WHOLE
from schemas.words import SECTIONS

LENGTH_DIFFERENCES_SCHEMA: dict[str, pl.DataType] = {
    "vessel": pl.String(),
    "rig_version": pl.String(),
    "section": pl.String(),
    "checked_on": pl.Datetime("us"),
    "hours": pl.Float64(),
    "difference_m": pl.Float64(),
    "difference_percent": pl.Float64(),
    "evened": pl.Boolean(),
    "ends_spell": pl.Boolean(),
    "spell": pl.Int64(),
    "hours_in_spell": pl.Float64(),
    "starts_even": pl.Boolean(),
}
"""A row is a section at a check, or the whole gear at it.

`difference_m` is ground chain less traveller, of one side; of the whole it is the sum of both
sides of the sections that were measured. `difference_percent` is of the traveller.
`spell` counts the spells from 0. `hours_in_spell` are fishing hours since it began, or since the
record did. `starts_even` says that it began at an evening, or at a first fitting that the record
has. `ends_spell` says that something was evened at the check; of the whole, `evened` says that
every section was that is ever checked of that rig on that boat. Where only some were, the whole
begins a spell that does not start even.
"""

_RIG = ["vessel", "rig_version"]
_LINE = [*_RIG, "section"]


def length_differences(checked: pl.DataFrame) -> pl.DataFrame:
    """The differences of every check, as `LENGTH_DIFFERENCES_SCHEMA` has them.

    `checked` has vessel, rig_version, section, checked_on, hours, ground_chain_m, traveller_m,
    evened, from_fitting (`checked_lengths`). Left out is what was neither measured nor evened.
    A blank `evened` is taken as no.
    """
    sections = checked.with_columns(
        (pl.col("ground_chain_m") - pl.col("traveller_m")).alias("difference_m"),
        pl.col("evened").fill_null(value=False),
    ).filter(pl.col("difference_m").is_not_null() | pl.col("evened"))
    each = sections.with_columns(pl.col("evened").alias("ends_spell"))
    both = pl.concat([each, _wholes(sections)], how="diagonal")
    percent = 100 * pl.col("difference_m") / pl.col("traveller_m")
    return _in_spells(both.with_columns(percent.alias("difference_percent"))).select(
        pl.col(name).cast(kind) for name, kind in LENGTH_DIFFERENCES_SCHEMA.items()
    )


def _wholes(sections: pl.DataFrame) -> pl.DataFrame:
    """A row for each check: both sides of all sections that were measured."""
    sides = pl.col("section").replace_strict(SIDES, return_dtype=pl.Int64)
    measured = pl.col("difference_m").is_not_null()
    ever_checked = pl.col("section").n_unique().over(_RIG)
    return (
        sections.with_columns(ever_checked.alias("ever_checked"))
        .group_by(*_RIG, "checked_on")
        .agg(
            pl.lit(WHOLE).alias("section"),
            pl.col("hours", "from_fitting", "ever_checked").first(),
            *(
                pl.when(measured.any()).then((pl.col(name) * sides).filter(measured).sum())
                for name in ("difference_m", "traveller_m")
            ),
            pl.col("evened").sum().alias("sections_evened"),
        )
        .with_columns(
            (pl.col("sections_evened") == pl.col("ever_checked")).alias("evened"),
            (pl.col("sections_evened") > 0).alias("ends_spell"),
        )
    )


def _in_spells(differences: pl.DataFrame) -> pl.DataFrame:
    """With the spell of each check: it goes on from the last check before at which one ended."""
    order = pl.col("section").replace_strict(
        {word: place for place, word in enumerate((*SECTIONS, WHOLE))}, return_dtype=pl.Int64
    )
    ends = pl.col("ends_spell")
    began = [
        pl.when(ends).then(pl.col(name)).shift(1).forward_fill().over(_LINE).alias(f"{name}_before")
        for name in ("hours", "evened")
    ]
    return (
        differences.sort(*_RIG, order, "checked_on")
        .with_columns(
            ends.cast(pl.Int64).cum_sum().over(_LINE).sub(ends.cast(pl.Int64)).alias("spell"),
            *began,
        )
        .with_columns(
            (pl.col("hours") - pl.col("hours_before").fill_null(0.0)).alias("hours_in_spell"),
            pl.coalesce("evened_before", "from_fitting").alias("starts_even"),
        )
    )
