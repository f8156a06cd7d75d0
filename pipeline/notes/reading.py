"""Notes read: was the net damaged, where, on which side, by what, and what it cost in hours."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from pipeline.notes.causes import causes_of
from pipeline.notes.clauses import clauses_of
from pipeline.notes.damaged import SHORT_ANSWERS, damage_told
from pipeline.notes.gist import gists_of, learned_gist
from pipeline.notes.hands import hands_told
from pipeline.notes.harm import tellings
from pipeline.notes.hours import hours_by_rules, hours_told
from pipeline.notes.lexicon import built_in, plain
from pipeline.notes.parts import damaged_parts
from pipeline.notes.patterns import learned_patterns
from pipeline.notes.plain_cases import told_plainly
from pipeline.notes.settling import (
    of_one_mind_on_damage,
    of_one_mind_on_names,
    settled_damage,
    settled_names,
    settling,
)
from pipeline.notes.sides import side_of
from pipeline.notes.told import Told, no_surer
from pipeline.notes.uses import learned_uses
from pipeline.notes.weighing import learned
from schemas.words import CAUSES, NET_PARTS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pipeline.notes.clauses import Clause
    from pipeline.notes.damaged import Answer
    from pipeline.notes.lexicon import Lexicon
    from pipeline.notes.patterns import Found
    from pipeline.notes.settling import Names
    from pipeline.notes.tellings import Tellings
    from pipeline.notes.weighing import NoteWeighed

MOST_LETTERS = 2000
"""So much of a note is read; what comes behind it is not."""


class Reading(NamedTuple):
    """What a note tells of this boat's net in this haul; None and () are not told.

    Hours are by the clock, `hands` is how many mended. Each comes with the words that it rests on
    and how sure it is.
    """

    damaged: Told[Answer | None] = Told(None)
    parts: Told[tuple[str, ...]] = Told(())
    side: Told[str | None] = Told(None)
    cause: Told[tuple[str, ...]] = Told(())
    mending_hours: Told[float | None] = Told(None)
    hands: Told[int | None] = Told(None)
    hours_lost: Told[float | None] = Told(None)


MOST_CLAUSES, MOST_WORDS, MOST_TIMES = 13, 120, 12
"""No note learned from has more than 13 clauses, 58 words or five times. What is said again beyond
that is weighed once, and of what is far longer the weights know nothing: the rules alone tell."""

OF_DAMAGE = {"harm", "sound", "doubt", "old", "other_boat", "tide", "thing", "not", "off_clean"}
"""Sections of the word file that tell whether the net was damaged."""

FIELDS = Reading._fields
"""The things that a note may tell."""


@dataclass
class Draft:
    """What is made of a note before anybody asks for its gist.

    `weighed` and `found` are None where the rules alone tell; `plainly` is what is read as it
    stands, and `own` the sections of which the season's own words tell.
    """

    told: Tellings
    clauses: list[Clause]
    by_rules: Told[Answer | None]
    weighed: NoteWeighed | None
    found: Found | None
    plainly: Told[Answer | None] | None
    own: set[str]

    @cached_property
    def names(self) -> tuple[tuple[str, tuple[str, ...], Names], ...]:
        """The parts and causes that there are, and those that the rules tell."""
        return (
            ("part", NET_PARTS, damaged_parts(self.told)),
            ("cause", CAUSES, causes_of(self.told)),
        )


def load_what_notes_are_read_by() -> None:
    """Load the words and all that was learned, before the first note: it takes half a second."""
    for load in (
        built_in,
        learned,
        learned_patterns,
        learned_uses,
        settling,
        learned_gist,
    ):
        load()


def read_note(note: str, lexicon: Lexicon | None = None) -> Reading:
    """Read one note by the words of the lexicon, else by those of `words.toml`."""
    return read_several([note], lexicon)[0]


def read_several(notes: Sequence[str], lexicon: Lexicon | None = None) -> list[Reading]:
    """Read notes likewise; the gist of those that want it is found for several at once."""
    texts = [plain(note[:MOST_LETTERS]) for note in notes]
    drafts = [draft_of(text, lexicon or built_in()) if text else None for text in texts]
    asked = [at for at, draft in enumerate(drafts) if draft and wants_gist(draft)]
    gists = dict(zip(asked, gists_of([texts[at] for at in asked]), strict=True))
    return [
        _finished(draft, gists.get(at)) if draft else Reading() for at, draft in enumerate(drafts)
    ]


def draft_of(text: str, words: Lexicon) -> Draft:
    """What is made of a plain text before its gist."""
    clauses = clauses_of(text, words)
    told = tellings(clauses)
    by_rules = damage_told(told)
    once = _said_once(clauses)
    if not _like_those_learned_from(once):
        return Draft(told, clauses, by_rules, None, None, None, set())
    own = _sections_of_own(words, clauses) if words.own else set()
    plainly = _short_answer(text) or told_plainly(told, by_rules)
    plainly = by_rules if own & OF_DAMAGE and by_rules.sure != "guess" else plainly
    weighed, found = learned().weigh(once), learned_patterns().find(once)
    return Draft(told, clauses, by_rules, weighed, found, plainly, own)


def wants_gist(draft: Draft) -> bool:
    """Whether rules, weights and patterns differ over what is not read as it stands."""
    weighed, found = draft.weighed, draft.found
    if weighed is None or found is None:
        return False
    if draft.plainly is None and not of_one_mind_on_damage(draft.by_rules, weighed, found):
        return True
    return (draft.plainly or draft.by_rules).value == "yes" and not all(
        section in draft.own or of_one_mind_on_names(section, names, ruled, weighed, found)
        for section, names, ruled in draft.names
    )


def _finished(draft: Draft, gist: Found | None) -> Reading:
    """The reading of a note; where its gist was not asked for, by the rules."""
    told, by_rules, weighed, found = draft.told, draft.by_rules, draft.weighed, draft.found
    if weighed is None or found is None:
        return _by_rules_alone(told, by_rules)
    damaged = draft.plainly or (
        settled_damage(by_rules, weighed, found, gist) if gist else by_rules
    )
    mending, lost = hours_told(told, damaged.value)
    if damaged.value != "yes":
        return Reading(damaged=damaged, hours_lost=lost)
    parts, causes = (
        ruled
        if gist is None or section in draft.own
        else settled_names(section, names, ruled, weighed, found, gist, draft.clauses)
        for section, names, ruled in draft.names
    )
    return _whole(told, damaged, parts, causes, mending, lost)


def _by_rules_alone(told: Tellings, damaged: Told[Answer | None]) -> Reading:
    """What the rules make of a note, where no weight of its words means anything."""
    mending, lost = hours_by_rules(told, torn=damaged.value == "yes")
    if damaged.value != "yes":
        return Reading(damaged=damaged, hours_lost=lost)
    return _whole(told, damaged, damaged_parts(told), causes_of(told), mending, lost)


def _whole(
    told: Tellings,
    damaged: Told[Answer | None],
    parts: Told[tuple[str, ...]],
    causes: Told[tuple[str, ...]],
    mending: Told[float | None],
    lost: Told[float | None],
) -> Reading:
    return Reading(
        damaged=damaged,
        parts=no_surer(parts, damaged),
        side=no_surer(side_of(told), damaged),
        cause=no_surer(causes, damaged),
        mending_hours=no_surer(mending, damaged),
        hands=hands_told(told),
        hours_lost=lost,
    )


def _sections_of_own(lexicon: Lexicon, clauses: list[Clause]) -> set[str]:
    """The sections of the season's own words in a note: of these the weights know nothing."""
    items = (item for clause in clauses for item in clause.items if item.words in lexicon.own)
    return {section for item in items for section in item.meanings}


def _said_once(clauses: list[Clause]) -> list[Clause]:
    """The clauses, where there are very many without those that say the same again."""
    if len(clauses) <= MOST_CLAUSES:
        return clauses
    return list({clause.text: clause for clause in clauses}.values())


def _like_those_learned_from(clauses: list[Clause]) -> bool:
    words = sum(len(clause.words) for clause in clauses)
    return words <= MOST_WORDS and sum(len(one.of("time")) for one in clauses) <= MOST_TIMES


def _short_answer(text: str) -> Told[Answer | None] | None:
    """No, where the whole note is a no, a nought or a stroke."""
    stroke = "-" in text and not text.strip(" .!-")
    return Told("no", (text,)) if stroke or text.strip(" .!-") in SHORT_ANSWERS else None
