"""The co-op's first screen: what holds over boats, how far boats differ, what was hidden."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import outcomes_of
from reports.coop.words import (
    hidden_words,
    months,
    not_shared,
    over_all,
    over_boats_words,
    pooled,
    what_means_hide,
)
from reports.language import number, say
from reports.parts import Card, CardLine, Screen
from reports.sentences import (
    ALL_GROUNDS,
    NOT_SIDE_BY_SIDE,
    claim,
    in_brief,
    is_clear,
    is_clear_verdict,
    listed,
    title_of,
)
from schemas.words import saying

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
            hidden_words(findings["sharing"]),
        ],
    )


def facts(findings: Findings) -> list[tuple[str, str]]:
    """How much the season holds, as far as it is shared."""
    season, sharing = findings["season"], findings["sharing"]
    return [
        (say("boats"), _if_shared(season["boats"])),
        (say("hauls"), _if_shared(season["hauls"])),
        (say("hours towed"), _if_shared(season["tow_hours"])),
        (say("rig versions"), str(len(findings["rigs"]))),
        (say("cells hidden"), say("{hidden:,} of {cells:,}", **sharing)),
    ]


def _if_shared(amount: float | None) -> str:
    return say("hidden") if amount is None else number(amount, ",.0f")


def lead(findings: Findings) -> str:
    """Which differences hold over boats, in a few sentences."""
    reference, outcomes = findings["season"]["reference_rig"], outcomes_of(findings)
    if not findings["effects"]:
        return say(
            "No rig was fished beside {reference} by enough boats: no difference can be shown "
            "without telling of single boats.",
            reference=reference,
        )
    said, open_ = [], []
    for name in findings["season"]["headlines"]:
        told = over_all(findings, name)
        means = {row["rig"]: row["mean"] for row in pooled(findings, name)}
        clear = [effect for effect in told if is_clear(effect)]
        said += [
            _at_large(claim(effect, outcomes[name]), means.get(effect["rig"])) for effect in clear
        ]
        if told and not clear:
            open_.append(title_of(outcomes[name]))
    if open_:
        said.append(say(NONE_CLEAR, outcomes=listed(open_), reference=reference))
    return " ".join([*said, *_apart(findings)])


NONE_CLEAR = saying("In {outcomes} no difference from {reference} is clear.")


def _apart(findings: Findings) -> list[str]:
    """The rigs that were hardly fished side by side with the reference, and what that means."""
    season = findings["season"]
    rigs = {
        effect["rig"]
        for effect in findings["effects"]
        if effect["ground"] == ALL_GROUNDS
        and effect["outcome"] in season["headlines"]
        and NOT_SIDE_BY_SIDE in effect["cautions"]
    }
    if not rigs:
        return []
    return [say(HARDLY_BESIDE, rigs=listed(sorted(rigs)), reference=season["reference_rig"])]


HARDLY_BESIDE = saying(
    "{rigs} and {reference} were hardly fished side by side (same ground, same boat, same stretch "
    "of the record), so no difference between them is shown, and their rates below can't be "
    "compared: whatever else changed would be laid to the rig."
)


def _at_large(said: str, mean: Row | None) -> str:
    """A difference that is clear over all hauls, with what the mean over boats adds to it."""
    if mean is None:
        return say("{difference}, over all hauls.", difference=said)
    if is_clear_verdict(mean["verdict"]):
        return say("{difference}, over all hauls and over the boats.", difference=said)
    return say(
        "{difference}, over all hauls; for boats at large it is {verdict}.",
        difference=said,
        verdict=say(mean["verdict"]),
    )


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
    none = [say("No mean over boats can be shown.")]
    sides = none if row is None else over_boats_words(row, outcome)
    return CardLine(say(outcome["title"]), in_brief(effect, outcome), leans, sides)
