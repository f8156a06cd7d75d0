"""The section on what damage costs: sentences, a table by rig, how mending adds up, by ground."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import count_of, limit_cell, over_all_grounds, ratio_or_none, short_ground
from reports.damage_cost.adding_up import adding_up
from reports.damage_cost.amounts import DAMAGE_COST, TOTALS, alone, amount_words, with_limits
from reports.damage_cost.sentences import OF_A_TEAR, cost_sentences
from reports.language import say
from reports.parts import Figure, Section, table_of
from reports.sentences import is_told
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from pipeline.findings import Findings
    from reports.parts import Column, Row, Table

DEBRIS = "debris_kg"

LIMITS = saying(
    "in brackets between what, 19 times in 20, where there are tears enough; –, not written"
)
HARDER_GROUND = saying(
    "A rig kept for hard ground tears more. Only rigs on one ground can be held against each other "
    "here, and boats and days still differ."
)


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
    total = DAMAGE_COST if DAMAGE_COST in amounts else amounts[0]
    words = amount_words(total, currency)
    came_to = say("{amount} per 100 h, {unit}", amount=words.title, unit=words.heading)
    return [
        (say("tears per 100 h"), _part_of(amounts[0], "often")),
        *((amount_words(name, currency).of_a_tear, _part_of(name, "each")) for name in of_a_tear),
        (came_to, _part_of(total, "both")),
    ]


def _by_rig(amounts: list[str], findings: Findings) -> Table:
    """Each rig over all grounds: like for like, then as recorded."""
    season = findings["season"]
    currency, reference = season["currency"], season["reference_rig"]
    alike = _like_for_like(amounts[0], findings)
    ratios = {**alike, reference: "1"}
    held = say(
        "{amount} like for like, times {reference}'s",
        amount=amount_words(amounts[0], currency).title,
        reference=reference,
    )
    told = say(BY_RIG_IN_BOTH_WAYS if alike else BY_RIG)
    over_all = [row for row in _rows(findings) if row["ground"] == ALL_GROUNDS]
    return table_of(
        f"{told}; {say(LIMITS)}",
        sorted(over_all, key=lambda row: str(row["rig"])),
        [
            (say("rig"), lambda row: row["rig"]),
            *([(held, lambda row: ratios.get(row["rig"], "–"))] if alike else []),
            *_columns(amounts, currency),
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


def _rows(findings: Findings) -> list[Row]:
    """Each rig on each ground, the hours of which it is known what happened, and each amount."""
    rows: dict[tuple[str, str], Row] = {}
    for part in findings["costs"]["parts"]:
        whose = {"ground": part["ground"], "rig": part["rig"], "hours": 0.0}
        row = rows.setdefault((part["ground"], part["rig"]), whose)
        row["hours"] = max(row["hours"], part["tow_hours"])
        row[part["amount"]] = part
    return list(rows.values())


def _part_of(amount: str, part: str) -> Callable[[Row], str]:
    """A figure with its limits; what a tear would take is not known where there was none."""

    def cell(row: Row) -> str:
        told = row.get(amount)
        if told is None:
            return "–"
        if not told["events"] and part != "often":
            return say("not known")
        return ", ".join(filter(None, [with_limits(told[part]), alone(told)]))

    return cell


def _by_ground(amounts: list[str], findings: Findings) -> Figure:
    """Each rig on each ground, as numbers alone."""
    season, rows = findings["season"], _rows(findings)
    at = [ALL_GROUNDS, *season["grounds"]]
    has_debris = any(DEBRIS in row for row in rows)
    debris = (say("stones and mud per 100 h, kg"), _part_of(DEBRIS, "both"))
    return Figure(
        name="costs-by-ground",
        kind="numbers",
        outcome=amounts[0] if amounts else DEBRIS,
        title=say("What each rig's tears took, ground by ground")
        if amounts
        else say("Stones and mud"),
        caption=say(HARDER_GROUND),
        table=table_of(
            f"{say('As recorded')}; {say(LIMITS)}",
            sorted(
                (row for row in rows if row["ground"] in at),
                key=lambda row: (at.index(row["ground"]), row["rig"]),
            ),
            [
                (say("ground"), lambda row: short_ground(row["ground"])),
                (say("rig"), lambda row: row["rig"]),
                (say("hours towed"), count_of("hours")),
                *_columns(amounts, season["currency"]),
                *([debris] if has_debris else []),
            ],
        ),
    )
