"""A correction names one row of a log that has no haul numbers, or no boat or trip."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pipeline.checking.check_season import sentence_of
from pipeline.good_rows import check_season
from tests.spec.season_texts import SeasonText

if TYPE_CHECKING:
    from pathlib import Path

    from pipeline.rows import CheckedSeason

LOG = [
    ["rig_version", "ground", "tow_hours", "depth_m", "shot_at", "vessel", "trip", "Plaice"],
    ["a", "sand", "3", "47", "2031-03-01 06:00", "Skua", "A", "10"],
    ["a", "sand", "3", "4700", "2031-03-01 12:00", "Skua", "A", "20"],
    ["a", "sand", "3", "39", "2031-03-02 06:00", "Skua", "B", "30"],
]
ACROSS = '[catches.across]\nkept_kg = { PLE = "Plaice" }\n'


def checked(folder: Path, *corrections: str, without: tuple[str, ...] = ()) -> CheckedSeason:
    """The log without those columns, and its corrections: table, key, column, old and new."""
    header, *hauls = LOG
    left = [at for at, name in enumerate(header) if name not in without]
    header_of = ["table", "key", "column", "old", "new", "who", "why"]
    rows = [[*each.split(), "Ada", "slip of the pen"] for each in corrections]
    season = SeasonText(
        tables={
            "hauls": [[row[at] for at in left] for row in (header, *hauls)],
            "corrections": [header_of, *rows],
        },
        settings=ACROSS,
    )
    return check_season(season.write_csv(folder / "season"))[1]


def told(season: CheckedSeason) -> list[str]:
    of_corrections = season.set_aside.filter(table="corrections")
    return [sentence_of(row) for row in of_corrections.iter_rows(named=True)]


@pytest.mark.parametrize(
    ("key", "without"),
    [
        ("Skua/A/3", ()),
        ("Skua/2031-03-01/3", ("trip",)),
        ("the_boat/A/3", ("vessel",)),
        ("the_boat/2031-03-01/3", ("vessel", "trip")),
        ("the_boat/3/3", ("vessel", "trip", "shot_at")),
    ],
)
def test_the_key_that_check_prints_names_the_row(
    key: str, without: tuple[str, ...], tmp_path: Path
) -> None:
    key = key.replace("_", " ")
    before = checked(tmp_path, without=without)
    assert before.set_aside.filter(table="catches")["value"].to_list() == [key]
    folder = tmp_path / "season"
    with (folder / "corrections.csv").open("a", encoding="utf-8") as file:
        file.write(f"hauls,{key},depth_m,4700,47,Ada,slip of the pen\n")
        file.write(f"catches,{key}/PLE,kept_kg,20,25,Ada,slip of the pen\n")
    _, season = check_season(folder)
    assert season.set_aside.is_empty()
    assert season.tables["hauls"]["depth_m"].to_list() == [47, 47, 39]
    assert season.tables["catches"]["kept_kg"].to_list() == [10, 25, 30]
    assert season.counts["corrections"] == {"read": 2, "used": 2, "set_aside": 0}


def test_a_key_that_several_rows_have_is_refused_with_the_whole_one(tmp_path: Path) -> None:
    season = checked(tmp_path, "hauls Skua/A rig_version a b", "hauls Skua/A depth_m 4700 47")
    assert season.tables["corrections"].is_empty()
    assert season.tables["hauls"]["rig_version"].to_list() == ["a", "a"]
    said = "'Skua/A' is short of haul, so that 2 rows of hauls have it; write the whole key, such "
    assert told(season) == [
        f"corrections.csv, row {row}, key: {said}as Skua/A/2." for row in (2, 3)
    ]


def test_a_shorter_key_that_one_row_has_names_it(tmp_path: Path) -> None:
    season = checked(tmp_path, "hauls Skua/B depth_m 39 40", "catches Skua/B/PLE kept_kg 30 31")
    assert season.tables["hauls"]["depth_m"].to_list() == [47, 40]
    assert season.tables["catches"]["kept_kg"].to_list() == [10, 31]
    assert told(season) == []


def test_a_correction_is_used_or_set_aside_and_never_both(tmp_path: Path) -> None:
    """Of two rows of one key the one that says what the correction says is put right."""
    season = checked(tmp_path)
    log = (tmp_path / "season" / "hauls.csv").read_text(encoding="utf-8").splitlines()
    numbered = [f"{row},{number}" for row, number in zip(log, ("haul", 1, 2, 2), strict=True)]
    numbered[-1] = numbered[-1].replace(",B,", ",A,")
    (tmp_path / "season" / "hauls.csv").write_text("\n".join(numbered), encoding="utf-8")
    with (tmp_path / "season" / "corrections.csv").open("a", encoding="utf-8") as file:
        file.write("hauls,Skua/A/2,depth_m,4700,39,Ada,slip of the pen\n")
    _, season = check_season(tmp_path / "season")
    assert season.counts["corrections"] == {"read": 1, "used": 1, "set_aside": 0}
