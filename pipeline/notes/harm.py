"""What each clause of a note tells: harm to the net, none, doubt, or harm of another net or day.

Which words tell what is common practice, no source; how far a denial or a part reaches is this
project's own judgement, no source, found on the notes in `tests/notes`.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal

from pipeline.notes.tellings import Telling, Tellings

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
THOUGHT_REACHES = 1
"""An I think doubts the word at most so many words away."""
LOOKS = frozenset({"looks", "looked", "seems", "seemed"})
"""A net that looks sound is one; one that looks torn may not be."""
NOTHING_LEFT = 3
"""Not much belly left is harm."""
THING_REACHES, THING_BESIDE, PART_NEAR = 5, 2, 3
"""How near a door or a winch claims the harm, and how near a part keeps it."""

PART_BEFORE = 5
"""So many words may stand between a part and off, away, out."""
PART_BEHIND = 4
"""So many between took, cut, through and a part: took a piece of the square."""
TIME_BESIDE = 1
"""Lost so few words from a time is time lost."""
THEIRS = {"his", "their"}
OURS = {"us", "our", "ours", "we"}
"""Whose net it is."""
THE_NET = {"net", "nets", "trawl", "trawls", "gear", "netting", "twine"}
MESHES = {"mesh", "meshes", "msh", "bars"}
NET_NEAR = 2
"""Lost the net, meshes gone: one of these within so many words."""
ALONE = 2
"""In a note of so few words a word of harm has the net to itself: broken; all gone."""

BEGINS_ANEW = {"is", "was", "has", "are", "were", "had", "it", "he"}
"""Behind an and, words with which something new is said."""
NAMES_OF_A_BOX = {"dmg", "damage", "damaged", "dam", "damages"}
LABELS = NAMES_OF_A_BOX | {
    "torn", "tear", "tears", "rip", "rips", "holes", "hole", "defects", "failure", "ripped",
    "burst",
}  # fmt: skip
"""Words that may only be the name of a box on the form: dmg: none."""
ANSWERED_NO = {"n", "no", "none", "nil", "0"}

NOT_SO = {"not", "nae"}
NOT_SOUND = NOT_SO | {"isnt", "isn't"}
TURNED_BY_NOT = {"undamaged", "ok", "intact", "whole", "sound", "all right"}
"""Not whole is harm."""
SAID_OF_ANYTHING = {
    "good", "clean", "cln", "clear", "fine", "grand", "sweet", "whole", "sound", "handsome",
    "perfect", "tidy", "super", "lovely", "normal", "the same", "same again", "dandy", "champion",
    "bonny", "braw", "canny", "smooth", "smoothly", "safe", "still there", "all there", "passed",
    "satisfactory", "happy days", "fit", "bra", "fint", "flott", "gud", "guid", "gd",
    "every stitch", "every mesh", "good as gold", "normal op", "mooi", "prima",
}  # fmt: skip
"""Fishing may be good and the weather fine; these count only of the net, a part, or alone."""

SAYING = frozenset({"harm", "sound", "trouble", "mending"})
"""Sections whose words say something of the net."""
NOT_YET = {"not", "nae", "no'", "didn't", "didnt", "wasn't", "wasnt", "isn't", "hasn't", "never"}
"""What is not mended is torn all the same; nothing mended is none."""

SAID_OF_THE_NET_FIRST = {"fine", "grand", "perfect"}
"""At the head of a note these are of the net."""

SIZED = re.compile(r"\d+ ?(?:x ?\d+|meshes|mesh|mash|msh|m/s|bars)")
"""So many meshes of a part: it is a hole that is measured."""

ANOTHERS = re.compile(
    r"\b(?!today|this|yesterday|haul|let|it|he|she|that|net|what|there|who|where|here|one)\w{3,}'s "
    r"(?:net|trawl|cod ?end|belly|gear|bag)\b"
    r"|\b(?:his|their) (?:\w+ )?(?:net|trawl|gear|bag|cod ?end|belly|wings?|bosom|square|twine)s?\b"
)
"""The net of a boat or a man with a name."""


def tellings(clauses: list[Clause]) -> Tellings:
    """What each clause of a note tells."""
    sections = frozenset[str]().union(*[clause.by_section for clause in clauses])
    none = [False] * len(clauses)
    elsewhere = _elsewhere(clauses) if any(map(_may_be_elsewhere, clauses)) else none
    in_doubt = _in_doubt(clauses) if "doubt" in sections else none
    told = Tellings(sections)
    for clause, other, doubt in zip(clauses, elsewhere, in_doubt, strict=True):
        before = told[-1] if told and told[-1].clause.sentence == clause.sentence else None
        told.append(_telling(clause, before, elsewhere=other, in_doubt=doubt))
    return told


def _elsewhere(clauses: list[Clause]) -> Iterator[bool]:
    """Whether each clause speaks of another boat's net or of another day, until a but."""
    others = old = again = -1
    before = {clause.sentence for clause in clauses if clause.of("old", "back")}
    animals = {clause.sentence for clause in clauses if clause.of("cause", "animal")}
    for clause in clauses:
        of_another = bool(clause.of("other_boat")) and clause.sentence not in animals
        if clause.of("own"):
            others = -1
        if (of_another or _of_somebody(clause)) and not _then_of_ours(clause):
            others = clause.sentence
        if any(_of_another_day(item, clause) for item in clause.of("old", "words")):
            old = clause.sentence
        if clause.of("old", "again"):
            again = clause.sentence
        if again == clause.sentence:
            old = -1
        yield clause.sentence in {others, old, *before} and not (clause.turned and not of_another)


