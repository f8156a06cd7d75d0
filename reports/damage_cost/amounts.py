"""How an amount that damage costs is said: its words, its unit, its figure with its interval."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from reports.language import number, say
from schemas.words import saying

if TYPE_CHECKING:
    from reports.parts import Row

DAMAGE_COST = "damage_cost"
TOTALS = ("mending_hours", "hours_lost", "mending_cost", DAMAGE_COST)
"""What damage costs, in the order in which it is told."""
ONE_ALONE = {"mending_cost": saying("mending only"), "hours_lost": saying("hours lost only")}
"""What the cost of damage is where only that is known of a rig's tears."""

TO_THE_WHOLE, TO_A_TENTH = 10, 1


@dataclass(frozen=True)
class Words:
    """How one amount is worded: what it is, and what it is hours or money of."""

    title: str
    of: str
    of_a_tear: str


WORDS = {
    "mending_hours": Words(
        saying("Mending"), saying("{amount} of mending"), saying("{unit} of mending a tear")
    ),
    "hours_lost": Words(
        saying("Fishing time lost"),
        saying("{amount} of fishing lost"),
        saying("{unit} of fishing lost a tear"),
    ),
    "mending_cost": Words(
        saying("Cost of mending"),
        saying("{amount} for mending"),
        saying("{unit} for mending a tear"),
    ),
    DAMAGE_COST: Words(
        saying("Cost of damage"),
        saying("{amount} for mending and hours lost"),
        saying("{unit} for mending and hours lost a tear"),
    ),
}
IN_HOURS = ("mending_hours", "hours_lost")


@dataclass(frozen=True)
class Amount:
    """What is said of one amount, in its unit; a season may not name its currency."""

    words: Words
    unit: str

    @property
    def title(self) -> str:
        """What it is, within a sentence: cost of damage."""
        return say(self.words.title).lower()

    @property
    def heading(self) -> str:
        """The unit at the head of a column."""
        return self.unit or say("money")

    @property
    def of_a_tear(self) -> str:
        """What a tear takes, at the head of a column: hours of mending a tear."""
        return say(self.words.of_a_tear, unit=self.heading)

    def amount(self, value: float | None) -> str:
        """The figure with its unit, where that has a name: 22 hours."""
        return f"{figure(value)} {self.unit}".rstrip()

    def said(self, value: float | None) -> str:
        """The figure with its unit and what it is of: 22 hours of mending."""
        return say(self.words.of, amount=self.amount(value))


def amount_words(name: str, currency: str) -> Amount:
    """The words of the amount of that name; raises `KeyError` if there is none."""
    return Amount(WORDS[name], say("hours") if name in IN_HOURS else currency)


def figure(value: float | None) -> str:
    """A figure to two or three places: 0.31, 2.5, 22, 1,290; a dash where there is none."""
    if value is None:
        return "–"
    if value == 0:
        return "0"
    if round(value, 1) >= TO_THE_WHOLE:
        return number(float(f"{value:.3g}"), ",.0f")
    return number(value, ".1f" if round(value, 2) >= TO_A_TENTH else ".2g")


def with_limits(estimate: Row) -> str:
    """A cell: the figure with its interval, 2.5 (2.1–3.0)."""
    if estimate["value"] is None or estimate["high"] is None:
        return figure(estimate["value"])
    return f"{figure(estimate['value'])} ({figure(estimate['low'])}–{figure(estimate['high'])})"


def alone(row: Row) -> str:
    """Which of the two the cost of damage is where it is one alone; else nothing."""
    if row["amount"] != DAMAGE_COST or len(row["components"]) > 1 or not row["told"]:
        return ""
    (component,) = row["components"]
    return say(ONE_ALONE[component])


def between(estimate: Row) -> str:
    """The interval in a sentence: between 2.1 and 3.0."""
    if estimate["high"] is None:
        return say("too few to say how sure")
    return between_ends(estimate)


def between_ends(estimate: Row) -> str:
    """The interval, where there is one."""
    low, high = figure(estimate["low"]), figure(estimate["high"])
    return say("between {low} and {high}", low=low, high=high)
