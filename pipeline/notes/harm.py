"""What each clause of a note tells: harm to the net, none, doubt, or harm of another net or day.

Which words tell what is common practice, no source; how far a denial or a part reaches is this
project's own judgement, no source, found on the notes in `tests/notes`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pipeline.notes.clauses import Clause, Item

Says = Literal["harm", "denied", "sound", "away"]
"""What an item says: harm to the net, none, a sound net, or harm to what is no net."""

DENIAL_REACHES = 7
"""A not denies harm so many words further on at most."""
NOTHING_TO_MEND = 3
"""Nothing denies a mend or a trouble with at most so many words between."""
DOUBT_BEHIND = 2
"""Doubt that follows harm by more words than this is about something else."""
THING_REACHES, THING_BESIDE, PART_NEAR = 5, 2, 3
"""How near a door or a winch claims the harm, and how near a part keeps it."""

LABELS = {"dmg", "damage", "damaged", "dam", "damages"}
"""Words that may only be the name of a box on the form: dmg: none."""
ANSWERED_NO = {"n", "no", "none", "nil", "0"}

NOT_SO = {"not", "nae"}
NOT_SOUND = NOT_SO | {"isnt", "isn't"}
TURNED_BY_NOT = {"undamaged", "ok", "intact", "whole", "sound", "all right"}
"""Not whole is harm."""
SAID_OF_ANYTHING = {
    "good", "clean", "cln", "clear", "fine", "grand", "sweet", "whole", "sound", "handsome",
    "perfect",
}  # fmt: skip
"""Fishing may be good and the weather fine; these count only of the net, a part, or alone."""

SIZED = re.compile(r"\d+ ?(?:x ?\d+|meshes|mesh|bars)")
"""So many meshes of a part: it is a hole that is measured."""

ANOTHERS = re.compile(
    r"\b(?!today|this|yesterday|haul|let|it|he|she|that|net|what|there|who|where|here|one)\w{3,}'s "
    r"(?:net|trawl|cod ?end|belly)\b"
)
"""The net of a boat or a man with a name."""


@dataclass(frozen=True)
class Telling:
    """What a clause tells: the items that tell of harm, deny it, say sound, or harm of a door.

    `elsewhere` is of another boat or another day; `doubted` is what the writer is not sure of.
    """

    clause: Clause
    harm: tuple[Item, ...]
    denied: tuple[Item, ...]
    sound: tuple[Item, ...]
    away: tuple[Item, ...]
    elsewhere: bool
    doubted: bool

    @property
    def sure(self) -> bool:
        """Whether it tells of harm to this net in this haul, without a doubt."""
        return bool(self.harm) and not self.elsewhere and not self.doubted

    @property
    def spared(self) -> tuple[Item, ...]:
        """What in it says that nothing was harmed."""
        return self.denied + self.sound


def tellings(clauses: list[Clause]) -> list[Telling]:
    """What each clause of a note tells, in their order."""
    told: list[Telling] = []
    for clause, elsewhere, doubt in zip(
        clauses, _elsewhere(clauses), _in_doubt(clauses), strict=True
    ):
        before = told[-1] if told and told[-1].clause.sentence == clause.sentence else None
        told.append(_telling(clause, before, elsewhere=elsewhere, in_doubt=doubt))
    return told


def _elsewhere(clauses: list[Clause]) -> Iterator[bool]:
    """Whether each clause speaks of another boat's net or of another day, until a but."""
    others = old = again = -1
    for clause in clauses:
        of_another = bool(clause.of("other_boat"))
        if clause.of("own"):
            others = -1
        if of_another or ANOTHERS.search(clause.text):
            others = clause.sentence
        if clause.of("old", "words"):
            old = clause.sentence
        if clause.of("old", "again"):
            again = clause.sentence
        if again == clause.sentence:
            old = -1
        yield clause.sentence in {others, old} and not (clause.turned and not of_another)


def _in_doubt(clauses: list[Clause]) -> Iterator[bool]:
    """Whether a doubt of the same sentence reaches each clause; a but ends it."""
    doubtful = -1
    for clause in clauses:
        if clause.of("doubt"):
            doubtful = clause.sentence
        elif clause.turned:
            doubtful = -1
        yield doubtful == clause.sentence


