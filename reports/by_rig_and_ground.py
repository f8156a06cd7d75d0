"""What each rig did on each ground at a glance: a table with a shade and a figure a cell."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import column_of, outcomes_of
from reports.language import number, say
from reports.parts import Section, Table
from reports.sentences import ALL_GROUNDS, NOT_SIDE_BY_SIDE, WHOLE_RECORD, listed
from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Callable

    from pipeline.findings import Findings
    from reports.parts import Row

FEW_HAULS = 5
"""A rate of fewer hauls is not shown: this project's own judgement, no source."""
LESS_THAN_TEN = 10
PALEST = 1 / 9
"""The shade of the least that is shown: what is too few has none."""
PER_HOURS = 100
HOW_TO_READ = saying(
    "As recorded, with the hauls in brackets; the stronger the colour, the more. Fewer than {few} "
    "hauls are too few for a figure; where none was seen, as in 0–3, it may yet be as much as the "
    "second figure."
)
DOWN_A_COLUMN = saying(
    "Compare rigs down a column, on one ground. Days, depths and boats still differ there: further "
    "down it is told like for like."
)
NOT_DOWN_A_COLUMN = saying(
    "Not even down a column, but for single grounds, can {rigs} be compared with {reference}: over "
    "all grounds they were hardly fished side by side, and whatever else changed meanwhile would "
    "be laid to the rig."
)


def by_rig_and_ground(
    outcome: str, name: str, title: str, per_hours: int, cell_says: str
) -> Callable[[Findings], Section | None]:
    """Makes the section of that outcome, in so much per so many hours towed.

    `cell_says` has places for the {unit} and the {hours}.
    """

    def section(findings: Findings) -> Section | None:
        known = outcomes_of(findings).get(outcome)
        if known is None:
            return None
        unit = known["unit"]
        said = say(cell_says, unit=say(unit), hours=per_hours)
        return Section(
            name,
            say(title),
            [say(HOW_TO_READ, few=FEW_HAULS), *_how_to_compare(findings, outcome)],
            tables=[_table(findings, outcome, said, per_hours)],
        )

    return section


def _how_to_compare(findings: Findings, outcome: str) -> list[str]:
    """How rigs are compared; and which were not fished side by side with the reference."""
    over_all = [
        effect
        for effect in findings["effects"]
        if (effect["outcome"], effect["ground"], effect["part"])
        == (outcome, ALL_GROUNDS, WHOLE_RECORD)
    ]
    apart = [effect["rig"] for effect in over_all if NOT_SIDE_BY_SIDE in effect["cautions"]]
    said = [] if apart and len(apart) == len(over_all) else [say(DOWN_A_COLUMN)]
    if apart:
        reference = findings["season"]["reference_rig"]
        said.append(say(NOT_DOWN_A_COLUMN, rigs=listed(apart), reference=reference))
    return said


def _table(findings: Findings, outcome: str, said: str, per_hours: int) -> Table:
    rates = {(r["rig"], r["ground"]): r for r in findings["rates"] if r["outcome"] == outcome}
    grounds = findings["season"]["grounds"]
    rigs = [rig["rig_version"] for rig in findings["rigs"]]
    shown = [
        rate["rate"]
        for (_, ground), rate in rates.items()
        if ground in grounds and rate["hauls"] >= FEW_HAULS
    ]
    most = max(shown, default=0.0) or 1.0
    rows, shades = [], []
    for rig in rigs:
        of_rig = [rates.get((rig, ground)) for ground in grounds]
        rows.append([rig, *(_cell(rate, per_hours) for rate in of_rig)])
        shades.append([0.0, *(_shade(rate, most) for rate in of_rig)])
    return Table(
        said,
        [say("rig"), *map(column_of, grounds)],
        rows,
        shades,
    )


def _cell(rate: Row | None, per_hours: int) -> str:
    if rate is None:
        return "–"
    if rate["hauls"] < FEW_HAULS:
        return say("few ({hauls:,})", hauls=rate["hauls"])
    figure = _figure(rate["rate"] * per_hours)
    if rate["rate"] == 0 and rate["high"] is not None:
        figure = f"0–{_figure(rate['high'] * per_hours)}"
    return f"{figure} ({number(rate['hauls'], ',')})"


def _figure(value: float) -> str:
    return number(value, ",.0f" if value >= LESS_THAN_TEN else ",.1f")


def _shade(rate: Row | None, most: float) -> float:
    if rate is None or rate["hauls"] < FEW_HAULS:
        return 0.0
    return float(max(rate["rate"] / most, PALEST))


damage_by_rig_and_ground = by_rig_and_ground(
    "damage_events",
    "damage-by-rig-and-ground",
    saying("Damage by rig and ground"),
    PER_HOURS,
    saying("How often the net was damaged per {hours} hours towed"),
)
fish_by_rig_and_ground = by_rig_and_ground(
    "bottom_living_kg",
    "fish-by-rig-and-ground",
    saying("Bottom-living fish by rig and ground"),
    1,
    saying("Bottom-living fish, {unit} per hour towed"),
)
