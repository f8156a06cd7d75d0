"""Damage to ships by type, through the whole program as a season: the main job in miniature.

McCullagh & Nelder, Generalized Linear Models, 2nd ed. 1989, section 6.3.2. Ship type stands for
the rig, months of service for tow hours, incidents for damage; the published values, with their
source, are those of data/published.csv.
"""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import TYPE_CHECKING, Any

import polars as pl
import pytest

from pipeline import run_season

if TYPE_CHECKING:
    from pipeline.findings import Findings

HERE = Path(__file__).parent
SHIPS = HERE / "data" / "ships.csv"
SEASON = HERE / "ships_season"
TYPES = ["B", "C", "D", "E"]


def published(ship_type: str) -> tuple[float, float]:
    """Return the published log ratio to type A, and its standard error."""
    table = pl.read_csv(HERE / "data" / "published.csv")
    row = table.filter(pl.col("fit") == "ships", pl.col("term") == f"type: {ship_type}")
    return row.select("estimate", "std_error").row(0)


@pytest.fixture(scope="module")
def as_printed() -> Findings:
    """The table as it was printed, one row a haul."""
    return run_season(SEASON).findings


@pytest.fixture(scope="module")
def by_trip(tmp_path_factory: pytest.TempPathFactory) -> Findings:
    """The same with standard errors clustered by trip, each row a trip of its own."""
    folder = tmp_path_factory.mktemp("by_trip")
    (folder / "data").mkdir()
    (folder / "season").mkdir()
    shutil.copy(SHIPS, folder / "data" / "ships.csv")
    words = (SEASON / "season.toml").read_text(encoding="utf-8")
    assert 'errors = "model"' in words
    words = words.replace('errors = "model"', 'errors = "trip"')
    (folder / "season" / "season.toml").write_text(words, encoding="utf-8")
    return run_season(folder / "season").findings


def effect(findings: Findings, ship_type: str) -> dict[str, Any]:
    """Return the one effect of damage events for the type, over all grounds."""
    found = [
        each
        for each in findings["effects"]
        if (each["outcome"], each["rig"], each["ground"]) == ("damage_events", ship_type, "all")
    ]
    assert len(found) == 1
    assert found[0]["part"] == "whole record"
    return found[0]


def test_every_row_is_used_or_set_aside(as_printed: Findings) -> None:
    # The table has 40 rows, 34 of them with any service: McCullagh & Nelder 1989, section 6.3.2.
    assert as_printed["rows"] == {"hauls": {"read": 40, "used": 34, "set_aside": 6}}


def test_rows_without_service_are_set_aside_with_a_reason(as_printed: Findings) -> None:
    ships = pl.read_csv(SHIPS)
    assert ships.filter(pl.col("service") == 0).height == 6
    (told,) = as_printed["set_aside"]
    assert (told["table"], told["column"], told["value"]) == ("hauls", "tow_hours", "0")
    assert told["rows"] == 6
    assert told["reason"].startswith("must be more than 0 h")


def test_rate_of_type_a_has_its_exact_limits(as_printed: Findings) -> None:
    # 42 incidents in 9,489 months; Garwood 1936 by R 4.2.2, poisson.test(42, 9.489).
    (rate,) = [
        each
        for each in as_printed["rates"]
        if (each["outcome"], each["rig"], each["ground"]) == ("damage_events", "A", "all")
    ]
    assert (rate["hauls"], rate["tow_hours"], rate["total"]) == (7, 9489.0, 42.0)
    thousand = [1000 * rate[name] for name in ("rate", "low", "high")]
    assert thousand == pytest.approx([42 / 9.489, 3.1899996, 5.9829064], rel=1e-7)


@pytest.mark.parametrize("ship_type", TYPES)
def test_ratios_and_their_errors_are_the_published_ones(
    as_printed: Findings, ship_type: str
) -> None:
    found = effect(as_printed, ship_type)
    assert (found["log_ratio"], found["std_error"]) == pytest.approx(published(ship_type), abs=1e-5)
    assert set(found["cautions"]) <= {"few hauls", "seen in few hauls"}


@pytest.mark.parametrize("ship_type", TYPES)
def test_errors_by_trip_leave_the_ratios_as_they_are(
    as_printed: Findings, by_trip: Findings, ship_type: str
) -> None:
    clustered, by_model = effect(by_trip, ship_type), effect(as_printed, ship_type)
    assert clustered["log_ratio"] == pytest.approx(by_model["log_ratio"], rel=1e-12)
    # Of events the interval is never narrower than the model's.
    assert clustered["low"] <= by_model["low"] * (1 + 1e-12)
    assert clustered["high"] >= by_model["high"] * (1 - 1e-12)
