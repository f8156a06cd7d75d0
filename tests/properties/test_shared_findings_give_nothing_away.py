"""Nobody can solve for a hidden cell from the co-op's findings as they are printed."""

from __future__ import annotations

from typing import Any

import polars as pl
import pytest

from pipeline.sharing.contributions import AMOUNTS, MEASURES, TABLES
from pipeline.sharing.shared_findings import OF_AN_OUTCOME, shared_findings
from tests.proofs.hidden_cells_over_seasons import season, told
from tests.proofs.table_reader import equations

COLUMNS = ["rig_version", "ground"]
SEASONS = 30
DAMAGE = dict.fromkeys(OF_AN_OUTCOME) | {"name": "damage_events", "better": "lower"}


def as_recorded(rows: pl.DataFrame) -> pl.DataFrame:
    """The season with every outcome recorded by half of the boats' hours or all of them."""
    half = pl.when(pl.col("vessel").str.ends_with("1")).then(0.5).otherwise(1.0)
    by_boat = rows.group_by("vessel", *COLUMNS).agg(
        pl.col("tow_hours").sum(), pl.col("damage_events").sum(), pl.col("kg").sum()
    )
    return by_boat.with_columns(
        pl.lit(1).alias("hauls"),
        (half * pl.col("tow_hours")).alias("damage_hours"),
        pl.col("tow_hours").alias("catch_hours"),
        pl.col("kg").alias("bottom_living_kg"),
        (2 * pl.col("kg")).alias("other_kg"),
    ).select("vessel", *COLUMNS, "tow_hours", *MEASURES)


def bare(rows: pl.DataFrame) -> dict[str, object]:
    """Findings of a season of which nothing was found but where rigs were fished."""
    rigs = rows["rig_version"].unique().sort().to_list()
    return {
        "season": {
            "title": "A season",
            "reference_rig": rigs[0],
            "grounds": rows["ground"].unique().sort().to_list(),
            "vessels": rows["vessel"].unique().sort().to_list(),
            "first_day": None,
            "last_day": None,
            "headlines": [],
        },
        "outcomes": [],
        "rigs": [{"rig_version": rig, "is_reference": rig == rigs[0]} for rig in rigs],
        "effects": [],
        "boats": [],
        "set_aside": [],
        "sensitivity": [],
        "records": [{"outcome": "damage_events", "hauls": len(rows), "recorded": 0}],
        "notes": {"supposed": []},
    }


def exact(rows: pl.DataFrame, key: tuple[str | None, ...], measure: str) -> float:
    """What a cell has, before it is told to three figures."""
    of_cell = (pl.col(c) == v for c, v in zip(COLUMNS, key, strict=True) if v is not None)
    return float(rows.filter(pl.all_horizontal(pl.lit(value=True), *of_cell))[measure].sum())


def recorded_and_shared(seed: int) -> tuple[pl.DataFrame, dict[str, Any]]:
    made, _, rules = season(seed)
    rows = as_recorded(made)
    hours = pl.DataFrame(schema={"outcome": pl.String})
    return rows, shared_findings(bare(rows), rows, hours, [], rules, seed)


@pytest.mark.parametrize("seed", range(SEASONS))
def test_no_hidden_cell_can_be_solved_for_even_from_exact_sums(seed: int) -> None:
    rows, shared = recorded_and_shared(seed)
    keys = {(cell["rig"], cell["ground"]): cell["shown"] for cell in shared["cells"]}
    tried = 0
    for measure in ("tow_hours", "damage_hours", *AMOUNTS):
        seen = {key: exact(rows, key, measure) if shown else None for key, shown in keys.items()}
        if not rows[measure].sum():
            continue
        read = equations(seen, TABLES, COLUMNS)
        for key, (low, high) in zip(
            read.unknown, read.bounds([[key] for key in read.unknown]), strict=True
        ):
            assert not told(exact(rows, key, measure), low, high, measure)
            tried += 1
    assert bool(tried) == bool(shared["sharing"]["hidden"])


@pytest.mark.parametrize("seed", range(SEASONS))
def test_sums_are_told_to_three_figures_so_no_decimals_tell_whose_they_are(seed: int) -> None:
    rows, shared = recorded_and_shared(seed)
    for cell in (cell for cell in shared["cells"] if cell["shown"]):
        for measure in ("tow_hours", "damage_hours", "catch_hours", *AMOUNTS):
            true = exact(rows, (cell["rig"], cell["ground"]), measure)
            assert cell[measure] == pytest.approx(true, rel=0.005)
            assert float(f"{cell[measure]:.3g}") == cell[measure]


@pytest.mark.parametrize("seed", range(SEASONS))
def test_of_hauls_that_few_boats_left_silent_no_number_is_told(seed: int) -> None:
    _, shared = recorded_and_shared(seed)  # silent hours are of one boat
    assert shared["unknown_damage"] == {"any": True, "hauls": None, "ratios": []}


def test_where_few_boats_recorded_it_a_cell_is_hidden_though_many_fished() -> None:
    boats = [f"boat {at}" for at in range(5)]
    rows = pl.DataFrame(
        [
            {
                "vessel": boat,
                "rig_version": rig,
                "ground": ground,
                "tow_hours": 10.0,
                "hauls": 3,
                "damage_hours": 10.0 if ground == "sand" or boat == "boat 1" else 0.0,
                "catch_hours": 10.0,
                "damage_events": 1.0,
                "bottom_living_kg": 5.0,
                "other_kg": 5.0,
            }
            for boat in boats
            for rig in ("bobbins", "discs", "rope")
            for ground in ("mud", "sand", "stones")
        ]
    )
    rules = season(0)[2].model_copy(update={"min_vessels": 3, "max_share": 0.8})
    hours = pl.DataFrame(schema={"outcome": pl.String})
    shared = shared_findings(bare(rows), rows, hours, [], rules, 0)
    hidden = {cell["ground"] for cell in shared["cells"] if not cell["shown"]}
    assert {"mud", "stones"} <= hidden
    assert "damage or catch was recorded on too few boats" in shared["sharing"]["said"]


@pytest.mark.parametrize(("cautions", "told"), [([], 0.8), (["not side by side"], None)])
def test_no_ratio_goes_round_of_rigs_that_were_not_side_by_side(
    cautions: list[str], told: float | None
) -> None:
    boats = [f"boat {at}" for at in range(5)]
    cells = [
        {
            "vessel": boat,
            "rig_version": rig,
            "ground": "sand",
            "tow_hours": 10.0,
            "hauls": 3,
            "damage_hours": 10.0,
            "catch_hours": 10.0,
            "damage_events": 1.0,
            "bottom_living_kg": 5.0,
            "other_kg": 5.0,
        }
        for boat in boats
        for rig in ("bobbins", "discs")
    ]
    rows = pl.DataFrame(cells)
    effect = {
        "outcome": "damage_events",
        "rig": "discs",
        "reference": "bobbins",
        "ground": "all",
        "part": "whole record",
        "ratio": 0.8,
        "low": 0.7,
        "high": 0.9,
        "verdict": "lower",
        "verdict_alone": "lower",
        "cautions": cautions,
        "adjusted_for": [],
    }
    found = bare(rows) | {"effects": [effect], "outcomes": [DAMAGE]}
    hours = rows.with_columns(pl.lit("damage_events").alias("outcome"))
    rules = season(0)[2].model_copy(update={"min_vessels": 3, "max_share": 0.8})
    shared = shared_findings(found, rows, hours, [], rules, 0)
    assert [each["ratio"] for each in shared["effects"]] == [told]
