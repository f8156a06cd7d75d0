"""However a season is spoilt, each row is used or set aside, and the order of rows is nothing."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Any

import polars as pl
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from pipeline.good_rows import check_season
from pipeline.problems import SeasonUnusableError
from pipeline.run_season import run_season
from schemas.tables import TABLES
from synthetic_data.writing import DECK_LOG
from tests.spec.random_spoiling import Slip, SpoiltSeason, spoilt_seasons

if TYPE_CHECKING:
    from pipeline.rows import CheckedSeason

SOURCE = ["source_file", "source_row"]
SAME = 1e-9
WITHOUT_SHRINKING = [Phase.explicit, Phase.reuse, Phase.generate]
"""For tests that fit models: a smaller example is not worth minutes."""

Found = dict[str, Any] | list[str]
"""The findings; of a season that can't be used, why."""

orders = st.integers(0, 2**16)


@settings(max_examples=20, deadline=None)
@given(season=spoilt_seasons)
def test_every_row_read_is_used_whole_or_set_aside_for_a_reason_and_never_both(
    season: SpoiltSeason,
) -> None:
    with tempfile.TemporaryDirectory() as folder:
        written = season.write(Path(folder))
        checked = checked_or_none(folder)
    if checked is None:
        return
    assert checked.rows_read == {_table_of(file): rows for file, rows in written.items()}
    check_no_row_is_both_used_and_set_aside(checked)
    check_every_reason_is_given_and_every_good_row_is_whole(checked)


def check_no_row_is_both_used_and_set_aside(checked: CheckedSeason) -> None:
    for name, count in checked.counts.items():
        assert count["read"] == count["used"] + count["set_aside"]
        gone = checked.set_aside.filter(table=name).select(SOURCE)
        used = checked.tables[name].select(SOURCE)
        assert gone.is_unique().all()
        assert used.is_unique().all()
        assert used.join(gone, on=SOURCE, how="semi").is_empty()


def check_every_reason_is_given_and_every_good_row_is_whole(checked: CheckedSeason) -> None:
    assert checked.set_aside["reason"].str.len_chars().min() is not None
    for name, table in checked.tables.items():
        required = [column.name for column in TABLES[name].columns if column.required]
        assert table.select(required).null_count().sum_horizontal().item() == 0
        assert table.select(pl.struct(TABLES[name].key).is_unique().all()).item()
    hauls = checked.tables["hauls"].select("vessel", "trip", "haul")
    catches = checked.tables["catches"]
    assert catches.join(hauls, on=hauls.columns, how="anti").is_empty()
    remarked = checked.remarks.select("table", *SOURCE)
    assert remarked.join(checked.set_aside, on=remarked.columns, how="semi").is_empty()


@settings(max_examples=12, deadline=None)
@given(season=spoilt_seasons, order=orders)
def test_the_order_of_the_rows_does_not_decide_which_are_used(
    season: SpoiltSeason, order: int
) -> None:
    with tempfile.TemporaryDirectory() as one, tempfile.TemporaryDirectory() as other:
        season.write(Path(one))
        season.write(Path(other), shuffle=order)
        first, second = checked_or_none(one), checked_or_none(other)
    assert (first is None) == (second is None)
    if first is not None and second is not None:
        assert used_keys(first) == used_keys(second)


@settings(max_examples=5, deadline=None, phases=WITHOUT_SHRINKING)
@given(season=spoilt_seasons, order=orders)
def test_what_is_found_is_the_same_in_any_order_of_rows(season: SpoiltSeason, order: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        season.write(Path(folder))
        found = findings_or_sentences(folder)
    shuffled = findings_of(season, order)
    but_for_parts = findings_of(season, order, as_listed=("rig_parts.csv",))
    check_effects_are_the_same_but_for_rounding(found, shuffled)
    check_findings_are_the_same_to_the_last_digit(found, but_for_parts)


def check_effects_are_the_same_but_for_rounding(found: Found, shuffled: Found) -> None:
    assert isinstance(found, dict) == isinstance(shuffled, dict)
    if isinstance(found, dict) and isinstance(shuffled, dict):
        for here, there in zip(found["effects"], shuffled["effects"], strict=True):
            assert here == _but_for_rounding(there)


def check_findings_are_the_same_to_the_last_digit(found: Found, shuffled: Found) -> None:
    if isinstance(found, dict) and isinstance(shuffled, dict):
        named_by_their_rows = {"set_aside", "remarks"}
        assert _without(found, named_by_their_rows) == _without(shuffled, named_by_their_rows)
    else:
        assert isinstance(found, list)
        assert isinstance(shuffled, list)


@pytest.mark.parametrize("order", [None, 1])
def test_a_season_whose_rates_have_no_finite_answer_has_findings_still(order: int | None) -> None:
    season = SpoiltSeason(2, 60, 2, (Slip("garble", "fittings.csv", 0.5, 0.0, ""),))
    with tempfile.TemporaryDirectory() as folder:
        season.write(Path(folder), shuffle=order)
        assert effects_or_none(folder)


def checked_or_none(folder: str) -> CheckedSeason | None:
    """The checked season, or none where no haul of it is whole."""
    try:
        return check_season(folder)[1]
    except SeasonUnusableError:
        return None


def findings_of(season: SpoiltSeason, order: int, as_listed: tuple[str, ...] = ()) -> Found:
    """What is found of the season with its rows shuffled, but for those of some files."""
    with tempfile.TemporaryDirectory() as folder:
        season.write(Path(folder), shuffle=order, as_listed=as_listed)
        return findings_or_sentences(folder)


def findings_or_sentences(folder: str) -> Found:
    try:
        return run_season(folder).findings
    except SeasonUnusableError as error:
        return error.sentences


def effects_or_none(folder: str) -> list[dict[str, Any]] | None:
    try:
        return run_season(folder).findings["effects"]
    except SeasonUnusableError:
        return None


def used_keys(season: CheckedSeason) -> dict[str, list[tuple[object, ...]]]:
    return {
        name: sorted(table.select(TABLES[name].key).rows(), key=str)
        for name, table in season.tables.items()
    }


def _without(found: dict[str, Any], names: set[str]) -> dict[str, Any]:
    assert names <= set(found)
    return {name: told for name, told in found.items() if name not in names}


def _but_for_rounding(effect: dict[str, Any]) -> dict[str, Any]:
    """The effect with numbers that equal those that differ by rounding only."""
    return {
        key: pytest.approx(value, rel=SAME, abs=SAME, nan_ok=True)
        if isinstance(value, float)
        else value
        for key, value in effect.items()
    }


def _table_of(file: str) -> str:
    return "hauls" if file == DECK_LOG else file.removesuffix(".csv")
