"""Contracts written as text: what a SQL file is given, and exactly what it makes of it.

A contract file has the name of its SQL file. Tables before the first `##` are given in every
case of the file; a case's own table of the same name takes their place. `then` is what comes
out; where its last heading is `...`, the columns that it leaves out don't matter.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from tests.spec.text_tables import table_from

if TYPE_CHECKING:
    import polars as pl

HERE = Path(__file__).parent
THEN = "then"


@dataclass(frozen=True)
class Case:
    """One promise of a SQL file."""

    sql: str
    promise: str
    given: dict[str, str]
    then: str

    def tables(self) -> dict[str, pl.DataFrame]:
        """The tables that the SQL file is given."""
        return {name: table_from(text, name) for name, text in self.given.items()}


def cases_in(path: Path) -> list[Case]:
    """Every case of a contract file."""
    shared, *rest = path.read_text(encoding="utf-8").split("\n## ")
    always = _tables_in(shared)
    cases = []
    for part in rest:
        promise, _, body = part.partition("\n")
        tables = {**always, **_tables_in(body)}
        cases.append(Case(path.stem, promise.strip(), tables, tables.pop(THEN)))
    return cases


def all_cases() -> list[Case]:
    """Every case of every contract file."""
    return [case for path in sorted(HERE.glob("*.md")) for case in cases_in(path)]


def _tables_in(text: str) -> dict[str, str]:
    """The text of each table, by the name on the line `given NAME` or `then` before it."""
    tables: dict[str, list[str]] = {}
    name = ""
    for line in text.splitlines():
        if line.startswith("given "):
            name = line.removeprefix("given ").strip()
            tables[name] = []
        elif line.strip() == THEN:
            name = THEN
            tables[name] = []
        elif line.lstrip().startswith("|"):
            tables[name].append(line)
    return {name: "\n".join(lines) for name, lines in tables.items()}