def _telling(clause: Clause, before: Telling | None, *, elsewhere: bool, in_doubt: bool) -> Telling:
    """What a clause tells, after the one before it in the sentence."""
    said: dict[Says, list[Item]] = {"harm": [], "denied": [], "sound": [], "away": []}
    part_near = bool(clause.parts) or _leaves_a_part(before)
    for item in clause.items:
        says = _says(item, clause, part_near=part_near)
        if says is not None:
            said[says].append(item)
    if not (said["harm"] or said["denied"] or said["sound"]) and _sized(clause):
        said["harm"].append(clause.parts[0])
    harm, denied = tuple(said["harm"]), tuple(said["denied"])
    doubted = _doubted(clause, harm, in_doubt=in_doubt)
    if harm and before and before.denied and not before.harm and clause.first_word in {"or", "nor"}:
        harm, denied = (), harm
    sound, away = tuple(said["sound"]), tuple(said["away"])
    return Telling(clause, harm, denied, sound, away, elsewhere=elsewhere, doubted=doubted)


def _leaves_a_part(before: Telling | None) -> bool:
    """Whether the clause before names a part and leaves it open what became of it."""
    return bool(before and before.clause.of("part") and not before.harm and not before.sound)


def _sized(clause: Clause) -> bool:
    """Whether it measures a hole in a part."""
    return bool(clause.parts and SIZED.search(clause.text) and not clause.of("skip"))


def _doubted(clause: Clause, harm: tuple[Item, ...], *, in_doubt: bool) -> bool:
    """Whether the harm it tells of is doubted."""
    if clause.asked or any(_label_in_doubt(item, clause) for item in clause.items):
        return True
    doubts = clause.of("doubt")
    if not harm or not in_doubt:
        return False
    return not doubts or doubts[0].at <= harm[0].at + DOUBT_BEHIND


def _label_in_doubt(item: Item, clause: Clause) -> bool:
    """Whether it is a box of the form with a doubt in it: damage: not sure."""
    after = clause.after(item)
    return _is_label(item, clause) and after is not None and after.means("doubt")


def _is_label(item: Item, clause: Clause) -> bool:
    """Whether it is the name of a box of the form."""
    return item.text in LABELS and _rest(item, clause).lstrip().startswith(":")


def _rest(item: Item, clause: Clause) -> str:
    """The note behind the item."""
    return clause.note[item.stop :]


def _says(item: Item, clause: Clause, *, part_near: bool) -> Says | None:
    """What an item of a clause says of the net."""
    nots = clause.of("not")
    may_lack = item.means("trouble") or item.means("mending")
    if may_lack and any(item.follows(no, NOTHING_TO_MEND) for no in nots):
        return "denied"
    if item.means("harm"):
        return _harm_says(item, clause, part_near=part_near)
    if item.means("sound", "words"):
        return _sound_says(item, clause)
    if item.means("sound", "bare") and not item.means("not") and len(clause.words) <= 2:
        return "sound"
    return None


def _sound_says(item: Item, clause: Clause) -> Says | None:
    """What a word that says sound says: the contrary after a not."""
    if any(item.follows(no, 1) for no in clause.of("not")):
        if item.text in TURNED_BY_NOT and clause.said & NOT_SOUND:
            return "harm"
        if clause.said & NOT_SO:
            return None
    of_what = (*clause.parts, *clause.of("thing"))
    of_the_gear = clause.names_the_net or any(item.follows(one, PART_NEAR) for one in of_what)
    alone = len(clause.words) <= 2 or bool(clause.of("off_clean"))
    return "sound" if item.text not in SAID_OF_ANYTHING or of_the_gear or alone else None


def _harm_says(item: Item, clause: Clause, *, part_near: bool) -> Says | None:
    """What a word of harm says: harm, unless denied, of fish, of a door, or of nothing named."""
    if _is_label(item, clause) and not _rest(item, clause).strip(" :."):
        return None
    if _denied(item, clause):
        return "denied"
    if clause.of("fish") and not clause.parts:
        return None
    if _of_a_thing(item, clause):
        return "away"
    near = part_near or clause.names_the_net
    return "harm" if item.means("harm", "sure") or near else None


def _denied(item: Item, clause: Clause) -> bool:
    """Whether a not before the harm, or a none behind it, denies it."""
    answer = _rest(item, clause).lstrip(" :").split(" ")[0].strip(",.;|/")
    if item.text in LABELS and answer in ANSWERED_NO:
        return True
    after = clause.after(item)
    if after is not None and after.means("sound", "bare") and after.follows(item, 1):
        return True
    return any(0 < item.at - no.at <= DENIAL_REACHES for no in clause.of("not"))


def _of_a_thing(item: Item, clause: Clause) -> bool:
    """Whether the harm is to a door, a winch or the like, and not to a part of the net."""
    to_thing = min((abs(thing.at - item.at) for thing in clause.of("thing")), default=None)
    if to_thing is None:
        return False
    if not clause.parts and not clause.names_the_net and to_thing <= THING_REACHES:
        return True
    to_part = min((abs(part.at - item.at) for part in clause.parts), default=None)
    return to_thing <= THING_BESIDE and (to_part is None or to_part > PART_NEAR)
