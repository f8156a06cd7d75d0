"""A season written as text, put on disk as the folder or workbook that a boat would hand over."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from tests.spec.text_tables import page_text, rows_of

if TYPE_CHECKING:
    from pathlib import Path

Rows = list[list[str]]


@dataclass
class SeasonText:
    """The tables of a season as they stand in its files, headers first, and its settings."""

    tables: dict[str, Rows]
    settings: str = ""
    files: dict[str, bytes] = field(default_factory=dict)
    """Files that are written as they are, in place of a table's own."""

    def set_cell(self, table: str, row: int, column: str, cell: str) -> None:
        """Write over one cell; the header is row 1, as a spreadsheet numbers it."""
        rows = self.tables[table]
        rows[row - 1][rows[0].index(column)] = cell

    def write_csv(self, folder: Path) -> Path:
        """Write the season as a folder of CSV files."""
        folder.mkdir()
        for name, rows in self.tables.items():
            (folder / f"{name}.csv").write_bytes(csv_bytes(rows))
        for name, content in self.files.items():
            (folder / name).write_bytes(content)
        if self.settings:
            (folder / "season.toml").write_text(self.settings, encoding="utf-8")
        return folder


def valid_season() -> SeasonText:
    """The season in which nothing is wrong."""
    text = page_text("valid_season.md")
    tables = {}
    for part in text.split("\n## ")[1:]:
        name, _, body = part.partition("\n")
        headers, rows = rows_of(body)
        tables[name.strip()] = [headers, *rows]
    return SeasonText(tables)


def csv_bytes(rows: Rows, separator: str = ",") -> bytes:
    """The rows as CSV; a blank cell is nothing between two separators."""
    out = io.StringIO()
    csv.writer(out, delimiter=separator, lineterminator="\n").writerows(rows)
    return out.getvalue().encode()
