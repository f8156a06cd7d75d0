"""How mending adds up over a rig's life, haul by haul and where nobody tells of hauls."""

from __future__ import annotations

from pathlib import Path

import polars as pl
import pytest
from polars.testing import assert_frame_equal

from pipeline.damage.cumulative import find_cumulative_mending
from tests.contracts.contract_files import Case, cases_in
from tests.spec.test_damage_cost import season
from tests.spec.text_tables import table_from

ADDING_UP = cases_in(Path(__file__).parent / "mending_adds_up.md")
NO_MOMENTS = table_from(
    "| vessel | rig_version | moment: moment | kind | hours: number | changed_to |"
)


@pytest.mark.parametrize("case", ADDING_UP, ids=lambda case: case.promise)
def test_mending_adds_up_as_it_is_written(case: Case) -> None:
    hauls = case.tables()["watched_hauls"]
    for given in (hauls, hauls.reverse()):
        found = [
            {"rig": rig.rig, "hours": step.hours, "mean": step.mean, "units": step.units}
            for rig in find_cumulative_mending(given, NO_MOMENTS)
            for step in rig.steps
        ]
        promised = table_from(case.then)
        assert_frame_equal(pl.DataFrame(found, schema=promised.schema), promised)


def test_a_rig_without_damage_is_told_and_one_without_its_hours_is_not() -> None:
    hauls = ADDING_UP[-1].tables()["watched_hauls"]
    told = {rig.rig: rig.told for rig in find_cumulative_mending(hauls, NO_MOMENTS)}
    assert told == {"bobbins-14": False, "rubber-10": True}
    assert find_cumulative_mending(hauls.clear(), NO_MOMENTS) == []


@pytest.mark.parametrize("unknown", [1, 2], ids=["in between", "the last with them"])
def test_of_one_boat_with_a_third_of_its_hauls_unknown_the_curve_ends_at_rate_times_hours(
    unknown: int,
) -> None:
    hauls = season({"bobbins-14": 4.0}).filter(pl.col("vessel") == "Skua")
    hauls = hauls.with_columns(hours_to=pl.col("tow_hours").cum_sum()).with_columns(
        hours_from=pl.col("hours_to") - pl.col("tow_hours"),
        life_hours=pl.col("hours_to").max(),
        damaged=pl.col("damage_events") > 0,
    )
    known = hauls.filter(pl.int_range(pl.len()) % 3 != unknown)
    (rig,) = find_cumulative_mending(known, NO_MOMENTS)
    rate = known["mending_hours"].sum() / known["tow_hours"].sum()
    assert rig.steps[-1].mean == pytest.approx(rate * rig.hours, rel=1e-12)
    assert rig.hours == 120
    assert rig.unwatched_hours == 40
