"""The section on what damage costs: sentences, a table by rig, how mending adds up, by ground."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import limit_cell, over_all_grounds, ratio_or_none, short_ground
from reports.damage_cost.adding_up import adding_up
from reports.damage_cost.amounts import DAMAGE_COST, TOTALS, alone, amount_words, with_limits
from reports.damage_cost.sentences import cost_sentences
from reports.language import number, say
from reports.parts import Figure, Section, Table
from reports.sentences import is_told
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.findings import Findings
    from reports.parts import Row

DEBRIS = "debris_kg"
OF_A_TEAR = ("mending_hours", "hours_lost")

LIMITS = saying(
    "in brackets between what, 19 times in 20, where there are tears enough; –, not written"
)
HARDER_GROUND = saying(
    "A rig kept for hard ground tears more. Only rigs on one ground can be held against each other "
    "here, and boats and days still differ."
)

Column = tuple[str, str, str]
"""A heading, the amount of which it is, and the part of that amount."""


def damage_cost(findings: Findings) -> Section | None:
    """What damage cost, and stones and mud beside it; None where neither was recorded."""
    recorded = {row["amount"] for row in findings["costs"]["parts"]}
    if not recorded:
        return None
    amounts = [name for name in TOTALS if name in recorded]
    chart = adding_up(findings)
    return Section(
        "damage-cost",
        say("What damage costs"),
        cost_sentences(findings),
        figures=[*([chart] if chart is not None else []), _by_ground(amounts, findings)],
        tables=[_by_rig(amounts, findings)] if amounts else [],
    )


def _columns(amounts: Sequence[str], currency: str) -> list[Column]:
    """How often, what a tear took, and what both came to."""
    if not amounts:
        return []
    of_a_tear = [name for name in OF_A_TEAR if name in amounts] or amounts[:1]
    each = [(amount_words(name, currency).of_a_tear, name, "each") for name in of_a_tear]
    total = DAMAGE_COST if DAMAGE_COST in amounts else amounts[0]
    words = amount_words(total, currency)
    came_to = say("{amount} per 100 h, {unit}", amount=words.title, unit=words.heading)
    return [(say("tears per 100 h"), amounts[0], "often"), *each, (came_to, total, "both")]


def _by_rig(amounts: list[str], findings: Findings) -> Table:
    """Each rig over all grounds: like for like, then as recorded."""
    currency = findings["season"]["currency"]
    reference = findings["season"]["reference_rig"]
    alike = _like_for_like(amounts[0], findings)
    columns = _columns(amounts, currency)
    held = say(
        "{amount} like for like, times {reference}'s",
        amount=amount_words(amounts[0], currency).title,
        reference=reference,
    )
    ratios = {**alike, reference: "1"}
    told = say(BY_RIG_IN_BOTH_WAYS if alike else BY_RIG)
    cells = _cells(findings)
    rigs = sorted({rig for ground, rig, _ in cells if ground == ALL_GROUNDS})
    return Table(
        f"{told}; {say(LIMITS)}",
        [say("rig"), *([held] if alike else []), *(heading for heading, *_ in columns)],
        [
            [
                rig,
                *([ratios.get(rig, "–")] if alike else []),
                *(_cell(cells.get((ALL_GROUNDS, rig, name)), part) for _, name, part in columns),
            ]
            for rig in rigs
        ],
    )


BY_RIG = saying("By rig on all grounds")
BY_RIG_IN_BOTH_WAYS = saying("By rig on all grounds: like for like, then as recorded")


def _like_for_like(amount: str, findings: Findings) -> dict[str, str]:
    """The ratio of each rig over all grounds, as a cell."""
    return {
        effect["rig"]: _ratio(effect)
        for effect in over_all_grounds(findings["effects"], amount)
        if is_told(effect) and effect["ratio"] and effect["high"] is not None
    }


def _ratio(effect: Row) -> str:
    """A ratio with its limits: 0.62 (0.41–0.94)."""
    low, high = limit_cell(effect["low"]), limit_cell(effect["high"])
    return f"{ratio_or_none(effect)} ({low}–{high})"


def _cells(findings: Findings) -> dict[tuple[str, str, str], Row]:
    """The rows of what damage cost by ground, rig and amount."""
    return {(row["ground"], row["rig"], row["amount"]): row for row in findings["costs"]["parts"]}


def _cell(row: Row | None, part: str) -> str:
    """A figure with its limits; what a tear would take is not known where there was none."""
    if row is None:
        return "–"
    if not row["events"] and part != "often":
        return say("not known")
    return ", ".join(filter(None, [with_limits(row[part]), alone(row)]))


def _by_ground(amounts: list[str], findings: Findings) -> Figure:
    """Each rig on each ground, as numbers alone."""
    season = findings["season"]
    columns = _columns(amounts, season["currency"])
    cells = _cells(findings)
    if any(name == DEBRIS for *_, name in cells):
        columns.append((say("stones and mud per 100 h, kg"), DEBRIS, "both"))
    at = [ALL_GROUNDS, *season["grounds"]]
    fished = sorted(
        {(ground, rig) for ground, rig, _ in cells if ground in at},
        key=lambda cell: (at.index(cell[0]), cell[1]),
    )
    return Figure(
        name="costs-by-ground",
        kind="numbers",
        outcome=amounts[0] if amounts else DEBRIS,
        title=say("What each rig's tears took, ground by ground")
        if amounts
        else say("Stones and mud"),
        caption=say(HARDER_GROUND),
        table=Table(
            f"{say('As recorded')}; {say(LIMITS)}",
            [say("ground"), say("rig"), say("hours towed"), *(heading for heading, *_ in columns)],
            [
                [
                    short_ground(ground),
                    rig,
                    number(_hours(cells, ground, rig), ",.0f"),
                    *(_cell(cells.get((ground, rig, name)), part) for _, name, part in columns),
                ]
                for ground, rig in fished
            ],
        ),
    )


def _hours(cells: dict[tuple[str, str, str], Row], ground: str, rig: str) -> float:
    """The hours that the rig towed there, of which it is known what happened."""
    there = [row for (*at, _), row in cells.items() if at == [ground, rig]]
    return float(max(row["tow_hours"] for row in there))
