"""Nothing in the co-op's folder tells of one boat: every byte and every table of it is searched."""

from __future__ import annotations

import csv
import json
import re
import struct
from typing import TYPE_CHECKING, NamedTuple

import duckdb
import pytest

from pipeline.begin_reading import read
from pipeline.clock import silent
from pipeline.joining.database import Database
from pipeline.problems import WrongUsageError
from pipeline.run_season import find, run_season
from reports.folder import check_place, pages_of, write_report
from synthetic_data.writing import DECK_LOG, DECK_LOG_ENCODING, write_season

if TYPE_CHECKING:
    from pathlib import Path

MARK = "zq"
"""In every boat's name, trip, haul and note, in a rig, a file and the title."""
FURTHER_DIGITS = "4173"
"""At the end of every position."""
COOP_FILES = {"co-op-report.html", "findings.json", "set-aside.csv", "results.duckdb", "run.json"}
BOATS = ("Bold Thistle", "Bright Tansy", "Fair Plover", "Grey Linnet")


class Marked(NamedTuple):
    """Folders written of one marked season, and what of its hauls must not be found."""

    alone: Path
    beside: Path
    boat: str
    times: set[str]
    positions: set[str]


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Marked:
    folder = tmp_path_factory.mktemp("marked")
    season = folder / "season"
    write_season(season, boats=4, hauls=420, seed=5)
    times, positions = mark(season)
    boat = f"{MARK}Boat1"
    alone, beside = folder / "alone", folder / "beside"
    with Database() as database:
        results = find(read(season, silent), database)
        write_report(results, database, alone, silent, ["coop"])
        write_report(results, database, beside, silent, ["coop"], [boat])
        with pytest.raises(WrongUsageError) as told:
            run_season(season, folder / "none", readers=["coop"], boats=["zqBoat"])
    assert told.value.sentences[0].startswith("There is no boat 'zqBoat' in this season (did you")
    assert not (folder / "none").exists()
    return Marked(alone, beside, boat, times, positions)


def mark(season: Path) -> tuple[set[str], set[str]]:
    """Put the mark wherever a log can name something; the hauls' times and positions."""
    log = season / DECK_LOG
    heading, *rows = csv.reader(log.read_text(DECK_LOG_ENCODING).splitlines(), delimiter=";")
    at = {name: heading.index(name) for name in heading}
    times, positions = set(), set()
    for row in rows:
        row[at["Trip"]] = f"{MARK}trip{row[at['Trip']]}"
        row[at["Haul no"]] = f"{MARK}haul{row[at['Haul no']]}"
        row[at["Remarks"]] += f" {MARK}note"
        for name in ("Lat", "Long"):
            if re.fullmatch(r"-?\d+,\d+", row[at[name]]):
                row[at[name]] += FURTHER_DIGITS
                positions.add(row[at[name]].replace(",", "."))
        if day := re.fullmatch(r"(\d\d)/(\d\d)/(\d{4})", row[at["Date"]]):
            times |= {row[at["Date"]], "-".join(reversed(day.groups()))}
    with log.open("w", encoding=DECK_LOG_ENCODING, newline="") as file:
        csv.writer(file, delimiter=";").writerows([heading, *rows])
    catches = season / "catches.csv"
    heading, *rows = csv.reader(catches.read_text(encoding="utf-8").splitlines())
    for row in rows:
        row[1:3] = f"{MARK}trip{row[1]}", f"{MARK}haul{row[2]}"
    with catches.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([heading, *rows])
    log.rename(season / f"{MARK}Boat1.csv")
    for path in season.glob("*.*"):
        encoding = DECK_LOG_ENCODING if path.name.startswith(MARK) else "utf-8"
        text = path.read_text(encoding)
        for number, boat in enumerate(BOATS):
            text = text.replace(boat, f"{MARK}Boat{number}")
        text = text.replace("discs-8-trial", f"{MARK}Boat2 discs").replace(
            DECK_LOG, f"{MARK}Boat1.csv"
        )
        text = text.replace('title = "', f'title = "The {MARK}Boat3 and others: ')
        path.write_text(text, encoding)
    assert len(times) > 200
    assert len(positions) > 400
    return times, positions


def values_of(path: Path) -> str:
    """Every table, column and value of a database, as text."""
    with duckdb.connect(str(path), read_only=True) as database:
        tables = [name for (name,) in database.execute("show tables").fetchall()]
        assert tables
        told = [database.table(name) for name in tables]
        return "\n".join(f"{table.columns} {table.fetchall()}" for table in told)


def test_the_co_ops_folder_holds_what_may_be_shared_and_nothing_else(marked: Marked) -> None:
    assert {file.name for file in marked.alone.iterdir()} == COOP_FILES
    assert {file.name for file in (marked.beside / "co-op").iterdir()} == COOP_FILES
    assert {file.name for file in marked.beside.iterdir()} == {"co-op", "boat-zqboat1.html"}
    check_place(marked.beside)


@pytest.mark.parametrize("name", sorted(COOP_FILES))
@pytest.mark.parametrize("place", ["alone", "beside"])
def test_no_file_names_a_boat_a_haul_a_note_a_day_or_a_position(
    marked: Marked, place: str, name: str
) -> None:
    folder = marked.alone if place == "alone" else marked.beside / "co-op"
    raw = (folder / name).read_bytes()
    text = raw.decode("utf-8", errors="ignore")
    if name == "results.duckdb":
        text += values_of(folder / name)
    assert MARK not in text.lower()
    assert not [moment for moment in marked.times if moment in text]
    for position in marked.positions:
        assert position not in text
        assert position.replace(".", ",") not in text
        assert struct.pack("<d", float(position)) not in raw


def test_the_marks_are_found_where_nothing_is_hidden(marked: Marked) -> None:
    """So that the search above can fail."""
    text = (marked.beside / "boat-zqboat1.html").read_text(encoding="utf-8")
    assert marked.boat in text


def test_a_boats_own_page_names_no_other(marked: Marked) -> None:
    text = (marked.beside / "boat-zqboat1.html").read_text(encoding="utf-8")
    named = set(re.findall(rf"{MARK}\w*", text, re.IGNORECASE))
    assert named == {marked.boat}
    assert not [moment for moment in marked.times if moment in text]


def test_what_is_printed_is_what_is_in_the_findings(marked: Marked) -> None:
    findings = json.loads((marked.alone / "findings.json").read_text(encoding="utf-8"))
    page = (marked.alone / "co-op-report.html").read_text(encoding="utf-8")
    assert findings["sharing"]["said"] in page
    assert findings["sharing"]["hidden"] > 0
    for cell in findings["cells"]:
        figures = [value for name, value in cell.items() if name not in {"rig", "ground", "shown"}]
        assert cell["shown"] or figures == [None] * len(figures)
    run = json.loads((marked.alone / "run.json").read_text(encoding="utf-8"))
    assert set(run) == {"made_at", "python", "versions", "settings"}


def test_pages_are_said_to_lie_where_they_are(marked: Marked) -> None:
    assert all(page.is_file() for page in pages_of(marked.alone, ["coop"], []))
    assert all(page.is_file() for page in pages_of(marked.beside, ["coop"], [marked.boat]))
