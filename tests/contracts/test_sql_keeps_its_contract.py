"""Every SQL file makes exactly what its contract says, and is SQL that both engines read."""

from __future__ import annotations

from pathlib import Path

import polars as pl
import pytest
import sqlglot
from polars.testing import assert_frame_equal
from sqlglot import exp

import pipeline.joining
from pipeline.joining.database import Database, sql_of
from pipeline.joining.join_season import (
    FROM_THE_DAMAGE_ON,
    UP_TO_THE_DAMAGE,
    UP_TO_THE_FACTORS,
)
from tests.contracts.contract_files import HERE, Case, all_cases
from tests.spec.text_tables import table_from

JOINING = Path(pipeline.joining.__path__[0])
SQL_FILES = sorted(path.stem for path in JOINING.glob("*.sql"))
REST = "..."


@pytest.mark.parametrize("case", all_cases(), ids=lambda case: f"{case.sql}: {case.promise}")
def test_what_is_given_becomes_what_is_promised(case: Case) -> None:
    made = _make(case)
    text, others_matter = _without_rest(case.then)
    promised = table_from(text)
    if others_matter:
        assert sorted(made.columns) == sorted(promised.columns)
    made = made.select(_plain(promised.schema))
    if not _has_an_order(case.sql):
        made, promised = made.sort(made.columns), promised.sort(promised.columns)
    assert_frame_equal(made, promised, rel_tol=1e-12, abs_tol=1e-12)


@pytest.mark.parametrize("name", SQL_FILES)
def test_every_sql_file_has_a_contract(name: str) -> None:
    cases = [case for case in all_cases() if case.sql == name]
    assert cases, f"write tests/contracts/{name}.md"


def test_every_contract_is_of_a_sql_file() -> None:
    assert sorted(path.stem for path in HERE.glob("*.md")) == SQL_FILES


BY_THE_RIGS = {"checked_lengths", "fishing_hours", "haul_length_differences", "rig_in_force"}
IN_ORDER = (
    *UP_TO_THE_FACTORS,
    *("patterns", "haul_patterns"),
    *UP_TO_THE_DAMAGE,
    "list_places",
    *FROM_THE_DAMAGE_ON,
)
"""How a season is joined, with the tables that are put in between."""


def test_every_sql_file_is_made_once() -> None:
    made = [name for name in IN_ORDER if name in SQL_FILES]
    assert sorted([*made, *BY_THE_RIGS]) == SQL_FILES


@pytest.mark.parametrize("name", [name for name in IN_ORDER if name in SQL_FILES])
def test_no_table_is_made_before_those_that_it_is_made_of(name: str) -> None:
    statement = sqlglot.parse_one(sql_of(name), dialect="duckdb")
    within = {each.alias for each in statement.find_all(exp.CTE)}
    read = {table.name for table in statement.find_all(exp.Table)} - within
    assert read
    assert read.isdisjoint(IN_ORDER[IN_ORDER.index(name) :])


@pytest.mark.parametrize("dialect", ["duckdb", "spark"])
@pytest.mark.parametrize("name", SQL_FILES)
def test_both_engines_read_the_file(name: str, dialect: str) -> None:
    (statement,) = sqlglot.parse(sql_of(name), dialect=dialect)
    assert isinstance(statement, exp.Select)


@pytest.mark.parametrize("dialect", ["duckdb", "spark"])
@pytest.mark.parametrize("name", SQL_FILES)
def test_every_function_is_one_that_the_engine_is_known_to_have(name: str, dialect: str) -> None:
    statement = sqlglot.parse_one(sql_of(name), dialect=dialect)
    assert not list(statement.find_all(exp.Anonymous))


@pytest.mark.parametrize("name", SQL_FILES)
def test_the_file_ends_by_selecting_all_of_final(name: str) -> None:
    statement = sqlglot.parse_one(sql_of(name), dialect="duckdb")
    *_, last = statement.ctes
    assert last.alias == "final"
    closing = " ".join(sql_of(name).rsplit("\n)\n", 1)[1].split())
    if _has_an_order(name):
        closing, _, order = closing.partition(" order by ")
        assert set(order.split(", ")) <= set(last.this.named_selects)
    assert closing == "select * from final"


@pytest.mark.parametrize("name", SQL_FILES)
def test_every_common_table_expression_is_used(name: str) -> None:
    statement = sqlglot.parse_one(sql_of(name), dialect="duckdb")
    used = {table.name for table in statement.find_all(exp.Table)}
    assert {cte.alias for cte in statement.ctes} <= used


@pytest.mark.parametrize("name", SQL_FILES)
def test_the_file_opens_with_what_one_row_is(name: str) -> None:
    assert sql_of(name).startswith("-- ")


def _make(case: Case) -> pl.DataFrame:
    with Database() as database:
        for name, frame in case.tables().items():
            database.put(name, frame)
        return database.make(case.sql)


def _without_rest(text: str) -> tuple[str, bool]:
    """The table without its column `...`, and whether it has none."""
    lines = [line.strip().removesuffix("|").rstrip() for line in text.splitlines()]
    if not lines[0].endswith(REST):
        return text, True
    kept = [line.rsplit("|", 1)[0] + "|" for line in lines]
    return "\n".join(kept), False


def _plain(schema: pl.Schema) -> list[pl.Expr]:
    """Whole numbers and decimals of any width as the promised kind."""
    return [pl.col(name).cast(kind, strict=True) for name, kind in schema.items()]


def _has_an_order(name: str) -> bool:
    return sqlglot.parse_one(sql_of(name), dialect="duckdb").args.get("order") is not None
