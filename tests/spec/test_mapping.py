"""A cell becomes the value that `mapping.md` says, whatever the file calls and writes it."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

import polars as pl
import pytest

from pipeline.intake.read_season import read_as_text, read_values
from pipeline.intake.season_folder import open_season
from tests.spec.season_texts import csv_bytes
from tests.spec.text_tables import page_text, rows_of

if TYPE_CHECKING:
    from pathlib import Path

REFUSED = "refused: "


@dataclass(frozen=True)
class Case:
    """One cell, how it is read, and the value that it becomes."""

    column: str
    how: str
    reading: str
    cell: str
    value: str

    @property
    def cells(self) -> list[str]:
        """The cells of all headers."""
        return [cell.strip() for cell in f"{self.cell} ".split(" + ")]

    @property
    def headers(self) -> list[str]:
        """The headers that the column is read from."""
        _, name = self.column.split(".")
        how = tomllib.loads(f"how = {self.how}")["how"] if self.how else {}
        source = how.get("from", name if "value" not in how else "something else")
        return [source] if isinstance(source, str) else source

    def settings(self) -> str:
        """The case's `season.toml`."""
        table, name = self.column.split(".")
        reading = f"[{table}.read]\n{self.reading}\n" if self.reading else ""
        columns = f"[{table}.columns]\n{name} = {self.how}\n" if self.how else ""
        return reading + columns


def all_cases() -> list[Case]:
    sections = page_text("mapping.md").split("\n## ")[1:]
    return [Case(*row) for section in sections for row in rows_of(section)[1]]


def case_name(case: Case) -> str:
    return " ".join(part for part in (case.column, case.how, case.reading, case.cell) if part)


@pytest.mark.parametrize("case", all_cases(), ids=case_name)
def test_the_cell_becomes_the_value(case: Case, tmp_path: Path) -> None:
    table, name = case.column.split(".")
    (tmp_path / "hauls.csv").write_text("tow_hours\n3\n", encoding="utf-8")
    content = csv_bytes([[*case.headers, "haul"], [*case.cells, "something"]], ";")
    (tmp_path / f"{table}.csv").write_bytes(content)
    (tmp_path / "season.toml").write_text(case.settings(), encoding="utf-8")
    season = open_season(tmp_path)
    texts, _ = read_as_text(season)
    values = read_values(texts, season.settings)[table]
    reasons = values.refusals["reason"].to_list()
    assert reasons == [case.value.removeprefix(REFUSED)] * case.value.startswith(REFUSED)
    got = values.frame[name]
    if case.value.startswith(REFUSED) or case.value == "":
        assert got.to_list() == [None]
    else:
        assert _agrees(got, case.value)


def _agrees(got: pl.Series, value: str) -> bool:
    match got.dtype:
        case pl.Boolean:
            return got.item() is {"yes": True, "no": False}[value]
        case pl.Float64 | pl.Int64:
            return got.item() == pytest.approx(float(value), rel=1e-12)
        case pl.Datetime:
            return got.item() == datetime.fromisoformat(value)
        case _:
            return got.item() == value
