"""The co-op's first screen: what holds over boats, how far boats differ, what is not shown."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import outcomes_of
from reports.coop.words import (
    gainsaid,
    not_shared,
    over_all,
    over_boats_words,
    pooled,
    rigs_apart,
)
from reports.language import number, say, say_many
from reports.parts import Card, CardLine, Screen
from reports.ratio_words import span
from reports.season_words import months, season_title
from reports.sentences import (
    VERDICT_WORDS,
    claim,
    in_brief,
    is_clear,
    is_clear_verdict,
    listed,
    said_of,
    title_of,
    verdict_words,
)
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row
    from schemas.codes import Verdict


def coop_screen(findings: Findings) -> Screen:
    """What a co-op's manager sees first, from the shared findings."""
    season = findings["season"]
    return Screen(
        title=season_title(season),
        period=months(season),
        facts=facts(findings),
        lead=" ".join([lead(findings), *_stood_for(findings)]),
        cards=cards(findings),
        untold=[*not_shared(findings), *_left_out(season["seasons_left_out"])],
    )


def _left_out(seasons: int) -> list[str]:
    """How many seasons are missing; which they are would name boats."""
    if not seasons:
        return []
    return [
        say_many(
            "{number} season that was handed over is not in this report, as it could not be used.",
            "{number} seasons that were handed over are not in this report, as they could not be "
            "used.",
            seasons,
        )
    ]


STOOD_FOR = saying(
    "Damaged here is any haul that the log does not say went without trouble; whether its net tore "
    "is not known."
)


def _stood_for(findings: Findings) -> list[str]:
    return [say(STOOD_FOR)] if findings.get("damage_is_stood_for") else []


def facts(findings: Findings) -> list[tuple[str, str]]:
    """How much the season holds, as far as it is shared."""
    season = findings["season"]
    return [
        (say("boats"), _if_shared(season["boats"])),
        (say("hauls"), _if_shared(season["hauls"])),
        (say("hours towed"), _if_shared(season["tow_hours"])),
        (
            say_many("rig version", "rig versions", len(findings["rigs"])),
            str(len(findings["rigs"])),
        ),
    ]


def _if_shared(amount: float | None) -> str:
    return say("hidden") if amount is None else number(amount, ",.0f")


def lead(findings: Findings) -> str:
    """Which differences hold, over all hauls or over the boats, in a few sentences."""
    reference, outcomes = findings["season"]["reference_rig"], outcomes_of(findings)
    said: list[str] = []
    open_: list[str] = []
    for name in findings["season"]["headlines"]:
        told = {effect["rig"]: effect for effect in over_all(findings, name)}
        means = {row["rig"]: row for row in pooled(findings, name)}
        rigs = dict.fromkeys([*told, *means])
        clear = [
            _if_clear(told.get(rig), means.get(rig), outcomes[name], gainsaid(findings, name, rig))
            for rig in rigs
        ]
        said += filter(None, clear)
        if rigs and not any(clear):
            open_.append(title_of(outcomes[name]))
    if open_:
        said.append(say(NONE_CLEAR, outcomes=listed(open_), reference=reference))
    return " ".join([*said, *_apart(findings)]) or _none_shown(findings)


NONE_CLEAR = saying("In {outcomes} no difference from {reference} is clear.")


def _if_clear(effect: Row | None, row: Row | None, outcome: Row, gainsaid: list[str]) -> str:
    """A difference that is clear over all hauls, or by the mean over boats; else nothing.

    With what `gainsaid` the difference over all hauls.
    """
    if effect is not None and is_clear(effect):
        return " ".join([_at_large(effect, row, outcome), *gainsaid])
    if row is not None and is_clear_verdict(row["mean"]["verdict"]):
        return _by_the_mean(effect, row, outcome)
    return ""


def _none_shown(findings: Findings) -> str:
    """That nothing is shown; why stands among what was hidden."""
    reference = findings["season"]["reference_rig"]
    if all(rig["is_reference"] for rig in findings["rigs"]):
        return say(
            "Only one rig version was fished ({reference}), so there is nothing to compare.",
            reference=reference,
        )
    return say(
        "No difference from {reference} can be shown: why is said below.", reference=reference
    )


def _apart(findings: Findings) -> list[str]:
    """The rigs that were hardly fished side by side with the reference, and what that means."""
    rigs = rigs_apart(findings)
    reference = findings["season"]["reference_rig"]
    return [say(HARDLY_BESIDE, rigs=listed(rigs), reference=reference)] if rigs else []


HARDLY_BESIDE = saying(
    "{rigs} and {reference} were hardly side by side in the hauls compared (same ground, same "
    "boat, same stretch of the record), so no difference between them is shown, and their rates "
    "below can't be compared: whatever else changed would be laid to the rig."
)


def _at_large(effect: Row, row: Row | None, outcome: Row) -> str:
    """A difference that is clear over all hauls, with what the mean over boats adds to it."""
    said = claim(effect, outcome)
    if row is None:
        return say("{difference}, over all hauls.", difference=said)
    verdict = row["mean"]["verdict"]
    if verdict == effect["verdict"]:
        return say("{difference}, over all hauls and over the boats.", difference=said)
    return say(
        "{difference}, over all hauls; for boats at large it is {verdict}.",
        difference=said,
        verdict=say(VERDICT_WORDS[verdict]),
    )


def _by_the_mean(effect: Row | None, row: Row, outcome: Row) -> str:
    """A difference that is clear by the mean over boats alone."""
    mean = row["mean"]
    difference = f"{said_of(row | mean, outcome)} ({span(mean['low'], mean['high'], outcome)})"
    boats = row["boats_with_a_ratio"]
    if effect is None:
        return say(
            "{difference}, by the mean over {boats} boats, each held to itself.",
            difference=difference,
            boats=boats,
        )
    return say(
        "{difference}, by the mean over {boats} boats, each held to itself; over all hauls it is "
        "{verdict}.",
        difference=difference,
        boats=boats,
        verdict=verdict_words(effect),
    )


def cards(findings: Findings) -> list[Card]:
    """A card for each rig that is shared: over all hauls, and over the boats."""
    outcomes = outcomes_of(findings)
    lines: dict[str, list[CardLine]] = {}
    for name in findings["season"]["headlines"]:
        told = {effect["rig"]: effect for effect in over_all(findings, name)}
        means = {row["rig"]: row for row in pooled(findings, name)}
        for rig in dict.fromkeys([*told, *means]):
            line = (
                _line(told[rig], means.get(rig), outcomes[name], gainsaid(findings, name, rig))
                if rig in told
                else _line_of_a_mean(means[rig], outcomes[name])
            )
            lines.setdefault(rig, []).append(line)
    return [Card(rig, of_rig) for rig, of_rig in lines.items()]


def _line(effect: Row, row: Row | None, outcome: Row, gainsaid: list[str]) -> CardLine:
    none = [say("No mean over boats can be shown.")]
    sides = none if row is None else over_boats_words(row, outcome)
    leans = _leans(effect["verdict"], outcome)
    return CardLine(say(outcome["title"]), in_brief(effect, outcome), leans, [*gainsaid, *sides])


def _line_of_a_mean(row: Row, outcome: Row) -> CardLine:
    """The line of a rig of which the mean over boats alone is shown."""
    mean, *sides = over_boats_words(row, outcome)
    return CardLine(say(outcome["title"]), mean, _leans(row["mean"]["verdict"], outcome), sides)


def _leans(verdict: Verdict, outcome: Row) -> str:
    if not is_clear_verdict(verdict):
        return "open"
    return "better" if verdict == outcome["better"] else "worse"
