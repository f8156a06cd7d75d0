"""What of the fish is not told, and why: catches of which a row was set aside, unlisted species."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import species_word
from reports.language import say, say_many
from reports.reason_words import reason_said
from reports.sentences import listed
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings

MANY_LACK = 0.05
"""Of so large a share of hauls without a whole catch the first screen tells; own judgement."""

LACKING = saying(
    "The catch of {lacking:,} of {hauls:,} hauls was written and can't be used, as a row of it was "
    "set aside. Most often it is that {column} {cell}{reason}. “rigseason check” tells of all"
)
OF_ITS_OWN = saying(
    "{species}: in no list, so counted neither as bottom-living nor as other fish, in every haul "
    "alike. If it lives on the bottom it is missing from the bottom-living fish told here; a line "
    "in the table species says so (“rigseason check” has it)"
)
OF_THEIR_OWN = saying(
    "{species}: in no list, so counted neither as bottom-living nor as other fish, in every haul "
    "alike. Those that live on the bottom are missing from the bottom-living fish told here; a "
    "line each in the table species says so (“rigseason check” has them)"
)


def fish_left_out(findings: Findings) -> list[str]:
    """What of the fish is not told, a sentence each, as it is to be known before all that is."""
    return [f"{said}." for said in (*_lacking(findings), *_of_no_list(findings))]


def _lacking(findings: Findings) -> list[str]:
    """Why catches that were written can't be used, where they are many."""
    record = next((row for row in findings["records"] if row["outcome"] == "catch"), None)
    why = findings["catches_lack"]
    if record is None or not why or record["set_aside"] < MANY_LACK * record["hauls"]:
        return []
    most = why[0]
    return [
        say(
            LACKING,
            lacking=record["set_aside"],
            hauls=record["hauls"],
            column=most["column"] or say("a row"),
            cell=f"'{most['value']}' " if most["value"] else "",
            reason=reason_said(most["reason"]),
        )
    ]


def _of_no_list(findings: Findings) -> list[str]:
    """That species of the log's own count in neither group, and what to write."""
    species = [
        say_many(
            "{species} (in {number:,} haul)",
            "{species} (in {number:,} hauls)",
            row["hauls"],
            species=species_word(row["species"]),
        )
        for row in findings["unlisted_species"]
    ]
    if not species:
        return []
    return [say(OF_ITS_OWN if len(species) == 1 else OF_THEIR_OWN, species=listed(species))]
