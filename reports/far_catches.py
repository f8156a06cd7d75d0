"""Catches so far beyond the others that they may be slips of the pen: where, and how far."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.checking.check_season import PLACE
from reports.cells import species_word
from reports.language import number, say
from reports.reason_words import value_said
from reports.sentences import listed
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings

MOST_NAMED = 2

ONE_CATCH = saying("{weight} kg of {species} in one haul ({place}; as a rule {usual} kg)")
USED_AS_THEY_STAND = saying(
    "Far beyond the others, and in these figures as it stands: {catches}. If it is a slip, put it "
    "right."
)


def far_catches(findings: Findings) -> str:
    """Each such catch: how much, of what, in which row of the log, and what was usual; in kilos."""
    far = sorted(findings["far_catches"], key=lambda row: -row["kg"])
    named = [
        say(
            ONE_CATCH,
            weight=number(row["kg"], ",.0f"),
            species=species_word(row["species"]),
            place=say(PLACE, file=value_said(row["source_file"]), row=row["source_row"]),
            usual=number(row["usual"], ",.0f"),
        )
        for row in far[:MOST_NAMED]
    ]
    others = len(far) - MOST_NAMED
    more = [say("{number} more", number=others)] if others > 0 else []
    return listed([*named, *more])


def far_catches_are_in(findings: Findings) -> list[str]:
    """That rates of fish have such catches in them; nothing where there are none."""
    if not findings["far_catches"]:
        return []
    return [say(USED_AS_THEY_STAND, catches=far_catches(findings))]
