"""Parts have the hours, and versions the changes, that are written in `wear.md`."""

from __future__ import annotations

from pathlib import Path

import polars as pl
import pytest
from polars.testing import assert_frame_equal

from pipeline.rigs.wearing.versions import version_remarks
from pipeline.rigs.wearing.wear import (
    PART_CHANGES_SCHEMA,
    PART_HOURS_SCHEMA,
    part_changes,
    part_hours,
)
from pipeline.rows import REFUSAL_SCHEMA
from tests.contracts.contract_files import Case, cases_in
from tests.spec.text_tables import table_from

CASES = cases_in(Path(__file__).parent / "wear.md")


def given(case: Case) -> dict[str, pl.DataFrame]:
    """The tables of the case; where no day is written the rows of hours follow one another."""
    tables = case.tables()
    hours = tables.get("hours_by_rig")
    if hours is not None and "first" not in hours.columns:
        day = pl.datetime(2031, 3, 1) + pl.duration(days=pl.int_range(pl.len()))
        tables["hours_by_rig"] = hours.with_columns(first=day, last=day)
    return tables


def found(case: Case) -> pl.DataFrame:
    tables = given(case)
    if "hours_by_rig" in tables:
        return part_hours(tables["rig_parts"], tables["rig_versions"], tables["hours_by_rig"])
    return part_changes(tables["rig_parts"], tables["rig_versions"])


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.promise)
def test_hours_and_changes_are_those_that_are_written(case: Case) -> None:
    assert_frame_equal(found(case), table_from(case.then))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.promise)
def test_the_order_of_rows_does_not_matter(case: Case) -> None:
    turned = {name: frame.reverse() for name, frame in given(case).items()}
    if "hours_by_rig" in turned:
        other = part_hours(turned["rig_parts"], turned["rig_versions"], turned["hours_by_rig"])
    else:
        other = part_changes(turned["rig_parts"], turned["rig_versions"])
    assert_frame_equal(other, found(case), check_row_order=False)


def test_no_parts_have_no_hours_and_no_changes() -> None:
    parts, versions = table_from("| row |", "rig_parts"), table_from("| row |", "rig_versions")
    hours = pl.DataFrame(
        schema={"vessel": pl.String, "rig_version": pl.String, "hours": pl.Float64}
    )
    assert dict(part_hours(parts, versions, hours).schema) == PART_HOURS_SCHEMA
    assert dict(part_changes(parts, versions).schema) == PART_CHANGES_SCHEMA


def test_what_is_said_of_versions_that_lead_round_or_to_nowhere() -> None:
    versions = table_from(
        """
        | row | rig_version | changed_from |
        | 1   | a           |              |
        | 2   | b           | a            |
        | 3   | c           | d            |
        | 4   | d           | c            |
        | 5   | e           | e            |
        | 6   | f           | d            |
        | 7   | bobbins-12  | bobbins-14   |
        | 8   | rubber-10   | rubber-12    |
        | 9   | rubber-8    | rubber-10    |
        """,
        "rig_versions",
    )
    said = version_remarks(versions)
    assert dict(said.schema) == REFUSAL_SCHEMA
    right = "put right which came first, as until then no hours are carried over to its parts"
    assert said.rows() == [
        (3, "changed_from", "d", f"leads round to c itself (c from d from c); {right}"),
        (4, "changed_from", "c", f"leads round to d itself (d from c from d); {right}"),
        (5, "changed_from", "e", f"leads round to e itself (e from e); {right}"),
        (
            7,
            "changed_from",
            "bobbins-14",
            "is a rig that rig_versions does not describe; add it there or put it right",
        ),
        (
            8,
            "changed_from",
            "rubber-12",
            "is a rig that rig_versions does not describe (did you mean 'rubber-8'?); "
            "add it there or put it right",
        ),
    ]
