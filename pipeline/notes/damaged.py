"""Whether a note tells of damage to the net, that there was none, or neither."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Literal

from pipeline.notes.told import Told, as_spelt, least_sure, words_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pipeline.notes.clauses import Clause, Item
    from pipeline.notes.tellings import Telling, Tellings

Answer = Literal["yes", "no"]

SHORT_ANSWERS = {
    "nil", "none", "no", "ok", "n", "nd", "n.d", "0", "nothing", "nowt", "nope", "nah", "naw",
    "nada", "nuthin", "nothin", "naething", "nocht", "nei", "nee", "nein", "ingen", "geen", "zilch",
}  # fmt: skip
"""A whole note that says no."""

FOUND_IN_A_PART = {"stones", "mud", "debris"}
IN_A_PART = 2
"""A boulder in the bag says where the boulder was."""

MEASURED = {
    "height", "spread", "opening", "fitted", "fitting", "full", "rigged", "new", "sensor",
    "reads", "wing-spread", "size", "circumference", "hold", "test", "catch", "kg", "examined",
}  # fmt: skip
"""A note names a part for another reason than harm with one of these."""

BEFORE_A_PLACE = {
    "first", "second", "third", "the", "her", "his", "a", "port", "starboard", "stbd", "back", "of",
}  # fmt: skip
TO_A_PLACE = {
    "from", "to", "tae", "at", "near", "btwn", "between", "off", "below", "above", "under",
    "behind", "into", "aft", "fae", "as", "before", "afore", "ahead", "abaft", "beside", "next",
    "by", "forward", "fwd", "round", "roond", "around",
}  # fmt: skip
"""Words before a part that is only where something is: from the headline down."""

HOLE_SIZE = re.compile(r"\d ?(?:m|cm|mm|ft|foot|feet|metres?|meters?|yards?|fathoms?|fms?)\b")
"""A part with a length beside it has a tear of that length."""
TOWING = {"tow", "towed", "towing", "haul", "hauled", "depth", "deep", "after", "shot"}
"""A time beside one of these is no time of mending."""

ALL_OF_WHAT = {
    "the lot", "everything", "all of it", "all of her", "all gone", "gone all of it", "lot gone",
    "stem to stern", "end to end", "from end to end", "everything behind",
}  # fmt: skip
"""Where a part is named too, these are all of that part, or the fish."""

FILLING = {
    "and", "an", "n", "&", "+", "plus", "also", "the", "all", "o", "of", "her", "x", "both", "on",
    "side", "bit", "a",
}  # fmt: skip
"""Words that add nothing to a list of parts."""

MOST_OTHER_WORDS = 3
"""A list of what was damaged has at most so many words that nobody knows."""

OF_THE_NET = {"part", "doubt", "fish"}
"""Sections of which a note has a word if it may speak of more than a winch or the tide."""

ONLY = {"just", "jst", "only", "juist", "chust"}
"""It looked like a rip but was only weed."""

IMPLYING = {"part", "mending"}
"""Sections of which a note has a word if harm follows from what it names or what was mended."""

SAYS_NOW = {
    "says",
    "sayin",
    "saying",
    "other says",
    "one says",
    "himself says",
    "reckons",
    "swears",
}
"""Two who say so of what they see do not agree."""

SHORTEST_VERB = 4
"""A shorter word that nobody knows is no word of harm."""


def damage_told(told: Tellings) -> Told[Answer | None]:
    """What a note says of damage, from what its clauses tell; None where it does not say.

    In this order: harm told; harm doubted; a bare list of parts; a part with a word that nobody
    knows; a mend; harm denied, a sound net, a near miss, another's harm.
    """
    return _harm(told) or _implied(told) or _no_harm(told) or Told(None, (), "guess")


def _harm(told: Tellings) -> Told[Answer | None] | None:
    """Harm told, or harm of which the writer is in doubt."""
    harm = [item for one in told if one.sure for item in one.harm]
    if harm:
        denied = any(one.spared and not one.elsewhere for one in told)
        hearsay = told.of("hearsay")
        if len(hearsay) > 1 and (denied or _contrary(told, hearsay)):
            return Told(None, words_of(told, hearsay), "likely")
        sure = least_sure(as_spelt(harm), "likely" if denied else "sure")
        return Told("yes", words_of(told, harm), sure)
    if not any(one.harm and one.doubted and not one.elsewhere for one in told):
        return None
    doubts = told.of("doubt")
    if _it_was_only(told):
        return Told("no", words_of(told, doubts), "likely")
    return Told(None, words_of(told, doubts))


def _contrary(told: Tellings, hearsay: list[Item]) -> bool:
    """Whether what is said stands against the harm told."""
    says = not SAYS_NOW.isdisjoint([item.text for item in hearsay])
    return says or any(one.clause.of("not") and not one.harm for one in told)


def _it_was_only(told: Tellings) -> bool:
    """Whether what looked like a tear turned out to be no more than weed."""
    return any(
        one.clause.turned and one.clause.said & ONLY and not one.harm and not one.clause.of("doubt")
        for one in told
    )


def _implied(told: Tellings) -> Told[Answer | None] | None:
    """Harm that follows from what is named or was mended."""
    if told.sections.isdisjoint(IMPLYING):
        return None
    listed = _bare_list(told)
    if listed:
        return Told("yes", words_of(told, listed), "likely")
    spoken_of = _part_with_an_unknown_word(told)
    if spoken_of:
        return Told("yes", words_of(told, spoken_of), "guess")
    mended = _mended(told)
    if mended:
        return Told("yes", words_of(told, mended), "likely")
    measured = _measured(told)
    return Told("yes", words_of(told, measured), "guess") if measured else None


def _measured(told: Tellings) -> list[Item]:
    """The parts beside the size of a hole, or beside a time that can only be of mending."""
    if told.of("doubt") or any(_of_no_harm(one) or one.elsewhere for one in told):
        return []
    here = [one.clause for one in told if one.clause.parts and not one.clause.of("fish")]
    here = [clause for clause in here if not (clause.said & MEASURED or clause.of("thing"))]
    timed = any(
        item.time is not None and item.time.hours is not None
        for one in told
        for item in one.clause.of("time")
        if not (one.clause.of("lost") or one.clause.said & TOWING)
    )
    return [
        part for clause in here for part in clause.parts if timed or HOLE_SIZE.search(clause.text)
    ]


def _no_harm(told: Tellings) -> Told[Answer | None] | None:
    """No harm: denied, a sound net, a near miss, another's harm."""
    if not _nothing_happened(told) or _only_in_doubt(told):
        return None
    spared = [item for one in told for item in one.spared]
    if spared:
        return Told("no", words_of(told, _with_their_nots(told)), as_spelt(spared))
    missed = [item for one in told for item in (*one.away, *one.clause.of("off_clean"))]
    others = [
        item for section in ("old", "other_boat", "thing", "tide") for item in told.of(section)
    ]
    return Told("no", words_of(told, missed or others), "likely")


