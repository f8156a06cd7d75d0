"""Units that a season may be written in, as factors to the column's own unit.

Factors are exact by definition: international yard and pound agreement of 1959, the
international nautical mile (1852 m); a fathom is two yards, a stone is fourteen pounds.
The tests hold each one to `pint`.
"""

from __future__ import annotations

UNITS: dict[str, dict[str, float]] = {
    "h": {"h": 1.0, "min": 1 / 60, "s": 1 / 3600, "day": 24.0, "h:min": 1.0},
    "m": {"m": 1.0, "fathom": 1.8288, "ft": 0.3048, "cm": 0.01, "mm": 0.001, "km": 1000.0},
    "mm": {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8},
    "cm": {"cm": 1.0, "mm": 0.1, "m": 100.0, "in": 2.54},
    "kg": {"kg": 1.0, "g": 0.001, "t": 1000.0, "lb": 0.45359237, "stone": 6.35029318},
    "kn": {"kn": 1.0, "m/s": 3600 / 1852, "km/h": 1000 / 1852},
    "kW": {"kW": 1.0, "hp": 0.74569987158227022, "metric_hp": 0.73549875},
    "degree": {"degree": 1.0, "degree minute": 1.0},
}
"""Column unit → unit in the file → factor."""

WAYS_OF_WRITING = ("h:min", "degree", "degree minute")
"""These say how a number is written, and stand behind none."""

SPELT: dict[str, tuple[str, ...]] = {
    "h": ("hr", "hrs", "hour", "hours"),
    "min": ("mins", "minute", "minutes"),
    "day": ("days",),
    "m": ("metre", "metres", "meter", "meters", "mtr", "mtrs"),
    "fathom": ("fathoms", "fath", "fms", "fm", "fa"),
    "ft": ("foot", "feet", "'"),
    "in": ("inch", "inches", "ins", '"', "\u201d"),
    "kg": ("kgs", "kilo", "kilos"),
    "t": ("tonne", "tonnes"),
    "lb": ("lbs", "pound", "pounds"),
    "stone": ("stones", "st"),
    "kn": ("knot", "knots", "kt", "kts"),
}
"""Unit → how it is written behind a number in a cell. Common practice, no source."""


def factors_of_spellings(column_unit: str) -> dict[str, float]:
    """What a number is to be multiplied by for each way that a unit is written behind it."""
    factors = UNITS.get(column_unit, {})
    return {
        spelling: factor
        for unit, factor in factors.items()
        for spelling in (unit.lower(), *SPELT.get(unit, ()))
        if unit not in WAYS_OF_WRITING
    }
