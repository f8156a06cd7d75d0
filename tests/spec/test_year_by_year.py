"""What each year came to, and each rig in it; nothing where the record is of one year."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

import polars as pl
import pytest

from pipeline.rates.by_year import find_by_year
from pipeline.rates.effects import find_effects
from pipeline.rates.rate_table import rate_table
from reports.year_by_year import year_by_year
from schemas.outcomes import HEADLINES, fixed_outcome
from tests.properties.test_standing import hauls_of, sums_of

ADJUST = ["ground", "vessel"]


def of_two_years() -> pl.DataFrame:
    """Sums whose first trips are of 2031 and whose others are of 2032."""
    return sums_of(hauls_of(400, 7)).with_columns(
        stretch=pl.when(pl.col("pattern") % 2 == 0)
        .then(pl.lit("2031 Q3"))
        .otherwise(pl.lit("2032"))
    )


def test_a_year_is_what_its_hauls_alone_come_to() -> None:
    sums = of_two_years()
    found = find_by_year(sums, "rig 0", ADJUST, "trip")
    assert {row.year for row in found} == {"2031", "2032"}
    alone = sums.filter(pl.col("stretch") == "2032")
    rates = {
        (r["outcome"], r["rig"]): r
        for r in rate_table(alone, "trip").to_dicts()
        if r["ground"] == "all"
    }
    fished = alone.select("rig_version", "ground").unique()
    over_grounds = find_effects(alone, fished, "rig 0", ADJUST, "trip", ("all",))
    effects = {(effect.outcome, effect.rig): effect for effect in over_grounds}
    of_rigs = [row for row in found if row.year == "2032" and row.rig is not None]
    assert len(of_rigs) == len(rates)
    for row in of_rigs:
        rate = rates[row.outcome, row.rig]
        assert (row.hauls, row.rate, row.low) == (rate["hauls"], rate["rate"], rate["low"])
    told = [row for row in of_rigs if row.ratio is not None]
    assert told
    for row in told:
        assert row.ratio == effects[row.outcome, row.rig].ratio


@pytest.mark.parametrize("outcome", HEADLINES)
def test_all_hauls_of_a_year_are_those_of_its_rigs_together(outcome: str) -> None:
    found = [
        row
        for row in find_by_year(of_two_years(), "rig 0", ADJUST, "trip")
        if row.outcome == outcome
    ]
    for year in ("2031", "2032"):
        (whole,) = (row for row in found if row.year == year and row.rig is None)
        rigs = [row for row in found if row.year == year and row.rig is not None]
        assert whole.hauls == sum(row.hauls for row in rigs)
        assert whole.total == pytest.approx(sum(row.total for row in rigs))


def test_of_one_year_nothing_is_told_by_year() -> None:
    sums = sums_of(hauls_of(100, 7)).with_columns(stretch=pl.lit("2031 Q3"))
    assert find_by_year(sums, "rig 0", ADJUST, "trip") == []
    assert year_by_year(findings_of([])) is None


def findings_of(rows: list[dict[str, Any]]) -> dict[str, Any]:
    outcomes = [{**vars(fixed_outcome(name)), "matters": 2.0} for name in HEADLINES]
    return {
        "by_year": rows,
        "outcomes": outcomes,
        "effects": [],
        "season": {"reference_rig": "rig 0"},
    }


def test_few_years_are_told_in_sentences_and_all_in_tables() -> None:
    rows = [asdict(row) for row in find_by_year(of_two_years(), "rig 0", ADJUST, "trip")]
    section = year_by_year(findings_of(rows))
    assert section is not None
    (damage,) = (words for words in section.paragraphs if words.startswith("Net damage"))
    assert damage.startswith("Net damage, times per 100 hours towed: ")
    assert " in 2031 and " in damage
    assert damage.endswith(" in 2032.")
    assert [row[0] for row in section.tables[0].rows] == ["2031", "2032"]
