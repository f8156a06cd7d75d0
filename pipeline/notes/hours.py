"""The hours of mending and the fishing hours lost that a note tells of."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from pipeline.notes.spent import AGAIN, spells_of
from pipeline.notes.times import MOST_HOURS
from pipeline.notes.told import Told, words_of
from pipeline.notes.uses import settled_uses

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from pipeline.notes.clauses import Clause, Item
    from pipeline.notes.damaged import Answer
    from pipeline.notes.spent import Spell
    from pipeline.notes.tellings import Telling, Tellings

LAST_NUMBER = re.compile(
    r"(?:[,.;] |\b(?P<in>in) )"
    r"(?P<number>(?P<minutes>[1-5][05])|(?P<hours>[0-9]\.(?:25|5|75)))[.!]?$"
)
"""A number without its unit: minutes by fives, or hours by quarters."""

FROM_TO = re.compile(r"[^\d]{0,6}\d{1,2}[.:h]?\d{2}\b\D+\d{1,2}[.:h]?\d{2}\b")
"""From one time of day to another: 0400-0700, 04:00 to 07:00."""

HALF_A_DAY = 12
"""From one spoken hour to another; nobody mends longer at a stretch."""
NOT_A_RANGE = 2
"""Two times of which one is more than so many times the other are no range."""
RANGING = {"or", "maybe", "perhaps", "says", "say", "makes", "rather", "call"}
"""Between two times, these say that the one or the other is meant."""
RESUMED = {"resumed", "again", "restarted"}
"""Before a time of day, these say that a stop was over."""
BEFORE_A_CLOCK = 1
"""Repaired by 0520: at most so many words between."""


BEGUN = {"started", "began", "begun", "start", "starting", "from"}
"""Words before the time of day at which a mend began."""
BEGINS_BEHIND = {"mending", "sewing", "started", "start", "began"}
ENDED = {"until", "till", "til", "done", "finished", "finish"}
"""Words before the time of day that it ended at."""
TOTAL_BEFORE = re.compile(r"\b(?:total|in total|in all|altogether|all told|together)\W*$")
OF_IT = re.compile(r"\W*of (?:which|that|this|these|those|it|them)\b")
"""Right behind a time: what comes next is a part of it."""
TOTAL_BEHIND = re.compile(
    r"\W*(?:total|in total|in all|altogether|all told|all in all|all up)\b(?!\W*\d)"
)
"""What stands right before or behind a time that is the sum of the others."""


RESTED = {
    "sleep", "slep", "asleep", "sleeping", "kip", "nap", "dinner", "breakfast", "supper", "food",
    "tea", "grub", "scran", "smoko", "eating",
}  # fmt: skip
"""Right behind a time, these say that nobody worked; it is not said that fishing was lost."""


class Clock(NamedTuple):
    """A time of day that a note tells, in hours; and the clause that it stands in."""

    hours: float
    item: Item
    clause: Clause

    @property
    def before(self) -> set[str]:
        """The words right before it."""
        return {self.clause.words.get(self.item.at - step, "") for step in (1, 2)}

    @property
    def behind(self) -> str:
        """The word right behind it."""
        return self.clause.words.get(self.item.end, "")


Hours = Told[float | None]


def hours_told(told: Tellings, damaged: Answer | None) -> tuple[Hours, Hours]:
    """The hours of mending and of fishing lost; None where the note gives none.

    Mending is of this haul's damage, so there is none without it. Where the weight of the words
    overrules what the rules make of a time, and the hours are others for it, they are a guess. The
    only time of a note on a torn net is not weighed where the rules know a word of mending by it:
    of 401 of `weighing_notes.csv` none was overruled.
    """
    torn = damaged == "yes"
    if "time" not in told.sections:
        return _bare_number(told) if torn else Told(None), Told(None)
    spells = spells_of(told)
    by_rules = hours_of(told, [spell for spell in spells if not spell.elsewhere], torn=torn)
    if torn and len(spells) == 1 and spells[0].said == "mending":
        return by_rules
    uses = settled_uses(told, spells, damaged)
    if _as_ruled(spells, uses):
        return by_rules
    settled = hours_of(told, uses, torn=torn)
    mending, lost = (
        rule if rule.value == each.value else Told(each.value, each.words, "guess")
        for rule, each in zip(by_rules, settled, strict=True)
    )
    return mending, lost


def hours_by_rules(told: Tellings, *, torn: bool) -> tuple[Hours, Hours]:
    """The hours of mending and those lost, by the rules alone."""
    return hours_of(told, [one for one in spells_of(told) if not one.elsewhere], torn=torn)


def _as_ruled(spells: list[Spell], settled: list[Spell]) -> bool:
    """Whether all was spent as the rules say; of a single bare time they say mending."""
    if len(spells) == 1 and spells[0].spent == "bare" and settled[0].spent == "mending":
        return not spells[0].elsewhere
    return spells == settled


def hours_of(told: Tellings, spells: list[Spell], *, torn: bool) -> tuple[Hours, Hours]:
    """The hours of mending and those lost that are made of times and what they were spent on.

    Equal times that were lost are one told twice: stopped 2 h, lost 2 h.
    """
    spells = [spell for spell in spells if not _rested(told, spell)]
    lost = _without_its_parts(told, [spell for spell in spells if spell.spent == "lost"])
    return (
        _mending(told, spells) if torn else Told(None),
        _sum(told, _each_once(told, lost), lost) if lost else _until_resumed(told),
    )


def _rested(told: Tellings, spell: Spell) -> bool:
    """Whether nobody worked in that time: forty minutes' sleep."""
    return told[spell.at].clause.words.get(spell.item.end) in RESTED


