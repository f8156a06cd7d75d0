"""Plain ways of writing that are read as they stand, whatever the weight of their words.

In each the weights, learned from notes that mostly say more, have been seen to stand against what
is said: a net nearly ripped, last trip's tear mended today, dogfish in the bag, a bare question, a
tear with praise of the fishing behind it.
Common ways of writing, no source; where a note says anything beside them, they do not hold.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from pipeline.notes.harm import THE_NET
from pipeline.notes.told import Told, words_of

if TYPE_CHECKING:
    from pipeline.notes.clauses import Clause
    from pipeline.notes.damaged import Answer
    from pipeline.notes.tellings import Telling, Tellings

NEARLY = re.compile(
    r"\b(?:nearly|almost|narrowly|near enough|near as|just about|damn near|close to|nigh on)"
    r"(?: \w+){0,2}? "
    r"(?:rip|ripped|ripping|tore|tear|tearing|torn|los[te]|losing|burst|split|holed)\b"
)
"""Harm that did not come to pass."""

AFRESH = {
    "again", "new", "more", "another", "also", "too", "opened", "open", "opens", "bigger", "wider",
    "worse", "further", "broken", "broke", "beside", "besides", "still", "other", "than", "next",
    "now", "hold", "held", "mornings", "morning's",
}  # fmt: skip
"""Words of a note on old damage that may tell of new."""

OLD_MENDED = re.compile(
    r"\b(?:mend|sew|lac|patch|fix|repair|stitch|darn)(?:ed|d|ing|n)? (?:up )?"
    r"(?:the |a |an |that |this |our )?(?:old|auld) (?:\w+ ){0,2}?"
    r"(?:tears?|rips?|holes?|splits?|rents?|damage)\b"
)
"""Mending of what was torn before, whatever stands between old and the tear."""

IN_IT = {"stones", "mud", "debris", "animal"}
"""Causes that may merely lie in the net."""
LYING = {"in", "inside"}
OF_THE_PLACE = {"the", "da", "de", "her", "of", "a", "both", "our"}
TAKEN_OUT = {
    "clear", "cleared", "clearing", "empty", "emptied", "emptying", "shift", "shifted", "dump",
    "dumped", "picking", "picked", "pick", "out",
}  # fmt: skip
"""Words for getting rid of what was in the net."""
COUNTING = re.compile(
    r"\d[\d.,/½¼¾]*|a|few|lots?|load|loads|some|big|wee|ton|tons|kg|of|and|full|box"
)

TORN = {"torn", "ripped", "burst", "split", "holed", "tore", "tear", "rip", "hole"}
THOUGH = {"though", "tho"}
OF_TIME = {"time", "hours", "hrs", "fishing", "tow"}
"""What was not lost says nothing of the net."""
MOST_TORN = 3
"""What begins with so few words says no more than that it is torn."""
MOST_ASKED = 3
"""A question of at most so many words says nothing but that it is asked."""


def told_plainly(told: Tellings, by_rules: Told[Answer | None]) -> Told[Answer | None] | None:
    """What a note says of damage where it is one of these cases; else None."""
    if _only_asked(told):
        return Told(None, by_rules.words, "likely")
    if _torn_outright(told):
        return by_rules
    return _nearly(told) or _only_old(told, by_rules) or _only_in_the_net(told)


def _only_asked(told: Tellings) -> bool:
    """Whether the whole note is a question of a few words, as belly torn? is."""
    return len(told) == 1 and told[0].clause.asked and len(told[0].clause.words) <= MOST_ASKED


def _torn_outright(told: Tellings) -> bool:
    """Whether the note begins with no more than a part and that it is torn, and denies nothing."""
    if not told or not told[0].sure:
        return False
    first = told[0].clause
    of_the_net = bool(first.parts) or first.names_the_net
    short = len(first.words) <= MOST_TORN and not set(first.unknown) - THE_NET - {"in"}
    torn = any(item.text in TORN for item in told[0].harm)
    return of_the_net and short and torn and not any(map(_takes_back, told))


def _takes_back(one: Telling) -> bool:
    """Whether a clause may take back what another tells."""
    clause = one.clause
    if one.spared and clause.said & OF_TIME and all(item.means("lost") for item in one.spared):
        return False
    sound = one.spared and not (clause.of("fish") or clause.of("hands"))
    denied = any(item.text not in THOUGH for item in clause.of("not"))
    unsure = one.elsewhere or one.doubted or clause.asked or clause.of("doubt")
    return bool(sound or denied or unsure or clause.of("other_boat"))


def _nearly(told: Tellings) -> Told[Answer | None] | None:
    """No damage, where all harm that is told nearly came to pass."""
    if told.of("time") or told.of("mending") or any(one.elsewhere for one in told):
        return None
    found = [NEARLY.search(one.clause.text) for one in told]
    harmed = [match is not None for one, match in zip(told, found, strict=True) if one.harm]
    said = next((match[0] for match in found if match), None)
    return Told("no", (said,), "likely") if said and all(harmed) else None


def _only_old(told: Tellings, by_rules: Told[Answer | None]) -> Told[Answer | None] | None:
    """None of this haul, where the note tells of mending old damage and of nothing fresh."""
    said = frozenset[str]().union(*[one.clause.said for one in told])
    found = [OLD_MENDED.search(one.clause.text) for one in told]
    mended = next((match[0] for match in found if match), None)
    harmed = [match is not None for one, match in zip(told, found, strict=True) if one.harm]
    if mended and all(harmed) and not said & AFRESH and not told.of("old", "again"):
        return Told("no", (mended,), "likely")
    of_old = [one.clause for one in told if one.clause.of("old", "words")]
    mends_old = any(clause.of("mending") and not clause.of("not", "words") for clause in of_old)
    fresh = said & AFRESH or told.of("old", "again") or any(one.sure for one in told)
    return by_rules if by_rules.value == "no" and mends_old and not fresh else None


def _only_in_the_net(told: Tellings) -> Told[Answer | None] | None:
    """Not told, where stones, mud or fish lay in a part and nothing is said to have come of it."""
    mended = any(item.text not in TAKEN_OUT for item in told.of("mending"))
    if not told or mended or any(one.harm or one.spared for one in told):
        return None
    first, *rest = [one.clause for one in told]
    lay = _lay_in_a_part(first)
    if not lay or not all(_of_taking_out(clause) for clause in rest):
        return None
    timed = first.of("time") or any(clause.of("time") for clause in rest)
    taken_out = any(clause.said & TAKEN_OUT for clause in (first, *rest))
    return None if timed and not taken_out else Told(None, words_of(told, first.items), "likely")


def _lay_in_a_part(clause: Clause) -> bool:
    """Whether it is no more than something, in, and a part."""
    parts, things = clause.parts, [*clause.of("fish"), *clause.of("cause")]
    found = [one for one in things if one.means("fish") or one.meanings.get("cause") in IN_IT]
    if not found or not parts or clause.of("doubt"):
        return False
    between = {clause.words.get(at) for at in range(found[0].end, parts[0].at)}
    others = set(clause.unknown) - LYING - OF_THE_PLACE - TAKEN_OUT
    return bool(between & LYING) and all(COUNTING.fullmatch(word) for word in others)


def _of_taking_out(clause: Clause) -> bool:
    """Whether it is no more than a time and getting rid of what was in the net."""
    others = set(clause.unknown) - TAKEN_OUT - {"took", "to", "it", "them", "of"}
    return not (others or clause.parts or clause.of("not"))
