"""What damage costs in a few sentences: like for like, then as recorded, and what that rests on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import outcomes_of, over_all_grounds
from reports.damage_cost.amounts import DAMAGE_COST, TOTALS, alone, amount_words, between, figure
from reports.damage_cost.written import written_sentences
from reports.language import say
from reports.ratio_words import amount, span
from reports.sentences import (
    claim,
    is_clear,
    is_told,
    listed,
    misleads,
    raw_words,
    surety,
    title_of,
)
from schemas.codes import CLEAR
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row

MOST_NAMED = 3
OF_A_TEAR = ("mending_hours", "hours_lost")

BEST_KNOWN = {
    "mending_hours": saying("best known is {rig}, {span} mending a tear"),
    "hours_lost": saying("best known is {rig}, {span} fishing time a tear"),
    "mending_cost": saying("best known is {rig}, {span} mending money a tear"),
}
IT_TOOK = {
    "mending_hours": saying("with {rig} it took {amount} mending than with {reference} ({span})"),
    "hours_lost": saying("with {rig} it took {amount} fishing time than with {reference} ({span})"),
    "mending_cost": saying(
        "with {rig} it took {amount} mending money than with {reference} ({span})"
    ),
}
"""What a single tear took with one rig against another, by the amount."""


def cost_sentences(findings: Findings) -> list[str]:
    """What stands like for like, what damage cost with the reference rig, what that rests on.

    Where no cost was recorded at all: whether there were tears that it could have been of.
    """
    parts = [
        row
        for row in findings["costs"]["parts"]
        if row["ground"] == ALL_GROUNDS and row["amount"] in TOTALS
    ]
    if not parts:
        return _without_costs(findings)
    first = parts[0]["amount"]
    said = []
    if first in outcomes_of(findings) and len(findings["rigs"]) > 1:
        said += [f"{_per_hour(first, findings)} {_per_tear(first, findings)}"]
    said += [_as_recorded(parts, findings), _never_torn(parts), written_sentences(findings)]
    return [words for words in said if words]


def _without_costs(findings: Findings) -> list[str]:
    rates = over_all_grounds(findings["rates"], "damage_events")
    if not rates:
        return []
    tears, hours = (sum(rate[name] for rate in rates) for name in ("total", "tow_hours"))
    if not tears:
        return [
            say("No tear is recorded in {hours:,.0f} hours towed: there was no cost.", hours=hours)
        ]
    return [
        say("Of {tears:,.0f} tears nobody wrote what they took, in hours or in money.", tears=tears)
    ]


def _as_recorded(parts: list[Row], findings: Findings) -> str:
    """How often the reference rig tore, what a tear took, and what both came to."""
    season = findings["season"]
    reference, currency = season["reference_rig"], season["currency"]
    known = {
        row["amount"]: row
        for row in parts
        if row["rig"] == reference and row["each"]["value"] is not None
    }
    if not known:
        return ""
    of_a_tear = [name for name in OF_A_TEAR if name in known] or list(known)[:1]
    took = [
        f"{amount_words(name, currency).said(known[name]['each']['value'])} "
        f"({between(known[name]['each'])})"
        for name in of_a_tear
    ]
    total = known.get(DAMAGE_COST, known[of_a_tear[0]])
    often = total["often"]
    as_recorded = say(
        "As recorded on all grounds, with {reference}: {tears} tears per 100 hours towed "
        "({between}). A tear took {amounts}.",
        reference=reference,
        tears=figure(often["value"]),
        between=between(often),
        amounts=listed(took),
    )
    return f"{as_recorded} {_came_to(total, findings)}"


def _came_to(total: Row, findings: Findings) -> str:
    """How often times how much."""
    currency = findings["season"]["currency"]
    words = amount_words(total["amount"], currency)
    only = alone(total)
    said = words.amount(total["both"]["value"]) if only else words.said(total["both"]["value"])
    worth = findings["money"]["terms"]["hour_lost"]
    counted = "hours_lost" in total["components"] and total["amount"] == DAMAGE_COST
    return say(
        CAME_TO_WITH_HOURS if counted else CAME_TO,
        amount=f"{said} ({only})" if only else said,
        between=between(total["both"]),
        hour_lost=words.amount(worth),
    )


CAME_TO = saying("That came to {amount} per 100 hours towed ({between}).")
CAME_TO_WITH_HOURS = saying(
    "That came to {amount} per 100 hours towed ({between}), with an hour lost at {hour_lost}."
)


def _never_torn(parts: list[Row]) -> str:
    """The rigs without a tear: how many can't be ruled out."""
    rigs = {
        row["rig"]: say(
            "{rig} in {hours:,.0f} hours towed (up to {most} per 100 hours can't be ruled out)",
            rig=row["rig"],
            hours=row["tow_hours"],
            most=figure(row["often"]["high"]),
        )
        for row in parts
        if not row["events"]
    }
    if not rigs:
        return ""
    return say(
        "No tear is recorded with {rigs}: what one takes is not known.",
        rigs=listed(list(rigs.values())),
    )


def _per_hour(name: str, findings: Findings) -> str:
    """The amount per hour towed like for like: the clear differences, if any could be compared."""
    outcome, reference = outcomes_of(findings)[name], findings["season"]["reference_rig"]
    effects = list(filter(is_told, over_all_grounds(findings["effects"], name)))
    clear = sorted(filter(is_clear, effects), key=surety, reverse=True)[:MOST_NAMED]
    if not effects:
        return say(
            "No rig's {outcome} per hour towed could be held to {reference}'s.",
            outcome=title_of(outcome),
            reference=reference,
        )
    if not clear:
        return say(
            "Like for like, no rig's {outcome} per hour towed differs clearly from {reference}'s.",
            outcome=title_of(outcome),
            reference=reference,
        )
    claims = "; ".join(claim(effect, outcome) for effect in clear)
    misled = [raw_words(effect, outcome) for effect in clear if misleads(effect)]
    return " ".join(
        [say("Like for like, each judged by itself: {claims}.", claims=claims), *misled]
    )


def _per_tear(name: str, findings: Findings) -> str:
    """Whether a tear takes more with one rig than with another, like for like."""
    outcome, reference = outcomes_of(findings)[name], findings["season"]["reference_rig"]
    ratios = [row for row in findings["costs"]["ratios"] if row["amount"] == name]
    told = sorted((r for r in ratios if r["low"] is not None), key=lambda r: r["high"] / r["low"])
    clear = [row for row in told if row["verdict"] in CLEAR]
    if not told:
        return say("How much a tear took can't be told from rig to rig: there are too few tears.")
    if not clear:
        best = told[0]
        return say(
            "No rig is shown to make tears larger or smaller than {reference}; {best_known}.",
            reference=reference,
            best_known=say(
                BEST_KNOWN[name],
                rig=best["rig"],
                span=span(best["low"], best["high"], outcome),
            ),
        )
    said = "; ".join(
        say(
            IT_TOOK[name],
            rig=row["rig"],
            amount=amount(row["ratio"], outcome, row["high"]),
            reference=reference,
            span=span(row["low"], row["high"], outcome),
        )
        for row in clear[:MOST_NAMED]
    )
    return say("A single tear, like for like, each judged by itself: {claims}.", claims=said)
