"""What damage costs in a few sentences: as recorded, then like for like."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import outcomes_of
from reports.damage_cost.amounts import PARTS, TOTALS, amount_words, between, figure
from reports.sentences import (
    ALL_GROUNDS,
    amount,
    claim,
    in_brief,
    is_clear,
    is_told,
    listed,
    misleads,
    raw_words,
    span,
    surety,
)

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

MOST_NAMED = 3
MENDING = "mending_hours"


def cost_sentences(findings: Findings) -> list[str]:
    """What damage cost with the dearest rig and the cheapest, and what stands like for like.

    Where no cost was recorded at all: whether there were tears that it could have been of.
    """
    parts = [
        row
        for row in findings["costs"]["parts"]
        if row["ground"] == ALL_GROUNDS and row["amount"] in TOTALS
    ]
    if not parts:
        return _without_costs(findings)
    first = [row for row in parts if row["amount"] == parts[0]["amount"]]
    sure = [row for row in first if row["both"]["high"] is not None]
    ranked = [
        row["rig"] for row in sorted(sure, key=lambda row: (-row["both"]["value"], row["rig"]))
    ]
    said = [_as_recorded(ranked, parts, findings["season"]["currency"])]
    if MENDING in outcomes_of(findings) and len(findings["rigs"]) > 1:
        said += [_per_hour(findings, ranked[:1]), _per_tear(findings)]
    return [words for words in (*said, _unwritten(parts)) if words]


def _without_costs(findings: Findings) -> list[str]:
    rates = [
        rate
        for rate in findings["rates"]
        if (rate["outcome"], rate["ground"]) == ("damage_events", ALL_GROUNDS)
    ]
    if not rates:
        return []
    tears, hours = (sum(rate[name] for rate in rates) for name in ("total", "tow_hours"))
    if not tears:
        return [f"No tear is recorded in {hours:,.0f} hours towed: there was no cost."]
    return [f"Of {tears:,.0f} tears nobody wrote what they took, in hours or in money."]


def _as_recorded(ranked: list[str], parts: list[Row], currency: str) -> str:
    """What the dearest rig cost, and the cheapest, of those of which it is known how surely."""
    if not ranked:
        return "There are too few tears to say how sure any figure is: take them with care."
    dearest = [row for row in parts if row["rig"] == ranked[0]]
    if len(ranked) == 1:
        return f"As recorded: {ranked[0]}, {_cost(dearest, currency)}"
    cheapest = next(row for row in parts if row["rig"] == ranked[-1])
    words = amount_words(cheapest["amount"], currency)
    return (
        f"As recorded, the dearest rig was {ranked[0]}: {_cost(dearest, currency)} The cheapest, "
        f"of those that tore often enough to tell, was {ranked[-1]}, with "
        f"{words.said(cheapest['both']['value'])} ({between(cheapest['both'])})."
    )


def _cost(of_rig: list[Row], currency: str) -> str:
    """One rig: how often times how much is what it cost; then the time and the money beside it."""
    row = of_rig[0]
    words = amount_words(row["amount"], currency)
    often, each, both = (row[part] for part in PARTS)
    said = (
        f"{words.said(both['value'])} per 100 hours towed ({between(both)}), from "
        f"{figure(often['value'])} tears ({between(often)}) of {words.amount(each['value'])} each "
        f"({between(each)})."
    )
    known = {also["amount"]: also for also in of_rig if also["both"]["value"] is not None}
    money = "damage_cost" if "damage_cost" in known else "mending_cost"
    beside = [
        f"{amount_words(name, currency).said(other['both']['value'])} ({between(other['both'])})"
        for name in ("hours_lost", money)
        if (other := known.get(name)) and name != row["amount"]
    ]
    return f"{said} With it came {listed(beside)}." if beside else said


def _per_hour(findings: Findings, dearest: list[str]) -> str:
    """Mending per hour towed like for like: the clear differences, and that of the dearest rig."""
    outcome, reference = outcomes_of(findings)[MENDING], findings["season"]["reference_rig"]
    effects = [
        effect
        for effect in findings["effects"]
        if effect["outcome"] == MENDING and effect["ground"] == ALL_GROUNDS and is_told(effect)
    ]
    clear = sorted((e for e in effects if is_clear(e)), key=surety, reverse=True)[:MOST_NAMED]
    said = (
        f"Like for like: {'; '.join(claim(effect, outcome) for effect in clear)}."
        if clear
        else f"Like for like, no rig's mending per hour towed differs clearly from {reference}'s."
    )
    misled = [raw_words(effect, outcome) for effect in clear if misleads(effect)]
    unclear = [
        f"Of {effect['rig']}, {in_brief(effect, outcome)}."
        for effect in effects
        if effect["rig"] in dearest and not is_clear(effect)
    ]
    return " ".join([said, *misled, *unclear])


def _per_tear(findings: Findings) -> str:
    """Whether a tear takes more mending with one rig than with another, like for like."""
    outcome, reference = outcomes_of(findings)[MENDING], findings["season"]["reference_rig"]
    ratios = [row for row in findings["costs"]["ratios"] if row["amount"] == MENDING]
    told = sorted((r for r in ratios if r["low"] is not None), key=lambda r: r["high"] / r["low"])
    clear = [row for row in told if row["verdict"] in {"lower", "higher"}]
    if not told:
        return "How much a tear took can't be told from rig to rig: there are too few tears."
    said = "; ".join(
        f"with {row['rig']} it took {amount(row['ratio'], outcome)} mending than with {reference} "
        f"({span(row['low'], row['high'], outcome)})"
        for row in (clear or told)[: MOST_NAMED if clear else 1]
    )
    if clear:
        return f"A single tear, like for like: {said}."
    return f"No rig is shown to make tears larger or smaller than {reference}. Best known: {said}."


def _unwritten(parts: list[Row]) -> str:
    """Of how many tears nobody wrote the hours, and what is made of them."""
    lacking = []
    tears = 0.0
    for name, what in ((MENDING, "mending hours"), ("hours_lost", "hours lost")):
        rows = [row for row in parts if row["amount"] == name]
        tears = max(tears, sum(row["events"] for row in rows))
        missing = sum(row["events"] - row["told"] for row in rows)
        if missing:
            lacking.append(f"{missing:,.0f} lack {what}")
    if not lacking:
        return ""
    return (
        f"Of {tears:,.0f} tears, {listed(lacking)}: not written, or by a boat that wrote them of "
        "fewer than half its tears. They are taken to be like the others with that rig, not to "
        "have cost nothing."
    )
