"""Which parts of the net were damaged, on which side, and by what."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.notes.damaged import bare_parts, only_a_place, other_words
from pipeline.notes.told import Told, as_spelt, least_sure, words_of
from schemas.words import CAUSES, NET_PARTS

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pipeline.notes.clauses import Clause, Item
    from pipeline.notes.harm import Telling
    from pipeline.notes.told import Sure

TO_BITS = {
    "ribbons", "ribons", "rags", "shreds", "tatters", "bits", "pieces", "rimracked", "destroyed",
    "destroy",
}  # fmt: skip
"""Harm to all of the net, where no part is named."""

WORD_OF_THE_PART = 3
"""So many words behind a part may stand its own word that it is sound."""
NOT_THIS_CAUSE = 3
"""A not so many words before a cause denies it."""


def damaged_parts(told: list[Telling]) -> Told[tuple[str, ...]]:
    """The parts damaged, from the wing aft; the whole net stands alone."""
    sure = [one for one in told if one.sure]
    found, how_sure = _parts_found(told, sure)
    names = {part.meanings["part"] for part in found}
    bits = [item for one in sure for item in one.harm if TO_BITS & set(item.words)]
    if "whole_net" in names or (not names and bits):
        whole = [part for part in found if part.means("part", "whole_net")]
        return Told(("whole_net",), words_of(told, whole or bits), how_sure)
    return Told(
        tuple(part for part in NET_PARTS if part in names),
        words_of(told, found),
        least_sure(how_sure, as_spelt(found)),
    )


def _parts_found(told: list[Telling], sure: list[Telling]) -> tuple[list[Item], Sure]:
    """The parts that were damaged; less sure where they are named apart from the harm."""
    with_harm = _named_with_harm(told, sure)
    if with_harm:
        return with_harm, "sure" if sure else "likely"
    in_sentence = _named_in_the_sentence(told, sure)
    if in_sentence:
        return in_sentence, "likely"
    return _named_anywhere(told, sure), "guess"


def side_of(told: list[Telling]) -> Told[str | None]:
    """The side of the damage: port, starboard, both, or None for not told."""
    sentences = {one.clause.sentence for one in told if one.sure}
    nearest_first: tuple[tuple[list[Telling], Sure], ...] = (
        ([one for one in told if one.sure] or told, "sure"),
        ([one for one in told if one.clause.sentence in sentences and not one.spared], "likely"),
        (
            [
                one
                for one in told
                if one.clause.of("part") and not (one.elsewhere or one.sound or one.away)
            ],
            "guess",
        ),
    )
    for near, how_sure in nearest_first:
        found = [side for one in near for side in _sides(one.clause)]
        sides = {side.meanings["side"] for side in found}
        if sides:
            side = sides.pop() if len(sides) == 1 else "both"
            return Told(side, words_of(told, found), how_sure)
    return Told(None)


def causes_of(told: list[Telling]) -> Told[tuple[str, ...]]:
    """What did the damage, as far as the note says; a fast on hard ground is a fast."""
    found = [
        (item, one)
        for one in told
        if not one.elsewhere
        for item in one.clause.of("cause")
        if not item.means("not_fast") and not _ruled_out(item, one.clause)
    ]
    names = {item.meanings["cause"] for item, _ in found}
    if "fast" in names:
        names.discard("hard_ground")
    kept = [(item, one) for item, one in found if item.meanings["cause"] in names]
    items = [item for item, _ in kept]
    beside_harm = all(one.sure for _, one in kept)
    return Told(
        tuple(cause for cause in CAUSES if cause in names),
        words_of(told, items),
        least_sure("sure" if beside_harm else "likely", as_spelt(items)),
    )


def _named_with_harm(told: list[Telling], sure: list[Telling]) -> list[Item]:
    """The parts named beside harm, beside a mend, or in a bare list; mere places if no others."""
    listed = not sure and bool(bare_parts(told))
    near = [
        one
        for at, one in enumerate(told)
        if not (one.elsewhere or one.doubted)
        and (one.sure or one.clause.of("mending") or listed or _listed_beside_harm(told, at))
    ]
    return _names(near) or _names(near, places=True)


def _named_in_the_sentence(told: list[Telling], sure: list[Telling]) -> list[Item]:
    """The parts named elsewhere in a sentence that tells of harm."""
    sentences = {one.clause.sentence for one in sure}
    return _names(one for one in _left_open(told) if one.clause.sentence in sentences)


def _named_anywhere(told: list[Telling], sure: list[Telling]) -> list[Item]:
    """The parts named elsewhere in a note that tells of harm."""
    return _names(_left_open(told)) if sure else []


def _left_open(told: list[Telling]) -> list[Telling]:
    """The clauses that do not say what became of the parts they name."""
    return [one for one in told if not (one.spared or one.elsewhere or one.away or one.doubted)]


def _names(told: Iterable[Telling], *, places: bool = False) -> list[Item]:
    """The parts named in the clauses, without those said to be sound."""
    return [
        part
        for one in told
        for part in one.clause.parts
        if not _said_to_be_sound(part, one.clause)
        and (places or not only_a_place(part, one.clause))
    ]


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


def _sides(clause: Clause) -> list[Item]:
    """The sides that a clause names; left is one only before a part, as it is a verb too."""
    starts = {part.at for part in clause.of("part")}
    return [item for item in clause.of("side") if item.text != "left" or item.end in starts]


def _ruled_out(cause: Item, clause: Clause) -> bool:
    """Whether a not before the cause denies it."""
    return any(0 < cause.at - no.at <= NOT_THIS_CAUSE for no in clause.of("not"))
