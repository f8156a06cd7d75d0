"""A log with a column for each species is read as if it had a row for each."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from openpyxl import Workbook

from pipeline.checking.check_season import sentence_of
from pipeline.good_rows import check_season
from pipeline.note_words import readings_of
from pipeline.run_season import run_season
from reports.check_summary import check_summary
from tests.spec.season_texts import SeasonText, valid_season

if TYPE_CHECKING:
    from pathlib import Path

    import polars as pl

WEIGHTS = {"kept_kg": "", "discarded_kg": " back"}
"""Column of ours, and what stands behind a species in the log's header for it."""
KEY = ("vessel", "trip", "haul")
ACROSS = """
[catches.across]
kept_kg = { COD = "COD", PLE = "PLE" }
"""


def across(season: SeasonText) -> SeasonText:
    """The same season with its catches beside the hauls, and the settings that say so."""
    headers, *rows = season.tables.pop("catches")
    caught = [dict(zip(headers, row, strict=True)) for row in rows]
    species = list(dict.fromkeys(row["species"] for row in caught))
    cells = {
        (*(row[name] for name in KEY), f"{row['species']}{end}"): row[column]
        for row in caught
        for column, end in WEIGHTS.items()
    }
    wide = [f"{name}{end}" for end in WEIGHTS.values() for name in species]
    hauls = season.tables["hauls"]
    at = [hauls[0].index(name) for name in KEY]
    season.tables["hauls"] = [
        [*hauls[0], *wide],
        *(
            [*row, *(cells.get((*(row[i] for i in at), header), "") for header in wide)]
            for row in hauls[1:]
        ),
    ]
    said = "\n".join(
        f'{column}.{name} = "{name}{end}"' for column, end in WEIGHTS.items() for name in species
    )
    season.settings += f"\n[catches.across]\n{said}\n"
    return season


def caught(season: pl.DataFrame) -> pl.DataFrame:
    key = (*KEY, "species")
    return season.select(*key, *WEIGHTS).sort(key)


def test_the_catches_are_those_of_a_row_for_each_species(tmp_path: Path) -> None:
    _, by_row = check_season(valid_season().write_csv(tmp_path / "by row"))
    _, wide = check_season(across(valid_season()).write_csv(tmp_path / "across"))
    assert caught(wide.tables["catches"]).equals(caught(by_row.tables["catches"]))
    assert wide.set_aside.is_empty()
    assert wide.counts["catches"] == by_row.counts["catches"]


def test_the_findings_are_the_same(tmp_path: Path) -> None:
    by_row = run_season(valid_season().write_csv(tmp_path / "by row")).findings
    wide = run_season(across(valid_season()).write_csv(tmp_path / "across")).findings
    for name in ("rates", "effects", "money", "standing"):
        assert wide[name] == by_row[name]


def test_they_are_read_from_a_workbooks_sheet_of_hauls_too(tmp_path: Path) -> None:
    season = across(valid_season())
    book, path = Workbook(), tmp_path / "log.xlsx"
    book.remove(book.active)
    for name, rows in season.tables.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    book.save(path)
    path.with_suffix(".toml").write_text(season.settings, encoding="utf-8")
    _, by_row = check_season(valid_season().write_csv(tmp_path / "by row"))
    _, wide = check_season(path)
    assert caught(wide.tables["catches"]).equals(caught(by_row.tables["catches"]))


def test_the_log_may_call_boat_trip_and_haul_otherwise(tmp_path: Path) -> None:
    season = across(valid_season())
    headers = season.tables["hauls"][0]
    for name in KEY:
        headers[headers.index(name)] = name.capitalize() * 2
    named = "".join(f'{name} = "{name.capitalize() * 2}"\n' for name in KEY)
    season.settings = f"[hauls.columns]\n{named}{season.settings}"
    _, by_row = check_season(valid_season().write_csv(tmp_path / "by row"))
    _, wide = check_season(season.write_csv(tmp_path / "across"))
    assert caught(wide.tables["catches"]).equals(caught(by_row.tables["catches"]))


@pytest.mark.parametrize("lacks", [("trip",), ("haul",), ("trip", "haul")])
def test_a_log_without_numbers_of_trips_or_hauls_has_its_catches_in_the_rows_of_its_hauls(
    lacks: tuple[str, ...], tmp_path: Path
) -> None:
    season = across(valid_season())
    headers = season.tables["hauls"][0]
    for name in ("damage_review", "corrections"):
        del season.tables[name]
    for name in lacks:
        headers[headers.index(name)] = f"{name} as nobody asked for it"
    _, by_row = check_season(valid_season().write_csv(tmp_path / "by row"))
    _, wide = check_season(season.write_csv(tmp_path / "across"))
    caught_in, caught_by_row = (
        checked.tables["hauls"]
        .select(*KEY, "shot_at")
        .join(checked.tables["catches"], on=KEY)
        .select("vessel", "shot_at", "species", *WEIGHTS)
        .sort("vessel", "shot_at", "species")
        for checked in (wide, by_row)
    )
    assert caught_by_row.height == 7
    assert caught_in.equals(caught_by_row)
    assert wide.set_aside.is_empty()
    assert ("trip" in lacks) == wide.remarks["column"].to_list().count("trip")


