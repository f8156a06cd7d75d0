"""Which parts of the net were damaged, on which side, and by what."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.notes.damaged import bare_parts, only_a_place, other_words

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pipeline.notes.clauses import Clause, Item
    from pipeline.notes.harm import Telling

PARTS = (
    "wing", "bunt", "bosom", "belly", "square", "lengthener", "codend", "headline", "selvedge",
    "fishing_line", "ground_gear", "sweep", "whole_net",
)  # fmt: skip
CAUSES = (
    "fast", "stones", "hard_ground", "mud", "debris", "other_gear", "animal", "chafe",
    "ground_gear", "wear", "overload", "handling",
)  # fmt: skip

TO_BITS = {
    "ribbons", "ribons", "rags", "shreds", "tatters", "bits", "pieces", "rimracked", "destroyed",
    "destroy",
}  # fmt: skip
"""Harm to all of the net, where no part is named."""

WORD_OF_THE_PART = 3
"""So many words behind a part may stand its own word that it is sound."""
NOT_THIS_CAUSE = 3
"""A not so many words before a cause denies it."""


def damaged_parts(told: list[Telling]) -> tuple[str, ...]:
    """The parts damaged, from the wing aft; the whole net stands alone."""
    sure = [one for one in told if one.sure]
    found = _named_with_harm(told, sure) or _named_in_the_sentence(told, sure)
    to_bits = any(TO_BITS & set(item.words) for one in sure for item in one.harm)
    if "whole_net" in found or (not found and to_bits):
        return ("whole_net",)
    return tuple(part for part in PARTS if part in found)


def side_of(told: list[Telling]) -> str | None:
    """The side of the damage: port, starboard, both, or None for not told."""
    sentences = {one.clause.sentence for one in told if one.sure}
    nearest_first = (
        [one for one in told if one.sure] or told,
        [one for one in told if one.clause.sentence in sentences and not one.spared],
        [
            one
            for one in told
            if one.clause.of("part") and not (one.elsewhere or one.sound or one.away)
        ],
    )
    for near in nearest_first:
        sides = {side for one in near for side in _sides(one.clause)}
        if sides:
            return sides.pop() if len(sides) == 1 else "both"
    return None


def causes_of(told: list[Telling]) -> tuple[str, ...]:
    """What did the damage, as far as the note says; a fast on hard ground is a fast."""
    found = {
        item.meanings["cause"]
        for one in told
        if not one.elsewhere
        for item in one.clause.of("cause")
        if not item.means("not_fast") and not _ruled_out(item, one.clause)
    }
    if "fast" in found:
        found.discard("hard_ground")
    return tuple(cause for cause in CAUSES if cause in found)


def _named_with_harm(told: list[Telling], sure: list[Telling]) -> set[str]:
    """The parts named beside harm, beside a mend, or in a bare list; mere places if no others."""
    listed = not sure and bool(bare_parts(told))
    near = [
        one
        for at, one in enumerate(told)
        if not (one.elsewhere or one.doubted)
        and (one.sure or one.clause.of("mending") or listed or _listed_beside_harm(told, at))
    ]
    return _names(near) or _names(near, places=True)


def _named_in_the_sentence(told: list[Telling], sure: list[Telling]) -> set[str]:
    """The parts named elsewhere in the sentence that tells of harm, else in the note."""
    if not sure:
        return set()
    sentences = {one.clause.sentence for one in sure}
    open_still = [one for one in told if not (one.spared or one.elsewhere or one.away)]
    open_still = [one for one in open_still if not one.doubted]
    within = [one for one in open_still if one.clause.sentence in sentences]
    return _names(within) or _names(open_still)


def _names(told: Iterable[Telling], *, places: bool = False) -> set[str]:
    """The names of the parts in the clauses, without those said to be sound."""
    return {
        part.meanings["part"]
        for one in told
        for part in one.clause.parts
        if not _said_to_be_sound(part, one.clause)
        and (places or not only_a_place(part, one.clause))
    }


def _said_to_be_sound(part: Item, clause: Clause) -> bool:
    """Whether the part has its own word behind it that it is sound."""
    after = clause.after(part)
    if after is None or after.means("harm"):
        return False
    sound = after.means("sound", "words") and after.follows(part, WORD_OF_THE_PART)
    return sound or (after.means("sound", "bare") and after.follows(part, 1))


def _listed_beside_harm(told: list[Telling], at: int) -> bool:
    """Whether a clause is one of a list of parts that has the harm at its head or end."""
    here = told[at]
    if not here.clause.of("part") or here.spared or here.away or len(other_words(here.clause)) > 1:
        return False
    return any(_harm_along(told, at, step) for step in (-1, 1))


def _harm_along(told: list[Telling], at: int, step: int) -> bool:
    """Whether harm is told that way, with nothing but parts up to it."""
    sentence = told[at].clause.sentence
    at += step
    while 0 <= at < len(told) and told[at].clause.sentence == sentence:
        if told[at].sure:
            return True
        if not told[at].clause.of("part"):
            return False
        at += step
    return False


def _sides(clause: Clause) -> list[str]:
    """The sides that a clause names; left is one only before a part, as it is a verb too."""
    starts = {part.at for part in clause.of("part")}
    return [
        item.meanings["side"]
        for item in clause.of("side")
        if item.text != "left" or item.end in starts
    ]


def _ruled_out(cause: Item, clause: Clause) -> bool:
    """Whether a not before the cause denies it."""
    return any(0 < cause.at - no.at <= NOT_THIS_CAUSE for no in clause.of("not"))
