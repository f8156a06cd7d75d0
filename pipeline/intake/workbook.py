"""The sheets of a workbook and their cells; what reads them is loaded only where there is one."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import polars as pl

from pipeline.problems import SeasonUnusableError

if TYPE_CHECKING:
    from pathlib import Path

FAILED = re.compile(r"Error\((\w+)\)")
FAILED_FORMULAS = {
    "Div0": "#DIV/0!",
    "NA": "#N/A",
    "Name": "#NAME?",
    "Null": "#NULL!",
    "Num": "#NUM!",
    "Ref": "#REF!",
    "Value": "#VALUE!",
}
"""What the reader calls a formula's error, and what the spreadsheet shows (ECMA-376, 18.17.2.7)."""
FAILED_OTHERWISE = "#ERROR"


def sheets_of(workbook: Path) -> list[str]:
    """What the workbook's sheets are called; raises `SeasonUnusableError` if it can't be read."""
    import fastexcel

    try:
        return list(fastexcel.read_excel(workbook).sheet_names)
    except Exception as error:
        raise SeasonUnusableError(f"{workbook.name} can't be read as a workbook.") from error


def cells_of(workbook: Path, sheet: str | None) -> pl.DataFrame:
    """All cells of a sheet as text, the first sheet's where none is named.

    A cell whose formula failed says so as it does there: taken for blank, it would pass for *not
    recorded*. Raises `SeasonUnusableError` if the sheet can't be read.
    """
    import fastexcel

    try:
        found = fastexcel.read_excel(workbook).load_sheet(
            sheet or 0, header_row=None, skip_rows=0, dtypes="string"
        )
        batch, failed = found.to_arrow_with_errors()
    except Exception as error:
        raise SeasonUnusableError(
            f"{workbook.name}: sheet {sheet!r} can't be read from this workbook."
        ) from error
    cells = pl.DataFrame(batch)
    of_columns: dict[int, dict[int, str]] = {}
    for each in failed.errors if failed else ():
        row, column = each.offset_position
        of_columns.setdefault(column, {})[row] = _as_it_shows(each.detail)
    return cells.with_columns(
        cells.to_series(column).scatter(list(shown), list(shown.values()))
        for column, shown in of_columns.items()
    )


def _as_it_shows(detail: str) -> str:
    """What the spreadsheet shows in a cell that the reader could make nothing of."""
    kind = FAILED.search(detail)
    return FAILED_FORMULAS.get(kind[1] if kind else "", FAILED_OTHERWISE)
