"""What each clause of a note tells: harm to the net, none, doubt, or harm of another net or day.

Which words tell what is common practice, no source; how far a denial or a part reaches is this
project's own judgement, no source, found on the notes in `tests/notes`.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal, NamedTuple

from pipeline.notes.denials import denied, is_empty_box, is_label, is_of_another_word
from pipeline.notes.elsewhere import of_elsewhere

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pipeline.notes.clauses import Clause, Item

Says = Literal["harm", "denied", "sound", "away"]
"""What an item says: harm to the net, none, a sound net, or harm to what is no net."""

NOTHING_TO_MEND = 3
"""Nothing denies a mend or a trouble with at most so many words between."""
DOUBT_BEHIND = 2
"""Doubt that follows harm by more words than this is about something else."""
ROUGHLY = {"maybe", "mebbe", "perhaps", "possibly", "probably", "might be", "may be", "could be"}
SOME = {"a", "an", "half", "two", "twa", "three", "four", "five", "six", "ten", "twenty"}
"""Maybe a yard, perhaps 3 metres: behind harm, how much and not whether."""
THOUGHT_REACHES = 1
"""An I think doubts the word at most so many words away."""
LOOKS = frozenset({"looks", "looked", "seems", "seemed"})
"""A net that looks sound is one; one that looks torn may not be."""
THING_REACHES, THING_BESIDE, PART_NEAR = 5, 2, 3
"""How near a door or a winch claims the harm, and how near a part keeps it."""

PART_BEFORE = 5
"""So many words may stand between a part and off, away, out."""
PART_BEHIND = 4
"""So many between took, cut, through and a part: took a piece of the square."""
TIME_BESIDE = 1
"""Lost so few words from a time is time lost."""
THE_NET = {"net", "nets", "trawl", "trawls", "gear", "netting", "twine"}
MESHES = {"mesh", "meshes", "msh", "bars"}
NET_NEAR = 3
"""Lost the net, meshes gone: one of these within so many words."""
ALONE = 2
"""In a note of so few words a word of harm has the net to itself: broken; all gone."""

IS_NOT = {"isnt", "isn't", "aint", "ain't", "wasnt", "wasn't", "isna", "wisna", "idn", "not", "no"}
"""At the end of a clause, the contrary of what the one before says."""
NOT_SO = {"not", "nae"}
NOT_SOUND = NOT_SO | {"isnt", "isn't"}
TURNED_BY_NOT = {"undamaged", "ok", "intact", "whole", "sound", "all right"}
"""Not whole is harm."""
SAID_OF_ANYTHING = {
    "heel", "good", "clean", "cln", "clear", "fine", "grand", "sweet", "whole", "sound", "handsome",
    "perfect", "tidy", "super", "lovely", "normal", "the same", "same again", "dandy", "champion",
    "bonny", "braw", "canny", "smooth", "smoothly", "safe", "still there", "all there", "passed",
    "satisfactory", "happy days", "fit", "bra", "fint", "flott", "gud", "guid", "gd",
    "every stitch", "every mesh", "good as gold", "normal op", "mooi", "prima",
}  # fmt: skip
"""Fishing may be good and the weather fine; these count only of the net, a part, or alone."""

TAKING = {"took", "tuk", "take", "takes", "taken"}
TAKEN_TIME = 2
"""Took us an hour: so many words between at most."""
CUT_AWAY = {"it", "them", "him", "en", "un", "her", "'em", "em", "us", "that", "this", "yin"}
AWAY = {"out", "oot", "away", "awa", "off", "aff", "clear", "free", "loose", "adrift"}
"""Cut it out: what is cut is the rope round the net."""
RIP = {"rip", "rips", "a rip", "rip in"}
WATER = {
    "tide", "tides", "running", "runnin", "current", "slack", "ebb", "flood", "stream", "headland",
    "point", "tidal", "knots", "strong",
}  # fmt: skip

SAYING = frozenset({"harm", "sound", "trouble", "mending"})
"""Sections whose words say something of the net."""
NOT_YET = {"not", "nae", "no'", "didn't", "didnt", "wasn't", "wasnt", "isn't", "hasn't", "never"}
"""What is not mended is torn all the same; nothing mended is none."""

ENTIRE = {"whole", "complete", "haill", "hale", "heel", "entire", "perfectly", "completely"}
ARTICLES = {"the", "our", "a", "his", "oor", "that", "my", "wir"}
AS_GOOD = {
    "again", "today", "here", "now", "so", "all", "as", "enough", "thanks", "thank", "like",
    "still", "aboard", "though", "tho", "tak", "this", "the", "an", "and", "in", "on", "for",
    "every", "each", "by", "to", "at", "of", "with", "throughout", "apart", "bar", "after",
}  # fmt: skip
"""Behind a good or a fine, words that are no noun."""
CATCH = {"haul", "tow", "shot", "fish", "catch", "weather", "day", "night", "fishing", "trip"}

SAID_OF_THE_NET_FIRST = {"fine", "grand", "perfect"}
"""At the head of a note these are of the net."""

SIZED = re.compile(r"\d+ ?(?:x ?\d+|meshes|mesh|mash|msh|m/s|bars)")
"""So many meshes of a part: it is a hole that is measured."""


class Telling(NamedTuple):
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
        clauses, of_elsewhere(clauses), _in_doubt(clauses), strict=True
    ):
        before = told[-1] if told and told[-1].clause.sentence == clause.sentence else None
        here = _telling(clause, before, elsewhere=elsewhere, in_doubt=doubt)
        if (here.sound or (told and told[-1].sound)) and _is_not(clause, here):
            named = tuple(clause.parts or clause.of("own"))[:1]
            here = here._replace(harm=named, denied=(), sound=())
        told.append(here)
    return told


def _is_not(clause: Clause, told: Telling) -> bool:
    """Whether it says that one more is not as the one before: square is fine, the wing is not."""
    named = clause.parts or clause.of("own")
    if not named or told.harm or clause.asked:
        return False
    sound_behind = any(item.at > named[-1].at for item in told.sound)
    return not sound_behind and clause.words[max(clause.words)] in IS_NOT


def _in_doubt(clauses: list[Clause]) -> Iterator[bool]:
    """Whether a doubt of the same sentence reaches each clause; a but ends it.

    A doubt that says of what it is, maybe a stone, does not reach beyond its clause.
    """
    doubtful = -1
    for clause in clauses:
        doubts = [doubt for doubt in clause.of("doubt", "words") if not _measures(doubt, clause)]
        if doubts:
            doubtful = clause.sentence
        elif clause.turned:
            doubtful = -1
        yield doubtful == clause.sentence
        if doubts and any(clause.of(about) for about in ("cause", "harm", "time")):
            doubtful = -1


def _measures(doubt: Item, clause: Clause) -> bool:
    """Whether it only says that a measure is rough: tore maybe a yard."""
    how_much = clause.words.get(doubt.end, "")
    if doubt.text not in ROUGHLY or not (how_much in SOME or how_much.isdecimal()):
        return False
    return any(harm.end <= doubt.at for harm in clause.of("harm"))


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
    return is_label(item, clause) and after is not None and after.means("doubt")


def _says(item: Item, clause: Clause, *, part_near: bool) -> Says | None:
    """What an item of a clause says of the net."""
    if SAYING.isdisjoint(item.meanings):
        return None
    nots = [no for no in clause.of("not") if not is_of_another_word(no, clause)]
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
    if _thought_beside(item, clause, but=LOOKS) or _is_all_of_it(item, clause):
        return None
    if item.text in SAID_OF_ANYTHING and _said_of_another(item, clause):
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


def _is_all_of_it(item: Item, clause: Clause) -> bool:
    """Whether it says how much and not how well: the complete trawl; whole gear lost."""
    if item.text not in ENTIRE:
        return False
    of_net = clause.words.get(item.end) in THE_NET and clause.words.get(item.at - 1) in ARTICLES
    return of_net or any(harm.at >= item.end for harm in clause.of("harm"))


def _said_of_another(item: Item, clause: Clause) -> bool:
    """Whether the next word is a noun that is no net: fine weather, good haul."""
    noun = clause.words.get(item.end)
    if noun is None or noun in THE_NET or noun in AS_GOOD or "." in clause.note[item.stop :][:1]:
        return False
    if clause.names_the_net or noun in {"bag", "bags"}:
        return noun in {"bag", "bags"}
    return noun in clause.unknown or noun in CATCH


def _harm_says(item: Item, clause: Clause, *, part_near: bool) -> Says | None:
    """What a word of harm says: harm, unless denied, of fish, of a door, or of nothing named."""
    if is_empty_box(item, clause):
        return None
    of_the_net = _of_the_net(item, clause, part_near=part_near)
    if denied(item, clause) or _is_the_only_thing(clause):
        return None if item.means("harm", "behind_part") and not of_the_net else "denied"
    of_fish = bool(clause.of("fish")) and not clause.parts
    if of_fish or _does_no_harm(item, clause) or _is_a_tide(item, clause):
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


def _is_the_only_thing(clause: Clause) -> bool:
    """Whether something that is no net was all that suffered."""
    return (
        clause.turned
        and clause.first_word == "thing"
        and not (clause.parts or clause.names_the_net)
    )


def _does_no_harm(item: Item, clause: Clause) -> bool:
    """Whether what was taken is time, or what was cut is a rope that was in the way."""
    first = item.words[0]
    if first in TAKING:
        return any(time.follows(item, TAKEN_TIME) for time in clause.of("time"))
    behind = (clause.words.get(item.end), clause.words.get(item.end + 1))
    return first == "cut" and behind[0] in CUT_AWAY and behind[1] in AWAY


def _is_a_tide(item: Item, clause: Clause) -> bool:
    """Whether a rip is one of water: the rip was running."""
    return item.text in RIP and not clause.parts and not clause.said.isdisjoint(WATER)


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


def _of_a_thing(item: Item, clause: Clause) -> bool:
    """Whether the harm is to a door, a winch or the like, and not to a part of the net."""
    to_thing = min((abs(thing.at - item.at) for thing in clause.things), default=None)
    if to_thing is None or any(clause.words.get(one.at - 2) == "bar" for one in clause.things):
        return False
    if not clause.parts and not clause.names_the_net and to_thing <= THING_REACHES:
        return True
    to_part = min((abs(part.at - item.at) for part in clause.parts), default=None)
    return to_thing <= THING_BESIDE and (to_part is None or to_part > PART_NEAR)
