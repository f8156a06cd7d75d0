"""One note, a file of notes, and the review in which a person has the last word."""

from __future__ import annotations

import csv
import json
from typing import TYPE_CHECKING

import duckdb
import polars as pl
import pytest

from pipeline import run_season
from pipeline.clock import silent
from pipeline.note_file import read_note_file
from pipeline.problems import SeasonUnusableError, WrongUsageError
from tests.spec.run_here import run_here
from tests.spec.season_texts import SeasonText, csv_bytes, valid_season
from tests.spec.test_commands import run

if TYPE_CHECKING:
    from pathlib import Path

NOTE = "came fast 0340, port wing + belly torn, 2 men 9 hr mend, lost 3 hrs"


def noted_season() -> SeasonText:
    """The valid season with a note on three hauls, and what nobody wrote in a column."""
    season = valid_season()
    del season.tables["damage_review"]
    headers, *rows = season.tables["hauls"]
    notes = [NOTE, "hm", "net ok"]
    for at, row in enumerate(rows):
        row[headers.index("damage_note")] = notes[at] if at < len(notes) else ""
        row[headers.index("damaged")] = ""
    return season


def review_rows(folder: Path, name: str = "damage_review.csv") -> list[dict[str, str]]:
    with (folder / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def write_review(folder: Path, rows: list[dict[str, str]]) -> None:
    with (folder / "damage_review.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(rows[0]))
        writer.writeheader()
        writer.writerows(rows)


def test_one_note_is_told_line_by_line(rigseason: list[str], tmp_path: Path) -> None:
    done = run(rigseason, "note", NOTE, cwd=tmp_path)
    assert done.returncode == 0
    said = [line.split()[:3] for line in done.stdout.splitlines()]
    assert said[0] == ["damaged", "yes", "sure"]
    assert ["parts", "wing,", "belly"] in said
    assert ["mending", "hours", "9"] in said
    assert ["hours", "lost", "3"] in said
    assert "'port'" in done.stdout


@pytest.mark.parametrize(("note", "is_told"), [("my-seasn", True), (NOTE, False)])
def test_a_single_word_may_have_been_meant_as_a_folder(
    note: str, *, is_told: bool, tmp_path: Path
) -> None:
    done = run_here("note", note, cwd=tmp_path)
    assert done.returncode == 0
    said = "There is no folder or workbook of that name: read as a note."
    assert (said in done.stderr) == is_told


def test_one_note_is_told_to_programs(tmp_path: Path) -> None:
    told = json.loads(run_here("note", NOTE, "--json", cwd=tmp_path).stdout)
    assert told["damaged"] == "yes"
    assert told["parts"] == ["wing", "belly"]
    assert (told["side"], told["cause"]) == ("port", ["fast"])
    assert (told["mending_hours"], told["hands"], told["hours_lost"]) == (9, 2, 3)
    assert told["words"]["hands"] == ["2 men"]
    assert set(told["sure"].values()) <= {"sure", "likely", "guess"}


def test_a_note_comes_back_to_programs_letter_for_letter(
    rigseason: list[str], tmp_path: Path
) -> None:
    told = json.loads(run(rigseason, "note", "🐟 ½ æ", "--json", cwd=tmp_path).stdout)
    assert told["note"] == "🐟 ½ æ"


@pytest.mark.parametrize("note", ["", "  ", "🐟", "=1+1", "<script>x</script>", "-" * 3000])
def test_a_note_that_tells_nothing_is_answered_all_the_same(tmp_path: Path, note: str) -> None:
    told = json.loads(run_here("note", "--json", "--", note, cwd=tmp_path).stdout)
    assert told["note"] == note
    assert told["damaged"] in {"unknown", "no"}
    assert told["mending_hours"] is None


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ((), "Give a season, one note in quotes, or --file"),
        (("torn", "--file", "notes.csv"), "Give a season, one note in quotes, or --file"),
        (("--file", "notes.csv"), "Name the file to write with --out."),
        (("--file", "notes.csv", "--out", "notes.csv"), "notes.csv is in the way"),
        ((".", "--words", "notes.csv"), "A season's own words of notes stand in its folder"),
    ],
)
def test_wrong_usage_is_told(tmp_path: Path, words: tuple[str, ...], sentence: str) -> None:
    (tmp_path / "notes.csv").write_text("damage_note\ntorn\n", encoding="utf-8")
    done = run_here("note", *words, cwd=tmp_path)
    assert done.returncode == 2
    assert sentence in done.stderr


