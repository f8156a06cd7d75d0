"""Parts, causes and the hauls behind them are those that are written in `where_and_why.md`."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import polars as pl
import pytest
from polars.testing import assert_frame_equal

from pipeline.damage.where_and_why import MOST_NOTES
from schemas.words import CAUSES, NET_PARTS
from tests.contracts.contract_files import Case, cases_in
from tests.spec.text_tables import table_from
from tests.spec.torn_nets import found_in, season

if TYPE_CHECKING:
    from pipeline.damage.found import TornPart, WhereAndWhy

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


def tears(rig: str, parts: list[str | None], ground: str = "sand", **of: str) -> pl.DataFrame:
    """A damaged haul of four hours on a trip of its own for each of those parts."""
    named = "/".join([rig, ground, *of.values()])
    return pl.DataFrame(
        {
            "vessel": "Skua",
            "trip": [f"{named} {trip}" for trip in range(len(parts))],
            "haul": "1",
            "rig_version": rig,
            "ground": ground,
            "tow_hours": 4.0,
            "damage_events": 1,
            "parts": pl.Series(parts, dtype=pl.String),
            **of,
        }
    )


def all_of(*hauls: pl.DataFrame) -> pl.DataFrame:
    return pl.concat(hauls).with_row_index("row").with_columns(pl.col("row").cast(pl.Int64))


def parts_with(rig: str, found: WhereAndWhy) -> dict[str, TornPart]:
    return {p.part: p for p in found.parts if p.rig == rig}


def test_a_part_with_ten_times_the_share_stands_out_and_one_that_may_be_luck_does_not() -> None:
    # Of 40 tears with each: wings 4 with rope, 38 with bobbins; else the belly. Square: 3 and 6.
    rope = tears("rope", ["wing;square"] * 3 + ["wing"] + ["belly"] * 36)
    bobbins = tears("bobbins", ["wing;square"] * 6 + ["wing"] * 32 + ["belly"] * 2)
    found = found_in(all_of(rope, bobbins))
    parts = parts_with("bobbins", found)
    assert (found.comparisons, found.not_compared) == (3, [])
    assert (parts["wing"].stands_out, parts["belly"].stands_out) == ("more", "less")
    against = parts["wing"].against
    assert against is not None
    assert (against.share, against.reference_share) == pytest.approx((0.95, 0.1))
    assert (against.tears, against.reference_tears) == (40, 40)
    assert against.ratio == pytest.approx(9.5)
    assert parts["square"].stands_out is None
    assert not any(p.against for p in found.parts if p.rig in {None, "rope"})


def test_what_the_ground_does_is_not_laid_to_the_rig() -> None:
    # On stones 3 tears in 4 are of the wing, on sand 1 in 4, with either rig. Bobbins tore 48 on
    # stones and 12 on sand, rope 12 and 48: 39 wings in 60, and 21.
    stones, sand = ["wing", "wing", "wing", "belly"], ["wing", "belly", "belly", "belly"]
    hauls = all_of(
        tears("bobbins", stones * 12, "stones"),
        tears("bobbins", sand * 3, "sand"),
        tears("rope", stones * 3, "stones"),
        tears("rope", sand * 12, "sand"),
    )
    wing = parts_with("bobbins", found_in(hauls))["wing"]
    assert wing.against is not None
    assert wing.against.ratio == pytest.approx(1.0)
    assert wing.stands_out is None
    # Were the ground not known of any haul, the same tears would stand out.
    blind = hauls.with_columns(ground=pl.lit(None, pl.String))
    assert parts_with("bobbins", found_in(blind))["wing"].stands_out == "more"


def test_a_skipper_who_seldom_names_the_part_bends_nothing() -> None:
    # Of as many tears, and as many wings among those told, rope's place is told in one of four.
    rope = tears("rope", ["wing"] * 10 + ["belly"] * 10 + [None] * 60)
    bobbins = tears("bobbins", ["wing"] * 40 + ["belly"] * 40)
    parts = parts_with("bobbins", found_in(all_of(rope, bobbins)))
    for part in ("wing", "belly"):
        against = parts[part].against
        assert against is not None
        assert (against.ratio, against.chance) == pytest.approx((1.0, 1.0))


@pytest.mark.parametrize(
    ("ground", "vessel"), [("stones", "Skua"), ("sand", "Tern"), (None, "Skua")]
)
def test_rigs_that_tore_on_other_grounds_or_boats_are_not_compared(
    ground: str, vessel: str
) -> None:
    rope = tears("rope", ["belly"] * 40, "sand", vessel="Skua")
    bobbins = tears("bobbins", ["wing"] * 40, "sand", vessel=vessel)
    bobbins = bobbins.with_columns(ground=pl.lit(ground, pl.String))
    found = found_in(all_of(rope, bobbins))
    assert (found.comparisons, found.not_compared) == (0, ["bobbins"])


def test_rigs_fished_side_by_side_whose_tears_were_not_are_not_compared() -> None:
    # Both were fished on both grounds, but rope tore on sand and bobbins on stones.
    sound = [
        tears(rig, [None] * 40, ground).with_columns(
            damage_events=pl.lit(0), trip=pl.col("trip") + "s"
        )
        for rig in ("rope", "bobbins")
        for ground in ("sand", "stones")
    ]
    torn = tears("rope", ["belly"] * 20), tears("bobbins", ["wing"] * 20, "stones")
    found = found_in(all_of(*sound, *torn).with_columns(pl.col("damage_events").cast(pl.Int64)))
    assert (found.comparisons, found.not_compared) == (0, ["bobbins"])


def test_where_no_tear_tells_its_part_there_is_no_nought() -> None:
    found = found_in(all_of(tears("rope", [None] * 3), tears("bobbins", [None] * 3)))
    assert [row.damaged for row in found.fished if row.rig] == [3, 3]
    assert (found.parts, found.causes) == ([], [])


def test_without_a_haul_of_known_damage_nothing_is_found() -> None:
    found = found_in(season(["rope"]).with_columns(damage_events=pl.lit(None, pl.Int64)))
    assert (found.fished, found.parts, found.causes, found.notes) == ([], [], [], [])


def test_a_reference_that_was_never_fished_leaves_no_comparison() -> None:
    assert found_in(season(["bobbins", "chain"]), reference="rope").comparisons == 0


def _as_text(value: object) -> object:
    return ", ".join(map(str, value)) or None if isinstance(value, list) else value
