"""Student's t for whole degrees of freedom, without a library."""

from __future__ import annotations

from math import cos, pi, sin, sqrt, tan

INSIDE = 0.95
_HALVINGS = 60
"""A right angle halved so often is less than the last digit of a float."""


def t_95(degrees: int) -> float:
    """The t that 95 % of Student's distribution with that many degrees of freedom lies within.

    Raises `ValueError` below one degree. Source: Abramowitz & Stegun, Handbook of Mathematical
    Functions, 1964, 26.7.3 and 26.7.4 (exact for whole degrees), solved by halving.
    """
    if degrees < 1:
        raise ValueError(f"{degrees} degrees of freedom are less than one")
    low, high = 0.0, pi / 2
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if _share_inside(middle, degrees) < INSIDE:
            low = middle
        else:
            high = middle
    return sqrt(degrees) * tan(low)


def _share_inside(angle: float, degrees: int) -> float:
    """The share of the distribution within ± √degrees × tan(angle)."""
    is_odd = degrees % 2 == 1
    term = cos(angle) if is_odd else 1.0
    total = term if degrees > 1 else 0.0
    for power in range(3 if is_odd else 2, degrees - 1, 2):
        term *= cos(angle) ** 2 * (power - 1) / power
        total += term
    inside = sin(angle) * total
    return 2 / pi * (angle + inside) if is_odd else inside
