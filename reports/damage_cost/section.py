"""The section on what damage costs: sentences, how mending adds up, tables by rig and ground."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import short_ground
from reports.damage_cost.adding_up import adding_up
from reports.damage_cost.amounts import PARTS, TOTALS, amount_words, with_limits
from reports.damage_cost.sentences import cost_sentences
from reports.parts import Figure, Section, Table
from reports.sentences import ALL_GROUNDS, is_told

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

DEBRIS = "debris_kg"

ABOUT = (
    "A tear here is any damage to the net. What damage costs is how often the net tore, times what "
    "a tear took. As recorded, hard ground tears more with any rig: hold rigs against each other "
    "within a ground, or like for like."
)
LIMITS = "in brackets between what, 19 times in 20; without, too few to say how sure"


def damage_cost(findings: Findings) -> Section | None:
    """What damage cost, and stones and mud beside it; None where neither was recorded."""
    recorded = {row["amount"] for row in findings["costs"]["parts"]}
    if not recorded:
        return None
    amounts = [name for name in TOTALS if name in recorded]
    told = [*amounts, *([DEBRIS] if DEBRIS in recorded else [])]
    chart = adding_up(findings)
    return Section(
        "damage-cost",
        "What damage costs",
        [*([ABOUT] if amounts else []), *cost_sentences(findings)],
        figures=[
            *([chart] if chart is not None else []),
            *(_by_ground(name, findings) for name in told),
        ],
        tables=[
            *(_in_parts(name, findings) for name in amounts[:1]),
            *([_beside(amounts[1:], findings)] if amounts[1:] else []),
            *(_in_parts(name, findings) for name in told[len(amounts) :]),
        ],
    )


def _of(name: str, findings: Findings, grounds: list[str]) -> list[Row]:
    """The rows of that amount on those grounds, ground by ground and rig by rig."""
    rows = [r for r in findings["costs"]["parts"] if r["amount"] == name and r["ground"] in grounds]
    return sorted(rows, key=lambda row: (grounds.index(row["ground"]), row["rig"]))


def _headers(name: str, currency: str) -> list[str]:
    unit = amount_words(name, currency).heading
    each = f"{unit} a tear", f"{unit} per 100 h"
    if name == DEBRIS:
        return ["hauls with some, per 100 h", f"{unit} in such a haul", each[1]]
    return ["tears per 100 h", *each]


def _in_parts(name: str, findings: Findings) -> Table:
    """Each rig over all grounds, in its two parts; of damage, beside it, like for like."""
    season = findings["season"]
    reference = season["reference_rig"]
    alike = {
        effect["rig"]: f"{effect['ratio']:.2f} ({effect['low']:.2f}–{effect['high']:.2f})"
        for effect in findings["effects"]
        if name in TOTALS
        and (effect["outcome"], effect["ground"]) == (name, ALL_GROUNDS)
        and is_told(effect)
        and effect["ratio"]
        and effect["high"] is not None
    }
    last = [f"like for like, times {reference}'s"] if alike else []
    alike[reference] = "1"
    words = amount_words(name, season["currency"])
    return Table(
        f"{words.title} by rig, as recorded on all grounds; {LIMITS}",
        ["rig", *_headers(name, season["currency"]), *last],
        [
            [row["rig"], *_cells(row), *([alike.get(row["rig"], "–")] if last else [])]
            for row in _of(name, findings, [ALL_GROUNDS])
        ],
    )


def _cells(row: Row) -> list[str]:
    return [with_limits(row[part]) for part in PARTS]


def _beside(names: list[str], findings: Findings) -> Table:
    """What each rig took per 100 hours beside mending: time and money."""
    words = [amount_words(name, findings["season"]["currency"]) for name in names]
    cells: dict[str, dict[str, str]] = {}
    for name in names:
        for row in _of(name, findings, [ALL_GROUNDS]):
            cells.setdefault(row["rig"], {})[name] = with_limits(row["both"])
    return Table(
        f"Per 100 hours towed, as recorded on all grounds; {LIMITS}",
        ["rig", *(f"{word.title[:1].lower()}{word.title[1:]}, {word.heading}" for word in words)],
        [[rig, *(of.get(name, "–") for name in names)] for rig, of in sorted(cells.items())],
    )


def _by_ground(name: str, findings: Findings) -> Figure:
    """Each rig on each ground, as numbers alone."""
    season = findings["season"]
    words = amount_words(name, season["currency"])
    return Figure(
        name=f"by-ground-{name.replace('_', '-')}",
        kind="numbers",
        outcome=name,
        title=f"{words.title} by ground and rig",
        caption="",
        table=Table(
            f"{words.title}, as recorded; {LIMITS}",
            ["ground", "rig", "hauls", "hours towed", *_headers(name, season["currency"])],
            [
                [
                    short_ground(row["ground"]),
                    row["rig"],
                    f"{row['hauls']:,}",
                    f"{row['tow_hours']:,.0f}",
                    *_cells(row),
                ]
                for row in _of(name, findings, [ALL_GROUNDS, *season["grounds"]])
            ],
        ),
    )
