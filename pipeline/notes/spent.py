"""What each stretch of time in a note was spent on, by rules."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal, NamedTuple

from pipeline.notes.number_words import WORDS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pipeline.notes.clauses import Clause, Item
    from pipeline.notes.tellings import Telling, Tellings

Spent = Literal["mending", "lost", "bare", "other"]
"""What a stretch of time was spent on; bare is not said, other is neither mending nor lost."""

SPENT_OTHERWISE = {"after", "within", "at", "towed", "tow"}
"""Words before a time that is no time of mending."""
FISHING_OR_WEATHER = {
    "tow", "towed", "towing", "wind", "gale", "portion", "hung", "weld", "welding", "dodging",
    "dodgin", "dodged",
}  # fmt: skip
"""Words about a bare time that say what it was spent on."""
WORDS_BEFORE, WORDS_BEHIND = 3, 4
"""So many words before and behind a bare time are about it."""

FISHING = {"fishing", "fishin", "towing", "towin"}
FISHING_WITHIN = 4
"""Hours of good fishing were lost."""
HELD_FAST = {"fast", "hung", "snagged", "pinned", "held", "anchored", "hanging", "hooked"}
"""Right before a time, these say that it was spent fast on the bottom."""
HELD = HELD_FAST | {"stuck", "solid"}
"""So do these of a bare time anywhere in a clause of no part."""
OTHER_WORK = {
    "wash", "washing", "washed", "dump", "dumping", "saw", "sawing", "cut", "cutting", "untwist",
    "untwisting", "digging", "heaving", "hauling", "get", "getting", "free", "shovelling", "dig",
    "gutting", "hosing", "scrubbing", "combing", "clear", "cleaning", "clean", "early",
}  # fmt: skip
"""Behind a time, these say that it was spent getting the net aboard or the mud out."""
WORK_BEFORE = {word for word in OTHER_WORK if word.endswith("ing")}
"""Those that do so before a time too; what was cut, two hours, was torn."""
WORK_WITHIN = 2
AND_THEN = {"and", "an", "&", "n", "then"}
"""Behind one of these, something else took the time."""
AGAIN = ("another ", "anither ", "one more ")
"""A bare time that begins so was spent as the one before it."""
MENDING_BESIDE = 2.5
"""Down 3 hrs mending is mending: a word of mending so near goes before one of loss."""

LOST_REACHES, LOST_TIME_REACHES = 2.5, 4.5
"""So many words from down, late or stopped a time is lost; from lost or wasted, more."""
SAYS_LOST = {"lost", "wasted", "time"}
ENDS_ITS_OWN = {"down", "doon", "late", "stop", "stopped"}
"""Words of loss at the end of a clause that belong to what stands before them."""
NOT_LOST = 2
"""A not so many words before a word of loss denies it."""
TOOK = 0.6
"""Took or changed goes behind a word of loss: took 3 hrs off us."""
OTHER_SIDE = 0.5
"""A time whose word stands on the other side than the note's first does is that much further."""

SHORT_HOURS_OF = re.compile(r"\b(?:repair(?:ed)?|mend(?:ed|ing)?|stop(?:ped)?|wait(?:ed|ing)?) $")
"""Right before 2 t these say that it is hours."""

EACH = {"each", "apiece", "ea"}
EACH_SIDE = {
    ("each", "side"), ("a", "side"), ("each", "wing"), ("both", "sides"), ("per", "side"),
    ("each", "way"), ("both", "ways"), ("each", "road"),
}  # fmt: skip
"""Behind a time, these say that it was spent on each of two sides, or there and back."""
MOST_TEARS = 20
"""More are not mended one by one."""

LONGEST_CLOCK, LEAST_CLOCK = 5, 6.0
"""Lost 1:30 is a stretch, not a time of day: at most so many letters, before so many hours."""


class Spell(NamedTuple):
    """A stretch of time that a note tells: its hours, what it was spent on, and in which clause.

    It is `elsewhere` where it is no time of this boat's in this haul, by the rules.
    """

    hours: float
    spent: Spent
    at: int
    item: Item
    elsewhere: bool = False

    @property
    def said(self) -> str:
        """What the rules say of it, as one name."""
        return said_of_time(self.spent, elsewhere=self.elsewhere)


def said_of_time(spent: Spent, *, elsewhere: bool) -> str:
    """What the rules say of a time, as one name."""
    return f"{spent} elsewhere" if elsewhere else spent


