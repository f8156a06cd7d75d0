"""The outcomes that are compared between rigs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True)
class Outcome:
    """Something that happens or is caught per hour towed.

    `said` is a sentence with places for {rig}, {amount} and {reference}; `less` and `more` are
    the words of an amount in it. `better` says which way a skipper would want it to go.
    `counted` outcomes are whole events, so that exact limits exist for them. `matters` is the
    ratio beyond which a difference is worth knowing, either way: an interval within it shows that
    there is none. This project's own judgement; no source.
    """

    name: str
    title: str
    unit: str
    said: str
    less: str
    more: str
    better: Literal["lower", "higher"]
    counted: bool = False
    matters: float = 1.25


CAUGHT = "{{rig}} caught {{amount}} {} per hour than {{reference}}"

OUTCOMES = (
    Outcome(
        "damage_events",
        "Net damage",
        "times",
        "{rig} damaged the net {amount} per hour towed than {reference}",
        "less often",
        "more often",
        "lower",
        counted=True,
        matters=2.0,
    ),
    Outcome(
        "mending_hours",
        "Mending",
        "hours",
        "{rig} cost {amount} mending per hour towed than {reference}",
        "less",
        "more",
        "lower",
        matters=2.0,
    ),
    Outcome(
        "hours_lost",
        "Fishing time lost",
        "hours",
        "{rig} cost {amount} fishing time per hour towed than {reference}",
        "less",
        "more",
        "lower",
        matters=2.0,
    ),
    Outcome(
        "mending_cost",
        "Cost of mending",
        "",
        "{rig} cost {amount} mending money per hour towed than {reference}",
        "less",
        "more",
        "lower",
        matters=2.0,
    ),
    Outcome(
        "debris_kg",
        "Stones and mud aboard",
        "kg",
        "{rig} brought {amount} stones and mud aboard per hour than {reference}",
        "less",
        "more",
        "lower",
        matters=2.0,
    ),
    Outcome(
        "bottom_living_kg",
        "Bottom-living fish",
        "kg",
        CAUGHT.format("bottom-living fish"),
        "less",
        "more",
        "higher",
    ),
    Outcome("other_kg", "Other fish", "kg", CAUGHT.format("other fish"), "less", "more", "higher"),
    Outcome(
        "value",
        "Value of the catch",
        "",
        "{rig} earned {amount} per hour towed than {reference}",
        "less",
        "more",
        "higher",
    ),
)

MONEY = ("value", "mending_cost")
"""The outcomes that are in the season's currency."""

HEADLINES = ("damage_events", "bottom_living_kg")
"""The outcomes that the report's first screen speaks of."""

SPECIES_PREFIX = "kg:"


def outcome(name: str, species_names: dict[str, str] | None = None) -> Outcome:
    """The outcome of that name; `kg:CODE` is the weight of one species.

    Raises `KeyError` if there is none.
    """
    if name.startswith(SPECIES_PREFIX):
        code = name.removeprefix(SPECIES_PREFIX)
        title = (species_names or {}).get(code) or code
        shown = title[:1].upper() + title[1:]
        return Outcome(name, shown, "kg", CAUGHT.format(title), "less", "more", "higher")
    return fixed_outcome(name)


def fixed_outcome(name: str) -> Outcome:
    """The fixed outcome of that name; raises `KeyError` if there is none."""
    for candidate in OUTCOMES:
        if candidate.name == name:
            return candidate
    raise KeyError(name)
