"""How the weights of a rig's sections are written: how sure they are, and that more is wanting."""

from __future__ import annotations

from typing import Any

from pipeline.rigs.swap.weight_changes import SURE_SDS

Row = dict[str, Any]

HOLDS = "± holds 19 times in 20"

_ONE_DECIMAL_BELOW_KG = 9.95


def in_air(row: Row) -> str:
    """Mass in air in kg, without its unit."""
    return f"{_least(row)}{kg(row['mass_air_kg'])}"


def in_water(row: Row, least: str = "at least ") -> str:
    """Weight in sea water in kg with what it may be off by, without its unit."""
    weight, error = row["weight_water_kg"], SURE_SDS * row["weight_sd_kg"]
    # A whole number may not seem to be exact.
    off_by = kg(error) if abs(weight) < _ONE_DECIMAL_BELOW_KG else f"{max(1.0, error):z,.0f}"
    return f"{_least(row, least)}{kg(weight)} ± {off_by}"


def a_metre(row: Row, least: str = "at least ") -> str:
    """Weight in sea water of a metre of gear in kg, without its unit; nothing if not known."""
    weight = row["weight_water_kg_per_m"]
    return "" if weight is None else f"{_least(row, least)}{kg(weight)}"


def kg(value: float) -> str:
    """Kilograms, from 10 up without decimals."""
    return f"{value:z.1f}" if abs(value) < _ONE_DECIMAL_BELOW_KG else f"{value:z,.0f}"


def _least(row: Row, least: str = "at least ") -> str:
    return least if row["at_least"] else ""
