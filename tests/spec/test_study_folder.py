"""The folder `study`: the same numbers as findings.json, every figure, a citation that is one."""

from __future__ import annotations

import csv
import json
import os
import re
from datetime import date
from typing import TYPE_CHECKING, Any

import pytest

from pipeline import run_season
from pipeline.clock import silent
from pipeline.demo import write_demo
from pipeline.problems import WrongUsageError
from reports.folder import check_place
from reports.study.citation import citation
from reports.study.figures import drawing_rules, titled
from reports.study.tables import tables_of
from tests.spec.test_lean_seasons import HAULS, haul
from tests.spec.test_methods import catches

if TYPE_CHECKING:
    from pathlib import Path

Row = dict[str, Any]


@pytest.fixture(scope="module")
def report(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The study of a small season whose title a spreadsheet would run."""
    folder = tmp_path_factory.mktemp("season")
    rows = [haul(at) for at in range(HAULS)]
    with (folder / "hauls.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, rows[0])
        writer.writeheader()
        writer.writerows(rows)
    (folder / "catches.csv").write_text(catches(), encoding="utf-8")
    settings = '[season]\ntitle = "=1+1: a \\"spring\\""\n'
    (folder / "season.toml").write_text(settings, encoding="utf-8")
    out = folder / "report"
    run_season(folder, out, readers=["study"])
    return out


def table(report: Path, name: str) -> list[Row]:
    with (report / f"study/tables/{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def findings_of(report: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((report / "findings.json").read_text(encoding="utf-8"))
    return found


def same(cell: str, value: object) -> bool:
    """Whether a cell reads back to the value, to the last digit."""
    if value is None:
        return cell == ""
    if isinstance(value, bool):
        return cell == str(value).lower()
    if isinstance(value, int | float):
        return float(cell) == value
    if isinstance(value, list):
        return cell == "; ".join(map(str, value))
    return cell == value


@pytest.mark.parametrize("name", ["effects", "rates", "rig_by_ground", "records", "outcomes"])
def test_a_table_reads_back_to_the_findings_to_the_last_digit(report: Path, name: str) -> None:
    rows, found = table(report, name), findings_of(report)[name]
    assert len(rows) == len(found) > 0
    for cells, row in zip(rows, found, strict=True):
        assert cells.keys() == row.keys()
        assert all(same(cells[column], value) for column, value in row.items())


def test_terms_of_models_stand_under_the_number_of_their_model(report: Path) -> None:
    models, terms = (
        findings_of(report)["standing"]["models"],
        table(report, "standing.models.terms"),
    )
    assert len(terms) == sum(len(model["terms"]) for model in models)
    for cells in terms:
        model = models[int(cells["standing.models.row"]) - 1]
        term = next(term for term in model["terms"] if term["term"] == cells["term"])
        assert cells["outcome"] == model["outcome"]
        assert all(same(cells[column], value) for column, value in term.items())


def numbers(held: object) -> list[float]:
    """Every number of the findings, wherever it stands."""
    if isinstance(held, dict):
        return [number for value in held.values() for number in numbers(value)]
    if isinstance(held, list):
        return [number for value in held for number in numbers(value)]
    return [held] if isinstance(held, int | float) and not isinstance(held, bool) else []


def test_no_number_of_the_findings_is_missing(report: Path) -> None:
    written = set()
    for path in (report / "study/tables").iterdir():
        for cells in csv.reader(path.read_text(encoding="utf-8").splitlines()):
            written |= {part for cell in cells for part in cell.split("; ")}
    found = numbers(findings_of(report))
    assert len(found) > 1000
    assert {repr(number) for number in found} <= written


def test_a_group_in_a_row_becomes_columns_and_a_list_of_rows_a_table() -> None:
    tables = tables_of(
        {
            "rigs": [
                {"rig": "a", "cost": None, "lives": []},
                {"rig": "b", "cost": {"low": 0.1}, "lives": [{"hours": 3}]},
            ]
        }
    )
    assert tables["rigs"].to_dicts() == [
        {"rig": "a", "cost.low": None},
        {"rig": "b", "cost.low": "0.1"},
    ]
    assert tables["rigs.lives"].to_dicts() == [{"rigs.row": "2", "rig": "b", "hours": "3"}]


def test_no_text_in_a_table_is_a_formula_to_a_spreadsheet(report: Path) -> None:
    (season,) = table(report, "season")
    assert season["title"] == '\'=1+1: a "spring"'


def test_every_picture_of_the_page_is_there_twice(report: Path) -> None:
    page = (report / "study-report.html").read_text(encoding="utf-8")
    figures = report / "study/figures"
    written = {path.stem: path.read_text(encoding="utf-8") for path in figures.glob("*.svg")}
    svg = written.keys()
    nets = [text for name, text in written.items() if name.startswith("tears-")]
    held = sum(text.count("<svg") for text in written.values()) - len(nets)
    windows = page.count("<use ")  # on a picture that is counted itself
    assert held == page.count("<svg") - windows > 5
    assert {path.stem for path in figures.glob("*.png")} == svg
    assert all(f'<figure id="{name}">' in page for name in svg if not name.startswith("tears-"))
    for path in figures.glob("*.png"):
        assert path.read_bytes().startswith(b"\x89PNG")


def test_every_chart_says_what_it_is_of_where_it_stands_alone(report: Path) -> None:
    svg = {path.stem: path.read_text(encoding="utf-8") for path in report.rglob("figures/*.svg")}
    titles = {
        name: re.findall(r'style="font: bold [^>]*>([^<]+)', text)[0] for name, text in svg.items()
    }
    assert len(titles) > 5
    assert len(set(titles.values())) == len(titles)
    assert titles["ratio-damage-events"].startswith("Net damage: each rig against bobbins")


def test_a_long_title_goes_on_in_a_second_line_and_the_chart_makes_room_for_it() -> None:
    chart = '<svg width="100" height="50" viewBox="0 0 100 50"><g/></svg>'
    one, two = (titled(chart, words) for words in ("Tears", "Tears & fish of all rigs"))
    heights = [
        float(re.findall(r'viewBox="0 -[\d.]+ 100.0 ([\d.]+)"', svg)[0]) for svg in (one, two)
    ]
    assert 50 < heights[0] < heights[1]
    assert "&amp;" in two


def test_a_drawing_alone_needs_no_style_sheet() -> None:
    assert "var(" not in drawing_rules()
    assert "color-mix" not in drawing_rules()
    assert ".tear-5 .net-part { fill: #a63603" in drawing_rules()


REQUIRED = {"cff-version", "message", "title", "authors"}
ALLOWED = REQUIRED | {"type", "date-released", "abstract", "references"}


def test_the_citation_has_what_the_format_asks_for(report: Path) -> None:
    """Keys and forms of the schema of Citation File Format 1.2.0, checked by hand."""
    lines = (report / "study/CITATION.cff").read_text(encoding="utf-8").splitlines()
    top = dict(line.split(": ", 1) for line in lines if line[0] != " " and ": " in line)
    keys = {line.split(":")[0] for line in lines if line[0] != " "}
    assert keys >= REQUIRED
    assert keys <= ALLOWED
    assert top["cff-version"] == "1.2.0"
    assert top["type"] in {"dataset", "software"}
    assert date.fromisoformat(json.loads(top["date-released"]))
    assert json.loads(top["title"]).startswith('=1+1: a "spring"')
    authors = lines[lines.index("authors:") + 1]
    assert json.loads(authors.removeprefix("  - name: ")) == '=1+1: a "spring", season record'
    reference = [line.strip() for line in lines[lines.index("references:") + 1 :]]
    assert {"- type: software", "title: rigseason", "authors:"} <= set(reference)
    version = findings_of(report)["method"]["software"]["rigseason"]
    assert f'version: "{version}"' in reference


def test_a_citation_without_days_has_no_period(report: Path) -> None:
    findings = findings_of(report)
    findings["season"] |= {"first_day": None, "last_day": None}
    assert 'on 20 trips."' in citation(findings, date(2031, 1, 1))


def test_the_methods_are_there_to_copy(report: Path) -> None:
    words = (report / "study/methods.txt").read_text(encoding="utf-8")
    assert all(len(line) <= 80 for line in words.splitlines())
    assert "60 hauls of 2 boats" in " ".join(words.split())


def test_an_earlier_study_may_be_replaced_and_one_with_other_things_may_not(report: Path) -> None:
    check_place(report)
    letter = report / "study/figures/letter.txt"
    letter.write_text("mine", encoding="utf-8")
    with pytest.raises(WrongUsageError, match="holds other things \\(study\\)"):
        check_place(report)
    letter.unlink()
    check_place(report)


def test_what_is_no_folder_is_never_replaced(tmp_path: Path) -> None:
    """A pipe as a device is neither file nor folder, and may be moved aside like either."""
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with pytest.raises(WrongUsageError, match="is a file; name a folder for the report"):
        check_place(pipe)
    with pytest.raises(WrongUsageError, match="is a file; name a folder for the demonstration"):
        write_demo(pipe, seed=1, hauls=60, say=silent)
    assert pipe.is_fifo()
    (tmp_path / "note.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(WrongUsageError, match="is a file, so there can be no folder"):
        check_place(tmp_path / "note.txt" / "report")