@pytest.mark.parametrize(
    ("cells", "kept"),
    [
        (("12", ""), {"COD": 12.0}),
        (("0", "7"), {"COD": 0.0, "PLE": 7.0}),
        (("", " "), {}),
        (("none", "7"), {"PLE": 7.0}),
    ],
)
def test_a_blank_is_not_recorded_and_a_nought_is(
    cells: tuple[str, str], kept: dict[str, float], tmp_path: Path
) -> None:
    (tmp_path / "hauls.csv").write_text(
        "vessel,trip,haul,shot_at,tow_hours,rig_version,ground,COD,PLE\n"
        f"Skua,1,1,2031-03-04 05:30,3,discs,sand,{','.join(cells)}\n",
        encoding="utf-8",
    )
    reading = '[catches.read]\nmissing = ["none"]\n'
    (tmp_path / "season.toml").write_text(ACROSS + reading, encoding="utf-8")
    _, season = check_season(tmp_path)
    catches = season.tables["catches"]
    assert dict(catches.select("species", "kept_kg").iter_rows()) == kept


def test_what_can_not_be_read_is_named_with_its_species_and_costs_no_other(
    tmp_path: Path,
) -> None:
    (tmp_path / "hauls.csv").write_text(
        "vessel,trip,haul,shot_at,tow_hours,rig_version,ground,COD,PLE\n"
        "Skua,1,1,2031-03-04 05:30,3,discs,sand,some,7\n",
        encoding="utf-8",
    )
    (tmp_path / "season.toml").write_text(ACROSS, encoding="utf-8")
    folder, season = check_season(tmp_path)
    told = check_summary(season, readings_of(folder, season), folder.settings)
    assert "  hauls.csv, COD, row 2, kept_kg: 'some' is not a number; " in told
    assert season.counts["catches"] == {"read": 2, "used": 1, "set_aside": 1}
    assert season.counts["hauls"]["used"] == 1
    assert season.tables["catches"]["species"].to_list() == ["PLE"]


@pytest.mark.parametrize(
    ("catches", "said"),
    [
        (None, "There is no table catches, so"),
        ("vessel,trip,haul,COD,PLE\nSkua,1,1,12,7\n", "There is no species in catches, so"),
        ("vessel,trip,haul,species,kept_kg\nSkua,1,1,COD,7\n", None),
    ],
)
def test_check_tells_where_catches_may_stand(
    catches: str | None, said: str | None, tmp_path: Path
) -> None:
    season = valid_season()
    del season.tables["catches"]
    folder = season.write_csv(tmp_path / "season")
    if catches is not None:
        (folder / "catches.csv").write_text(catches, encoding="utf-8")
    opened, checked = check_season(folder)
    told = check_summary(checked, readings_of(opened, checked), opened.settings)
    assert ("say so under [catches.across] in season.toml." in told) == (said is not None)
    assert said is None or said in told


def test_a_header_of_a_species_is_not_told_of_as_one_that_hauls_do_not_use(tmp_path: Path) -> None:
    season = across(valid_season())
    headers = season.tables["hauls"][0]
    headers[headers.index("PLE")] = "Hadd"  # much like "hands", which the log lacks
    season.settings = season.settings.replace('kept_kg.PLE = "PLE"', 'kept_kg.PLE = "Hadd"')
    checked = check_season(season.write_csv(tmp_path / "season"))[1]
    assert not any("'Hadd'" in told for told in map(sentence_of, checked.remarks.to_dicts()))


def test_a_header_of_the_hauls_is_not_told_of_as_one_that_catches_do_not_use(
    tmp_path: Path,
) -> None:
    season = across(valid_season())
    headers = season.tables["hauls"][0]
    headers[headers.index("hauled_at")] = "Hauled"  # much like "haul", which the log lacks
    at = headers.index("haul")
    season.tables["hauls"] = [[*row[:at], *row[at + 1 :]] for row in season.tables["hauls"]]
    season.settings += '\n[hauls.columns]\nhauled_at = "Hauled"\n'
    checked = check_season(season.write_csv(tmp_path / "season"))[1]
    of_catches = checked.remarks.filter(table="catches")
    assert not any("not used" in reason for reason in of_catches["reason"])
