"""The hours of mending and the fishing hours lost that a note tells of."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal, NamedTuple

from pipeline.notes.times import MOST_HOURS
from pipeline.notes.told import Told, words_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

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

LAST_NUMBER = re.compile(
    r"(?:[,.;] |\bin )(?P<number>(?P<minutes>[1-5][05])|(?P<hours>[0-9]\.(?:25|5|75)))[.!]?$"
)
"""A number without its unit: minutes by fives, or hours by quarters."""
FISHING = {"fishing", "fishin", "towing", "towin"}
FISHING_WITHIN = 4
"""Hours of good fishing were lost."""
HELD_FAST = {"fast", "hung", "snagged"}
"""Right before a time, these say that it was spent fast on the bottom."""
MENDING_BESIDE = 2.5
"""Down 3 hrs mending is mending: a word of mending so near goes before one of loss."""

LOST_REACHES, LOST_TIME_REACHES = 2.5, 4.5
"""So many words from down, late or stopped a time is lost; from lost or wasted, more."""
SAYS_LOST = {"lost", "wasted", "time"}
ENDS_ITS_OWN = {"down", "late", "stop", "stopped"}
"""Words of loss at the end of a clause that belong to what stands before them."""
NOT_LOST = 2
"""A not so many words before a word of loss denies it."""
OTHER_SIDE = 0.5
"""A time whose word stands on the other side than the note's first does is that much further."""

HALF_A_DAY = 12
"""From one spoken hour to another; nobody mends longer at a stretch."""
NOT_A_RANGE = 2
"""Two times of which one is more than so many times the other are no range."""
LONGEST_CLOCK, LEAST_CLOCK = 5, 6.0
"""Lost 1:30 is a stretch, not a time of day: at most so many letters, before so many hours."""


class Spell(NamedTuple):
    """A stretch of time that a note tells: its hours, what it was spent on, and in which clause."""

    hours: float
    spent: Spent
    at: int
    item: Item


def hours_told(told: Tellings, *, damaged: bool) -> tuple[Told[float | None], Told[float | None]]:
    """The hours of mending and of fishing lost; None where the note gives none.

    Mending is of this haul's damage, so there is none without it.
    """
    if "time" not in told.sections:
        return _bare_number(told) if damaged else Told(None), Told(None)
    spells = list(_spells(told))
    lost = [spell for spell in spells if spell.spent == "lost"]
    return (
        _mending(told, spells) if damaged else Told(None),
        _sum(told, [spell.hours for spell in lost], lost),
    )


def _sum(told: Tellings, hours: list[float], spells: list[Spell]) -> Told[float | None]:
    """The sum of some hours; None where there are none, or more than can be."""
    total = round(sum(hours), 4)
    if not hours or total > MOST_HOURS:
        return Told(None)
    bare = any(spell.spent == "bare" for spell in spells)
    words = words_of(told, (spell.item for spell in spells))
    return Told(total, words, "likely" if bare else "sure")


def _spells(told: Tellings) -> Iterator[Spell]:
    """All stretches of time with what they were spent on; of another haul only those lost."""
    for at, one in enumerate(told):
        before = told[at - 1].clause if at else None
        for item in one.clause.of("time"):
            if item.time is None:
                continue
            if item.time.clock is not None and _lost_by_the_clock(item, one.clause):
                yield Spell(item.time.clock, "lost", at, item)
            if item.time.hours is not None:
                spent = _spent(item, one.clause, before)
                old = one.elsewhere and _mends_in_the_sentence(told, one)
                if not old and (spent == "lost" or not one.elsewhere):
                    yield Spell(item.time.hours, spent, at, item)


def _mends_in_the_sentence(told: Tellings, one: Telling) -> bool:
    """Whether the sentence speaks of mending: what is old then took the time."""
    sentence = one.clause.sentence
    return any(each.clause.of("mending") for each in told if each.clause.sentence == sentence)


