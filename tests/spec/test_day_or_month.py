"""A day that two forms read otherwise is told of where the rows about it say the other."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

import pytest

from pipeline.checking.check_season import sentence_of
from pipeline.good_rows import check_season
from pipeline.run_season import run_season
from reports.advice.to_do import to_look_over
from tests.spec.season_texts import SeasonText

if TYPE_CHECKING:
    from pathlib import Path

BY_DAY, BY_MONTH = "%d/%m/%Y %H:%M", "%m/%d/%Y %H:%M"
DAYS = [datetime(2031, 5, 20, 6, 30) + timedelta(days=2 * at) for at in range(40)]
"""From May into August: July has days of both kinds, and so have the months about it."""


def log(
    by_month: set[int], days: list[datetime] = DAYS, formats: tuple[str, ...] = (BY_DAY, BY_MONTH)
) -> SeasonText:
    """A log of these days, of which those in these months are written month first."""
    rows = [["trip", "shot_at", "tow_hours", "rig_version", "ground"]]
    for at, day in enumerate(days):
        form = BY_MONTH if day.month in by_month else BY_DAY
        rows.append([str(at // 3), f"{day:{form}}", "4", "discs", "mud"])
    given = ", ".join(f'"{form}"' for form in formats)
    return SeasonText({"hauls": rows}, f"[hauls.columns]\nshot_at = {{ format = [{given}] }}\n")


def told(text: SeasonText, folder: Path) -> list[str]:
    _, season = check_season(text.write_csv(folder / "season"))
    assert season.set_aside.is_empty()
    return [sentence_of(row) for row in season.remarks.to_dicts() if row["column"] == "shot_at"]


def test_each_row_of_a_month_written_the_other_way_is_named(tmp_path: Path) -> None:
    said = told(log({7}), tmp_path)
    read_otherwise = [at for at, day in enumerate(DAYS) if day.month == 7 and day.day < 12]
    assert [words.split(", shot_at")[0] for words in said] == [
        f"hauls.csv, row {at + 2}" for at in read_otherwise if DAYS[at].day != 7
    ]
    third = DAYS[read_otherwise[0]]
    assert f"{third:%m/%d/%Y}" in said[0]
    assert f"is read as 2031-{third:%d}-07" in said[0]
    assert f"write {third:%Y-%m-%d} 06:30 there" in said[0]


@pytest.mark.parametrize("by_month", [set(), {5, 6, 7, 8}])
def test_a_log_that_is_written_as_the_first_form_says_is_told_nothing(
    by_month: set[int], tmp_path: Path
) -> None:
    formats = (BY_MONTH, BY_DAY) if by_month else (BY_DAY, BY_MONTH)
    assert told(log(by_month, formats=formats), tmp_path) == []


@pytest.mark.parametrize("order", ["backwards", "mixed up"])
def test_a_log_the_other_way_round_says_so_too_and_one_in_no_order_nothing(
    order: str, tmp_path: Path
) -> None:
    mixed_up = [DAYS[at * 17 % len(DAYS)] for at in range(len(DAYS))]
    said = told(log({7}, DAYS[::-1] if order == "backwards" else mixed_up), tmp_path)
    assert bool(said) is (order == "backwards")


def test_the_first_screen_counts_them(tmp_path: Path) -> None:
    said = told(log({7}), tmp_path)
    (line,) = to_look_over(run_season(tmp_path / "season").findings)
    assert f"day or month {len(said)}" in line
