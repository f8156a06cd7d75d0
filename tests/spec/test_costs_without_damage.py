"""Columns that gainsay each other about damage are remarked on; what none had cost is left out."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pipeline import run_season
from pipeline.begin_reading import read
from pipeline.clock import silent
from pipeline.good_rows import check_season
from pipeline.joining.database import Database
from pipeline.run_season import find

if TYPE_CHECKING:
    from pathlib import Path

HEADERS = (
    "vessel,trip,haul,rig_version,ground,tow_hours,damaged,mending_hours,hours_lost,repair_cost"
)


def hauls(folder: Path, *rows: str) -> Path:
    (folder / "hauls.csv").write_text("\n".join([HEADERS, *rows]) + "\n", encoding="utf-8")
    return folder


def test_it_is_remarked_on_cell_by_cell(tmp_path: Path) -> None:
    season = hauls(tmp_path, "Skua,1,1,a,sand,3,no,2,1,50", "Skua,1,2,a,sand,3,yes,2,1,50")
    remarks = run_season(season).findings["remarks"]
    assert {(row["column"], row["source_row"]) for row in remarks} == {
        ("mending_hours", 2),
        ("hours_lost", 2),
        ("repair_cost", 2),
    }
    assert all("what damage cost leaves it out" in row["reason"] for row in remarks)


def test_it_is_counted_nowhere(tmp_path: Path) -> None:
    season = hauls(tmp_path, "Skua,1,1,a,sand,3,no,2,1,50", "Skua,1,2,a,sand,3,yes,4,3,70")
    with Database() as database:
        find(read(season, silent), database)
        told = database.get("haul_damage").sort("row")
    for column, only in (("mending_hours", 4.0), ("hours_lost", 3.0), ("mending_cost", 70.0)):
        assert told[column].to_list() == [0.0, only]


def test_ten_days_lost_to_one_haul_are_remarked_on(tmp_path: Path) -> None:
    season = hauls(tmp_path, "Skua,1,1,a,sand,3,yes,2,300,50")
    (remark,) = run_season(season).findings["remarks"]
    assert (remark["column"], remark["value"]) == ("hours_lost", "300.0")
    assert "more than 240 h lost to one haul" in remark["reason"]


TOLD = {
    "no": "is said of a haul without damage; what damage cost leaves it out",
    "untold": "is said of a haul of which nothing tells whether the net was damaged; what damage "
    "cost leaves it out until damaged says yes",
}
GAINSAID = (
    "stands beside {} in damage_events; the number is what counts, so put right which is wrong"
)
BLANK_MEANS_NONE = '[notes]\nblank_means = "no damage"\n'


@pytest.mark.parametrize(
    ("damaged", "events", "note", "review", "settings", "told"),
    [
        ("no", "", "", "", "", "no"),
        ("", "0", "", "", "", "no"),
        ("yes", "", "", "", "", ""),
        ("", "2", "", "", "", ""),
        ("", "", "", "", "", "untold"),
        ("", "", "belly torn", "", "", ""),
        ("", "", "", "", BLANK_MEANS_NONE, "no"),
        ("", "", "belly torn", "", BLANK_MEANS_NONE, ""),
        ("", "", "", "yes,Ada", BLANK_MEANS_NONE, ""),
        ("", "", "", "yes,Ada", "", ""),
        ("", "", "", "no,Ada", "", "no"),
        ("yes", "", "", "unknown,Ada", "", "untold"),
        ("no", "", "", "yes,Ada", "", ""),
        ("no", "", "", "yes,", "", "no"),
    ],
)
def test_a_cost_is_remarked_on_where_no_damage_is_told(
    damaged: str, events: str, note: str, review: str, settings: str, told: str, tmp_path: Path
) -> None:
    (tmp_path / "hauls.csv").write_text(
        "vessel,trip,haul,rig_version,tow_hours,damaged,damage_events,damage_note,mending_hours\n"
        f"Skua,1,1,a,3,{damaged},{events},{note},2\n"
    )
    (tmp_path / "season.toml").write_text(settings)
    if review:
        (tmp_path / "damage_review.csv").write_text(
            f"vessel,trip,haul,damaged,who\nSkua,1,1,{review}\n"
        )
    _, season = check_season(tmp_path)
    reasons = [(row["column"], row["reason"]) for row in season.remarks.to_dicts()]
    assert reasons == ([("mending_hours", TOLD[told])] if told else [])


@pytest.mark.parametrize(
    ("damaged", "events", "review", "reason"),
    [
        ("no", "2", "", GAINSAID),
        ("yes", "0", "", GAINSAID),
        ("no", "0", "", ""),
        ("yes", "2", "", ""),
        ("yes", "", "", ""),
        ("", "0", "", ""),
        ("no", "2", "yes,Ada", ""),
    ],
)
def test_damaged_beside_another_number_of_damages_is_remarked_on(
    damaged: str, events: str, review: str, reason: str, tmp_path: Path
) -> None:
    (tmp_path / "hauls.csv").write_text(
        "vessel,trip,haul,rig_version,tow_hours,damaged,damage_events\n"
        f"Skua,1,1,a,3,{damaged},{events}\n"
    )
    if review:
        (tmp_path / "damage_review.csv").write_text(
            f"vessel,trip,haul,damaged,who\nSkua,1,1,{review}\n"
        )
    _, season = check_season(tmp_path)
    told = [(row["column"], row["value"], row["reason"]) for row in season.remarks.to_dicts()]
    assert told == ([("damaged", damaged, reason.format(events))] if reason else [])
