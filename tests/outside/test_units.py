"""Units that a season may be written in, against the unit library pint and printed definitions."""

from __future__ import annotations

import pint
import pytest

from pipeline.intake.units import UNITS

REGISTRY = pint.UnitRegistry()

# What pint calls the units whose names of ours differ; the rest are called alike.
PINT_NAMES = {
    "ft": "international_foot",
    "in": "inch",
    "fathom": "2 * yard",  # pint's fathom is of US survey feet; ours is two international yards
    "kn": "knot",
    "km/h": "kilometer / hour",
    "m/s": "meter / second",
    "h": "hour",
    "min": "minute",
    "s": "second",
    "t": "metric_ton",
    "lb": "pound",
    "hp": "horsepower",
    "metric_hp": "metric_horsepower",
}

WAYS_OF_WRITING = {("h", "h:min"), ("degree", "degree minute")}
"""Not units: the cell is written in two parts, and is in the column's unit once it is read."""

FACTORS = [
    (column, unit, factor) for column, known in UNITS.items() for unit, factor in known.items()
]


@pytest.mark.parametrize(("column", "unit", "factor"), FACTORS)
def test_every_factor_is_that_of_pint(column: str, unit: str, factor: float) -> None:
    if (column, unit) in WAYS_OF_WRITING:
        assert factor == 1.0
        return
    one = REGISTRY.parse_expression(PINT_NAMES.get(unit, unit))
    expected = one.to(PINT_NAMES.get(column, column)).magnitude
    assert factor == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("column", "unit", "factor"),
    [
        ("m", "fathom", 1.8288),  # two yards of 0.9144 m, agreement of 1959
        ("kg", "lb", 0.45359237),  # pound, agreement of 1959
        ("kg", "stone", 6.35029318),  # fourteen pounds
    ],
)
def test_old_units_are_as_defined(column: str, unit: str, factor: float) -> None:
    assert UNITS[column][unit] == factor


def test_a_knot_is_a_nautical_mile_an_hour() -> None:
    # International nautical mile, 1852 m (International Hydrographic Conference, Monaco 1929).
    assert UNITS["kn"]["km/h"] * 1.852 == pytest.approx(1, rel=1e-15)
    assert UNITS["kn"]["m/s"] * 1852 / 3600 == pytest.approx(1, rel=1e-15)