def _lost_by_the_clock(item: Item, clause: Clause) -> bool:
    """Whether what looks like a time of day is a stretch lost: lost 1:30."""
    short = item.stop - item.start <= LONGEST_CLOCK and ":" in clause.note[item.start : item.stop]
    early = item.time is not None and item.time.clock is not None and item.time.clock < LEAST_CLOCK
    return short and early and any(word.end == item.at for word in clause.of("lost"))


def _mending(told: Tellings, spells: list[Spell]) -> Told[float | None]:
    """The stretches of mending: those named so, else the bare ones, else from clock to clock."""
    named = [spell for spell in spells if spell.spent == "mending"]
    bare = [spell for spell in spells if spell.spent == "bare"]
    if named:
        middle = _range(bare + named)
        return _sum(told, middle or [spell.hours for spell in named], named)
    if any(spell.spent == "lost" for spell in spells) and len(bare) > 1:
        return Told(None)
    if bare:
        return _sum(told, _range(bare) or [spell.hours for spell in bare], bare)
    by_the_clock = _from_clock_to_clock(told)
    return _bare_number(told) if by_the_clock.value is None else by_the_clock


def _bare_number(told: Tellings) -> Told[float | None]:
    """A number without a unit that ends the note: belly split, 35; sewn back in 10; wing, 2.5."""
    found = LAST_NUMBER.search(told[-1].clause.note) if told else None
    if found is None:
        return Told(None)
    hours = float(found["hours"]) if found["hours"] else round(int(found["minutes"]) / 60, 4)
    return Told(hours, (found["number"],), "guess")


def _range(spells: list[Spell]) -> list[float]:
    """The middle of two times that are the ends of a range, in two clauses on end."""
    if len(spells) != 2:
        return []
    low, high = spells
    on_end = high.at - low.at == 1
    if not on_end or not low.hours < high.hours <= NOT_A_RANGE * low.hours:
        return []
    return [(low.hours + high.hours) / 2]


def _from_clock_to_clock(told: Tellings) -> Told[float | None]:
    """From one time of day to the other, in the sentences that speak of mending."""
    hours, items = [], []
    for sentence in {one.clause.sentence for one in told}:
        clauses = [one.clause for one in told if one.clause.sentence == sentence]
        clocks = list(_clocks(clauses))
        if len(clocks) == 2 and any(clause.of("mending") for clause in clauses):
            start, end = clocks
            hours.append((end[0] - start[0]) % HALF_A_DAY)
            items += [start[1], end[1]]
    return Told(round(sum(hours), 4), words_of(told, items), "likely") if hours else Told(None)


def _clocks(clauses: Iterable[Clause]) -> Iterator[tuple[float, Item]]:
    """The times of day in some clauses."""
    for clause in clauses:
        for item in clause.of("time"):
            if item.time is not None and item.time.clock is not None:
                yield item.time.clock, item


def _spent(item: Item, clause: Clause, before: Clause | None) -> Spent:
    """What a stretch of time was spent on, by the words about it."""
    before_it = {clause.words.get(item.at - 1), clause.words.get(item.at - 2)}
    if clause.words.get(item.at - 1) in SPENT_OTHERWISE or before_it & HELD_FAST:
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
    return "other" if words and _not_lost(nearest, clause) else _named(nearest)


def _of_loss_or_mending(item: Item) -> bool:
    return "mending" in item.meanings or "lost" in item.meanings


def _named(word: Item) -> Spent:
    """What a word of mending or of loss says the time was spent on."""
    return "mending" if word.means("mending") else "lost"


def _carried_over(before: Clause | None, clause: Clause) -> Item | None:
    """The word of mending or loss that ends the clause before, without a time of its own."""
    if before is None or before.sentence != clause.sentence or not before.items:
        return None
    last = before.items[-1]
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
    return between + (OTHER_SIDE if behind == word_first else 0.0)


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
    of_a_thing = clause.of("thing") and not clause.of("part")
    return "other" if of_a_thing or near & FISHING_OR_WEATHER else "bare"
