"""How the weights of a rig's sections are written: how sure they are, and that more is wanting."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.rigs.swap.weight_changes import SURE_SDS
from reports.language import number, say
from schemas.words import saying

if TYPE_CHECKING:
    from reports.parts import Row

HOLDS = saying("± holds 19 times in 20")
AT_LEAST = saying("at least {kilos}")
"""How a weight is written of which more is wanting."""

_ONE_DECIMAL_BELOW_KG = 9.95


def in_air(row: Row) -> str:
    """Mass in air in kg, without its unit."""
    return _least(row, kg(row["mass_air_kg"]), AT_LEAST)


def kilos(figure: str) -> str:
    """The figure, which one of the others wrote, with its unit."""
    return say("{figure} kg", figure=figure)


def in_water(row: Row, least: str = AT_LEAST) -> str:
    """Weight in sea water in kg with what it may be off by, without its unit."""
    weight, error = row["weight_water_kg"], SURE_SDS * row["weight_sd_kg"]
    # A whole number may not seem to be exact.
    off_by = kg(error) if abs(weight) < _ONE_DECIMAL_BELOW_KG else number(max(1.0, error), "z,.0f")
    return _least(row, f"{kg(weight)} ± {off_by}", least)


def a_metre(row: Row, least: str = AT_LEAST) -> str:
    """Weight in sea water of a metre of gear in kg, without its unit; nothing if not known."""
    weight = row["weight_water_kg_per_m"]
    return "" if weight is None else _least(row, kg(weight), least)


def kg(value: float) -> str:
    """Kilograms, from 10 up without decimals."""
    return number(value, "z.1f" if abs(value) < _ONE_DECIMAL_BELOW_KG else "z,.0f")


def _least(row: Row, weight: str, least: str) -> str:
    return say(least, kilos=weight) if row["at_least"] else weight
