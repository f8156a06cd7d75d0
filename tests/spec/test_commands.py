"""What each command says and gives back."""

from __future__ import annotations

import json
import os
import re
import subprocess
from pathlib import Path

import duckdb
import polars as pl
import pytest

from pipeline import run_season
from pipeline.checking.across import OF_A_HAUL_SET_ASIDE
from pipeline.problems import WrongUsageError
from synthetic_data import write_season
from tests.spec.run_here import run_here

REPORT_FILES = {
    "season-report.html",
    "co-op",
    "study-report.html",
    "study",
    "findings.json",
    "set-aside.csv",
    "results.duckdb",
    "run.json",
}


def run(command: list[str], *words: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    root = Path(__file__).parent.parent.parent
    return subprocess.run(
        [*command, *words],
        cwd=cwd,
        env={**os.environ, "PYTHONPATH": str(root)},
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.parametrize("words", [(), ("demo",), ("check",), ("rig",), ("report",)])
def test_help_has_an_example_and_loads_nothing_heavy(
    rigseason: list[str], root: Path, words: tuple[str, ...]
) -> None:
    done = run([*rigseason[:1], "-X", "importtime", *rigseason[1:]], *words, "--help", cwd=root)
    assert done.returncode == 0
    assert "rigseason " in done.stdout
    for heavy in ("polars", "pandas", "duckdb", "statsmodels", "altair", "numpy"):
        assert f"| {heavy}\n" not in done.stderr.replace("  ", "")


def test_demo_ends_with_the_path_of_the_report(demo: Path) -> None:
    said = (demo.parent / "said").read_text(encoding="utf-8").strip()
    path = Path(said.splitlines()[-1].removeprefix("The report: "))
    assert path.is_file()
    assert path.name == "season-report.html"
    assert {file.name for file in path.parent.iterdir()} == REPORT_FILES


def test_check_counts_every_row_and_names_one_of_each_kind(
    rigseason: list[str], demo: Path
) -> None:
    done = run(rigseason, "check", str(demo / "season"), cwd=demo)
    assert done.returncode == 0
    for kind in ("must be more than 0 h", "is longer than a tow", "is not a day and time"):
        assert kind in done.stdout
    every = run_here("check", str(demo / "season"), "--all", cwd=demo)
    findings = json.loads((demo / "report/findings.json").read_text(encoding="utf-8"))
    set_aside = sum(count["set_aside"] for count in findings["rows"].values())
    remarks = sum(remark["rows"] for remark in findings["remarks"])
    named = [line for line in every.stdout.splitlines() if ", row " in line]
    assert len(named) == set_aside + remarks
    gone_with_a_haul = [row["reason"] == OF_A_HAUL_SET_ASIDE for row in findings["set_aside"]]
    assert any(gone_with_a_haul)
    assert gone_with_a_haul == sorted(gone_with_a_haul)


def test_a_report_takes_the_place_of_an_earlier_one_and_of_nothing_else(
    rigseason: list[str], tmp_path: Path
) -> None:
    season, out = str(tmp_path / "season"), tmp_path / "report"
    write_season(Path(season), hauls=90, seed=1)
    all_readers = ("--for", "skipper,coop,study")
    done = run(rigseason, "report", season, "--out", str(out), *all_readers, cwd=tmp_path)
    assert done.returncode == 0
    first = (out / "findings.json").read_bytes()
    run_season(season, out)
    assert (out / "findings.json").read_bytes() == first
    others = {"study-report.html", "study", "co-op"}
    assert {file.name for file in out.iterdir()} == REPORT_FILES - others
    (out / "letters.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(WrongUsageError, match=r"letters\.txt"):
        run_season(season, out)
    assert (out / "letters.txt").read_text(encoding="utf-8") == "mine"
    assert {file.name for file in tmp_path.iterdir()} == {"season", "report"}


def test_of_a_report_for_a_co_op_alone_the_terminal_has_no_figure_that_its_page_hides(
    rigseason: list[str], tmp_path: Path
) -> None:
    season, out = str(tmp_path / "season"), tmp_path / "report"
    write_season(Path(season), hauls=90, seed=1)
    done = run(rigseason, "report", season, "--out", str(out), "--for", "coop", cwd=tmp_path)
    told = [line for line in done.stdout.splitlines() if line]
    assert " hauls used, " in told[0]
    of_grounds = [line for line in told if line.startswith("Ground ")]
    for_the_manager = ("Not every boat fished", "No ground stands in ")  # whose they are, no rates
    rest = [
        line.split(":")[0]
        for line in told[1:]
        if line not in of_grounds and not line.startswith(for_the_manager)
    ]
    assert rest == ["Set aside too", "The report", "To hand on"]
    assert all(re.findall(r"\d+", line) == ["3"] for line in of_grounds)


def test_a_reader_that_nobody_knows_is_told_in_a_sentence(
    rigseason: list[str], tmp_path: Path
) -> None:
    done = run(rigseason, "report", "x", "--out", "report", "--for", "skiper", cwd=tmp_path)
    assert done.returncode == 2
    assert done.stderr == (
        "There is no report for 'skiper' (did you mean 'skipper'?); --for takes skipper, coop, "
        "study.\n"
    )


def test_a_season_that_cannot_be_used_gives_a_sentence_and_no_folder(
    rigseason: list[str], tmp_path: Path
) -> None:
    done = run(rigseason, "report", "nowhere", "--out", "report", cwd=tmp_path)
    assert done.returncode == 1
    assert done.stdout == ""
    assert done.stderr.strip().splitlines()[-1] == "There is no folder or workbook nowhere."
    assert list(tmp_path.iterdir()) == []


def test_wrong_usage_is_told_apart(rigseason: list[str], tmp_path: Path) -> None:
    assert run(rigseason, "report", "nowhere", cwd=tmp_path).returncode == 2
    assert run(rigseason, "reprot", cwd=tmp_path).returncode == 2


def test_set_aside_rows_and_the_tables_of_the_run_can_be_looked_at(demo: Path) -> None:
    findings = json.loads((demo / "report/findings.json").read_text(encoding="utf-8"))
    set_aside = pl.read_csv(demo / "report/set-aside.csv", infer_schema=False)
    assert set_aside.columns == [
        "table",
        "source_file",
        "source_row",
        "column",
        "value",
        "reason",
    ]
    with duckdb.connect(str(demo / "report/results.duckdb"), read_only=True) as database:
        tables = {name for (name,) in database.execute("show tables").fetchall()}
        (hauls,) = database.execute("select count(*) from measured_hauls").fetchone() or (0,)
    assert {"hauls", "sums", "patterns", "rates", "effects", "set_aside"} <= tables
    assert hauls == findings["rows"]["hauls"]["used"]
    assert set_aside.height == sum(c["set_aside"] for c in findings["rows"].values())


def test_no_cell_of_the_set_aside_rows_is_a_formula_to_a_spreadsheet(demo: Path) -> None:
    cells = pl.read_csv(demo / "report/set-aside.csv", infer_schema=False)
    runs = cells.select(pl.col(pl.String).str.contains(r"^[=+@]").any()).row(0)
    assert not any(runs)


def test_run_json_says_how_the_report_came_about(demo: Path) -> None:
    run_told = json.loads((demo / "report/run.json").read_text(encoding="utf-8"))
    assert run_told["versions"]["polars"]
    assert set(run_told["inputs"]) >= {"season.toml", "deck log 2031.csv", "catches.csv"}
    assert all(len(digest) == 64 for digest in run_told["inputs"].values())
    assert run_told["settings"]["season"]["reference_rig"] == "bobbins-14"
    assert run_told["seconds"]


AS_THE_DATABASE_DOES = """
import signal
from pipeline import cli

def app():
    try:
        signal.raise_signal(signal.SIGINT)
    except KeyboardInterrupt:
        raise RuntimeError("Query interrupted") from None

cli.app = app
cli.main()
"""
"""DuckDB takes the stop for itself and raises this; when it looks for one hangs on the query."""


def test_ctrl_c_in_the_middle_of_a_query_is_a_stop_and_no_failure(
    rigseason: list[str], tmp_path: Path
) -> None:
    done = run([rigseason[0]], "-c", AS_THE_DATABASE_DOES, cwd=tmp_path)
    assert (done.returncode, done.stderr) == (130, "Stopped; nothing was written.\n")
