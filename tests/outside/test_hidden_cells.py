"""What a reader can tell of hidden cells, and which are hidden, against published tables.

- Geurts (1992), table 10, as example 3 in section 4.2 of Hundepool et al., Handbook on Statistical
  Disclosure Control, 2nd ed. 2024.
- Fischetti & Salazar, Management Science 47 (2001) 1008: enterprises by activity and region, of
  which one cell is not to be told. Table and hidden cells as the readme of the Australian Bureau of
  Statistics' suppression program repeats them; that the reader tells 5 to 30 from memory, and by
  hand: region A and activities II and III leave 34 less what can be 4 to 29.
- Federal Committee on Statistical Methodology, Statistical Policy Working Paper 22 (1994), chapter
  II: delinquent children by county and education, and that two hidden cells in each row and column
  are not enough. From memory; its sums are right.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
import polars as pl
import pytest

from pipeline.sharing.share_table import FEW_BOATS, GIVES_AWAY, share_table
from schemas.settings import Sharing
from tests.proofs.table_reader import Key, equations, keys_of

RIG_BY_GROUND = [[["rig_version"], ["ground"]]]
COLUMNS = ["rig_version", "ground"]

ENTERPRISES = [[20, 50, 10], [8, 19, 22], [17, 32, 12]]
NOT_TOLD: Key = ("2", "3")
PUBLISHED_AS_HIDDEN: set[Key] = {("2", "1"), ("2", "3"), ("3", "1"), ("3", "3")}

CHILDREN = [[15, 1, 3, 1], [20, 10, 10, 15], [3, 10, 10, 2], [12, 14, 7, 2]]
FEW_CHILDREN: set[Key] = {
    (str(row + 1), str(column + 1))
    for row, counts in enumerate(CHILDREN)
    for column, count in enumerate(counts)
    if count < 5
}
HIDDEN_IN_PAIRS = FEW_CHILDREN | {("2", "2"), ("2", "3"), ("4", "1")}


def with_totals(table: list[list[int]]) -> dict[Key, float | None]:
    """Every cell of the table and its totals, by row and column numbered from 1; None for all."""
    counts = np.array(table, dtype=float)
    full = np.block(
        [[counts, counts.sum(1, keepdims=True)], [counts.sum(0, keepdims=True), counts.sum()]]
    )
    names = [[*(str(at + 1) for at in range(size)), None] for size in counts.shape]
    return {
        (row, column): full[at, place]
        for at, row in enumerate(names[0])
        for place, column in enumerate(names[1])
    }


def bounds(shown: dict[Key, float | None], hidden: set[Key], key: Key) -> tuple[float, float]:
    """Between what the reader knows the hidden cell to be."""
    seen = {cell: None if cell in hidden else value for cell, value in shown.items()}
    low, high = equations(seen, RIG_BY_GROUND, COLUMNS).bounds([[key]])[0]
    return float(low), float(high)


def by_boats(table: list[list[int]], few: set[Key]) -> pl.DataFrame:
    """The table's numbers as hours of two boats in the cells of few, else of four others."""
    return pl.DataFrame(
        [
            {"vessel": boat, "rig_version": row, "ground": column, "tow_hours": value / len(boats)}
            for (row, column), value in with_totals(table).items()
            if row and column and value
            for boats in ["AB" if (row, column) in few else "CDEF"]
            for boat in boats
        ]
    )


def test_a_reader_bounds_the_cell_of_geurts_as_published() -> None:
    cells = with_totals([[5, 2], [1, 2], [3, 3]])
    hidden = {("1", "1"), ("1", "2"), ("2", "1"), ("2", "2")}
    assert [cells[key] for key in (("1", None), ("2", None), (None, "1"), (None, "2"))] == [
        7,
        3,
        9,
        7,
    ]
    assert bounds(cells, hidden, ("1", "1")) == pytest.approx((3, 6))


def test_a_reader_bounds_the_cell_of_fischetti_and_salazar_as_published() -> None:
    found = bounds(with_totals(ENTERPRISES), PUBLISHED_AS_HIDDEN, NOT_TOLD)
    assert found == pytest.approx((5, 30))


def test_the_cells_hidden_of_fischetti_and_salazars_table_are_the_published_ones() -> None:
    shared = share_table(by_boats(ENTERPRISES, {NOT_TOLD}), RIG_BY_GROUND, [], Sharing()).cells
    hidden = set(keys_of(shared.filter(pl.col("hidden").is_not_null()), COLUMNS))
    assert hidden == PUBLISHED_AS_HIDDEN
    assert keys_of(shared.filter(pl.col("hidden") == FEW_BOATS), COLUMNS) == [NOT_TOLD]


def test_no_three_cells_that_cost_less_would_do() -> None:
    cells = with_totals(ENTERPRISES)
    cost = sum(cells[key] or 0 for key in PUBLISHED_AS_HIDDEN - {NOT_TOLD})
    value = cells[NOT_TOLD] or 0
    others = [key for key in cells if key != NOT_TOLD]
    for size in range(4):
        for more in combinations(others, size):
            if sum(cells[key] or 0 for key in more) < cost:
                low, high = bounds(cells, {NOT_TOLD, *more}, NOT_TOLD)
                assert low > 0.85 * value or high < 1.15 * value, more


def test_two_hidden_cells_in_each_row_and_column_are_not_enough() -> None:
    cells = with_totals(CHILDREN)
    for key in HIDDEN_IN_PAIRS:
        for at in (0, 1):
            assert sum(other[at] == key[at] for other in HIDDEN_IN_PAIRS) > 1
    assert bounds(cells, HIDDEN_IN_PAIRS, ("1", "4")) == pytest.approx((1, 1))


def test_of_that_table_as_many_are_hidden_as_it_takes() -> None:
    shared = share_table(by_boats(CHILDREN, FEW_CHILDREN), RIG_BY_GROUND, [], Sharing()).cells
    why = dict(zip(keys_of(shared, COLUMNS), shared["hidden"], strict=True))
    assert {key for key, reason in why.items() if reason == FEW_BOATS} == FEW_CHILDREN
    hidden = {key for key, reason in why.items() if reason}
    assert GIVES_AWAY in why.values()
    cells = with_totals(CHILDREN)
    for key in hidden:
        low, high = bounds(cells, hidden, key)
        assert low <= 0.85 * (cells[key] or 0) + 1e-6
        assert high >= 1.15 * (cells[key] or 0) - 1e-6
