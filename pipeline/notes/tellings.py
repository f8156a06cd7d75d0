"""What the clauses of a note tell of harm to the net, and where to find a word in them."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from pipeline.notes.clauses import Clause, Item


class Telling(NamedTuple):
    """What a clause tells: the items that tell of harm, deny it, say sound, or harm of a door.

    `spared` is all that says that nothing was harmed. `elsewhere` is of another boat or another
    day, `doubted` what the writer is not sure of; `sure` is harm to this net in this haul, without
    a doubt.
    """

    clause: Clause
    harm: tuple[Item, ...]
    denied: tuple[Item, ...]
    sound: tuple[Item, ...]
    away: tuple[Item, ...]
    spared: tuple[Item, ...]
    elsewhere: bool
    doubted: bool
    sure: bool


class Tellings(list[Telling]):
    """What each clause of a note tells, in their order; `sections` has those of all its items."""

    def __init__(self, sections: frozenset[str]) -> None:
        super().__init__()
        self.sections = sections

    def of(self, section: str, group: str | None = None) -> list[Item]:
        """All items that stand in the section of the word file, and there in the group."""
        if section not in self.sections:
            return []
        return [item for one in self for item in one.clause.of(section, group)]