def _may_be_elsewhere(clause: Clause) -> bool:
    return "other_boat" in clause.by_section or "old" in clause.by_section or _of_somebody(clause)


def _of_somebody(clause: Clause) -> bool:
    """Whether it names the net of a man: Tern's belly, his net."""
    may_be = "'s" in clause.note or not clause.said.isdisjoint(THEIRS)
    return may_be and ANOTHERS.search(clause.text) is not None


def _of_another_day(item: Item, clause: Clause) -> bool:
    """Whether it says so; from haul only before the number of a haul."""
    return item.words[-1] != "haul" or clause.words.get(item.end, "").isdecimal()


def _then_of_ours(clause: Clause) -> bool:
    """Whether it comes back to this boat: a neighbour crossed our gear."""
    others = clause.of("other_boat")
    crossed = clause.of("cause", "other_gear")
    if any(OURS & set(cause.words) for cause in crossed):
        return True
    if any(harm.end <= cause.at for harm in clause.of("harm") for cause in crossed):
        return True
    if not others:
        return bool(clause.of("own"))
    return any(own.at > others[-1].at for own in clause.of("own"))


def _in_doubt(clauses: list[Clause]) -> Iterator[bool]:
    """Whether a doubt of the same sentence reaches each clause; a but ends it.

    A doubt that says of what it is, maybe a stone, does not reach beyond its clause.
    """
    doubtful = -1
    for clause in clauses:
        doubts = clause.of("doubt", "words")
        if doubts:
            doubtful = clause.sentence
        elif clause.turned:
            doubtful = -1
        yield doubtful == clause.sentence
        if doubts and any(clause.of(about) for about in ("cause", "harm", "time")):
            doubtful = -1


