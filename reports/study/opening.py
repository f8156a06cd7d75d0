"""The first screen of the study's page: what was compared, and the headline effects."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import interval_columns, of_either, outcomes_of, p_cell, ratio_or_none
from reports.doubts import held_alike
from reports.language import say, say_many
from reports.parts import table_of
from reports.sentences import (
    capital,
    factor_words,
    is_headline,
    is_told,
    listed,
    title_of,
    verdict_words,
)
from reports.study.methods import headline_effects
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Table


LIKE_FOR_LIKE = saying(
    "{versions} against {reference}, per hour towed, like for like in {factors} as far as trips "
    "allow"
)
AS_THEY_WERE = saying("{versions} against {reference}, per hour towed, as they were")
TOGETHER = saying("{comparisons} headline comparisons, judged together.")
EACH_BY_ITSELF = saying("{comparisons} headline comparisons, each judged by itself.")


def what_was_compared(findings: Findings) -> str:
    """Which rigs, against which, in what, like for like in what, judged among how many."""
    season, looks = findings["season"], findings["standing"]["looks"]
    others = len(findings["rigs"]) - 1
    compared_rigs = {e["rig"] for e in findings["effects"] if is_headline(e) and is_told(e)}
    if not others:
        return say(
            "Only one rig version was fished, {reference}: nothing is compared.",
            reference=season["reference_rig"],
        )
    outcomes = outcomes_of(findings)
    titles = [title_of(outcomes[name]) for name in season["headlines"] if name in outcomes]
    factors = listed(factor_words(held_alike(findings)))
    compared = say(
        LIKE_FOR_LIKE if factors else AS_THEY_WERE,
        versions=say_many("one rig version", "{number} rig versions", len(compared_rigs) or others),
        reference=season["reference_rig"],
        factors=factors,
    )
    said = f"{capital(f'{listed(titles)}: {compared}' if titles else compared)}."
    if looks["comparisons"] < 2:
        return said
    judged = TOGETHER if looks["allowed_for"] else EACH_BY_ITSELF
    return f"{said} {say(judged, comparisons=looks['comparisons'])}"


def headline_table(findings: Findings) -> Table | None:
    """The headline effects over all grounds; None where there is none."""
    outcomes, heads = outcomes_of(findings), findings["season"]["headlines"]
    effects = sorted(
        headline_effects(findings), key=lambda e: (heads.index(e["outcome"]), e["rig"])
    )
    if not effects:
        return None
    looks = findings["standing"]["looks"]
    intervals = interval_columns(looks)
    words = WITH_BOTH_INTERVALS if len(intervals) > 1 else WITH_ONE_INTERVAL
    return table_of(
        say(words, together=looks["confidence"] * 100),
        effects,
        [
            (say("rig"), lambda effect: effect["rig"]),
            (say("of"), lambda effect: title_of(outcomes[effect["outcome"]])),
            (say("ratio"), ratio_or_none),
            *intervals,
            (say("p"), lambda effect: p_cell(effect["p_value"])),
            (say("hauls"), of_either("hauls")),
            (say("trips"), of_either("trips")),
            (say("verdict"), verdict_words),
        ],
    )


WITH_BOTH_INTERVALS = saying(
    "Headline effects: the rate with a rig as a ratio to the reference's; the interval at 95 % by "
    "itself, and at {together:.4g} %, as verdicts have it; the hauls that it rests on, and their "
    "trips, with the rig and with the reference"
)
WITH_ONE_INTERVAL = saying(
    "Headline effects: the rate with a rig as a ratio to the reference's, with its 95 % interval; "
    "the hauls that it rests on, and their trips, with the rig and with the reference"
)
