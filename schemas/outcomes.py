"""The outcomes that are compared between rigs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from schemas.words import saying


@dataclass(frozen=True)
class Outcome:
    """Something that happens or is caught per hour towed.

    `said` is a sentence with places for {rig}, {amount} and {reference}, and `said_of_times` the
    same where the amount is so many times as much; of one species both have a place for {fish},
    its name as the season writes it.
    `less` and `more` are the words of an amount. `better` says which way a skipper would want it
    to go. `counted` outcomes are whole events, so that exact limits exist for them. `matters` is
    the ratio beyond which a difference is worth knowing, either way: an interval within it shows
    that there is none. This project's own judgement; no source.
    """

    name: str
    title: str
    unit: str
    said: str
    said_of_times: str
    less: str
    more: str
    better: Literal["lower", "higher"]
    counted: bool = False
    matters: float = 1.25
    fish: str = ""


OUTCOMES = (
    Outcome(
        "damage_events",
        saying("Net damage"),
        saying("times"),
        saying("{rig} damaged the net {amount} per hour towed than {reference}"),
        saying("{rig} damaged the net {amount} per hour towed as {reference}"),
        saying("less often"),
        saying("more often"),
        "lower",
        counted=True,
        matters=2.0,
    ),
    Outcome(
        "mending_hours",
        saying("Mending"),
        saying("hours"),
        saying("{rig} cost {amount} mending per hour towed than {reference}"),
        saying("{rig} cost {amount} mending per hour towed as {reference}"),
        saying("less"),
        saying("more"),
        "lower",
        matters=2.0,
    ),
    Outcome(
        "hours_lost",
        saying("Fishing time lost"),
        saying("hours"),
        saying("{rig} cost {amount} fishing time per hour towed than {reference}"),
        saying("{rig} cost {amount} fishing time per hour towed as {reference}"),
        saying("less"),
        saying("more"),
        "lower",
        matters=2.0,
    ),
    Outcome(
        "mending_cost",
        saying("Cost of mending"),
        "",
        saying("{rig} cost {amount} mending money per hour towed than {reference}"),
        saying("{rig} cost {amount} mending money per hour towed as {reference}"),
        saying("less"),
        saying("more"),
        "lower",
        matters=2.0,
    ),
    Outcome(
        "debris_kg",
        saying("Stones and mud aboard"),
        "kg",
        saying("{rig} brought {amount} stones and mud aboard per hour than {reference}"),
        saying("{rig} brought {amount} stones and mud aboard per hour as {reference}"),
        saying("less"),
        saying("more"),
        "lower",
        matters=2.0,
    ),
    Outcome(
        "bottom_living_kg",
        saying("Bottom-living fish"),
        "kg",
        saying("{rig} caught {amount} bottom-living fish per hour than {reference}"),
        saying("{rig} caught {amount} bottom-living fish per hour as {reference}"),
        saying("less"),
        saying("more"),
        "higher",
    ),
    Outcome(
        "other_kg",
        saying("Other fish"),
        "kg",
        saying("{rig} caught {amount} other fish per hour than {reference}"),
        saying("{rig} caught {amount} other fish per hour as {reference}"),
        saying("less"),
        saying("more"),
        "higher",
    ),
    Outcome(
        "value",
        saying("Value of the catch"),
        "",
        saying("{rig} earned {amount} per hour towed than {reference}"),
        saying("{rig} earned {amount} per hour towed as {reference}"),
        saying("less"),
        saying("more"),
        "higher",
    ),
)

FIXED = {each.name: each for each in OUTCOMES}

CAUGHT = (
    saying("{rig} caught {amount} {fish} per hour than {reference}"),
    saying("{rig} caught {amount} {fish} per hour as {reference}"),
)
"""What is said of one species."""

MONEY = ("value", "mending_cost")
"""The outcomes that are in the season's currency."""

HEADLINES = ("damage_events", "bottom_living_kg")
"""The outcomes that the report's first screen speaks of."""

SPECIES_PREFIX, BY_NUMBER = "kg:", saying("species {code}")
"""A species' outcome by its code; and what it is called where its name is a number only."""
LENGTH_PREFIX = "cm:"
"""A species' fish of a band of length: `cm:PLE:22-27`."""
OF_A_SPECIES = {SPECIES_PREFIX: "kg", LENGTH_PREFIX: ""}
"""The unit of an outcome of one species, by how its name begins."""


def outcome(name: str, species_names: dict[str, str] | None = None) -> Outcome:
    """The outcome of that name; `kg:CODE` is the weight of one species.

    `cm:CODE:22-27` is the number of its fish from 22 to less than 27 cm. That is no count of
    events, as fish come in lots and few of a catch are measured. Raises `KeyError` if there is
    none.
    """
    if name in FIXED:
        return FIXED[name]
    prefix = next((each for each in OF_A_SPECIES if name.startswith(each)), None)
    if prefix is None:
        raise KeyError(name)
    code = name.removeprefix(prefix).partition(":")[0]
    called = (species_names or {}).get(code) or code
    title = BY_NUMBER.format(code=called) if called.isdigit() else called
    shown = title[:1].upper() + title[1:]
    return Outcome(name, shown, OF_A_SPECIES[prefix], *CAUGHT, "less", "more", "higher", fish=title)


def fixed_outcome(name: str) -> Outcome:
    """The fixed outcome of that name; raises `KeyError` if there is none."""
    return FIXED[name]