def _telling(clause: Clause, before: Telling | None, *, elsewhere: bool, in_doubt: bool) -> Telling:
    """What a clause tells, after the one before it in the sentence."""
    said: dict[Says, list[Item]] = {"harm": [], "denied": [], "sound": [], "away": []}
    if not SAYING.isdisjoint(clause.by_section):
        part_near = bool(clause.parts) or _leaves_a_part(before)
        for item in clause.items:
            says = _says(item, clause, part_near=part_near)
            if says is not None:
                said[says].append(item)
    if not (said["harm"] or said["denied"] or said["sound"]) and _sized(clause):
        said["harm"].append(clause.parts[0])
    harm, denied, sound, away = map(tuple, said.values())
    doubted = _doubted(clause, harm, in_doubt=in_doubt)
    if harm and before and before.denied and not before.harm and clause.first_word in {"or", "nor"}:
        harm, denied = (), harm
    sure = bool(harm) and not elsewhere and not doubted
    return Telling(clause, harm, denied, sound, away, denied + sound, elsewhere, doubted, sure)


def _leaves_a_part(before: Telling | None) -> bool:
    """Whether the clause before names a part and leaves it open what became of it."""
    return bool(before and before.clause.of("part") and not before.harm and not before.sound)


def _sized(clause: Clause) -> bool:
    """Whether it measures a hole in a part."""
    return bool(clause.parts and SIZED.search(clause.text) and not clause.of("skip"))


def _doubted(clause: Clause, harm: tuple[Item, ...], *, in_doubt: bool) -> bool:
    """Whether the harm it tells of is doubted."""
    if clause.asked:
        return True
    if "doubt" not in clause.by_section:
        return bool(harm) and in_doubt
    if any(_label_in_doubt(item, clause) for item in clause.items):
        return True
    if any(_thought_beside(item, clause) for item in harm):
        return True
    doubts = clause.of("doubt", "words")
    if not harm or not in_doubt:
        return False
    return not doubts or doubts[0].at <= harm[0].at + DOUBT_BEHIND


def _thought_beside(item: Item, clause: Clause, but: frozenset[str] = frozenset()) -> bool:
    """Whether an I think or a looks like stands right beside it."""
    return any(
        item.follows(doubt, THOUGHT_REACHES) or doubt.follows(item, THOUGHT_REACHES)
        for doubt in clause.of("doubt", "near")
        if not but & set(doubt.words)
    )


def _label_in_doubt(item: Item, clause: Clause) -> bool:
    """Whether it is a box of the form with a doubt in it: damage: not sure."""
    after = clause.after(item)
    return _is_label(item, clause) and after is not None and after.means("doubt")


def _is_label(item: Item, clause: Clause) -> bool:
    """Whether it is the name of a box of the form."""
    return item.text in LABELS and clause.note.startswith((":", " :", "=", " ="), item.stop)


def _rest(item: Item, clause: Clause) -> str:
    """The note behind the item."""
    return clause.note[item.stop :]


def _answered_no(item: Item, clause: Clause) -> bool:
    """Whether the first word behind the item says no."""
    return _rest(item, clause).lstrip(" :=").split(" ")[0].strip(",.;|/") in ANSWERED_NO


def _says(item: Item, clause: Clause, *, part_near: bool) -> Says | None:
    """What an item of a clause says of the net."""
    if SAYING.isdisjoint(item.meanings):
        return None
    nots = clause.of("not")
    if item.means("mending", "words") and not item.means("trouble"):
        nots = [no for no in nots if no.text not in NOT_YET]
    may_lack = item.means("trouble") or item.means("mending", "words")
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
    if _thought_beside(item, clause, but=LOOKS):
        return None
    of_what = (*clause.parts, *clause.things)
    of_the_gear = clause.names_the_net or any(item.follows(one, PART_NEAR) for one in of_what)
    if item.text == "the same" and item.end <= max(clause.words):
        return None
    alone = (
        len(clause.words) <= ALONE
        or (item.at == 0 and item.text in SAID_OF_THE_NET_FIRST)
        or bool(clause.of("off_clean"))
    )
    return "sound" if item.text not in SAID_OF_ANYTHING or of_the_gear or alone else None


