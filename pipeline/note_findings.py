"""What is known of damage and by whom, how notes were read, and what the unknown could do."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import polars as pl

from pipeline.reviews import changed_notes, named_reviews
from schemas.hauls import HAUL_KEY
from schemas.words import NOT_NAMED

if TYPE_CHECKING:
    from pipeline.rates.unknowns import SupposedEffect
    from pipeline.rows import CheckedSeason


def note_findings(
    haul_damage: pl.DataFrame,
    readings: pl.DataFrame,
    season: CheckedSeason,
    supposed: list[SupposedEffect],
) -> dict[str, Any]:
    """How many hauls tell of damage by what, who read their notes, and how surely.

    `haul_damage` has a row a haul, `readings` those of `read_notes` by its `row`; `season` has
    the reviews.
    """
    noted = haul_damage.filter(pl.col("damage_note").is_not_null())
    read_by_a_person = (pl.col("damage_told_by") == "a person") | pl.col("read_by").is_not_null()
    by_person = noted.filter(read_by_a_person)
    by_program = noted.filter(~read_by_a_person).join(readings, on="row")
    return {
        "told_by": _counts(haul_damage["damage_told_by"]),
        "written": noted.height,
        "read_by_program": by_program.height,
        "read_by_persons": _counts(by_person["read_by"].fill_null(NOT_NAMED)),
        "last_review": _last_of(by_person["reviewed_on"].drop_nulls()),
        "reviews": named_reviews(season).height,
        "changed_since": changed_notes(season).select(*HAUL_KEY, "source_row").to_dicts(),
        "sure": _counts(by_program.filter(pl.col("damaged").is_not_null())["damaged_sure"]),
        "not_understood": by_program["damaged"].null_count(),
        "unknown_hauls": haul_damage["damage_events"].null_count(),
        "counted_as_one": _counted_as_one(haul_damage, season),
        "supposed": supposed,
    }


def _counted_as_one(haul_damage: pl.DataFrame, season: CheckedSeason) -> int:
    """Of how many hauls the log says more than once, in a record that is of yes or no."""
    says = season.tables["hauls"].select("row", says=pl.col("damage_events"))
    once = haul_damage.filter(pl.col("damage_events") == 1).join(says, on="row")
    return once.filter(pl.col("says") > 1).height


def _last_of(written: pl.Series) -> str | None:
    """The last of some days as a person wrote them; of several, if all are such as 2031-03-09."""
    if written.n_unique() == 1:
        return str(written[0])
    days = written.str.to_date("%Y-%m-%d", strict=False)
    return str(days.max()) if days.len() and not days.null_count() else None


def _counts(words: pl.Series) -> dict[str, int]:
    """How often each word stands there, by the word."""
    return dict(sorted(words.value_counts().iter_rows()))