def test_a_file_of_notes_is_read_row_for_row(tmp_path: Path) -> None:
    notes = [NOTE, "", "net ok", 'a "quoted", note', NOTE, "=cmd()", "two\nlines torn belly"]
    with (tmp_path / "notes.csv").open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([["haul", "remarks"], *([i, n] for i, n in enumerate(notes))])
    words = ("--file", "notes.csv", "--column", "remarks", "--out", "read.csv")
    done = run_here("note", *words, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    read = pl.read_csv(tmp_path / "read.csv", infer_schema=False)
    assert read["damaged"].to_list() == ["yes", "unknown", "no", "unknown", "yes", "unknown", "yes"]
    assert read["remarks"].to_list()[5] == "'=cmd()"
    assert read["haul"].to_list() == ["0", "1", "2", "3", "4", "5", "6"]
    first = read.row(0, named=True)
    assert first["parts"] == "wing;belly"
    assert (first["mending_hours"], first["hours_lost"], first["side"]) == ("9.0", "3.0", "port")
    assert first["parts_words"] == "wing;belly"
    assert read.row(1, named=True)["mending_hours"] is None


def test_a_column_of_the_file_is_told_from_the_reading_of_its_name(tmp_path: Path) -> None:
    text = "damaged;note;kg\nY;belly torn;-3\n\nN;net ok\n"
    (tmp_path / "notes.csv").write_text(text, encoding="utf-8")
    counts = read_note_file(tmp_path / "notes.csv", "note", tmp_path / "read.csv", None, silent)
    assert counts == (2, 2)
    read = pl.read_csv(tmp_path / "read.csv", infer_schema=False)
    assert read["damaged (in the file)"].to_list() == ["Y", "N"]
    assert read["damaged"].to_list() == ["yes", "no"]
    assert read["kg"].to_list() == ["-3", None]


def test_an_empty_line_is_a_blank_note_where_notes_are_all_there_is(tmp_path: Path) -> None:
    (tmp_path / "notes.csv").write_text("note\nnet ok\n\nbelly torn\n", encoding="utf-8")
    read_note_file(tmp_path / "notes.csv", "note", tmp_path / "read.csv", None, silent)
    read = pl.read_csv(tmp_path / "read.csv", infer_schema=False)
    assert read["damaged"].to_list() == ["no", "unknown", "yes"]


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"id,remarks\n1,torn, wing\n", "a row of 3 cells under 2 names, '1,torn, wing'"),
        (b'id,remarks\n1,"torn\n2,ok\n', "is a quote left open?"),
        (b"remarks,remarks\nok,ok\n", "notes.csv has the column 'remarks' twice"),
        (b"remark\ntorn\n", "notes.csv has no column 'remarks' (did you mean 'remark'?)"),
        (b"", "notes.csv has no column 'remarks'; it has nothing."),
        (b"remarks\nbelly torn \xe6\n", "notes.csv is not UTF-8 text; save it as UTF-8."),
    ],
)
def test_a_file_that_cannot_be_read_is_told(tmp_path: Path, content: bytes, sentence: str) -> None:
    (tmp_path / "notes.csv").write_bytes(content)
    with pytest.raises(SeasonUnusableError) as told:
        read_note_file(tmp_path / "notes.csv", "remarks", tmp_path / "read.csv", None, silent)
    assert sentence in str(told.value)
    assert [file.name for file in tmp_path.iterdir()] == ["notes.csv"]


