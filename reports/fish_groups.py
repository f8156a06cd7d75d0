"""Which of the fish that were caught count as bottom-living, and which do not."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.cells import species_word
from reports.language import say
from reports.sentences import listed
from schemas.words import saying

if TYPE_CHECKING:
    from pipeline.findings import Findings

MOST_NAMED = 12
"""So many species of a group are named, those of most weight."""

GROUPS = {
    "bottom_living": saying("Of what was caught these count so, by weight: {species}."),
    "other": saying("As other fish count: {species}."),
    "neither": saying("In neither group, as no list says if they live on the bottom: {species}."),
}
ALL_BY_SEASON = saying("The season's own table of species says so.")
SOME_BY_SEASON = saying(
    "Of {said:,} of them the season's own table of species says so, of the others the program's "
    "list."
)
NONE_CAUGHT = saying("None of what was caught counts so.")


def groups_of_fish(findings: Findings) -> list[str]:
    """The fish that count as bottom-living, as other fish and in neither group, by name."""
    groups = findings["fish_groups"]
    if not any(groups[group] for group in GROUPS):
        return []
    none = [] if groups["bottom_living"] else [say(NONE_CAUGHT)]
    named = [
        say(words, species=_named(groups[group]))
        for group, words in GROUPS.items()
        if groups[group]
    ]
    return [" ".join([*none, *named, *_said_by_season(findings)])]


def _named(species: list[str]) -> str:
    others = len(species) - MOST_NAMED
    more = [say("{number} more", number=others)] if others > 0 else []
    return listed([*map(species_word, species[:MOST_NAMED]), *more])


def _said_by_season(findings: Findings) -> list[str]:
    """Of how many of them it is the season's own table that says so; nothing where of none."""
    groups = findings["fish_groups"]
    said, known = groups["said_by_season"], len(groups["bottom_living"]) + len(groups["other"])
    if not said:
        return []
    return [say(ALL_BY_SEASON) if said == known else say(SOME_BY_SEASON, said=said)]
