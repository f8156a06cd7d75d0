"""The co-op's first screen: what holds over boats, how far boats differ, what was hidden."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import outcomes_of
from reports.coop.words import (
    months,
    not_shared,
    over_all,
    over_boats_words,
    pooled,
    what_means_hide,
)
from reports.parts import Card, CardLine, Screen
from reports.sentences import claim, in_brief, is_clear, is_clear_verdict, listed

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row


def coop_screen(findings: Findings) -> Screen:
    """What a co-op's manager sees first, from the shared findings."""
    season = findings["season"]
    return Screen(
        title=season["title"],
        period=months(season),
        facts=facts(findings),
        lead=lead(findings),
        cards=cards(findings),
        untold=[
            *filter(None, [not_shared(findings)]),
            *what_means_hide(findings),
            f"In the tables of rig by ground: {findings['sharing']['said']}",
        ],
    )


def facts(findings: Findings) -> list[tuple[str, str]]:
    """How much the season holds, as far as it is shared."""
    season, sharing = findings["season"], findings["sharing"]
    counted = (("boats", season["boats"]), ("hauls", season["hauls"]))
    hours = season["tow_hours"]
    return [
        *((name, "hidden" if many is None else f"{many:,}") for name, many in counted),
        ("hours towed", "hidden" if hours is None else f"{hours:,.0f}"),
        ("rig versions", str(len(findings["rigs"]))),
        ("cells hidden", f"{sharing['hidden']:,} of {sharing['cells']:,}"),
    ]


def lead(findings: Findings) -> str:
    """Which differences hold over boats, in a few sentences."""
    reference, outcomes = findings["season"]["reference_rig"], outcomes_of(findings)
    if not findings["effects"]:
        return (
            f"No rig was fished beside {reference} by enough boats: no difference can be shown "
            "without telling of single boats."
        )
    said, open_ = [], []
    for name in findings["season"]["headlines"]:
        told = over_all(findings, name)
        means = {row["rig"]: row["mean"] for row in pooled(findings, name)}
        clear = [effect for effect in told if is_clear(effect)]
        said += [
            f"{claim(effect, outcomes[name])}{_at_large(means.get(effect['rig']))}."
            for effect in clear
        ]
        if told and not clear:
            open_.append(outcomes[name]["title"].lower())
    rest = f"In {listed(open_)} no difference from {reference} is clear." if open_ else ""
    return " ".join(filter(None, [*said, rest]))


def _at_large(mean: Row | None) -> str:
    """What the mean over boats adds to a difference that is clear over all hauls."""
    if mean is None:
        return ", over all hauls"
    if is_clear_verdict(mean["verdict"]):
        return ", over all hauls and over the boats"
    return f", over all hauls; for boats at large it is {mean['verdict']}"


def cards(findings: Findings) -> list[Card]:
    """A card for each rig that is shared: over all hauls, and over the boats."""
    outcomes = outcomes_of(findings)
    lines: dict[str, list[CardLine]] = {}
    for name in findings["season"]["headlines"]:
        means = {row["rig"]: row for row in pooled(findings, name)}
        for effect in over_all(findings, name):
            line = _line(effect, outcomes[name], means.get(effect["rig"]))
            lines.setdefault(effect["rig"], []).append(line)
    return [Card(rig, of_rig) for rig, of_rig in lines.items()]


def _line(effect: Row, outcome: Row, row: Row | None) -> CardLine:
    leans = "open"
    if is_clear(effect):
        leans = "better" if effect["verdict"] == outcome["better"] else "worse"
    none = ["No mean over boats can be shown."]
    sides = none if row is None else over_boats_words(row, outcome)
    return CardLine(outcome["title"], in_brief(effect, outcome), leans, sides)
