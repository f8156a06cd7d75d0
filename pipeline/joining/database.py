"""The database in which a season's tables are joined and summed.

Each table that is made here is one SQL file of the same name. Within a file every common table
expression has one thought. The SQL is what DuckDB and Spark both run.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from itertools import count
from typing import TYPE_CHECKING, Self

import duckdb

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path
    from types import TracebackType

    import polars as pl


NUMBERS = count()
"""Each database of a process has a number, and so a name, of its own."""


@cache
def _engine() -> duckdb.DuckDBPyConnection:
    """What keeps all databases of a process: it takes longer to start than to check a table."""
    engine = duckdb.connect()
    # One thread: sums of decimals then come out the same to the last bit, run after run.
    engine.execute("set threads = 1")
    engine.execute("set autoinstall_known_extensions = false")
    return engine


class Database:
    """Tables by name: those that are put in, and those that SQL files make of them."""

    def __init__(self) -> None:
        self._name = f"season_{next(NUMBERS)}"
        self._connection = _engine().cursor()
        self._connection.execute(f"attach ':memory:' as {self._name}")
        self._connection.execute(f"use {self._name}")

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        _kind: type[BaseException] | None,
        _error: BaseException | None,
        _trace: TracebackType | None,
    ) -> None:
        self._connection.close()
        _engine().execute(f"detach {self._name}")

    def put(self, name: str, frame: pl.DataFrame) -> None:
        """Keep the frame as the table `name`, in place of one that is there."""
        self._connection.register("incoming", frame.to_arrow())
        self._connection.execute(f'create or replace table "{name}" as select * from incoming')
        self._connection.unregister("incoming")

    def make(self, name: str) -> pl.DataFrame:
        """Make the table `name` by the SQL file of that name, and give it back."""
        self.make_all([name])
        return self.get(name)

    def make_all(self, names: Iterable[str]) -> None:
        """Make the tables one after the other, each by the SQL file of its name."""
        for name in names:
            self._connection.execute(f'create or replace table "{name}" as {sql_of(name)}')

    def get(self, name: str) -> pl.DataFrame:
        """The table of that name."""
        frame: pl.DataFrame = self._connection.sql(f'select * from "{name}"').pl()
        return frame

    def save(self, path: Path) -> None:
        """Write every table to a database file."""
        place = str(path.resolve()).replace("'", "''")
        # Most tables are of a few rows, and each takes whole blocks.
        saved = f"{self._name}_saved"
        self._connection.execute(f"attach '{place}' as {saved} (type duckdb, block_size 16384)")
        tables = self._connection.execute(
            "select table_name from duckdb_tables() where database_name = current_database()"
        ).fetchall()
        self._connection.begin()
        for (name,) in tables:
            self._connection.execute(f'create table {saved}."{name}" as select * from "{name}"')
        self._connection.commit()
        self._connection.execute(f"detach {saved}")


def sql_of(name: str) -> str:
    """The text of the SQL file that makes the table `name`."""
    return (files("pipeline.joining") / f"{name}.sql").read_text(encoding="utf-8")
