"""The geometry of each rig version: where its fishing line hangs, and how large its gap is."""

from __future__ import annotations

from typing import TYPE_CHECKING

import polars as pl

from pipeline.rigs.line.geometry import (
    MM_PER_M,
    NO_TOGGLE_MM,
    TURN_RAD,
    gap_closed_at_slack_m,
    line_position,
    offset_length_m,
    spread_of_turn_m,
    turn_of_spread_rad,
)
from pipeline.rigs.weight.rig_weights import WHOLE

if TYPE_CHECKING:
    from collections.abc import Mapping

RIG_GEOMETRY_SCHEMA: dict[str, pl.DataType] = {
    "rig_version": pl.String(),
    "gear_diameter_mm": pl.Float64(),
    "toggle_mm": pl.Float64(),
    "slack_m": pl.Float64(),
    "turn_rad": pl.Float64(),
    "turn_from": pl.String(),
    "spread_m": pl.Float64(),
    "straight_aft_m": pl.Float64(),
    "angle_deg": pl.Float64(),
    "drop_back_mm": pl.Float64(),
    "height_mm": pl.Float64(),
    "gap_mm": pl.Float64(),
    "gap_from": pl.String(),
    "gap_by_geometry_mm": pl.Float64(),
    "gap_closed_at_slack_m": pl.Float64(),
    "lies": pl.String(),
    "assumes": pl.List(pl.String()),
}
"""A row is a rig version; null is not known.

`spread_m` is how far apart the wing ends are, as measured or as `turn_rad` has it.
`gear_diameter_mm` is that of the thickest part in the bosom, or of the whole where the bosom's is
not known. `slack_m` is the fishing line's length less the ground gear's. `turn_from`: wing end
spread, assumed. `straight_aft_m` is the slack with which the line lies straight aft. A measured
`gap_mm` goes before one that was worked out (`gap_from`: measured, worked out). `lies` is one of
`geometry.Lies`. `assumes` names what the row rests on, by the keys of `geometry.ASSUMPTIONS`.
"""

_SAID = ("gear_diameter_mm", "toggle_mm", "slack_m", "gap_mm")
_POSITION = ("lies", "angle_deg", "drop_back_mm", "height_mm")

Numbers = dict[str, float | None]


def rig_geometry(rig_versions: pl.DataFrame, rig_weights: pl.DataFrame) -> pl.DataFrame:
    """For each rig version of which something can be said a row of `RIG_GEOMETRY_SCHEMA`, by name.

    `rig_versions` has the columns of the season's table, `rig_weights` those of
    `RIG_WEIGHTS_SCHEMA`; it may have no rows.
    """
    diameters = {
        (row["rig_version"], row["section"]): row["largest_diameter_mm"]
        for row in rig_weights.to_dicts()
    }
    rows = []
    for version in rig_versions.to_dicts():
        name = version["rig_version"]
        in_the_bosom = diameters.get((name, "bosom"))
        diameter_mm = in_the_bosom or diameters.get((name, WHOLE))
        rows.append({"rig_version": name} | geometry_of(version, diameter_mm))
    table = pl.DataFrame(rows, schema=RIG_GEOMETRY_SCHEMA)
    said = pl.any_horizontal(pl.col(name).is_not_null() for name in _SAID)
    return table.filter(said).sort("rig_version")


def geometry_of(version: Mapping[str, object], gear_diameter_mm: float | None) -> dict[str, object]:
    """The columns of `RIG_GEOMETRY_SCHEMA` after the name, of one row of `rig_versions`."""
    known = _numbers(version)
    toggle_mm, slack_m = known["toggle_mm"], _slack_m(known)
    turn_rad, turn_assumes = _turn(known["wing_end_spread_m"], known["ground_gear_m"])
    row: dict[str, object] = dict.fromkeys(RIG_GEOMETRY_SCHEMA)
    del row["rig_version"]
    row |= {
        "gear_diameter_mm": gear_diameter_mm,
        "toggle_mm": toggle_mm,
        "slack_m": slack_m,
        "turn_rad": turn_rad,
        "turn_from": "wing end spread" if turn_assumes == "catenary" else "assumed",
        "spread_m": _spread(turn_rad, known["ground_gear_m"]),
        "gap_mm": known["gap_mm"],
        "gap_from": None if known["gap_mm"] is None else "measured",
        "assumes": [],
    }
    if toggle_mm is not None:
        row |= _on_toggles(toggle_mm, slack_m, turn_rad, gear_diameter_mm)
        row["assumes"] = _assumed(row, turn_assumes)
    if row["gap_mm"] is None and row["gap_by_geometry_mm"] is not None:
        row |= {"gap_mm": row["gap_by_geometry_mm"], "gap_from": "worked out"}
    return row


def _numbers(version: Mapping[str, object]) -> Numbers:
    wanted = ("fishing_line_m", "ground_gear_m", "toggle_mm", "gap_mm", "wing_end_spread_m")
    values = {name: version.get(name) for name in wanted}
    return {n: float(v) if isinstance(v, int | float) else None for n, v in values.items()}


def _slack_m(known: Numbers) -> float | None:
    """The difference of the two lengths, to the thousandth of a millimetre."""
    line_m, gear_m = known["fishing_line_m"], known["ground_gear_m"]
    return None if line_m is None or gear_m is None else round(line_m - gear_m, 6)


def _turn(spread_m: float | None, gear_m: float | None) -> tuple[float, str]:
    """The gear's turn, and what it rests on, by a key of `ASSUMPTIONS`."""
    if spread_m is None:
        return TURN_RAD, "usual turn"
    if gear_m is None:
        return TURN_RAD, "spread without a length"
    if spread_m >= gear_m:
        return TURN_RAD, "spread too wide"
    return turn_of_spread_rad(spread_m, gear_m), "catenary"


def _spread(turn_rad: float, gear_m: float | None) -> float | None:
    return None if gear_m is None else spread_of_turn_m(turn_rad, gear_m)


def _on_toggles(
    toggle_mm: float, slack_m: float | None, turn_rad: float, diameter_mm: float | None
) -> dict[str, object]:
    """What toggles of a known length allow, and where they hold the line if its slack is known."""
    row: dict[str, object] = {"straight_aft_m": offset_length_m(toggle_mm / MM_PER_M, turn_rad)}
    if diameter_mm is not None:
        row["gap_closed_at_slack_m"] = gap_closed_at_slack_m(toggle_mm, diameter_mm, turn_rad)
    if slack_m is not None or toggle_mm <= NO_TOGGLE_MM:
        position = line_position(toggle_mm, slack_m or 0.0, turn_rad, diameter_mm)
        row |= {name: getattr(position, name) for name in _POSITION}
        row["gap_by_geometry_mm"] = position.gap_mm
    return row


def _assumed(row: Mapping[str, object], turn_assumes: str) -> list[str]:
    """What a row with toggles rests on."""
    on_height = ["on the seabed", "largest diameter"] if row["gear_diameter_mm"] else []
    on_lean = ["even curve", "no sag"] if row["slack_m"] is not None else []
    return ["toggles from the core", *on_height, *on_lean, turn_assumes]
