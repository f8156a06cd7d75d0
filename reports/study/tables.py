"""Every table of the findings as CSV, to the last digit.

A list of rows is a table of its name; what a row holds in lists of rows is a table of its own,
whose rows begin with the number of the row they belong to, and with what that one is of. A group
of values in a row becomes columns, joined to its name by a dot.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import polars as pl

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

WHOSE = (
    *("outcome", "amount", "measure", "mix", "rig", "reference", "rig_version", "ground", "part"),
    *("record_part", "vessel", "trip", "day", "section", "name", "way", "supposed"),
)
"""The columns that say what a row is of, and stand again beside what it holds."""


def tables_of(findings: Findings) -> dict[str, pl.DataFrame]:
    """Every table of the findings by name, its cells as text; a null where nothing is known."""
    gathered: dict[str, list[Row]] = {}
    for name, held in findings.items():
        _gather(name, held, {}, gathered)
    return {name: _as_text(_without_empty(name, rows, gathered)) for name, rows in gathered.items()}


def _gather(name: str, held: object, beside: Row, gathered: dict[str, list[Row]]) -> None:
    """Put the rows of what stands under a name where they belong."""
    if isinstance(held, list):
        rows = held if _is_rows(held) else [{name.rsplit(".", 1)[-1]: value} for value in held]
    elif isinstance(held, dict) and _is_table_by_name(held):
        rows = [{"name": key, **values} for key, values in held.items()]
    else:
        rows = [held if isinstance(held, dict) else {"value": held}]
    for row in rows:
        cells: Row = dict(beside)
        below = _flatten(row, "", cells)
        own = gathered.setdefault(name, [])
        if cells or not below:
            own.append(cells)
        whose = {f"{name}.row": len(own)} if isinstance(held, list) else {}
        whose |= {column: cells[column] for column in WHOSE if column in cells}
        for key, deeper in below.items():
            _gather(f"{name}.{key}", deeper, whose, gathered)
    if not gathered.get(name):
        gathered.pop(name, None)


def _flatten(row: Row, before: str, cells: Row) -> dict[str, list[Row]]:
    """Put the values of a row into cells; what it holds in lists of rows, by name."""
    below: dict[str, list[Row]] = {}
    for key, value in row.items():
        name = f"{before}{key}"
        if isinstance(value, dict):
            below |= _flatten(value, f"{name}.", cells)
        elif isinstance(value, list) and _is_rows(value):
            below[name] = value
        elif isinstance(value, list):
            cells[name] = "; ".join(_text(each) or "" for each in value)
        else:
            cells[name] = value
    return below


def _is_rows(held: list[Any]) -> bool:
    return bool(held) and all(isinstance(each, dict) for each in held)


def _is_table_by_name(held: Row) -> bool:
    """Whether all that is held are groups of the same values, as the counts of rows are."""
    groups = list(held.values())
    return (
        len(groups) > 1
        and all(isinstance(group, dict) for group in groups)
        and all(group.keys() == groups[0].keys() for group in groups)
    )


def _without_empty(name: str, rows: list[Row], gathered: dict[str, list[Row]]) -> list[Row]:
    """The rows without columns of what is a table of its own, or other columns, where it is any."""
    columns = {column for row in rows for column in row}
    empty = {
        column
        for column in columns
        if (f"{name}.{column}" in gathered or any(c.startswith(f"{column}.") for c in columns))
        and all(row.get(column) in {None, ""} for row in rows)
    }
    return [{key: cell for key, cell in row.items() if key not in empty} for row in rows]


def _as_text(rows: list[Row]) -> pl.DataFrame:
    columns = list(dict.fromkeys(column for row in rows for column in row))
    return pl.DataFrame(
        {column: [_text(row.get(column)) for row in rows] for column in columns},
        schema=dict.fromkeys(columns, pl.String),
    )


def _text(value: object) -> str | None:
    """A value as it stands in `findings.json`: a float so that it reads back to the same."""
    if value is None or isinstance(value, str):
        return value
    if isinstance(value, bool):
        return "true" if value else "false"
    return repr(value)
