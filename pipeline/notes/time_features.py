"""What a stretch of time in a note is weighed by: the words about it, and what they mean."""

from __future__ import annotations

from bisect import bisect_left
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from pipeline.notes.features import END, START, TURN, written

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from pipeline.notes.clauses import Clause, Item
    from pipeline.notes.damaged import Answer
    from pipeline.notes.spent import Spell

COMMA, STOP = ",", "."
"""What stands between two clauses of a sentence, and between two sentences."""
TIME, CLOCK = "<time>", "<clock>"
"""Another stretch of time, and a time of day."""

SIDES = ("<", ">")
REACHES = (1, 3, 6)
"""A word is the next, at most so far away, or further."""
WHERES = (*(f"{side}{reach}" for side in SIDES for reach in (*REACHES, "")), "=")
"""Where a word stands; the last is anywhere."""
WIDER = {
    where: (*(other for other in WHERES[at : at - at % 4 + 4]), WHERES[-1]) if at < 8 else (where,)
    for at, where in enumerate(WHERES)
}
"""Where a word stands, from near to anywhere on that side, and anywhere at all."""
MOST_WORDS = 2_500
"""So many words and signs at most stand on either side: more than the letters of a note read."""


def _where(away: int) -> int:
    """Which of `WHERES` is so many words away."""
    reach = next((at for at, reach in enumerate(REACHES) if abs(away) <= reach), len(REACHES))
    return reach if away < 0 else reach + len(REACHES) + 1


AWAY = [_where(away) for away in range(-MOST_WORDS, MOST_WORDS)]
"""Which of `WHERES` is how far away, from the furthest before a time to the furthest behind."""

LONGER_THAN = (0.2, 0.5, 1.0, 2.0, 3.5, 5.0, 7.9)
"""Hours that part short times from long ones: a few minutes, a spell, a watch."""
MOST_TIMES = 4
"""A note of more times is as one of so many."""
SAME_HOURS = 0.01

Thing = tuple[str, str]
"""Where a word or two stand from the time, and which; or a fact about the time, by itself."""
Placed = list[tuple[str, int]]
"""Words, or two on end, each with which of `WHERES` it stands at."""


class Facts(NamedTuple):
    """What else is known of a time.

    It is `place` of `times` of its note; `longer` counts `LONGER_THAN`; `others` is what the rules
    say of the other times, `before` of the one before; `beside` how long it is beside them;
    `of_note` and `of_clause` are the sections of the word file that are spoken of.
    """

    times: int
    place: int
    longer: int
    rules: str
    damaged: str
    of_note: tuple[str, ...]
    of_clause: tuple[str, ...]
    others: tuple[str, ...] = ()
    before: str | None = None
    beside: tuple[str, ...] = ()

    def things(self) -> Iterator[Thing]:
        """The facts one by one, and some by two and three."""
        says = f"{self.damaged} {self.rules}"
        yield "times", str(self.times)
        yield "place", str(self.place)
        yield "longer than", str(self.longer)
        yield "rules", self.rules
        yield "damaged", self.damaged
        yield "damaged, rules", says
        yield "damaged, times", f"{self.damaged} {self.times}"
        for section in self.of_note:
            yield "damaged, rules, note", f"{says} {section}"
        for section in self.of_clause:
            yield "clause", section
        for said in self.others:
            yield "rules of others", said
        if self.before is not None:
            yield "rules before", self.before
        for said in self.beside:
            yield "beside", said


class About(NamedTuple):
    """What stands about a time: words, pairs of them, meanings, pairs of those; and the facts."""

    word: Placed
    words: Placed
    meaning: Placed
    meanings: Placed
    facts: Facts

    def things(self) -> Iterator[Thing]:
        """All of it by name."""
        for kind in ("word", "words", "meaning", "meanings"):
            for what, at in getattr(self, kind):
                yield f"{kind} {WHERES[at]}", what
        yield from self.facts.things()


