"""How an amount that damage costs is said: its words, its unit, its figure with its interval."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from reports.parts import Row

DAMAGE_COST = "damage_cost"
TOTALS = ("mending_hours", "hours_lost", "mending_cost", DAMAGE_COST)
"""What damage costs, in the order in which it is told."""
ONE_ALONE = {"mending_cost": "mending only", "hours_lost": "hours lost only"}
"""What the cost of damage is where only that is known of a rig's tears."""

TO_THE_WHOLE, TO_A_TENTH = 10, 1


@dataclass(frozen=True)
class Amount:
    """The words of one amount: what it is, what it is hours or money of, its unit.

    `stuff` is what a tear takes more or less of.
    """

    title: str
    of: str
    unit: str
    stuff: str = ""

    def said(self, value: float | None) -> str:
        """The figure with its unit and what it is of: 22 hours of mending."""
        return f"{self.amount(value)} {self.of}"

    def amount(self, value: float | None) -> str:
        """The figure with its unit, where that has a name: 22 hours."""
        return f"{figure(value)} {self.unit}".rstrip()

    @property
    def heading(self) -> str:
        """The unit at the head of a column; a season may not name its currency."""
        return self.unit or "money"


def amount_words(name: str, currency: str) -> Amount:
    """The words of the amount of that name; raises `KeyError` if there is none."""
    return {
        "mending_hours": Amount("Mending", "of mending", "hours", "mending"),
        "hours_lost": Amount("Fishing time lost", "of fishing lost", "hours", "fishing time"),
        "mending_cost": Amount("Cost of mending", "for mending", currency, "mending money"),
        "damage_cost": Amount("Cost of damage", "for mending and hours lost", currency),
        "debris_kg": Amount("Stones and mud aboard", "of stones and mud", "kg"),
    }[name]


def figure(value: float | None) -> str:
    """A figure to two or three places: 0.31, 2.5, 22, 1,290; a dash where there is none."""
    if value is None:
        return "–"
    if value == 0:
        return "0"
    if round(value, 1) >= TO_THE_WHOLE:
        return f"{float(f'{value:.3g}'):,.0f}"
    return f"{value:.1f}" if round(value, 2) >= TO_A_TENTH else f"{value:.2g}"


def with_limits(estimate: Row) -> str:
    """A cell: the figure with its interval, 2.5 (2.1–3.0)."""
    if estimate["value"] is None or estimate["high"] is None:
        return figure(estimate["value"])
    return f"{figure(estimate['value'])} ({figure(estimate['low'])}–{figure(estimate['high'])})"


def alone(row: Row) -> str:
    """Which of the two the cost of damage is where it is one alone; else nothing."""
    if row["amount"] != DAMAGE_COST or len(row["components"]) > 1 or not row["told"]:
        return ""
    return ONE_ALONE[row["components"][0]]


def between(estimate: Row) -> str:
    """The interval in a sentence: between 2.1 and 3.0."""
    if estimate["high"] is None:
        return "too few to say how sure"
    return f"between {figure(estimate['low'])} and {figure(estimate['high'])}"
