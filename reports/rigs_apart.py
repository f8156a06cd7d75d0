"""The rigs that could not be held to the reference over all grounds, and for which reason."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from reports.cells import outcomes_of
from reports.language import say
from reports.sentences import listed, title_of
from schemas.codes import Caution
from schemas.words import ALL_GROUNDS, saying

if TYPE_CHECKING:
    from pipeline.findings import Findings
    from reports.parts import Row


@dataclass(frozen=True)
class RigsApart:
    """Those hardly fished side by side with it in a headline outcome, and those too seldom.

    `untold` are those that were, but hardly in the hauls that tell of an outcome: by the titles of
    these outcomes.
    """

    hardly: list[str] = field(default_factory=list)
    few: list[str] = field(default_factory=list)
    untold: dict[str, list[str]] = field(default_factory=dict)


UNTOLD = saying(
    "{rigs}: fished side by side with {reference}, but hardly in hauls that tell of {outcomes}. It "
    "is more of the record that is wanted there, not of the fishing."
)


NO_FIGURE = saying(
    "{rigs}: fished side by side with {reference}, but hardly in the hauls that tell of it, so no "
    "difference is given. It is more of the record that is wanted, not of the fishing."
)
"""The same where it stands behind the outcome."""


def rigs_apart(findings: Findings) -> RigsApart:
    """The rigs that could not be held to the reference, each under its reason."""
    apart, outcomes = RigsApart(), outcomes_of(findings)
    without: dict[str, list[Row]] = {}
    for effect in findings["effects"]:
        if (
            effect["ground"] == ALL_GROUNDS
            and effect["outcome"] in findings["season"]["headlines"]
            and Caution.NOT_SIDE_BY_SIDE in effect["cautions"]
        ):
            without.setdefault(effect["rig"], []).append(effect)
    for rig, effects in sorted(without.items()):
        cautions = {caution for effect in effects for caution in effect["cautions"]}
        if Caution.UNTOLD_SIDE_BY_SIDE in cautions:
            names = dict.fromkeys(effect["outcome"] for effect in effects)
            titles = listed([title_of(outcomes[name]) for name in names])
            apart.untold.setdefault(titles, []).append(rig)
        else:
            (apart.few if Caution.FEW_SIDE_BY_SIDE in cautions else apart.hardly).append(rig)
    return apart


def untold_words(rigs: str, reference: str, titles: str) -> str:
    """That these rigs were side by side with the reference, but hardly where it is told of."""
    return say(UNTOLD, rigs=rigs, reference=reference, outcomes=titles)
