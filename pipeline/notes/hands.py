"""How many mended: 2 men 3 hrs is three hours by the clock and six of work."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from pipeline.notes.number_words import WORDS
from pipeline.notes.told import Told

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pipeline.notes.clauses import Clause, Item
    from pipeline.notes.tellings import Tellings
    from pipeline.notes.told import Sure

MOST_HANDS = 20
"""No trawler mends with more (own judgement, no source)."""

PEOPLE = {
    "me", "meself", "mesel", "mysel", "myself", "masel", "maself", "i", "him", "himself", "he",
    "mate", "cook", "cookie", "lad", "boy", "skipper", "skip", "bosun", "boatswain", "engineer",
    "deckhand", "netman", "net-man", "netmaker", "net-maker", "captain", "cap'n", "chief", "son",
    "brother", "father", "da", "dad", "uncle", "cousin", "apprentice", "youngster", "greenhorn",
    "other", "another", "observer", "technician", "youngfella", "stuurman", "kok", "styrmann",
    "kokk", "jungen", "kid", "fella", "feller", "fellow", "loon", "nipper", "mucker", "deckie",
    "decky", "sons",
}  # fmt: skip
"""Who may be aboard."""
MENDERS = PEOPLE - {"other", "another"}
MAN_HOURS = re.compile(r"[- ]?h(?:ou)?rs\b|-hour")
"""Six man hours are no six men."""
JOINS = {"and", "an", "an'", "n", "&", "+", "og", "en", "und", "plus"}
BEFORE_A_PERSON = {
    "'", "the", "a", "my", "his", "our", "young", "old", "oul", "auld", "ould", "one",
}  # fmt: skip
"""What joins two people, and what stands before the second: me and the old cook."""
NO_NAMES = {
    "hour", "hours", "half", "then", "that", "this", "they", "them", "those", "these", "there",
    "some", "just", "only", "also", "over", "back", "down", "time", "again", "said", "says", "told",
    "she", "who", "which", "crew", "lads", "everybody", "somebody", "nobody", "gave", "made",
    "sent", "left", "when", "what", "with", "from", "about", "after", "before",
}  # fmt: skip
"""Words that nobody knows and that are yet no names."""
SHORTEST_NAME = 3
"""A shorter word is no name."""

NO_SINGLE = {"needle", "needles", "crew of", "crew"}
"""Two needles are two hands; a needle is no more than a needle, and a crew of no number."""
WITH_A_NUMBER = re.compile(
    r"\b(?:w/|with|by) ?(?P<hands>[1-9]|[a-z]+)"
    r"(?= ?(?:$|[.,;!]))(?!,? (?:having )?start)"
)
"""A number with nothing counted: 1 hr w/ 2."""
ALONE = (
    "on my own", "on his own", "on me own", "on her own", "by myself", "by himself", "by meself",
    "single handed", "single-handed", "singlehanded", "did it myself", "done it meself",
    "did it meself", "done it myself", "alone", "meself", "myself", "mesel", "masel", "own time",
    "just me", "only me", "took me", "took him",
)  # fmt: skip
"""Words of one who mended alone."""
OF_ONE = {words.split()[-1] for words in ALONE} | {"handed"}
"""The last words of those, by which most notes are seen to have none of them."""
MOST_BY_A_LETTER = 6
"""2m before a time are two men; 12m are metres."""
DID = {"had", "has", "did", "took"}
MENDER_REACHES = 3
"""So many words behind one person, what was mended is his work: the cook had it all sewn."""


class _Count(NamedTuple):
    """How many mended, the words that say so, and how sure they are."""

    hands: int
    words: str
    sure: Sure


def hands_told(told: Tellings) -> Told[int | None]:
    """How many people mended; None where it does not say."""
    clauses = [one.clause for one in told if not one.elsewhere]
    for way, section in WAYS:
        if section is not None and section not in told.sections:
            continue
        counted = [count for clause in clauses for count in way(clause)]
        if counted:
            most = max(counted, key=lambda count: count.hands)
            return Told(most.hands, (most.words,), most.sure)
    return Told(None)


def _numbered(clause: Clause) -> Iterator[_Count]:
    """A number before men, hands or lads, or behind them on a form; both of us are two."""
    for item in clause.of("hands"):
        before, behind = clause.words.get(item.at - 1, ""), clause.words.get(item.end, "")
        if behind in {":", "of"}:
            behind = clause.words.get(item.end + 1, "")
        if clause.compares_with(item):
            continue
        if item.means("hands", "two"):
            yield _Count(2, item.text, "sure")
        elif MAN_HOURS.match(clause.note, item.stop):
            continue
        elif (hands := _number(before)) and not (before in {"a", "an"} and item.text in NO_SINGLE):
            one_more = _one_more(clause, item)
            yield _Count(hands + one_more, f"{before} {item.text}", "sure")
        elif (behind.isdecimal() or item.text == "crew of") and (hands := _number(behind)):
            yield _Count(hands, f"{item.text} {behind}", "sure")


def _one_more(clause: Clause, item: Item) -> bool:
    """Whether one of the crew is named before or behind a number: me and two lads."""
    at = item.at - 2
    while clause.words.get(at) in BEFORE_A_PERSON:
        at -= 1
    before = clause.words.get(at) in JOINS and clause.words.get(at - 1) in PEOPLE
    return before or (clause.words.get(item.end) in JOINS and _person_at(clause, item.end + 1))


def _beside_the_time(clause: Clause) -> Iterator[_Count]:
    """A bare number behind a with, in a clause that tells a time: 1 hr w/ 2."""
    found = WITH_A_NUMBER.search(clause.note, clause.start) if clause.of("time") else None
    if found is not None and found.start() < clause.stop and (hands := _number(found["hands"])):
        yield _Count(hands, found[0], "likely")


def _before_the_time(clause: Clause) -> Iterator[_Count]:
    """Men by a letter before the time: 2m 3h, 2x2h."""
    for time in clause.of("time"):
        at = time.at - 1
        sign = clause.words.get(at, "")
        while clause.words.get(at) in {"x", "m", "m."}:
            at -= 1
        count = clause.words.get(at, "")
        if sign in {"x", "m"} and count.isdecimal() and 0 < _number(count) <= MOST_BY_A_LETTER:
            yield _Count(_number(count), f"{count} {sign}", "guess")


def _number(word: str) -> int:
    """The number of hands that a word says; 0 for none."""
    count = int(word) if word.isdecimal() else WORDS.get(word, 0)
    return count if count <= MOST_HANDS else 0


def _joined(clause: Clause) -> Iterator[_Count]:
    """Two people with an and between: Dougie and the lad, me and the cook."""
    if clause.said.isdisjoint(JOINS):
        return
    for at, word in clause.words.items():
        if word in JOINS:
            left, right = at - 1, at + 1
            while clause.words.get(right) in BEFORE_A_PERSON:
                right += 1
            one, other = clause.words.get(left, ""), clause.words.get(right, "")
            known = (one in PEOPLE) + (other in PEOPLE)
            if not known and _at_a_time(clause, right) and _are_names(clause, left, right):
                yield _Count(2, f"{one} {word} {other}", "guess")
            if known and (known == 2 or _may_be_a_name(clause, left if other in PEOPLE else right)):
                third = clause.words.get(right + 1) in JOINS and _person_at(clause, right + 2)
                yield _Count(3 if third else 2, f"{one} {word} {other}", "likely")


def _person_at(clause: Clause, at: int) -> bool:
    """Whether one of the crew is named at a place, or behind a the there."""
    while clause.words.get(at) in BEFORE_A_PERSON:
        at += 1
    return clause.words.get(at) in PEOPLE


def _at_a_time(clause: Clause, at: int) -> bool:
    """Whether a time stands right behind the place."""
    return any(item.at == at + 1 for item in clause.of("time"))


def _are_names(clause: Clause, *places: int) -> bool:
    return all(_may_be_a_name(clause, at) for at in places)


def _may_be_a_name(clause: Clause, at: int) -> bool:
    """Whether a word is one that nobody knows, as names are."""
    word = clause.words.get(at, "")
    unknown = word in clause.unknown and word not in NO_NAMES
    return unknown and word.isalpha() and len(word) >= SHORTEST_NAME


def _single(clause: Clause) -> Iterator[_Count]:
    """One, alone, or named before the word of mending."""
    if not clause.said.isdisjoint(OF_ONE):
        text = f" {clause.text} "
        yield from (_Count(1, words, "likely") for words in ALONE if f" {words} " in text)
    for mend in clause.of("mending", "words"):
        for at in range(mend.at - MENDER_REACHES - 1, mend.at):
            person = clause.words.get(at) in MENDERS
            named = clause.words.get(at + 1) in DID and _may_be_a_name(clause, at)
            if person or named:
                yield _Count(1, f"{clause.words[at]} {mend.text}", "likely")


WAYS = (
    (_numbered, "hands"),
    (_before_the_time, "time"),
    (_beside_the_time, "time"),
    (_joined, None),
    (_single, None),
)
"""How a note says how many mended, the surest first, and the section that it needs a word of."""
