"""What is true of an invented season: ratios between rigs, effects of ground, boat and time."""

from collections.abc import Sequence

import polars as pl

from synthetic_data import scene
from synthetic_data.boat_tables import rig_names
from synthetic_data.fleet import Boat
from synthetic_data.scene import BOTTOM_LIVING, GROUNDS, OTHER_FISH, RIG_VERSIONS

Truth = dict[str, int | dict[str, int] | dict[str, float] | dict[str, list[str]]]


def true_effects(fleet: list[Boat]) -> Truth:
    """Return the true ratio of every rig version to the reference, and the other effects.

    Mending hours and hours lost follow damage: each damaged haul takes the same on average,
    whatever the rig.
    """
    damage = {rig.name: rig.damage for rig in RIG_VERSIONS}
    quarters = {
        "damage_events": scene.QUARTER_DAMAGE,
        "debris_kg": scene.QUARTER_DEBRIS,
        "bottom_living_kg": scene.QUARTER_BOTTOM_LIVING,
        "other_kg": scene.QUARTER_OTHER,
    }
    effects: Truth = {
        "species": {
            "bottom_living": [s.code for s in BOTTOM_LIVING],
            "other": [s.code for s in OTHER_FISH],
        },
        "damage_events": damage,
        "mending_hours": damage,
        "hours_lost": damage,
        "debris_kg": {rig.name: rig.debris for rig in RIG_VERSIONS},
        "bottom_living_kg": {rig.name: rig.bottom_living for rig in RIG_VERSIONS},
        "other_kg": {rig.name: 1.0 for rig in RIG_VERSIONS},
        "ground.damage_events": {ground.word: ground.damage for ground in GROUNDS},
        "ground.debris_kg": {ground.word: ground.debris for ground in GROUNDS},
        "ground.bottom_living_kg": {ground.word: ground.bottom_living for ground in GROUNDS},
        "ground.other_kg": {ground.word: ground.other for ground in GROUNDS},
        "vessel.damage_events": {boat.name: round(boat.damage, 4) for boat in fleet},
        "tide.damage_events": {"neaps": 1.0, "springs": scene.SPRINGS_DAMAGE},
    }
    for outcome, by_quarter in quarters.items():
        effects[f"quarter.{outcome}"] = _by_quarter(by_quarter)
    return effects


def known_hauls(
    hauls: pl.DataFrame, notes: pl.DataFrame, catches: pl.DataFrame, fleet: list[Boat]
) -> pl.DataFrame:
    """Return one row per good haul with what the log may not say: rig, damage, hours, kg."""
    bottom_living = [s.code for s in BOTTOM_LIVING]
    caught = pl.col("kept_kg") + pl.col("discarded_kg")
    is_bottom_living = pl.col("species").is_in(bottom_living)
    kg = catches.group_by("haul_row").agg(
        bottom_living_kg=caught.filter(is_bottom_living).sum(),
        other_kg=caught.filter(~is_bottom_living).sum(),
    )
    return (
        hauls.with_row_index("haul_row")
        .with_columns(pl.col("haul_row").cast(pl.Int64))
        .join(kg, on="haul_row", how="left", maintain_order="left")
        .with_columns(notes)
        .select(
            _word("boat", [boat.name for boat in fleet]).alias("vessel"),
            pl.col("trip", "haul").cast(pl.String),
            _word("rig", rig_names().to_list()).alias("rig_version"),
            _word("ground", [ground.word for ground in GROUNDS]).alias("ground"),
            pl.col("quarter") + 1,
            "shot_at",
            tow_hours=pl.col("tow_minutes") / 60,
            valid="valid",
            damaged="damaged",
            mending_hours="mending_hours",
            hours_lost="hours_lost",
            debris_kg="debris_kg",
            bottom_living_kg=pl.col("bottom_living_kg").fill_null(0.0),
            other_kg=pl.col("other_kg").fill_null(0.0),
            note="note",
            note_kind="note_kind",
        )
    )


def _by_quarter(effects: Sequence[float]) -> dict[str, float]:
    """Name each quarter's effect."""
    return {str(quarter): effect for quarter, effect in enumerate(effects, start=1)}


def _word(column: str, words: list[str]) -> pl.Expr:
    """Word for each number in the column."""
    return pl.col(column).replace_strict(range(len(words)), words)
