"""Seasons of torn nets for the tests, and what is found of them as the report gets it."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any, Literal

import polars as pl

from pipeline.damage.compared_parts import rigs_side_by_side
from pipeline.damage.where_and_why import where_and_why
from pipeline.joining.database import Database
from pipeline.joining.list_places import list_places

if TYPE_CHECKING:
    from pipeline.damage.found import WhereAndWhy

SCHEMA = {
    "row": pl.Int64,
    "vessel": pl.String,
    "trip": pl.String,
    "haul": pl.String,
    "rig_version": pl.String,
    "ground": pl.String,
    "tow_hours": pl.Float64,
    "damage_events": pl.Int64,
    "parts": pl.String,
    "side": pl.String,
    "cause": pl.String,
    "damage_note": pl.String,
}


def found_in(
    hauls: pl.DataFrame, reference: str = "rope", errors: Literal["trip", "model"] = "trip"
) -> WhereAndWhy:
    """Where and why the nets of those hauls tore; columns that they lack are blank."""
    lacking = [pl.lit(None, kind).alias(n) for n, kind in SCHEMA.items() if n not in hauls.columns]
    haul_damage = hauls.with_columns(lacking)
    with Database() as database:
        database.put("haul_damage", haul_damage)
        database.put("list_places", list_places(haul_damage))
        parts, causes = database.make("damage_parts"), database.make("damage_causes")
    fished = haul_damage.drop_nulls(["damage_events", "rig_version"]).with_columns(
        pl.col("ground").fill_null("unknown"),
        hauls=pl.lit(1),
        stretch=pl.lit("not dated"),
    )
    return where_and_why(
        haul_damage,
        parts,
        causes,
        side_by_side=rigs_side_by_side(fished, reference),
        reference=reference,
        errors=errors,
    )


def findings_of(hauls: pl.DataFrame, reference: str = "rope") -> dict[str, Any]:
    """As much of the findings as the section reads."""
    return {"damage": asdict(found_in(hauls, reference))}


def season(rigs: list[str], *, damaged: bool = True, note: str = "came fast") -> pl.DataFrame:
    """Eight hauls a rig, four hours each, in four trips; every second one torn if `damaged`."""
    torn = ("wing", "wing;belly", "codend", None)
    rows = []
    for at, rig in enumerate(rigs):
        for haul in range(8):
            hit = damaged and haul % 2 == 0
            rows.append(
                {
                    "row": 8 * at + haul + 1,
                    "vessel": "Skua",
                    "trip": str(haul // 2),
                    "haul": str(haul),
                    "rig_version": rig,
                    "ground": "stones" if haul < 4 else "sand",
                    "tow_hours": 4.0,
                    "damage_events": int(hit),
                    "parts": torn[haul // 2] if hit else None,
                    "side": "port" if hit and haul == 0 else None,
                    "cause": "fast" if hit and haul < 4 else None,
                    "damage_note": note if hit else None,
                }
            )
    return pl.DataFrame(rows, schema=SCHEMA)