def _only_in_doubt(told: Tellings) -> bool:
    """Whether every word that the net is sound stands in a sentence with a doubt."""
    if "doubt" not in told.sections:
        return False
    doubtful = {one.clause.sentence for one in told if one.clause.of("doubt", "words")}
    spared = {one.clause.sentence for one in told if one.spared}
    if any(one.spared and one.clause.turned for one in told):
        return False
    found_none = any(item.means("not") for item in told.of("doubt"))
    return bool(spared) and spared <= doubtful and not found_none


def _with_their_nots(told: Tellings) -> list[Item]:
    """What says that nothing was harmed, with the words before it that say not."""
    return [
        item
        for one in told
        if one.spared
        for item in (*(one.clause.of("not") if one.denied else ()), *one.spared)
    ]


def bare_parts(told: Tellings) -> list[Item]:
    """The parts named without a word that they are sound."""
    return [
        part
        for one in told
        if not (one.spared or one.elsewhere or one.clause.of("fish") or one.clause.of("doubt"))
        for part in one.clause.of("part")
        if part.text not in ALL_OF_WHAT
    ]


def only_a_place(part: Item, clause: Clause) -> bool:
    """Whether a part is only where something is: from the headline down."""
    if any(part.follows(cause, IN_A_PART) and not cause.means("harm") for cause in _in_it(clause)):
        return True
    at = part.at - 1
    while clause.words.get(at) in BEFORE_A_PLACE:
        at -= 1
    if clause.words.get(at) in {"&", "and", "an"}:
        first = next((other for other in clause.of("part") if other.end == at), None)
        return first is not None and only_a_place(first, clause)
    return clause.words.get(at) in TO_A_PLACE


def _in_it(clause: Clause) -> Iterator[Item]:
    """The stones, mud or wood that the clause says to be in something: a boulder in the bag."""
    for cause in clause.of("cause"):
        if cause.meanings["cause"] in FOUND_IN_A_PART and clause.words.get(cause.end) == "in":
            yield cause


def other_words(clause: Clause) -> list[str]:
    """The words that nobody knows and that do more than fill a list."""
    return [word for word in clause.unknown if word not in FILLING]


def _bare_list(told: Tellings) -> list[Item]:
    """The parts of a note that is no more than parts, sides, causes and times."""
    if "part" not in told.sections:
        return []
    others = [word for one in told for word in other_words(one.clause)]
    if len(others) > MOST_OTHER_WORDS or any(_of_no_harm(one) for one in told):
        return []
    if any(one.clause.said & MEASURED for one in told):
        return []
    return bare_parts(told)


def _of_no_harm(one: Telling) -> bool:
    return bool(one.spared or one.clause.of("off_clean"))


def _part_with_an_unknown_word(told: Tellings) -> list[Item]:
    """The parts that stand with a verb that nobody knows: what else should have become of them."""
    if told.of("doubt") or any(_of_no_harm(one) or one.elsewhere for one in told):
        return []
    return [part for one in told for part in _parts_with_an_unknown_word(one.clause)]


def _parts_with_an_unknown_word(clause: Clause) -> list[Item]:
    """The parts that stand in the clause with such a verb."""
    verbs = [word for word in clause.unknown if word.isalpha() and len(word) >= SHORTEST_VERB]
    if not verbs or clause.said & MEASURED or clause.of("fish"):
        return []
    return [
        part
        for part in clause.of("part")
        if part.text not in ALL_OF_WHAT and not only_a_place(part, clause)
    ]


def _mended(told: Tellings) -> list[Item]:
    """The words of mending where nothing says sound, or of another day."""
    if any(one.spared or one.elsewhere for one in told):
        return []
    of_a_thing = "thing" in told.sections
    return [
        item
        for one in told
        if one.clause.parts or not of_a_thing
        for item in one.clause.of("mending", "words")
    ]


def _nothing_happened(told: Tellings) -> bool:
    """Whether the note says that nothing was harmed, or speaks of another's harm only."""
    if any(one.spared for one in told):
        return True
    of_another_thing = told.of("thing", "words") or told.of("tide")
    if of_another_thing and told.sections.isdisjoint(OF_THE_NET) and not told.of("cause", "fast"):
        return True
    missed = "off_clean" in told.sections or any(one.elsewhere or one.away for one in told)
    return missed and "doubt" not in told.sections