def _without_its_parts(told: Tellings, lost: list[Spell]) -> list[Spell]:
    """The times lost without what a longer one was made of: lost 7 h, of which 3 h waiting."""
    note = told[0].clause.note if told else ""
    for at, spell in enumerate(lost):
        if (
            OF_IT.match(note, spell.item.stop)
            and sum(one.hours for one in lost[at + 1 :]) <= spell.hours
        ):
            return lost[: at + 1]
    return lost


def _each_once(told: Tellings, lost: list[Spell]) -> list[float]:
    """The hours lost; equal ones are one told twice, but for another as long."""
    note = told[0].clause.note if told else ""
    hours: list[float] = []
    for spell in lost:
        start = spell.item.start
        another = note.startswith(AGAIN, start) or note.endswith(AGAIN, 0, start)
        if another or spell.hours not in hours:
            hours.append(spell.hours)
    return hours


def _told_once(told: Tellings, spells: list[Spell]) -> list[float]:
    """The hours of some times, those told by the clock too only once: 3 hrs mend (0400-0700)."""
    by_the_clock = [_by_the_clock(told, spell) for spell in spells]
    others = {spell.hours for spell, clock in zip(spells, by_the_clock, strict=True) if not clock}
    return [
        spell.hours
        for spell, clock in zip(spells, by_the_clock, strict=True)
        if not clock or spell.hours not in others
    ]


def _by_the_clock(told: Tellings, spell: Spell) -> bool:
    """Whether a stretch is told from one time of day to another."""
    note = told[spell.at].clause.note
    return FROM_TO.match(note, spell.item.start, spell.item.stop) is not None


def _sum(told: Tellings, hours: list[float], spells: list[Spell]) -> Told[float | None]:
    """The sum of some hours; None where there are none, or more than can be."""
    total = round(sum(hours), 4)
    if not hours or total > MOST_HOURS:
        return Told(None)
    bare = any(spell.spent == "bare" for spell in spells)
    words = words_of(told, (spell.item for spell in spells))
    return Told(total, words, "likely" if bare else "sure")


def _mending(told: Tellings, spells: list[Spell]) -> Told[float | None]:
    """The stretches of mending: those named so, else the bare ones, else from clock to clock."""
    named = _or_their_sum(told, [spell for spell in spells if spell.spent == "mending"])
    bare = _or_their_sum(told, [spell for spell in spells if spell.spent == "bare"])
    if named:
        middle = _range(told, bare + named)
        return _sum(told, middle or _told_once(told, named), named)
    if any(spell.spent == "lost" for spell in spells) and len(bare) > 1:
        return Told(None)
    if bare:
        return _sum(told, _range(told, bare) or _told_once(told, bare), bare)
    by_the_clock = _from_clock_to_clock(told)
    return _bare_number(told) if by_the_clock.value is None else by_the_clock


def _or_their_sum(told: Tellings, spells: list[Spell]) -> list[Spell]:
    """The one that is said to be all of them together, if one is: 3 hrs, 2 hrs, 5 hrs in all."""
    note = told[0].clause.note if told else ""
    whole = [
        spell
        for spell in spells
        if TOTAL_BEFORE.search(note, 0, spell.item.start)
        or TOTAL_BEHIND.match(note, spell.item.stop)
    ]
    return whole if len(whole) == 1 and len(spells) > 1 else spells


def _bare_number(told: Tellings) -> Told[float | None]:
    """A number without a unit that ends the note: belly split, 35; sewn back in 10; wing, 2.5."""
    found = LAST_NUMBER.search(told[-1].clause.note) if told else None
    if found is None or (found["in"] and _tore_there(told[-1])):
        return Told(None)
    hours = float(found["hours"]) if found["hours"] else round(int(found["minutes"]) / 60, 4)
    return Told(hours, (found["number"],), "guess")


