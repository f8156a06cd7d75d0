"""A log with a sheet a month is read as one table, and sheets that are not are told of."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from openpyxl import Workbook

from pipeline.checking.check_season import sentence_of
from pipeline.good_rows import check_season
from pipeline.intake.not_used import headers_not_used
from pipeline.note_words import readings_of
from pipeline.problems import SeasonUnusableError
from reports.check_summary import check_summary
from tests.spec.season_texts import valid_season

if TYPE_CHECKING:
    from pathlib import Path

    from tests.spec.season_texts import Rows

HAULS_OF = {"March": slice(0, 4), "May": slice(4, 7), "April": slice(7, 10)}
"""Out of the order of the year, as sheets may be."""


def write_months(folder: Path, sheet: str, *, more: dict[str, Rows] | None = None) -> Path:
    """The valid season with its hauls on a sheet a month, which `sheet` names in its settings."""
    season = valid_season()
    headers, *rows = season.tables.pop("hauls")
    season.settings = f"[hauls]\nsheet = {sheet}\n"
    season.write_csv(folder)
    sheets = {name: [[*headers, "Moon"], *rows[which]] for name, which in HAULS_OF.items()}
    book = Workbook()
    book.remove(book.active)
    for name, cells in (sheets | (more or {})).items():
        page = book.create_sheet(name)
        for row in cells:
            page.append([cell or None for cell in row])
    book.save(folder / "Log 2031.xlsx")
    return folder


@pytest.mark.parametrize(
    ("sheet", "months"),
    [
        ('["April", "march", "May"]', ["March", "May", "April"]),
        ('["m*", "April", "March"]', ["March", "May", "April"]),
        ('"*"', ["March", "May", "April"]),
        ('"M*"', ["March", "May"]),
        ('"April"', ["April"]),
    ],
)
def test_several_sheets_are_one_table_in_the_order_of_the_workbook(
    sheet: str, months: list[str], tmp_path: Path
) -> None:
    folder, checked = check_season(write_months(tmp_path / "season", sheet))
    hauls = checked.tables["hauls"]
    labels = [f"Log 2031.xlsx, sheet {month}" for month in months]
    assert [table.labels for table in folder.tables if table.name == "hauls"] == [tuple(labels)]
    assert sorted(hauls.select("source_file", "source_row").rows()) == sorted(
        (label, row)
        for label, month in zip(labels, months, strict=True)
        for row in range(2, 2 + len(range(10)[HAULS_OF[month]]))
    )
    assert [file.name for file in folder.files].count("Log 2031.xlsx") == 1
    left = [month for month in HAULS_OF if month not in months]
    assert [told.split(": ")[1].split(";")[0] for told in checked.not_read] == (
        [", ".join(left)] if left else []
    )


def test_a_pattern_leaves_out_a_sheet_that_is_called_as_another_table(tmp_path: Path) -> None:
    vessels = [["vessel", "power_kw"], ["Skua", "300"]]
    season = write_months(tmp_path / "season", '"*"', more={"Vessels": vessels})
    (season / "vessels.csv").unlink()
    _, checked = check_season(season)
    assert checked.tables["vessels"]["vessel"].to_list() == ["Skua"]
    assert checked.counts["hauls"]["used"] == 10
    assert checked.not_read == ()


def test_an_empty_sheet_among_others_is_told_of(tmp_path: Path) -> None:
    _, checked = check_season(write_months(tmp_path / "season", '"*"', more={"June": []}))
    assert checked.counts["hauls"]["used"] == 10
    assert [sentence_of(row) for row in checked.remarks.to_dicts()] == [
        "Log 2031.xlsx, sheet June, row 1: the table hauls has no header and no row, so the season "
        "is read as if it were not there."
    ]


def test_a_sheet_that_is_not_there_is_named_with_those_that_are(tmp_path: Path) -> None:
    for sheet in ('"June"', '["March", "June"]', '"J*"'):
        pattern = "J*" if "*" in sheet else "June"
        with pytest.raises(SeasonUnusableError) as refusal:
            check_season(write_months(tmp_path / sheet.strip('"[]'), sheet))
        assert refusal.value.sentences == [
            f"season.toml: [hauls] names the sheet {pattern!r}, which Log 2031.xlsx has not; its "
            "sheets are March, May, April."
        ]


def test_of_several_workbooks_none_is_chosen_for_a_sheet(tmp_path: Path) -> None:
    season = write_months(tmp_path / "season", '"*"')
    (season / "Log 2030.xlsx").write_bytes((season / "Log 2031.xlsx").read_bytes())
    with pytest.raises(SeasonUnusableError) as refusal:
        check_season(season)
    assert refusal.value.sentences == [
        "season.toml: [hauls] names the sheet '*', and there is no one workbook to look for it: "
        "season has Log 2030.xlsx, Log 2031.xlsx; give the one that is meant in place of the "
        "folder, or put the others elsewhere."
    ]


def test_a_header_of_every_sheet_that_is_not_used_is_told_once(tmp_path: Path) -> None:
    folder, checked = check_season(write_months(tmp_path / "season", '"*"'))
    not_used = headers_not_used(folder)
    assert not_used == {f"Log 2031.xlsx, sheet {month}": ("Moon",) for month in HAULS_OF}
    told = check_summary(checked, readings_of(folder, checked), folder.settings, not_used)
    assert (
        "Headers that nothing is read from:\n"
        "  Log 2031.xlsx, sheet March (and 2 more like it): Moon\n"
    ) in f"{told}\n"


def test_a_sheet_with_other_headers_is_named_with_what_to_do(tmp_path: Path) -> None:
    totals = [["Totals of the year"], ["", "hours"], ["", "37"]]
    with pytest.raises(SeasonUnusableError) as refusal:
        check_season(write_months(tmp_path / "season", '"*"', more={"Totals": totals}))
    assert refusal.value.sentences == [
        "Log 2031.xlsx, sheet Totals has none of the headers that are asked for; its first line "
        "begins 'Totals of the year'. If lines stand above the headers, say how many with "
        "skip_lines under [hauls.read]; if its headers are called otherwise, name them under "
        "[hauls.columns]; if it is no part of hauls, name those that are: "
        'sheet = ["…", "…"] under [hauls].'
    ]


def test_a_sheet_of_a_title_alone_is_named_too(tmp_path: Path) -> None:
    readme = [["Invented data, kept by the skipper"]]
    with pytest.raises(SeasonUnusableError) as refusal:
        check_season(write_months(tmp_path / "season", '"*"', more={"Read me": readme}))
    (said,) = refusal.value.sentences
    assert said.startswith("Log 2031.xlsx, sheet Read me has none of the headers that are asked")


def test_the_workbook_of_a_sheet_may_be_named(tmp_path: Path) -> None:
    season = write_months(tmp_path / "season", '"M*"')
    (season / "Log 2030.xlsx").write_bytes((season / "Log 2031.xlsx").read_bytes())
    settings = season / "season.toml"
    said = settings.read_text(encoding="utf-8")
    settings.write_text(f'{said}file = "Log 2031.xlsx"\n', encoding="utf-8")
    assert check_season(season)[1].counts["hauls"]["used"] == 7
    settings.write_text(f'{said}file = "*.xlsx"\n', encoding="utf-8")
    with pytest.raises(SeasonUnusableError) as refusal:
        check_season(season)
    assert refusal.value.sentences[0].startswith(
        "season.toml: [hauls] names a sheet, and Log 2030.xlsx, Log 2031.xlsx is not one workbook"
    )
