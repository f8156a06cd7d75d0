"""Units as they are spoken on deck: what the season's `[units]` ask for on the skipper's page.

`findings.json` stays in kilos, metres and millimetres. The factors are those that a season is
read with (`pipeline/intake/units.py`: international yard and pound agreement of 1959).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from pipeline.intake.units import UNITS
from reports.language import say
from schemas.outcomes import BY_NUMBER, SPECIES_PREFIX
from schemas.settings import Units
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

FISH = ("bottom_living_kg", "other_kg")
OF_A_RATE = ("rate", "reference_rate", "low", "high", "total")
WORDS = {"stone": saying("stone"), "fathom": saying("fathoms")}
"""The units whose words are not the signs that all languages share."""


class Unit(NamedTuple):
    """A unit by its English word, which is said where it is told, and how much of ours it is."""

    word: str
    in_ours: float

    def of(self, value: float) -> float:
        """The value, which is in our unit, in this one."""
        return value / self.in_ours


def fish_weight(findings: Findings) -> Unit:
    """What fish are weighed in: kilos or stones."""
    name = findings["season"]["units"]["weight"]
    return Unit(WORDS.get(name, name), UNITS["kg"][name])


def depth(findings: Findings) -> Unit:
    """What depth is told in: metres or fathoms."""
    name = findings["season"]["units"]["depth"]
    return Unit(WORDS.get(name, name), UNITS["m"][name])


def size_words(findings: Findings, value_mm: float) -> str:
    """A size of a part of the gear, with its unit: whole millimetres, or tenths of an inch."""
    if findings["season"]["units"]["size"] == "mm":
        return say("{size:,.0f} mm", size=value_mm)
    return say("{size:,.1f} in", size=value_mm / UNITS["mm"]["in"])


def on_deck(findings: Findings) -> Findings:
    """The findings with every rate of fish in the season's own unit of weight.

    A ratio is the same in any unit, and an interval of one is left as it is.
    """
    unit = fish_weight(findings)
    return {
        **findings,
        "outcomes": [
            {**outcome, "unit": unit.word} if _is_fish(outcome["name"]) else outcome
            for outcome in map(_called, findings["outcomes"])
        ],
        "rates": [_in_unit(row, unit, OF_A_RATE) for row in findings["rates"]],
        "by_year": [_in_unit(row, unit, OF_A_RATE) for row in findings["by_year"]],
        "on_the_mix": [_in_unit(row, unit, OF_A_RATE[:2]) for row in findings["on_the_mix"]],
    }


def as_recorded(findings: Findings) -> Findings:
    """The findings in kilos, metres and millimetres, whatever the season asks for."""
    return {
        **findings,
        "season": {**findings["season"], "units": Units().model_dump()},
        "outcomes": [_called(outcome) for outcome in findings["outcomes"]],
    }


def _called(outcome: Row) -> Row:
    """The outcome; a species that is a number only is called so in the language of the page."""
    code = outcome["name"].removeprefix(SPECIES_PREFIX)
    if outcome["name"] == code or outcome["fish"] != BY_NUMBER.format(code=code):
        return outcome
    fish = say(BY_NUMBER, code=code)
    return {**outcome, "fish": fish, "title": f"{fish[:1].upper()}{fish[1:]}"}


def _is_fish(outcome: str) -> bool:
    return outcome in FISH or outcome.startswith(SPECIES_PREFIX)


def _in_unit(row: Row, unit: Unit, names: tuple[str, ...]) -> Row:
    if not _is_fish(row["outcome"]):
        return row
    return row | {name: unit.of(row[name]) for name in names if row.get(name) is not None}
