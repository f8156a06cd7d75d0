"""Damaged hauls that do not say what they took are filled up, or their boat is left out."""

from __future__ import annotations

import polars as pl
import pytest

from reports.damage_cost.written import filled_up
from tests.spec.test_damage_cost import findings_of, season, summed


def test_hours_are_filled_up_by_a_boat_s_others_with_that_rig() -> None:
    hauls = season({"bobbins-14": 4.0}).with_columns(
        mending_hours=pl.when((pl.col("trip") == "3") & (pl.col("damage_events") > 0))
        .then(None)
        .otherwise("mending_hours")
    )
    of_tern, torn = pl.col("vessel") == "Tern", pl.col("damage_events") > 0
    written: list[float] = hauls.filter(of_tern & torn)["mending_hours"].drop_nulls().to_list()
    sums, _ = summed(hauls)
    entered = sums.filter(of_tern & (pl.col("outcome") == "mending_hours"))["total"].to_list()
    assert sum(entered) == pytest.approx(sum(written) * 6 / 5)
    said = filled_up(findings_of(hauls), "mending_hours", 12, 1)
    assert said.startswith("Of 12 hauls with damage, 1 says nothing of mending. A tear that says ")
    assert "fewer than half" not in said


def test_a_boat_that_seldom_wrote_it_is_left_out_whole() -> None:
    hauls = season({"bobbins-14": 4.0}).with_columns(
        hours_lost=pl.when((pl.col("vessel") == "Tern") & (pl.col("damage_events") > 0))
        .then(None)
        .otherwise("hours_lost")
    )
    assert filled_up(findings_of(hauls), "hours_lost", 12, 6) == (
        "Of 12 hauls with damage, 6 say nothing of fishing time lost. Tern wrote it of fewer than "
        "half its damaged hauls: all its hauls are left out."
    )
