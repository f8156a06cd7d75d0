"""What a co-op sees of tables: which cells, and what is said of those that it does not."""

from __future__ import annotations

import re
from itertools import product

import numpy as np
import polars as pl
import pytest

from pipeline.sharing.letters import letters
from pipeline.sharing.reader import DOWN, UP, Reader, furthest, straight
from pipeline.sharing.share_table import FEW_BOATS, GIVES_AWAY, ONE_BOAT, SharedCells, share_table
from schemas.settings import Sharing

RIGS, GROUNDS = ("bobbins", "discs", "rope"), ("mud", "sand", "stones")
RIG_BY_GROUND = [[["rig_version"], ["ground"]]]
BOATS = ("Auk", "Skua", "Tern", "Teal")
chance = np.random.default_rng
MEASURES = ["damage_events", "kg"]


def fished(**changed: dict[str, float]) -> pl.DataFrame:
    """Four boats with 10 h and some fish in every cell; `bobbins_mud={"Auk": 5}` where not."""
    rows = [
        {
            "vessel": boat,
            "rig_version": rig,
            "ground": ground,
            "tow_hours": hours,
            "damage_events": 2,
            "kg": 7.5 * hours,
        }
        for rig, ground in product(RIGS, GROUNDS)
        for boat, hours in changed.get(f"{rig}_{ground}", dict.fromkeys(BOATS, 10.0)).items()
    ]
    return pl.DataFrame(rows)


def shared(contributions: pl.DataFrame, **rules: float) -> SharedCells:
    return share_table(contributions, RIG_BY_GROUND, MEASURES, Sharing.model_validate(rules))


def why(found: SharedCells) -> dict[tuple[str | None, str | None], str | None]:
    rows = found.cells.select("rig_version", "ground", "hidden").iter_rows()
    return {(rig, ground): reason for rig, ground, reason in rows}


def test_where_every_cell_is_of_enough_boats_all_are_shown_with_their_totals() -> None:
    found = shared(fished())
    assert found.cells["hidden"].null_count() == len(found.cells) == 16
    assert found.said == "No cell of 16 was hidden."
    total = found.cells.filter(pl.col("rig_version").is_null(), pl.col("ground").is_null())
    assert total.select("vessels", "tow_hours", "damage_events", "kg").row(0) == (4, 360, 72, 2700)


def test_a_cell_of_two_boats_takes_three_others_with_it() -> None:
    found = shared(fished(bobbins_mud={"Auk": 12.0, "Tern": 9.0}))
    reasons = why(found)
    assert reasons.pop(("bobbins", "mud")) == FEW_BOATS
    assert sorted(reason for reason in reasons.values() if reason) == [GIVES_AWAY] * 3
    assert found.said == (
        "4 of 16 cells are hidden: 1 of fewer than 3 boats, 3 that would give a hidden one away, "
        "by a total or to a boat that knows its own."
    )


def test_a_cell_that_is_mostly_one_boats_is_hidden() -> None:
    mostly = {"Auk": 81.0, "Skua": 9.0, "Tern": 5.0, "Teal": 5.0}
    assert why(shared(fished(discs_sand=mostly)))["discs", "sand"] == ONE_BOAT
    assert why(shared(fished(discs_sand=mostly), max_share=0.81))["discs", "sand"] is None


def test_what_is_said_has_the_seasons_own_bounds() -> None:
    mostly = {"Auk": 96.0, "Skua": 1.0, "Tern": 2.0, "Teal": 1.0}
    said = shared(fished(discs_sand=mostly), max_share=0.955, min_vessels=2).said
    assert "1 in which one boat has more than 95.5 % of the hours, 3 that would give" in said


def test_where_no_cells_are_enough_all_are_to_be_hidden() -> None:
    both = np.array([True, True])
    reader = Reader(np.array([1.0, 1.0]), both, np.array([[True, False]]), np.full((2, 1), 2.0))
    shown, cost = np.array([[True, True], [False, True]]), np.ones(2)
    assert not reader.reaches(np.array([0]), np.array([DOWN]), shown[:0]).any()
    assert reader.cheapest(0, DOWN, shown, cost).all()
    assert reader.reaches(np.array([0]), np.array([UP]), shown[:0]).all()


def test_a_straight_step_says_yes_only_where_the_program_does_and_mostly_there() -> None:
    rng = np.random.default_rng(8)
    said, could = 0, 0
    for _ in range(60):
        amounts = rng.exponential(8.0, 12) * (rng.random(12) < 0.8)
        known = (rng.random((rng.integers(1, 8), 12)) < 0.5).astype(float)
        aims = rng.choice([DOWN, UP], (20, 1)) * (rng.random((20, 12)) < 0.2)
        needed = 0.15 * np.abs(aims @ amounts)[:, np.newaxis] + 0.1
        stepped = straight(aims, -amounts / needed, known)
        reached = furthest(aims, -amounts / needed, known)
        assert not (stepped & ~reached).any()
        said, could = said + stepped.sum(), could + reached.sum()
    assert said > could / 2


