"""Parts, causes and the hauls behind them are those that are written in `where_and_why.md`."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import Any

import polars as pl
import pytest
from polars.testing import assert_frame_equal

from pipeline.damage.where_and_why import MOST_NOTES
from schemas.words import CAUSES, NET_PARTS
from tests.contracts.contract_files import Case, cases_in
from tests.spec.text_tables import table_from
from tests.spec.torn_nets import found_in, season

CASES = cases_in(Path(__file__).parent / "where_and_why.md")
KINDS = {"part": "parts", "cause": "causes", "damaged": "fished"}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.promise)
def test_what_is_found_is_what_is_written(case: Case) -> None:
    promised = table_from(case.then)
    hauls = table_from(case.given["hauls"]).with_columns(
        pl.lit("Skua").alias("vessel"), pl.col("row").cast(pl.String).alias("haul")
    )
    kind = next(kind for column, kind in KINDS.items() if column in promised.columns)
    rows = [asdict(row) for row in getattr(found_in(hauls), kind)]
    found = pl.DataFrame(
        [
            {name: _as_text(row[name]) for name in promised.columns}
            for row in rows
            if row.get("hauls")
        ]
    )
    assert_frame_equal(found.cast(promised.schema), promised, rel_tol=1e-12)


def test_every_part_and_cause_is_there_for_every_rig_torn_or_not() -> None:
    found = found_in(season(["rope", "bobbins"]))
    for rig in (None, "rope", "bobbins"):
        of_rig = [p.part for p in found.parts if p.rig == rig and p.ground == "all"]
        assert of_rig == list(NET_PARTS)
        assert [c.cause for c in found.causes if c.rig == rig and c.ground == "all"] == list(CAUSES)


def test_a_part_that_never_tore_still_has_an_upper_limit() -> None:
    # Garwood 1936: none seen, at most 3.6888795; in 32 h.
    square = next(p for p in found_in(season(["rope"])).parts if p.part == "square")
    assert (square.hauls, square.per_100_h, square.low) == (0, 0.0, 0.0)
    assert square.high == pytest.approx(3.6888795 / 32 * 100, rel=1e-7)


def test_the_longest_notes_are_shown_and_all_rows_are_given() -> None:
    hauls = pl.DataFrame(
        [
            {
                "row": row,
                "vessel": "Skua",
                "trip": "1",
                "haul": str(row),
                "rig_version": "rope",
                "ground": "sand",
                "tow_hours": 1.0,
                "damage_events": 1,
                "parts": "wing",
                "damage_note": "wing torn" + "!" * (row % 10),
            }
            for row in range(1, 21)
        ]
    )
    found = found_in(hauls)
    wing = next(p for p in found.parts if p.rig == "rope" and p.part == "wing")
    assert wing.rows == list(range(1, 21))
    assert wing.shown == [9, 19, 8, 18, 7, 17, 6, 16]
    assert len(wing.shown) == MOST_NOTES
    assert [note.row for note in found.notes] == sorted(wing.shown)
    assert next(note.note for note in found.notes if note.row == 9) == "wing torn!!!!!!!!!"


def test_a_part_that_tears_ten_times_as_often_stands_out_and_one_that_may_be_luck_does_not() -> (
    None
):
    # 40 trips of 10 h each. Rope: 4 wings. Bobbins: 38 wings. Square: 6 against 3.
    def trips(rig: str, wings: int, squares: int) -> list[dict[str, Any]]:
        return [
            {
                "row": (0 if rig == "rope" else 40) + trip,
                "vessel": rig,
                "trip": str(trip),
                "haul": "1",
                "rig_version": rig,
                "ground": "sand",
                "tow_hours": 10.0,
                "damage_events": 1,
                "parts": ";".join(["wing"] * (trip < wings) + ["square"] * (trip < squares)),
            }
            for trip in range(40)
        ]

    found = found_in(pl.DataFrame(trips("rope", 4, 3) + trips("bobbins", 38, 6)))
    parts = {p.part: p for p in found.parts if p.rig == "bobbins"}
    assert found.comparisons == 2
    assert parts["wing"].stands_out == "more"
    assert parts["wing"].against is not None
    assert parts["wing"].against.ratio == pytest.approx(9.5)
    assert parts["square"].stands_out is None
    assert not any(p.against for p in found.parts if p.rig in {None, "rope"})


def test_without_a_haul_of_known_damage_nothing_is_found() -> None:
    found = found_in(season(["rope"]).with_columns(damage_events=pl.lit(None, pl.Int64)))
    assert (found.fished, found.parts, found.causes, found.notes) == ([], [], [], [])


def test_a_reference_that_was_never_fished_leaves_no_comparison() -> None:
    assert found_in(season(["bobbins", "chain"]), reference="rope").comparisons == 0


def _as_text(value: object) -> object:
    return ", ".join(map(str, value)) or None if isinstance(value, list) else value
