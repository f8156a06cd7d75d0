"""Whether a note tells of damage to the net, that there was none, or neither."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from pipeline.notes.told import Told, as_spelt, least_sure, words_of

if TYPE_CHECKING:
    from pipeline.notes.clauses import Clause, Item
    from pipeline.notes.harm import Telling

Answer = Literal["yes", "no"]

SHORT_ANSWERS = {"nil", "none", "no", "ok", "n", "nd", "n.d", "0", "nothing"}
"""A whole note that says no."""

MEASURED = {
    "height", "spread", "opening", "fitted", "fitting", "full", "rigged", "new", "sensor",
    "reads", "wing-spread", "size", "circumference", "hold", "test",
}  # fmt: skip
"""A note names a part for another reason than harm with one of these."""

BEFORE_A_PLACE = {"the", "her", "his", "a", "port", "starboard", "stbd", "back", "of"}
TO_A_PLACE = {
    "from", "to", "tae", "at", "near", "btwn", "between", "off", "below", "above", "under",
    "behind", "into", "aft", "fae", "as",
}  # fmt: skip
"""Words before a part that is only where something is: from the headline down."""

FILLING = {
    "and", "an", "n", "&", "+", "plus", "also", "the", "all", "o", "of", "her", "x", "both", "on",
    "side", "bit", "a",
}  # fmt: skip
"""Words that add nothing to a list of parts."""

MOST_OTHER_WORDS = 3
"""A list of what was damaged has at most so many words that nobody knows."""

SHORTEST_VERB = 4
"""A shorter word that nobody knows is no word of harm."""


def damage_told(told: list[Telling]) -> Told[Answer | None]:
    """What a note says of damage, from what its clauses tell; None where it does not say.

    In this order: harm told; harm doubted; a bare list of parts; a part with a word that nobody
    knows; a mend; harm denied, a sound net, a near miss, another's harm.
    """
    return _harm(told) or _implied(told) or _no_harm(told) or Told(None, (), "guess")


def _harm(told: list[Telling]) -> Told[Answer | None] | None:
    """Harm told, or harm of which the writer is in doubt."""
    harm = [item for one in told if one.sure for item in one.harm]
    if harm:
        denied = any(one.spared and not one.elsewhere for one in told)
        return Told(
            "yes", words_of(told, harm), least_sure(as_spelt(harm), "likely" if denied else "sure")
        )
    doubtful = [one for one in told if one.harm and one.doubted and not one.elsewhere]
    doubts = [item for one in told for item in one.clause.of("doubt")]
    return Told(None, words_of(told, doubts)) if doubtful else None


def _implied(told: list[Telling]) -> Told[Answer | None] | None:
    """Harm that follows from what is named or was mended."""
    listed = _bare_list(told)
    if listed:
        return Told("yes", words_of(told, listed), "likely")
    spoken_of = _part_with_an_unknown_word(told)
    if spoken_of:
        return Told("yes", words_of(told, spoken_of), "guess")
    mended = _mended(told)
    return Told("yes", words_of(told, mended), "likely") if mended else None


def _no_harm(told: list[Telling]) -> Told[Answer | None] | None:
    """No harm: denied, a sound net, a near miss, another's harm."""
    if not _nothing_happened(told):
        return None
    spared = [item for one in told for item in one.spared]
    if spared:
        return Told("no", words_of(told, _with_their_nots(told)), as_spelt(spared))
    missed = [item for one in told for item in (*one.away, *one.clause.of("off_clean"))]
    others = [
        item
        for one in told
        for section in ("old", "other_boat", "thing", "tide")
        for item in one.clause.of(section)
    ]
    return Told("no", words_of(told, missed or others), "likely")


def _with_their_nots(told: list[Telling]) -> list[Item]:
    """What says that nothing was harmed, with the words before it that say not."""
    return [
        item
        for one in told
        if one.spared
        for item in (*(one.clause.of("not") if one.denied else ()), *one.spared)
    ]


def bare_parts(told: list[Telling]) -> list[Item]:
    """The parts named without a word that they are sound."""
    return [
        part
        for one in told
        if not (one.spared or one.elsewhere or one.clause.of("fish") or one.clause.of("doubt"))
        for part in one.clause.of("part")
    ]


def only_a_place(part: Item, clause: Clause) -> bool:
    """Whether a part is only where something is: from the headline down."""
    at = part.at - 1
    while clause.words.get(at) in BEFORE_A_PLACE:
        at -= 1
    if clause.words.get(at) in {"&", "and", "an"}:
        first = next((other for other in clause.of("part") if other.end == at), None)
        return first is not None and only_a_place(first, clause)
    return clause.words.get(at) in TO_A_PLACE


def other_words(clause: Clause) -> list[str]:
    """The words that nobody knows and that do more than fill a list."""
    return [word for word in clause.unknown if word not in FILLING]


def _bare_list(told: list[Telling]) -> list[Item]:
    """The parts of a note that is no more than parts, sides, causes and times."""
    others = [word for one in told for word in other_words(one.clause)]
    if len(others) > MOST_OTHER_WORDS or any(one.spared for one in told):
        return []
    return bare_parts(told)


def _part_with_an_unknown_word(told: list[Telling]) -> list[Item]:
    """The parts that stand with a verb that nobody knows: what else should have become of them."""
    for one in told:
        if one.spared or one.elsewhere or one.clause.of("off_clean") or one.clause.of("doubt"):
            return []
    return [part for one in told for part in _parts_with_an_unknown_word(one.clause)]


def _parts_with_an_unknown_word(clause: Clause) -> list[Item]:
    """The parts that stand in the clause with such a verb."""
    verbs = [word for word in clause.unknown if word.isalpha() and len(word) >= SHORTEST_VERB]
    if not verbs or clause.said & MEASURED or clause.of("fish"):
        return []
    return [part for part in clause.of("part") if not only_a_place(part, clause)]


def _mended(told: list[Telling]) -> list[Item]:
    """The words of mending where nothing says sound, or of another day."""
    if any(one.spared or one.elsewhere for one in told):
        return []
    return [item for one in told for item in one.clause.of("mending")]


def _nothing_happened(told: list[Telling]) -> bool:
    """Whether the note says that nothing was harmed, or speaks of another's harm only."""
    clauses = [one.clause for one in told]
    if any(c.of("thing") or c.of("tide") for c in clauses) and not any(
        c.of("part") or c.of("doubt") or c.of("fish") for c in clauses
    ):
        return True
    if any(one.spared for one in told):
        return True
    missed = any(one.clause.of("off_clean") or one.elsewhere or one.away for one in told)
    return missed and not any(clause.of("doubt") for clause in clauses)
