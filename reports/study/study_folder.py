"""The folder `study` beside the study's page: what is in it as files for other programs."""

from __future__ import annotations

from textwrap import fill
from typing import TYPE_CHECKING

import polars as pl

from pipeline.rates.twin_tows import TOW, is_beside_another_rig
from reports.language import say
from reports.spreadsheets import for_spreadsheets
from reports.study.citation import citation
from reports.study.methods import methods_paragraphs
from reports.study.tables import tables_of
from schemas.words import saying

if TYPE_CHECKING:
    from datetime import date
    from pathlib import Path

    from pipeline.findings import Findings
    from pipeline.joining.database import Database

STUDY, TABLES, FIGURES = "study", "tables", "figures"
METHODS, CITATION, README, HAULS = "methods.txt", "CITATION.cff", "README.txt", "hauls.csv"
ENDINGS = {TABLES: {".csv"}, FIGURES: {".svg", ".png"}}

WIDTH = 80
"""Characters to a line of the files to read."""
WHAT_IS_WHAT = {
    f"{TABLES}/": saying(
        "Every table of findings.json as CSV (UTF-8, commas, a point for decimals, days as "
        "2031-03-04). Numbers have all their digits and read back to those of findings.json; a "
        "blank cell is not known. A table whose name has a dot (standing.models.terms) is held by "
        "rows of the one before it: the column that ends in .row has the number of that row, "
        "counted from 1. Text that a spreadsheet would run as a formula has a ' before it."
    ),
    f"{FIGURES}/": saying(
        "Every figure of study-report.html under its name there, as SVG and as PNG."
    ),
    HAULS: saying(
        "Every haul that was used, with what is compared and what it is adjusted for, so that the "
        "models can be fitted again: row is that of the log, or of all logs in turn; depth_band, "
        "quarter, year and stretch are the classes; a foul tow (valid is false) counts for damage "
        "and not for fish; nets of two rigs that were shot at one time have one number under tow, "
        "and net_side says where each was. A blank is not known; hauls of a class without any of "
        "an outcome are not in its model."
    ),
    METHODS: saying("The methods of this run, as they stand in the page."),
    CITATION: saying(
        "How to cite these results, in Citation File Format 1.2.0. The program does not know who "
        "kept the record: put their names under authors."
    ),
}


def make_study(folder: Path) -> Path:
    """Make the folder, with nothing in it yet; the folder of its figures.

    Raises `OSError` if it can't be made.
    """
    figures = folder / FIGURES
    for place in (folder, folder / TABLES, figures):
        place.mkdir()
    return figures


def compared_hauls(database: Database) -> pl.DataFrame:
    """Every haul with what is compared and what it is adjusted for, without its place or note."""
    tow = pl.when(is_beside_another_rig()).then(pl.struct(TOW).rank("dense"))
    measured = (
        database.get("measured_hauls")
        .with_columns(tow.alias("tow"))
        .drop("damage_told_by", "shot_at", "depth_m")
    )
    factors = database.get("haul_factors").drop("rig_version", "ground", "vessel")
    valid = database.get("hauls").select("row", pl.col("valid").fill_null(value=True))
    return measured.join(valid, on="row").join(factors, on="row").sort("row")


def write_study(folder: Path, findings: Findings, hauls: pl.DataFrame, made_on: date) -> None:
    """Write into the folder all but the figures of the study's page.

    `hauls` are those of `compared_hauls`. Raises `OSError` if it can't be written.
    """
    for name, table in tables_of(findings).items():
        written = for_spreadsheets(table).write_csv()
        (folder / TABLES / f"{name}.csv").write_text(written, encoding="utf-8")
    (folder / HAULS).write_text(for_spreadsheets(hauls).write_csv(), encoding="utf-8")
    paragraphs = [fill(paragraph, WIDTH) for paragraph in methods_paragraphs(findings)]
    (folder / METHODS).write_text("\n\n".join(paragraphs) + "\n", encoding="utf-8")
    (folder / CITATION).write_text(citation(findings, made_on), encoding="utf-8")
    (folder / README).write_text(_what_is_what(), encoding="utf-8")


def _what_is_what() -> str:
    """What stands in the folder, each thing with what it is under its name."""
    indent = " " * 4
    entries = [
        f"{name}\n{fill(say(words), WIDTH, initial_indent=indent, subsequent_indent=indent)}\n"
        for name, words in WHAT_IS_WHAT.items()
    ]
    return f"{say('What is in this folder')}\n\n{''.join(entries)}"


def is_study_folder(place: Path) -> bool:
    """Whether a folder is that of an earlier report, with nothing else in it."""
    if place.name != STUDY or not place.is_dir():
        return False
    return all(
        entry.is_file() and entry.name in {METHODS, CITATION, README, HAULS}
        if entry.name not in ENDINGS
        else entry.is_dir()
        and all(file.is_file() and file.suffix in ENDINGS[entry.name] for file in entry.iterdir())
        for entry in place.iterdir()
    )