def _tore_there(one: Telling) -> bool:
    """Whether a clause tells of a torn part and no mending: belly gone in 30 is in fathoms."""
    return one.sure and bool(one.clause.parts) and not one.clause.of("mending")


def _goes_on(between: str) -> bool:
    """Whether what stands between two times leads from the one to the other, as a range."""
    words = re.findall(r"[a-z']+", between)
    return not words or not RANGING.isdisjoint(words)


def _range(told: Tellings, spells: list[Spell]) -> list[float]:
    """The middle of two times that are the ends of a range, in two clauses on end."""
    if len(spells) != 2:
        return []
    low, high = spells
    between = told[0].clause.note[low.item.stop : high.item.start]
    on_end = high.at - low.at == 1 and _goes_on(between)
    if not on_end or not low.hours < high.hours <= NOT_A_RANGE * low.hours:
        return []
    return [(low.hours + high.hours) / 2]


def _from_clock_to_clock(told: Tellings) -> Told[float | None]:
    """From one time of day to the other, in the sentences that speak of mending.

    Where none has two, the only two of the note are, if the mend ends with the second: found torn
    0400. Repaired by 0520. Of more, the one that it is said to have begun at and the one that it is
    said to have ended at: fast 0315, started 0400, mended until 0700.
    """
    whole = [one.clause for one in told]
    sentences = [
        [clause for clause in whole if clause.sentence == sentence]
        for sentence in dict.fromkeys(clause.sentence for clause in whole)
    ]
    mends = [each for each in sentences if any(clause.of("mending") for clause in each)]
    pairs = [clocks for clauses in mends if len(clocks := list(_clocks(clauses))) == 2]
    clocks = list(_clocks(whole))
    if not pairs and len(clocks) == 2 and _ends_with(clocks[1], "mending"):
        pairs = [clocks]
    if not pairs and any(clause.of("mending") for clause in whole):
        begun, ended = _said_to_begin(clocks), _said_to_end(clocks)
        if len(ended) == 1 and not begun:
            begun = clocks[: clocks.index(ended[0])][-1:]
        pairs = [[begun[0], ended[0]]] if len(begun) == len(ended) == 1 else []
    return _between(told, pairs)


def _said_to_begin(clocks: list[Clock]) -> list[Clock]:
    """The times of day that something is said to have begun at: started 0400, 0215 mending."""
    return [
        clock
        for clock in clocks
        if not BEGUN.isdisjoint(clock.before) or clock.behind in BEGINS_BEHIND
    ]


def _said_to_end(clocks: list[Clock]) -> list[Clock]:
    """The times of day that something is said to have gone on to: until 0700, 0345 done."""
    return [
        clock
        for clock in clocks
        if not ENDED.isdisjoint(clock.before)
        or clock.behind in ENDED
        or _ends_with(clock, "mending")
    ]


def _until_resumed(told: Tellings) -> Told[float | None]:
    """From one time of day to the other, where fishing was stopped and resumed then."""
    clocks = list(_clocks([one.clause for one in told]))
    stopped = any(one.clause.of("lost") for one in told)
    resumed = len(clocks) == 2 and not RESUMED.isdisjoint(clocks[1].before)
    return _between(told, [clocks] if stopped and resumed else [])


def _between(told: Tellings, pairs: list[list[Clock]]) -> Told[float | None]:
    """The hours from the first time of day of each pair to the second; None without a pair."""
    if not pairs:
        return Told(None)
    hours = sum((end.hours - start.hours) % HALF_A_DAY for start, end in map(_in_order, pairs))
    return Told(
        round(hours, 4), words_of(told, (one.item for pair in pairs for one in pair)), "likely"
    )


def _in_order(pair: list[Clock]) -> list[Clock]:
    """The two as they came: finished 1630, started 1400 is told backwards."""
    first, second = pair
    backwards = not BEGUN.isdisjoint(second.before) and BEGUN.isdisjoint(first.before)
    return [second, first] if backwards else pair


def _ends_with(clock: Clock, section: str) -> bool:
    """Whether a word of the section stands right before the time of day."""
    words = clock.clause.of(section)
    return any(clock.item.follows(word, BEFORE_A_CLOCK) for word in words)


def _clocks(clauses: Iterable[Clause]) -> Iterator[Clock]:
    """The times of day in some clauses."""
    for clause in clauses:
        for item in clause.of("time"):
            if item.time is not None and item.time.clock is not None:
                yield Clock(item.time.clock, item, clause)
