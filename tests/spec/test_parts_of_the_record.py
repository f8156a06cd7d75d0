"""A part of the record that not all boats fished is told of, by name to the manager alone."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import polars as pl
import pytest

from pipeline.sharing.periods import Part, parts_of_some_boats
from reports.coop.for_the_manager import parts_not_of_all
from schemas.settings import Sharing
from tests.spec.text_tables import rows_of

NAMES, ROWS = rows_of((Path(__file__).parent / "parts_of_the_record.md").read_text("utf-8"))


def hauls(cell: str) -> pl.DataFrame:
    """The hauls of the boats, each on a day of the month that is named."""
    boats = (of_boat.split() for of_boat in cell.split(", "))
    fished = [
        {"vessel": boat, "shot_at": datetime.fromisoformat(f"{month}-{day:02}"), "hauled_at": None}
        for day, (boat, *months) in enumerate(boats, start=1)
        for month in months
    ]
    return pl.DataFrame(fished, schema_overrides={"hauled_at": pl.Datetime})


def told(part: Part) -> str:
    when = str(part.year) if part.month is None else f"{part.year}-{part.month:02} on"
    return f"{when}: {' '.join(part.boats)}"


@pytest.mark.parametrize(("case", "fished", "parts"), ROWS, ids=[row[0] for row in ROWS])
def test_parts_that_not_all_boats_fished(case: str, fished: str, parts: str) -> None:
    assert "; ".join(map(told, parts_of_some_boats(hauls(fished), Sharing()))) == parts, case


def test_the_manager_is_told_whose_they_are_and_what_to_do() -> None:
    assert parts_not_of_all(hauls("a 2031-09, b 2031-06, c 2031-06, d 2031-06"), Sharing()) == [
        "Not every boat fished in all of the record: from September 2031 on a alone, fewer than "
        "min_vessels (3). Beside a report that has not such a part, be it an earlier one, this one "
        "gives away what those boats did then: hand on one of the two, and of a new year none "
        "until every boat's is in it."
    ]
    (said,) = parts_not_of_all(
        hauls("a 2031-01 2032-03, b 2031-02 2032-03, c 2031-02 2032-03, d 2031-02"), Sharing()
    )
    assert ": in 2032 all but d." in said
    assert parts_not_of_all(hauls("a 2031-01, b 2031-01, c 2031-01"), Sharing()) == []


def test_of_a_large_fleet_the_boats_that_fished_are_counted() -> None:
    early = ", ".join(f"{boat} 2031-01" for boat in "defgh")
    both = ", ".join(f"{boat} 2031-01 2032-03" for boat in "abc")
    (said,) = parts_not_of_all(hauls(f"{both}, {early}"), Sharing())
    assert ": in 2032 3 of 8 boats." in said
