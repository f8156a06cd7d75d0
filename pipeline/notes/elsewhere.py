"""Which clauses of a note speak of another boat's net, or of what another haul did."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pipeline.notes.clauses import Clause, Item

THEIRS = {"his", "their"}
OURS = {"us", "our", "ours", "we"}
"""Whose net it is."""
OURS_ALONE = {"ours", "oors", "wirs", "mine", "own"}
NOT_US = {"not", "nae", "no", "except", "bar", "but"}
SHORT = 3
"""So many words at most say not us, and no more."""
OLD = {"old", "auld", "aal", "oul", "ould", "aul", "known", "existing", "earlier"}
TEARS = {
    "hole", "holes", "tear", "tears", "rip", "rips", "rent", "rents", "damage", "dmg", "split",
    "splits", "burst", "chafe", "gap",
}  # fmt: skip
"""An old bridle that parted is no old harm; an old wing tear is."""
THERE = {"there", "from", "was", "were", "had"}
"""A hole that was there before."""
WEEKDAYS = {
    f"{day}{end}"
    for day in ("mon", "tues", "wednes", "thurs", "fri", "satur", "sun", "yester", "yes'")
    for end in ("day", "day's", "days", "dy", "dy's")
} | {"yestreen", "yestreen's"}
"""Harm that names one of these is of another day."""
TO_COME = {"till", "til", "until", "by", "before", "for", "on", "next", "come", "o'", "of", "this"}
"""Before a day, words by which it may be one to come."""
HAUL_NUMBER = re.compile(r"(?<=[a-z] )(?:h|haul|hl|tow|trek|shot|set|station)[. ]?\d+\b(?!:)")
"""What is mended of a haul with a number was torn in that one."""

ANOTHERS = re.compile(
    r"\b(?!today|this|yesterday|haul|let|it|he|she|that|net|what|there|who|where|here|one)\w{3,}'s "
    r"(?:net|trawl|cod ?end|belly|gear|bag|boat|crowd|rags)\b"
    r"|\b(?:his|their) (?:\w+ )?(?:net|trawl|gear|bag|cod ?end|belly|wings?|bosom|square|twine)s?\b"
)
"""The net of a boat or a man with a name."""


def of_elsewhere(clauses: list[Clause]) -> Iterator[bool]:
    """Whether each clause speaks of another boat's net or of another day, until a but."""
    apart = 0
    if any("own" in clause.by_section for clause in clauses):
        apart = max((at for at in range(len(clauses)) if _sets_us_apart(clauses, at)), default=0)
    if not apart and not any(_may_be_elsewhere(clause) for clause in clauses):
        yield from [False] * len(clauses)
        return
    others = old = again = -1
    before = {clause.sentence for clause in clauses if clause.of("old", "back")}
    animals = {clause.sentence for clause in clauses if clause.of("cause", "animal")}
    for at, clause in enumerate(clauses):
        of_another = bool(clause.of("other_boat")) and clause.sentence not in animals
        if clause.of("own"):
            others = -1
        if (of_another or _of_somebody(clause)) and not _then_of_ours(clause):
            others = clause.sentence
        if _of_another_haul(clause):
            old = clause.sentence
        if clause.of("old", "again"):
            again = clause.sentence
        if again == clause.sentence:
            old = -1
        told_apart = at < apart and not clause.of("own")
        yield told_apart or (
            clause.sentence in {others, old, *before} and not (clause.turned and not of_another)
        )


def _sets_us_apart(clauses: list[Clause], at: int) -> bool:
    """Whether a clause says no more than that what went before is not of us: not us; ours never."""
    clause = clauses[at]
    if (
        not at
        or "own" not in clause.by_section
        or clause.of("harm")
        or clause.parts
        or clause.of("cause")
    ):
        return False
    ours = [own for own in clause.of("own") if own.words[0] in OURS_ALONE]
    if ours and clause.first_word in OURS_ALONE:
        return bool(clause.of("not") or clause.of("sound"))
    last = clause.words[max(clause.words)]
    return len(clause.words) <= SHORT and (
        clause.first_word in NOT_US or any(last == no.text for no in clause.of("not"))
    )


def _may_be_elsewhere(clause: Clause) -> bool:
    return (
        "other_boat" in clause.by_section
        or "old" in clause.by_section
        or _of_somebody(clause)
        or _of_another_haul(clause)
    )


def _of_another_haul(clause: Clause) -> bool:
    """Whether it says so: a word of another day, an old tear, the hole from Sunday."""
    if "old" in clause.by_section and any(
        _of_another_day(item, clause) for item in clause.of("old", "words")
    ):
        return True
    harm = clause.by_section.get("harm", ())
    if not (harm or "mending" in clause.by_section):
        return False
    if any(_called_old(item, clause) for item in harm) or (harm and _was_there(clause)):
        return True
    if "mending" in clause.by_section and HAUL_NUMBER.search(clause.text):
        return True
    if clause.said.isdisjoint(WEEKDAYS):
        return False
    return any(
        word in WEEKDAYS and clause.words.get(at - 1) not in TO_COME
        for at, word in clause.words.items()
    )


def _was_there(clause: Clause) -> bool:
    """Whether it ends with a before: the hole was there before."""
    return clause.words[max(clause.words)] == "before" and not clause.said.isdisjoint(THERE)


def _called_old(harm: Item, clause: Clause) -> bool:
    """Whether an old stands before the harm, with at most a part between."""
    before = harm.at - 1
    if harm.text in TEARS:
        named = next((part for part in clause.of("part") if part.end == harm.at), None)
        before = named.at - 1 if named else before
    return clause.words.get(before) in OLD


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
