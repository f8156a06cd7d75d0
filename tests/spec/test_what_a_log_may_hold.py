"""Whatever a log or its settings hold, `report` ends in a report or in plain sentences."""

from __future__ import annotations

import gzip
from typing import TYPE_CHECKING

import polars as pl
import pytest

from pipeline.good_rows import check_season
from pipeline.plain_text import plain_cell
from pipeline.problems import SeasonUnusableError
from pipeline.run_season import run_season
from reports.spreadsheets import for_spreadsheets

if TYPE_CHECKING:
    from pathlib import Path

HAULS = ["rig_version,ground,tow_hours,damaged,damage_note"] + [
    f"{rig},{ground},{3 + at % 3},{'yes' if at % 7 == 0 else 'no'},ok"
    for at in range(40)
    for rig, ground in (("discs", "mud"), ("bobbins", "sand"))
]


def season(folder: Path, hauls: list[str], settings: str = "") -> Path:
    (folder / "season").mkdir()
    (folder / "season" / "hauls.csv").write_text("\n".join(hauls) + "\n", encoding="utf-8")
    (folder / "season" / "season.toml").write_text(settings, encoding="utf-8")
    return folder / "season"


def page_of(folder: Path, hauls: list[str], settings: str = "") -> str:
    run_season(season(folder, hauls, settings), folder / "report", readers=["study"])
    return (folder / "report" / "study-report.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("sign", ["\x01", "\x1b[31m", "\u2028", "\ufffe", "\u202e", "😀", '"', "<"])
def test_a_rig_may_be_called_anything(tmp_path: Path, sign: str) -> None:
    hauls = [row.replace("discs", f'"di{sign.replace(chr(34), chr(34) * 2)}scs"') for row in HAULS]
    assert "scs" in page_of(tmp_path, hauls)


def test_rigs_and_hours_alone_make_a_report(tmp_path: Path) -> None:
    hauls = ["rig_version,tow_hours", "discs,3", "bobbins,4"]
    assert "Nothing was recorded of damage" in page_of(tmp_path, hauls)


@pytest.mark.parametrize(
    ("headers", "cells", "what_counts"),
    [
        ("rig_version,tow_hours", "discs,3", "nor when a haul was shot, so each haul counts"),
        ("rig_version,tow_hours,shot_at", "discs,3,2031-03-04", "so each day of a boat counts"),
        ("rig_version,tow_hours,trip", "discs,3,7", None),
    ],
)
def test_what_counts_as_a_trip_where_none_is_named_is_told(
    headers: str, cells: str, what_counts: str | None, tmp_path: Path
) -> None:
    _, checked = check_season(season(tmp_path, [headers, cells]))
    told = [reason for column, reason in checked.remarks.select("column", "reason").iter_rows()]
    assert len(told) == (what_counts is not None)
    assert what_counts is None or what_counts in told[0]


def test_a_quotation_mark_left_open_takes_no_other_row_along(tmp_path: Path) -> None:
    hauls = [*HAULS[:20], 'discs,mud,3,no,"net ok', *HAULS[20:], 'discs,mud,3,no,5" wire ok']
    _, checked = check_season(season(tmp_path, hauls))
    assert checked.counts["hauls"] == {"read": 82, "used": 81, "set_aside": 1}
    assert checked.set_aside["source_row"].to_list() == [21]


@pytest.mark.parametrize("amount", ["1e200", "1e308", "5e-324", "-1e300", "inf", "nan"])
def test_a_number_beyond_belief_is_set_aside_or_harmless(tmp_path: Path, amount: str) -> None:
    hauls = [f"{HAULS[0]},debris_kg", *(f"{row},{amount}" for row in HAULS[1:40])]
    hauls += [f"{row},20" for row in HAULS[40:]]
    assert "inf" not in page_of(tmp_path, hauls).split("</style>")[1].split("<script>")[0].split()


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ('[season]\ngrounds = ["all"]', "grounds may not name 'all'"),
        ('[hauls]\nkeep = ["alike"]', "keep names 'alike'"),
        ('[hauls]\nkeep = ["damage_note", "damage_note"]', "twice"),
        (
            '[hauls.columns]\nshot_at = { from = "tow_hours", format = "%H %z" }',
            "no way of writing",
        ),
        (
            '[hauls.columns]\nground = { from = "ground", words = { x = "rock" } }',
            "did you mean 'roc",
        ),
        ("[hauls.columns]\ndepth_m = { from = [] }", "depth_m"),
        ('[hauls.read]\nseparator = "§"', "separator"),
        ('[hauls.read]\nencoding = "punycode"', "punycode"),
        ("[checks]\nlongest_tow_hours = inf", "finite number"),
        ('[model]\nadjust = ["rig_version"]', "adjust names 'rig_version'"),
        ('[model]\nspecies = ["PLX"]', "in no list of species"),
        ('[hauls]\nfile = "a**/x.csv"', "a**/x.csv"),
    ],
)
def test_settings_that_cannot_work_are_told(tmp_path: Path, settings: str, said: str) -> None:
    with pytest.raises(SeasonUnusableError) as error:
        run_season(season(tmp_path, HAULS, settings))
    assert said in str(error.value)