def about_times(
    spells: Sequence[Spell], clauses: Sequence[Clause], damaged: Answer | None
) -> Iterator[About]:
    """For each stretch of time what stands about it."""
    words, of_word = _words(clauses)
    meanings, of_meaning = _meanings(clauses)
    pairs = [f"{first} {second}" for first, second in pairwise(words)]
    meant = [f"{first} {second}" for first, second in pairwise(meanings)]
    of_note = tuple(sorted({section for clause in clauses for section in clause.by_section}))
    for place, spell in enumerate(spells):
        at, meant_at = of_word.index(spell.item) + 1, of_meaning.index(spell.item) + 1
        yield About(
            _around(words, at),
            _pairs_around(pairs, words, at),
            _around(meanings, meant_at),
            _pairs_around(meant, meanings, meant_at),
            _facts(place, spells, clauses, of_note, damaged or "unknown"),
        )


Row = tuple[list[str], list["Item | None"]]
"""The words of a note in their order, edged by its start and end; and the item of each."""


def _words(clauses: Sequence[Clause]) -> Row:
    """The words of a note, times and stops among them."""
    names, items = [START], []
    for clause in clauses:
        for saying in clause.in_order:
            words = (saying,) if isinstance(saying, str) else saying.words
            names += [written(word) for word in words] or [TIME]
            items += [None if isinstance(saying, str) else saying] * max(len(words), 1)
        names.append(STOP)
        items.append(None)
    names[-1] = END
    return names, items


def _meanings(clauses: Sequence[Clause]) -> Row:
    """What the words and phrases of a note mean, and what stands between its clauses."""
    names, items = [START], []
    for at, clause in enumerate(clauses):
        for saying in clause.in_order:
            names.append(_meaning(saying))
            items.append(None if isinstance(saying, str) else saying)
        names.append(_between(clauses, at))
        items.append(None)
    return names, items


def _meaning(saying: Item | str) -> str:
    if isinstance(saying, str):
        return written(saying)
    if saying.time is None:
        return saying.meanings.name
    return CLOCK if saying.time.hours is None else TIME


def _between(clauses: Sequence[Clause], at: int) -> str:
    """What stands behind a clause."""
    if at + 1 == len(clauses):
        return END
    behind = clauses[at + 1]
    if behind.turned:
        return TURN
    return COMMA if behind.sentence == clauses[at].sentence else STOP


def _around(names: Sequence[str], place: int) -> Placed:
    """The words about a place, each with where it stands."""
    placed = list(zip(names, _away(-place, len(names)), strict=True))
    del placed[place]
    return placed


def _pairs_around(pairs: Sequence[str], names: Sequence[str], place: int) -> Placed:
    """The pairs of words about a place, each where the nearer stands, and the two beside it."""
    beside = f"{names[place - 1]} {names[place + 1]}", len(WHERES) - 1
    before = zip(pairs[: place - 1], _away(1 - place, place - 1), strict=True)
    after = pairs[place + 1 :]
    behind = zip(after, _away(1, len(after)), strict=True)
    return [*before, *behind, beside]


def _away(first: int, count: int) -> list[int]:
    """Which of `WHERES` so many words stand at, the first of them so far away."""
    return AWAY[MOST_WORDS + first : MOST_WORDS + first + count]


def _facts(
    place: int,
    spells: Sequence[Spell],
    clauses: Sequence[Clause],
    of_note: tuple[str, ...],
    damaged: str,
) -> Facts:
    """How long a time is, which of how many, what the rules say of it and of the others."""
    spell = spells[place]
    facts = Facts(
        min(len(spells), MOST_TIMES),
        min(place, MOST_TIMES),
        bisect_left(LONGER_THAN, spell.hours),
        spell.said,
        damaged,
        of_note,
        tuple(clauses[spell.at].by_section),
    )
    if len(spells) == 1:
        return facts
    others = [other for at, other in enumerate(spells) if at != place]
    return facts._replace(
        others=tuple(sorted({other.said for other in others})),
        before=spells[place - 1].said if place else None,
        beside=tuple(_beside(spell.hours, [other.hours for other in others])),
    )


def _beside(hours: float, others: Sequence[float]) -> Iterator[str]:
    """How long a time is beside the others of its note."""
    if hours >= max(others):
        yield "longest"
    if hours <= min(others):
        yield "shortest"
    if abs(hours - sum(others)) < SAME_HOURS:
        yield "all others"