def test_how_many_boats_are_enough_is_the_seasons_to_say() -> None:
    two = fished(bobbins_mud={"Auk": 12.0, "Tern": 9.0})
    assert why(shared(two, min_vessels=2))["bobbins", "mud"] is None
    assert shared(fished(), min_vessels=5).said == (
        "16 of 16 cells are hidden: 16 of fewer than 5 boats."
    )


def test_of_a_hidden_cell_nothing_is_shown() -> None:
    cells = shared(fished(bobbins_mud={"Auk": 12.0})).cells
    rest, hidden = (cells.filter(pl.col("hidden").is_null() == shown) for shown in (True, False))
    assert len(hidden)
    for name in ("vessels", "tow_hours", "damage_events", "kg"):
        assert hidden[name].null_count() == len(hidden)
        assert rest[name].null_count() == 0


def test_a_cell_in_which_nobody_fished_is_no_cell_and_hides_no_other() -> None:
    reasons = why(shared(fished(bobbins_mud={"Auk": 12.0}, bobbins_sand={}, rope_mud={})))
    assert ("bobbins", "sand") not in reasons
    assert ("rope", "mud") not in reasons
    assert reasons["bobbins", "mud"] == FEW_BOATS
    assert reasons["bobbins", "stones"] == reasons["discs", "mud"] == GIVES_AWAY


def test_a_total_of_nothing_but_a_hidden_cell_is_hidden_with_it() -> None:
    reasons = why(shared(fished(rope_mud={}, rope_sand={}, rope_stones={"Auk": 12.0})))
    assert reasons["rope", "stones"] == reasons["rope", None] == FEW_BOATS
    assert GIVES_AWAY in {reasons[rig, None] for rig in ("bobbins", "discs")}


def test_two_cells_of_one_boat_are_not_shown_as_their_sum() -> None:
    alone = {"Auk": 12.0}
    reasons = why(shared(fished(rope_mud=alone, rope_sand=alone)))
    assert reasons["rope", "stones"] or reasons["rope", None]


def test_totals_by_ground_gear_do_not_give_a_rig_away() -> None:
    gear = pl.col("rig_version").replace_strict(
        {"bobbins": "rollers", "discs": "rollers", "rope": "rope"}
    )
    contributions = fished(bobbins_mud={"Auk": 12.0}).with_columns(ground_gear=gear)
    sides = [["ground_gear", "rig_version"], ["ground"]]
    cells = share_table(contributions, [sides], MEASURES, Sharing()).cells
    # A gear of one rig is that rig: where one is hidden, so is the other.
    rope = cells.filter(pl.col("ground_gear") == "rope").group_by("ground").agg("hidden")
    for reasons in rope["hidden"]:
        assert reasons.is_null().n_unique() == 1
    assert cells["hidden"].is_not_null().sum() > 1


def test_a_measure_that_is_nothing_anywhere_hides_nothing() -> None:
    none = fished(bobbins_mud={"Auk": 12.0, "Tern": 9.0}).with_columns(damage_events=pl.lit(0))
    assert shared(none).cells["hidden"].is_not_null().sum() == 4


@pytest.mark.parametrize(
    ("spoilt", "says"),
    [
        ({"ground": None}, "ground is blank"),
        ({"vessel": None}, "vessel is blank"),
        ({"kg": -1.0}, "kg must be zero or more"),
        ({"kg": float("nan")}, "kg must be zero or more"),
        ({"damage_events": None}, "damage_events must be zero or more"),
        ({"tow_hours": 0.0}, "tow_hours must be more than zero"),
    ],
)
def test_what_no_cell_can_be_made_of_is_refused(spoilt: dict[str, object], says: str) -> None:
    contributions = fished()
    columns = [
        pl.lit(value, contributions[name].dtype).alias(name) for name, value in spoilt.items()
    ]
    with pytest.raises(ValueError, match=re.escape(says)):
        shared(pl.concat([contributions, contributions[:1].with_columns(columns)]))


def test_no_rows_are_refused() -> None:
    with pytest.raises(ValueError, match="no rows"):
        shared(fished()[:0])


def test_boats_have_letters_of_which_none_says_which_boat() -> None:
    called = [letters(BOATS, [], chance(seed)) for seed in range(200)]
    for each in called:
        assert sorted(each) == sorted(BOATS)
        assert sorted(each.values()) == ["A", "B", "C", "D"]
    assert {each["Auk"] for each in called} == {"A", "B", "C", "D"}
    assert len({tuple(sorted(each.items())) for each in called}) == 24


def test_letters_hang_on_the_seed_and_not_on_the_order_of_boats() -> None:
    assert letters(BOATS, [], chance(2**100)) == letters(BOATS[::-1], [], chance(2**100))


def test_a_boat_that_consents_keeps_its_name_and_no_other_is_called_so() -> None:
    called = letters(["A", *BOATS], ["A", "Tern", "Gull"], chance(5))
    assert called["A"] == "A"
    assert called["Tern"] == "Tern"
    assert sorted(called[boat] for boat in ("Auk", "Skua", "Teal")) == ["B", "C", "D"]


def test_after_z_come_two_letters() -> None:
    boats = [f"boat {at}" for at in range(28)]
    assert sorted(letters(boats, [], chance(1)).values(), key=lambda a: (len(a), a))[-3:] == [
        "Z",
        "AA",
        "AB",
    ]
