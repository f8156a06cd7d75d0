"""What a stretch of time in a note is weighed by: the words about it, and what they mean."""

from __future__ import annotations

from itertools import chain, pairwise
from typing import TYPE_CHECKING

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

NEAREST, NEAR, NOT_FAR = 1, 3, 6
"""A word is the next, at most so far away, or further."""
SIDES = ("<", ">")
WIDER = {
    f"{side}{reach}": (*(f"{side}{wider}" for wider in reaches), "=")
    for side in SIDES
    for reach, reaches in {
        NEAREST: (NEAREST, NEAR, NOT_FAR, ""),
        NEAR: (NEAR, NOT_FAR, ""),
        NOT_FAR: (NOT_FAR, ""),
        "": ("",),
    }.items()
}
"""Where a word stands, from near to anywhere on that side, and anywhere at all."""

LONGER_THAN = (0.2, 0.5, 1.0, 2.0, 3.5, 5.0, 7.9)
"""Hours that part short times from long ones: a few minutes, a spell, a watch."""
MOST_TIMES = 4
"""A note of more times is as one of so many."""
SAME_HOURS = 0.01

Thing = tuple[str, str]
"""Where a word or two stand from the time, and which; or a fact about the time, by itself."""


def things_about(
    spells: Sequence[Spell], clauses: Sequence[Clause], damaged: Answer | None
) -> Iterator[list[Thing]]:
    """For each stretch of time the words and pairs of words about it, and the facts of it."""
    rows = _words(clauses), _meanings(clauses)
    of_note = sorted({section for clause in clauses for section in clause.by_section})
    for place, spell in enumerate(spells):
        near = chain.from_iterable(
            _around(kind, names, items.index(spell.item) + 1)
            for kind, (names, items) in zip(("word", "meaning"), rows, strict=True)
        )
        yield [*near, *_facts(place, spells, clauses, of_note, damaged or "unknown")]


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


def _around(kind: str, names: Sequence[str], place: int) -> Iterator[Thing]:
    """The words about a place and the pairs of them, each with where it stands."""
    for at, name in enumerate(names):
        if at != place:
            yield f"{kind} {_where(at, place)}", name
    for at, (first, second) in enumerate(pairwise(names)):
        if place not in {at, at + 1}:
            yield f"{kind}s {_where(at if at > place else at + 1, place)}", f"{first} {second}"
    yield f"{kind}s =", f"{names[place - 1]} {names[place + 1]}"


def _where(at: int, place: int) -> str:
    side = SIDES[at > place]
    away = abs(at - place)
    for reach in (NEAREST, NEAR, NOT_FAR):
        if away <= reach:
            return f"{side}{reach}"
    return side


def _facts(
    place: int,
    spells: Sequence[Spell],
    clauses: Sequence[Clause],
    of_note: Sequence[str],
    damaged: str,
) -> Iterator[Thing]:
    """The facts of a time: how long, which of how many, what the rules say of it and the others."""
    spell = spells[place]
    says = spell.said
    others = [other for at, other in enumerate(spells) if at != place]
    count = str(min(len(spells), MOST_TIMES))
    yield "times", count
    yield "place", str(min(place, MOST_TIMES))
    yield "longer than", str(sum(spell.hours > hours for hours in LONGER_THAN))
    yield "rules", says
    yield "damaged", damaged
    yield "damaged, rules", f"{damaged} {says}"
    yield "damaged, times", f"{damaged} {count}"
    for section in of_note:
        yield "damaged, rules, note", f"{damaged} {says} {section}"
    for section in clauses[spell.at].by_section:
        yield "clause", section
    if not others:
        return
    for said in sorted({other.said for other in others}):
        yield "rules of others", said
    if place:
        yield "rules before", spells[place - 1].said
    yield from _beside(spell.hours, [other.hours for other in others])


def _beside(hours: float, others: Sequence[float]) -> Iterator[Thing]:
    """How long a time is beside the others of its note."""
    if hours >= max(others):
        yield "beside", "longest"
    if hours <= min(others):
        yield "beside", "shortest"
    if abs(hours - sum(others)) < SAME_HOURS:
        yield "beside", "all others"