def test_an_earlier_reading_is_written_over_and_nothing_else(tmp_path: Path) -> None:
    (tmp_path / "notes.csv").write_text("note\nbelly, wing torn\n", encoding="utf-8")
    for _ in range(2):
        read_note_file(tmp_path / "notes.csv", "note", tmp_path / "read.csv", None, silent)
    read = pl.read_csv(tmp_path / "read.csv", infer_schema=False).row(0, named=True)
    assert (read["note"], read["parts"]) == ("belly, wing torn", "wing;belly")
    (tmp_path / "other.csv").write_text("a,b\n1,2\n", encoding="utf-8")
    with pytest.raises(WrongUsageError):
        read_note_file(tmp_path / "notes.csv", "note", tmp_path / "other.csv", None, silent)
    with pytest.raises(WrongUsageError) as told:
        read_note_file(tmp_path / "notes.csv", "note", tmp_path / "no" / "read.csv", None, silent)
    assert "can't be written: No such file or directory" in str(told.value)


def test_a_file_is_not_written_over_itself(tmp_path: Path) -> None:
    (tmp_path / "notes.csv").write_text("damage_note\ntorn\n", encoding="utf-8")
    with pytest.raises(WrongUsageError):
        read_note_file(tmp_path / "notes.csv", "damage_note", tmp_path / "notes.csv", None, silent)