def _harm_says(item: Item, clause: Clause, *, part_near: bool) -> Says | None:
    """What a word of harm says: harm, unless denied, of fish, of a door, or of nothing named."""
    if _is_label(item, clause) and not _rest(item, clause).strip(" :."):
        return None
    of_the_net = _of_the_net(item, clause, part_near=part_near)
    if _denied(item, clause):
        return None if item.means("harm", "behind_part") and not of_the_net else "denied"
    if clause.of("fish") and not clause.parts:
        return None
    if _of_a_thing(item, clause):
        return "away"
    lost_time = item.means("harm", "of_net") and _of_a_time(item, clause)
    return "harm" if of_the_net and not lost_time else None


def _of_the_net(item: Item, clause: Clause, *, part_near: bool) -> bool:
    """Whether the word of harm is one by itself, or stands as near to a part as it must."""
    how = item.meanings["harm"]
    if how == "sure" or len(clause.note.split()) <= ALONE:
        return True
    alone = len(clause.words) == len(item.words)
    if how == "with_part":
        let_go_of_us = item.text == "let go" and clause.said.isdisjoint(THE_NET | MESHES)
        return part_near or (not let_go_of_us and (clause.names_the_net or alone))
    if how == "of_net" and (net_beside(item, clause) or (alone and item.text == "gone")):
        return True
    if part_near and not clause.parts:
        return item.at == min(clause.words)
    behind = any(item.follows(part, PART_BEFORE) for part in clause.parts)
    return behind or (how != "behind_part" and _before_a_part(item, clause))


def _of_a_time(item: Item, clause: Clause) -> bool:
    """Whether a stretch of time stands right beside it: lost four hrs, two hours lost."""
    return any(
        time.follows(item, TIME_BESIDE) or item.follows(time, TIME_BESIDE)
        for time in clause.of("time")
    )


def _before_a_part(item: Item, clause: Clause) -> bool:
    """Whether a part follows; left wing is a side."""
    least = 1 if item.means("side") else 0
    return any(least <= part.at - item.end <= PART_BEHIND for part in clause.parts)


def net_beside(item: Item, clause: Clause) -> bool:
    """Whether net or trawl stands at most so many words before or behind."""
    before = range(item.at - NET_NEAR, item.at)
    places = (*before, *range(item.end, item.end + NET_NEAR))
    if any(clause.words.get(at) in MESHES for at in before):
        return True
    return any(clause.words.get(at) in THE_NET for at in places)


def _denied(item: Item, clause: Clause) -> bool:
    """Whether a not before the harm, or a none behind it, denies it."""
    label = _is_label(item, clause)
    if label and clause.of("sound") and not clause.parts:
        return True
    if (label or item.text in NAMES_OF_A_BOX) and _answered_no(item, clause):
        return True
    after = clause.after(item) if clause.of("sound", "bare") else None
    answered = after is not None and after.means("sound", "bare") and after.follows(item, 1)
    if answered and after is not None and after.end > max(clause.words):
        return True
    nots = [no for no in clause.of("not") if not _ends_before(no, item, clause)]
    if not nots:
        return False
    if item.text == "left" and any(item.follows(no, NOTHING_LEFT) for no in nots):
        return False
    return any(0 < item.at - no.at <= DENIAL_REACHES for no in nots)


def _ends_before(no: Item, harm: Item, clause: Clause) -> bool:
    """Whether an and is, and was ends what the not denies: could not hold it and is burst."""
    return any(
        clause.words.get(at) in {"and", "an", "&"} and clause.words.get(at + 1) in BEGINS_ANEW
        for at in range(no.end, harm.at)
    )


def _of_a_thing(item: Item, clause: Clause) -> bool:
    """Whether the harm is to a door, a winch or the like, and not to a part of the net."""
    if not clause.things:
        return False
    to_thing = min(abs(thing.at - item.at) for thing in clause.things)
    if not clause.parts and not clause.names_the_net and to_thing <= THING_REACHES:
        return True
    to_part = min((abs(part.at - item.at) for part in clause.parts), default=None)
    return to_thing <= THING_BESIDE and (to_part is None or to_part > PART_NEAR)