def spells_of(told: Tellings) -> list[Spell]:
    """All stretches of time of a note with what the rules say that they were spent on."""
    return list(_spells(told)) if "time" in told.sections else []


def _spells(told: Tellings) -> Iterator[Spell]:
    """All stretches of time; of another haul only those lost count."""
    last: Spent = "bare"
    for at, one in enumerate(told):
        for item in one.clause.of("time"):
            if item.time is None or _weighs(item, told):
                continue
            if item.time.clock is not None and _lost_by_the_clock(item, one.clause):
                yield Spell(item.time.clock, "lost", at, item)
            if item.time.hours is not None:
                last = _spent_here(item, at, told, last)
                old = one.elsewhere and (last != "lost" or _mends_in_the_sentence(told, one))
                yield Spell(item.time.hours * _each(item, one.clause, told), last, at, item, old)


def _spent_here(item: Item, at: int, told: Tellings, last: Spent) -> Spent:
    """What a time was spent on, by its clause, those beside it, and what the last time was."""
    clause = told[at].clause
    spent = _spent(item, clause, told[at - 1].clause if at else None)
    no_fishing = at + 1 < len(told) and _says_no_fishing(told[at + 1].clause)
    if no_fishing and spent != "mending" and item is clause.of("time")[-1]:
        return "lost"
    if spent != "bare":
        return spent
    again = clause.note.startswith(AGAIN, item.start) or clause.note.endswith(AGAIN, 0, item.start)
    return last if again else "bare"


def _weighs(item: Item, told: Tellings) -> bool:
    """Whether 4 t are tonnes, as of fish or in the bag, and no Norse hours."""
    note = told[0].clause.note
    short = note[item.start : item.stop].endswith(" t")
    if not short or SHORT_HOURS_OF.search(note, 0, item.start):
        return False
    weight = (("fish", None), ("part", "codend"), ("cause", "overload"))
    return any(one.clause.of(*of_what) for one in told for of_what in weight)


def _each(item: Item, clause: Clause, told: Tellings) -> int:
    """How often the time was spent: 30 min each side is two, two nicks, 10 min apiece as well."""
    behind = [clause.words.get(item.end + step, "") for step in (0, 1)]
    if tuple(behind) in EACH_SIDE:
        return 2
    if behind[0] not in EACH or any(one.clause.of("hands") for one in told):
        return 1
    counted = [
        _count(one.clause.words.get(harm.at - step, ""))
        for one in told
        for harm in one.clause.of("harm")
        for step in (1, 2, 3)
    ]
    both = 2 if any(one.clause.of("side", "both") for one in told) else 1
    parts = len({item.meanings["part"] for one in told for item in one.clause.parts})
    return max((count for count in [both, parts, *counted] if count <= MOST_TEARS), default=1)


def _count(word: str) -> int:
    """The number that a word counts; 1 where it counts nothing."""
    return int(word) if word.isdecimal() else WORDS.get(word, 1)


def _says_no_fishing(clause: Clause) -> bool:
    """Whether a clause says no more than that it was time lost: 5 hrs at the winch, no fishing."""
    words = clause.of("lost")
    said = sum(word.end - word.at for word in words)
    return bool(words) and said == len(clause.words) and not clause.of("time")


def _mends_in_the_sentence(told: Tellings, one: Telling) -> bool:
    """Whether the sentence speaks of mending: what is old then took the time."""
    sentence = one.clause.sentence
    return any(each.clause.of("mending") for each in told if each.clause.sentence == sentence)


def _lost_by_the_clock(item: Item, clause: Clause) -> bool:
    """Whether what looks like a time of day is a stretch lost: lost 1:30."""
    short = item.stop - item.start <= LONGEST_CLOCK and ":" in clause.note[item.start : item.stop]
    early = item.time is not None and item.time.clock is not None and item.time.clock < LEAST_CLOCK
    return short and early and any(word.end == item.at for word in clause.of("lost"))


def _spent(item: Item, clause: Clause, before: Clause | None) -> Spent:
    """What a stretch of time was spent on; getting the mud out is neither mending nor lost."""
    spent = _spent_by_the_words(item, clause, before)
    if spent in {"lost", "other"}:
        return spent
    behind = {clause.words.get(item.end + step) for step in range(WORK_WITHIN)}
    ahead = {clause.words.get(item.at - 1 - step) for step in range(WORK_WITHIN)}
    ahead = set() if ahead & AND_THEN else ahead
    held = spent == "bare" and clause.said & HELD and not (clause.parts or clause.of("hands"))
    return "other" if held or behind & OTHER_WORK or ahead & WORK_BEFORE else spent