def test_a_cut_off_file_is_told(tmp_path: Path) -> None:
    folder = season(tmp_path, HAULS)
    (folder / "hauls.csv").unlink()
    whole = gzip.compress("\n".join(HAULS).encode())
    (folder / "hauls.csv.gz").write_bytes(whole[: len(whole) // 2])
    with pytest.raises(SeasonUnusableError, match="not a whole gzip file"):
        run_season(folder)


def test_a_year_that_no_calendar_has_is_set_aside(tmp_path: Path) -> None:
    hauls = ["rig_version,tow_hours,shot_at", "discs,3,2031-03-04", "discs,3,0000-01-01 01:00"]
    _, checked = check_season(season(tmp_path, hauls))
    assert checked.set_aside["source_row"].to_list() == [3]


@pytest.mark.parametrize(
    "cell", ["=1+1", "+1", "@x", "-", "-3\n", "-2+3+cmd|' /C calc'!D2", "＝1+1", "\t=1"]
)
def test_a_formula_is_text_to_a_spreadsheet(cell: str) -> None:
    (kept,) = for_spreadsheets(pl.DataFrame({"value": [cell]}))["value"]
    assert kept == plain_cell(cell) == f"'{cell}"


@pytest.mark.parametrize("cell", ["-3", "-3,5", "-1e5", "3", "net ok", "-٣"])
def test_numbers_and_words_stay_as_they_are_for_a_spreadsheet(cell: str) -> None:
    assert for_spreadsheets(pl.DataFrame({"value": [cell]}))["value"].to_list() == [cell]
    assert plain_cell(cell) == cell


def test_a_species_without_a_price_is_named_where_money_is_told(tmp_path: Path) -> None:
    hauls = ["haul,rig_version,ground,tow_hours,shot_at"]
    catches, rigs = ["haul,species,kept_kg"], ("discs", "bobbins")
    for at in range(40):
        hauls.append(f"{at},{rigs[at % 2]},mud,3,2031-03-{1 + at // 2:02}")
        catches += [f"{at},PLE,{20 + at}", f"{at},NEP,5"]
    folder = season(tmp_path, hauls)
    (folder / "catches.csv").write_text("\n".join(catches) + "\n", encoding="utf-8")
    prices = "species,valid_from,price_per_kg\nPLE,2031-01-01,2.5\n"
    (folder / "prices.csv").write_text(prices, encoding="utf-8")
    run_season(folder, tmp_path / "report", readers=["study"])
    page = (tmp_path / "report" / "study-report.html").read_text(encoding="utf-8")
    assert "No price is known of NEP" in page
    assert "No price is known of PLE" not in page