def test_the_review_has_every_note_least_sure_first(tmp_path: Path) -> None:
    folder = noted_season().write_csv(tmp_path / "season")
    done = run_here("note", "season", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    rows = review_rows(folder)
    assert [row["damage_note"] for row in rows] == ["hm", NOTE, "net ok"]
    assert [row["damaged"] for row in rows] == ["unknown", "yes", "no"]
    assert "parts: wing;belly" in rows[1]["rests_on"]
    assert {row["who"] for row in rows} == {""}


def test_a_review_that_nobody_touched_is_read_anew(tmp_path: Path) -> None:
    folder = noted_season().write_csv(tmp_path / "season")
    first = run_here("note", "season", cwd=tmp_path).stdout
    written = review_rows(folder)
    assert run_here("note", "season", cwd=tmp_path).stdout == first
    assert review_rows(folder) == written
    (folder / "note_words.toml").write_text('[harm]\nsure = ["hm"]\n', encoding="utf-8")
    run_here("note", "season", cwd=tmp_path)
    by_note = {row["damage_note"]: row["damaged"] for row in review_rows(folder)}
    assert by_note["hm"] == "yes"


@pytest.mark.parametrize(
    ("days", "last"),
    [
        (["9 Dec", "9 Dec"], "9 Dec"),
        (["2031-11-30", "2031-12-09", None], "2031-12-09"),
        (["9 Dec", "30 Nov"], None),
        ([None], None),
    ],
)
def test_the_last_of_several_days_is_told_where_their_order_is_sure(
    days: list[str | None], last: str | None, tmp_path: Path
) -> None:
    season = noted_season()
    hauls = season.tables["hauls"][1:]
    season.tables["damage_review"] = [
        ["vessel", "trip", "haul", "damaged", "who", "reviewed_on"],
        *([*haul[:3], "yes", "Ada", day] for haul, day in zip(hauls, days, strict=False)),
    ]
    told = run_season(season.write_csv(tmp_path / "season")).findings
    assert told["notes"]["last_review"] == last


def test_of_the_programs_own_file_no_row_counts_when_its_names_are_gone(tmp_path: Path) -> None:
    season = noted_season()
    hauls = season.tables["hauls"][1:]
    read = [[*haul[:3], "yes", "yes//////"] for haul in hauls[:2]]
    of_ones_own = [row[:4] for row in read]
    for header, rows, counted in (
        (["vessel", "trip", "haul", "damaged", "as_read"], read, 0),
        (["vessel", "trip", "haul", "damaged"], of_ones_own, 2),
    ):
        season.tables["damage_review"] = [header, *rows]
        told = run_season(season.write_csv(tmp_path / f"season {counted}")).findings
        assert sum(told["notes"]["read_by_persons"].values()) == counted


def test_a_day_written_in_any_way_loses_no_review(tmp_path: Path) -> None:
    season = noted_season()
    season.tables["damage_review"] = [
        ["vessel", "trip", "haul", "damaged", "who", "reviewed_on"],
        [*season.tables["hauls"][2][:3], "yes", "Ada", "01/05/2031"],
    ]
    told = run_season(season.write_csv(tmp_path / "season")).findings
    assert told["rows"]["damage_review"]["set_aside"] == 0
    assert (told["notes"]["read_by_persons"], told["notes"]["last_review"]) == (
        {"Ada": 1},
        "01/05/2031",
    )


def test_a_misspelt_season_is_no_note(rigseason: list[str], tmp_path: Path) -> None:
    done = run(rigseason, "note", str(tmp_path / "seson"), cwd=tmp_path)
    assert done.returncode == 2
    assert "There is no folder or workbook" in done.stderr
    assert run_here("note", "wing p/s torn", cwd=tmp_path).returncode == 0


def test_what_a_person_puts_right_is_used_and_a_row_without_a_name_is_not(tmp_path: Path) -> None:
    folder = noted_season().write_csv(tmp_path / "season")
    run_here("note", "season", cwd=tmp_path)
    rows = review_rows(folder)
    by_note = {row["damage_note"]: row for row in rows}
    by_note["hm"] |= {"damaged": "yes", "parts": "bosom", "who": "Ada", "reviewed_on": "2031-04-01"}
    by_note["net ok"] |= {"damaged": "yes", "parts": "square"}
    write_review(folder, rows)
    results = run_season(folder)
    told = results.findings["notes"]
    assert told["read_by_persons"] == {"Ada": 1}
    assert told["last_review"] == "2031-04-01"
    assert told["told_by"]["a person"] == 1

    done = run_here("note", "season", cwd=tmp_path)
    assert "1 was changed and has no name" in done.stdout
    assert review_rows(folder)[0]["damage_note"] == "net ok"
    again = {row["damage_note"]: row for row in review_rows(folder)}
    assert (again["hm"]["parts"], again["hm"]["who"]) == ("bosom", "Ada")
    assert (again["net ok"]["parts"], again["net ok"]["damaged"]) == ("square", "yes")

    run_season(folder, tmp_path / "report")
    with duckdb.connect(str(tmp_path / "report" / "results.duckdb"), read_only=True) as saved:
        told_rows = saved.sql("select damage_note, parts, read_by from haul_damage").fetchall()
    assert ("hm", "bosom", "Ada") in told_rows
    assert ("net ok", None, None) in told_rows


def test_a_review_with_a_row_that_cannot_be_used_is_not_written_over(tmp_path: Path) -> None:
    folder = noted_season().write_csv(tmp_path / "season")
    run_here("note", "season", cwd=tmp_path)
    rows = review_rows(folder)
    rows[0]["parts"] = "tail"
    write_review(folder, rows)
    before = (folder / "damage_review.csv").read_bytes()
    done = run_here("note", "season", cwd=tmp_path)
    assert done.returncode == 1
    assert "'tail' has a word that is not known;" in done.stderr
    assert (folder / "damage_review.csv").read_bytes() == before


def test_nothing_that_a_person_wrote_in_the_review_is_lost(tmp_path: Path) -> None:
    folder = noted_season().write_csv(tmp_path / "season")
    run_here("note", "season", cwd=tmp_path)
    rows = [row | {"remark": row["damage_note"][:2]} for row in review_rows(folder)]
    write_review(folder, [row for row in rows if row["damage_note"] != "net ok"])
    (folder / "damage_review.csv").chmod(0o640)
    assert run_here("note", "season", cwd=tmp_path).returncode == 0
    again = {row["damage_note"]: row["remark"] for row in review_rows(folder)}
    assert again == {NOTE: NOTE[:2], "hm": "hm", "net ok": ""}
    assert (folder / "damage_review.csv").stat().st_mode & 0o777 == 0o640


def test_a_row_that_nobody_touched_of_a_haul_that_is_gone_does_no_harm(tmp_path: Path) -> None:
    season = noted_season()
    run_here("note", str(season.write_csv(tmp_path / "season")), cwd=tmp_path)
    season.set_cell("hauls", 2, "tow_hours", "-4")
    (tmp_path / "season" / "hauls.csv").write_bytes(csv_bytes(season.tables["hauls"]))
    done = run_here("note", "season", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert len(review_rows(tmp_path / "season")) == 2


@pytest.mark.parametrize("file", ["hauls.csv", "catches.csv"])
def test_no_other_file_is_written_over(tmp_path: Path, file: str) -> None:
    folder = noted_season().write_csv(tmp_path / "season")
    before = (folder / file).read_bytes()
    done = run_here("note", "season", "--out", f"season/{file}", cwd=tmp_path)
    assert done.returncode == 2
    assert "is there already" in done.stderr
    assert (folder / file).read_bytes() == before


def test_a_review_kept_under_other_names_is_written_elsewhere(tmp_path: Path) -> None:
    season = noted_season()
    season.tables["looked over"] = [["vessel", "trip", "haul", "damaged", "By"]]
    season.tables["looked over"] += [["Skua", "1", "1", "no", "Ada"]]
    season.settings = '[damage_review]\nfile = "looked over.csv"\ncolumns = { who = "By" }\n'
    season.write_csv(tmp_path / "season")
    done = run_here("note", "season", cwd=tmp_path)
    assert done.returncode == 2
    assert "name a new file with --out" in done.stderr
    assert run_here("note", "season", "--out", "new.csv", cwd=tmp_path).returncode == 0
    assert [row["who"] for row in review_rows(tmp_path, "new.csv")] == ["", "", "Ada"]


def test_a_season_reads_notes_by_words_of_its_own(tmp_path: Path) -> None:
    season = noted_season()
    season.files["note_words.toml"] = b'[harm]\nsure = ["hm"]\n'
    told = run_season(season.write_csv(tmp_path / "season")).findings["notes"]
    assert told["not_understood"] == 0


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ("[hram]\nsure = ['hm']", "there is no section [hram] (did you mean 'harm'?)."),
        ("[harm]\nsuer = ['hm']", "[harm] has no list 'suer'; its lists are "),
        ("[harm]\nsure = 'hm'", "[harm], sure: takes a list of phrases in quotes"),
        ("[harm]\nsure = [3]", "[harm], sure: '3' is no phrase of 1 to 80 letters."),
        ("[harm]\nsure = ['_']", "[harm], sure: '_' is no phrase of 1 to 80 letters."),
        ("[harm]\nsure = ['of the']", "'of the' stands in every note, and tells nothing."),
        (
            "[part]\nbelly = ['bunk']\nwing = ['Bunk']",
            "[part]: 'Bunk' stands in belly and in wing.",
        ),
        ("harm = 3", "[harm] takes lists of phrases"),
        ("[harm", "note_words.toml can't be read as TOML: "),
    ],
)
def test_words_that_cannot_be_used_are_told(tmp_path: Path, words: str, sentence: str) -> None:
    season = noted_season()
    season.files["note_words.toml"] = words.encode()
    with pytest.raises(SeasonUnusableError) as told:
        run_season(season.write_csv(tmp_path / "season"))
    assert sentence in str(told.value)
