"""What is advised of a day that can't be read works, when it is followed."""

from __future__ import annotations

import json
import re
from datetime import datetime
from typing import TYPE_CHECKING

import pytest

from pipeline.intake.moments import WAYS_OF_WRITING
from pipeline.intake.read_season import read_as_text, read_values
from pipeline.intake.season_folder import open_season
from pipeline.intake.settings import parse_settings
from tests.spec.season_texts import csv_bytes

if TYPE_CHECKING:
    from pathlib import Path

    from pipeline.rows import ValueTable

WRITTEN = {
    "24/03/2031": "2031-03-24",
    "24/03/31": "2031-03-24",
    "03/24/2031": "2031-03-24",
    "24.03.2031 05:30": "2031-03-24 05:30",
    "24-Mar-31 0530": "2031-03-24 05:30",
    "24 Mar 2031 5.30": "2031-03-24 05:30",
    "3/24/31 5:30 AM": "2031-03-24 05:30",
    "2031/03/24 05:30": "2031-03-24 05:30",
    "2031-03-24 530": "2031-03-24 05:30",
}


@pytest.mark.parametrize("cell", WRITTEN)
@pytest.mark.parametrize("said", [None, "%d.%m.%y %H:%M:%S"])
def test_the_format_that_is_advised_reads_the_cell(
    cell: str, said: str | None, tmp_path: Path
) -> None:
    (reason,) = _read([cell], said, tmp_path).refusals["reason"]
    advised = re.search(r'format = "(.+?)"|, but (?:is one )?as ([^;]+?)(?:: %y [^;]+)?;', reason)
    assert advised, reason
    again = _read([cell], advised[1] or advised[2], tmp_path)
    assert again.refusals.is_empty()
    assert again.frame["shot_at"].to_list() == [datetime.fromisoformat(WRITTEN[cell])]


def test_one_day_of_the_column_tells_which_of_day_and_month_stands_first(tmp_path: Path) -> None:
    reasons = _read(["03/07/2031", "03/24/2031"], None, tmp_path).refusals["reason"].to_list()
    assert all(reason.endswith('format = "%m/%d/%Y"') for reason in reasons)


def test_each_way_that_may_be_advised_is_one_that_can_be_said() -> None:
    columns = {"shot_at": {"format": list(WAYS_OF_WRITING)}}
    assert parse_settings({"hauls": {"columns": columns}})


def _read(cells: list[str], form: str | None, folder: Path) -> ValueTable:
    rows = [["shot_at", "haul"], *([cell, "1"] for cell in cells)]
    (folder / "hauls.csv").write_bytes(csv_bytes(rows))
    said = f"[hauls.columns]\nshot_at = {{ format = {json.dumps(form)} }}\n" if form else ""
    (folder / "season.toml").write_text(said, encoding="utf-8")
    season = open_season(folder)
    texts, _ = read_as_text(season)
    return read_values(texts, season.settings)["hauls"]