def _spent_by_the_words(item: Item, clause: Clause, before: Clause | None) -> Spent:
    """What a stretch of time was spent on, by the words of mending or of loss about it."""
    before_it = {clause.words.get(item.at - 1), clause.words.get(item.at - 2)}
    lost_beside = any(item.end == word.at or word.end == item.at for word in clause.of("lost"))
    otherwise = clause.words.get(item.at - 1) in SPENT_OTHERWISE or before_it & HELD_FAST
    if otherwise and not lost_beside:
        return "other"
    words = [word for word in clause.items if _of_loss_or_mending(word)]
    mending = [word for word in words if word.means("mending", "words")]
    if clause.things and not clause.parts:
        words = [word for word in words if word not in mending] or words
        mending = []
    behind = {clause.words.get(at) for at in range(item.end, item.end + FISHING_WITHIN)}
    gone = clause.words.get(item.end) == "gone" and not clause.parts
    if not mending and (gone or behind & FISHING):
        return "lost"
    close = any(_distance(item, word, word_first=False) <= MENDING_BESIDE for word in mending)
    if close and len(clause.of("time")) == 1:
        return "mending"
    nearest = _nearest(item, words, clause) if words else _carried_over(before, clause)
    if nearest is None:
        return _bare(item, clause)
    return "other" if words and _not_lost(nearest, clause) else _named(nearest, clause)


def _of_loss_or_mending(item: Item) -> bool:
    return "mending" in item.meanings or "lost" in item.meanings


def _named(word: Item, clause: Clause) -> Spent:
    """What a word of mending or of loss says the time was spent on; tied up may be either."""
    of_a_boat = word.means("lost") and not clause.parts
    return "mending" if word.means("mending") and not of_a_boat else "lost"


def _carried_over(before: Clause | None, clause: Clause) -> Item | None:
    """The word of mending or loss that ends the clause before, without a time of its own."""
    if before is None or not before.items:
        return None
    last = before.items[-1]
    ends_it = last.end >= max(before.words, default=-1)
    alone = ends_it and not (clause.words or before.parts or before.names_the_net)
    if before.sentence != clause.sentence and not alone:
        return None
    settled = before.of("time") or list(before.words.values())[-1] in ENDS_ITS_OWN
    of_a_part = last.means("harm") and bool(before.parts)
    return last if _of_loss_or_mending(last) and not settled and not of_a_part else None


def _nearest(item: Item, words: list[Item], clause: Clause) -> Item | None:
    """The word of mending or loss that the time belongs to."""
    word_first = words[0].at < clause.of("time")[0].at
    reached = [
        (distance, at)
        for at, word in enumerate(words)
        if (distance := _distance(item, word, word_first=word_first)) <= _reach(word)
    ]
    return words[min(reached)[1]] if reached else None


def _distance(item: Item, word: Item, *, word_first: bool) -> float:
    """The words between, and a little more on the side where the note does not put them."""
    behind = word.at >= item.end
    between = word.at - item.end if behind else item.at - word.end
    took = TOOK if word.means("mending", "time") else 0.0
    return between + took + (OTHER_SIDE if behind == word_first else 0.0)


def _reach(word: Item) -> float:
    """How far a word of mending or loss reaches."""
    if word.means("mending"):
        return float("inf")
    return LOST_TIME_REACHES if SAYS_LOST & set(word.words) else LOST_REACHES


def _not_lost(word: Item, clause: Clause) -> bool:
    """Whether a not before a word of loss denies it, and not the harm between."""
    harm = clause.of("harm")
    denied = any(
        0 < word.at - no.at <= NOT_LOST and not any(no.at < one.at < word.at for one in harm)
        for no in clause.of("not")
    )
    return denied and not word.means("mending")


def _bare(item: Item, clause: Clause) -> Spent:
    """A bare time, unless the words about it are of a tow, the weather or a winch."""
    near = {clause.words.get(item.at + step) for step in range(-WORDS_BEFORE, WORDS_BEHIND + 1)}
    if any(thing.end == item.at for thing in clause.things):
        return "lost"
    of_a_thing = clause.of("thing") and not clause.of("part")
    return "other" if of_a_thing or near & FISHING_OR_WEATHER else "bare"
