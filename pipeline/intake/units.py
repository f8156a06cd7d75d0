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
"""Column unit → unit in the file → factor. `h:min` and `degree minute` are ways of writing."""
