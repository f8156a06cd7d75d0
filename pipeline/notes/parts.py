"""Which parts of the net were damaged."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.notes.damaged import ALL_OF_WHAT, HOLE_SIZE, bare_parts, only_a_place, other_words
from pipeline.notes.harm import MESHES, net_beside
from pipeline.notes.own_gear import gear_that_tore
from pipeline.notes.told import Told, as_spelt, least_sure, words_of
from schemas.words import NET_PARTS

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pipeline.notes.clauses import Clause, Item
    from pipeline.notes.tellings import Telling, Tellings
    from pipeline.notes.told import Sure

TO_BITS = {
    "ribbons", "ribons", "rags", "shreds", "tatters", "bits", "pieces", "rimracked", "destroyed",
    "destroy", "strips", "flitters", "smithereens", "smithers", "matchwood", "mincemeat", "ruins",
    "shredded", "confetti", "written", "write-off", "totalled", "trashed", "abroad", "threads",
    "stukken", "stykker",
}  # fmt: skip
"""Harm to all of the net, where no part is named."""

UNDER = {"underneath", "underside", "under side", "onderkant", "underkant"}
"""The belly, or the under side of another part named beside it."""
TUBES = {"codend", "lengthener"}
"""Parts with an under side of their own, though named elsewhere in the note."""
PANELS = {"upper panel", "top panel", "lower panel", "bottom panel"}
WITH_PANELS = {"codend", "lengthener", "wing", "bunt"}
"""The upper panel of one of these is that part, and not the square."""
OF_A_PART = {"of", "on", "in", "along", "between", "at", "o"}
SEAM_REACHES = 4
"""The seam of the bags is a seam: the other part stands so many words behind at most."""
LACING = {"lacing", "lacin"}
"""Behind a time, what was done and no part: an hour lacing."""
FOOTROPE = {"footrope", "foot rope", "f/rope", "ft/rope", "foot-rope"}
"""Where its discs or chains are named, they are meant and not the line."""

WORD_OF_THE_PART = 3
"""So many words behind a part may stand its own word that it is sound."""


def damaged_parts(told: Tellings) -> Told[tuple[str, ...]]:
    """The parts damaged, from the wing aft; the whole net stands alone."""
    sure = [one for one in told if one.sure]
    found, how_sure = _parts_found(told, sure)
    found = _upper_for_under(found, told)
    names = {part.meanings["part"] for part in found}
    if len(names) > 1 and all(
        part.text in ALL_OF_WHAT for part in found if part.means("part", "whole_net")
    ):
        names.discard("whole_net")
        found = [part for part in found if not part.means("part", "whole_net")]
    whole = [part for part in found if part.meanings["part"] == "whole_net"]
    if not names:
        whole = [item for one in sure for item in one.harm if _to_all_of_it(item, one.clause)]
    if whole:
        return Told(("whole_net",), words_of(told, whole), how_sure)
    named = {part.meanings["part"] for part in told.of("part")}
    only_one: Sure = "sure" if len(named) == 1 else "likely"
    return Told(
        tuple(part for part in NET_PARTS if part in names),
        words_of(told, found),
        least_sure(how_sure, only_one, as_spelt(found)),
    )


def _upper_for_under(found: list[Item], told: Tellings) -> list[Item]:
    """The parts found, where underneath is no belly but the under side of a codend named."""
    under = [part for part in found if part.text in UNDER]
    if not under:
        return found
    tubes = [
        part
        for one in told
        for part in one.clause.parts
        if part.meanings["part"] in TUBES and not one.elsewhere
    ]
    others = [part for part in found if part not in under]
    return (others or tubes[:1]) if tubes else found


def _to_all_of_it(harm: Item, clause: Clause) -> bool:
    """Whether it leaves nothing of what it is said of: in rags; the net lost."""
    lost = harm.means("harm", "of_net") and net_beside(harm, clause) and not clause.said & MESHES
    return lost or bool(TO_BITS & set(harm.words))


def _parts_found(told: Tellings, sure: list[Telling]) -> tuple[list[Item], Sure]:
    """The parts that were damaged; less sure where they are named apart from the harm."""
    near = _beside_harm(told, sure)
    with_harm = _names(near)
    if with_harm:
        return with_harm, "sure" if sure else "likely"
    in_sentence = _named_in_the_sentence(told, sure)
    if in_sentence:
        return in_sentence, "likely"
    anywhere = _named_anywhere(told, sure)
    return anywhere or _names(near, places=True), "guess"


def _beside_harm(told: Tellings, sure: list[Telling]) -> list[Telling]:
    """The clauses that name parts, and tell of harm or a mend, or are a bare list of those."""
    listed = not sure and bool(bare_parts(told))
    return [
        one
        for at, one in enumerate(told)
        if one.clause.parts
        and not (one.elsewhere or one.doubted)
        and (
            one.sure
            or one.clause.of("mending")
            or listed
            or _listed_beside_harm(told, at)
            or (sure and not one.spared and HOLE_SIZE.search(one.clause.text))
        )
    ]


def _named_in_the_sentence(told: Tellings, sure: list[Telling]) -> list[Item]:
    """The parts named elsewhere in a sentence that tells of harm."""
    sentences = {one.clause.sentence for one in sure}
    return _names(one for one in _left_open(told) if one.clause.sentence in sentences)


def _named_anywhere(told: Tellings, sure: list[Telling]) -> list[Item]:
    """The parts named elsewhere in a note that tells of harm."""
    return _names(_left_open(told)) if sure else []


def _left_open(told: Tellings) -> list[Telling]:
    """The clauses that do not say what became of the parts they name."""
    return [one for one in told if not (one.spared or one.elsewhere or one.away or one.doubted)]


def _names(told: Iterable[Telling], *, places: bool = False) -> list[Item]:
    """The parts named in the clauses, without those said to be sound."""
    return [part for one in told for part in _names_in(one.clause, places=places)]


def _names_in(clause: Clause, *, places: bool) -> list[Item]:
    if not clause.parts:
        return []
    own = gear_that_tore(clause)
    return [
        part
        for part in clause.parts
        if part not in own
        and not _said_to_be_sound(part, clause)
        and not _side_of_another(part, clause)
        and (places or own or not only_a_place(part, clause))
        and not clause.compares_with(part)
    ]


def _side_of_another(part: Item, clause: Clause) -> bool:
    """Whether it only says where another part is: codend underneath, the seam of the bags."""
    others = [other for other in clause.parts if other is not part]
    if part.text in FOOTROPE and any(other.means("part", "ground_gear") for other in others):
        return True
    if part.text in LACING and any(part.follows(time, 1) for time in clause.of("time")):
        return True
    if any(thing.at == part.end for thing in clause.things):
        return True
    if part.text in PANELS:
        return any(other.meanings["part"] in WITH_PANELS for other in others)
    if part.text in UNDER:
        return any(other.text not in UNDER and not only_a_place(other, clause) for other in others)
    return any(
        seam.at == part.end
        or (part.follows(seam, SEAM_REACHES) and clause.words.get(seam.end) in OF_A_PART)
        for seam in others
        if seam.means("part", "selvedge")
    )


def _said_to_be_sound(part: Item, clause: Clause) -> bool:
    """Whether the part has its own word behind it that it is sound."""
    after = clause.after(part)
    if after is None or after.means("harm"):
        return False
    sound = after.means("sound", "words") and after.follows(part, WORD_OF_THE_PART)
    return sound or (after.means("sound", "bare") and after.follows(part, 0))


def _listed_beside_harm(told: Tellings, at: int) -> bool:
    """Whether a clause is one of a list of parts that has the harm at its head or end."""
    here = told[at]
    if not here.clause.of("part") or here.spared or here.away or len(other_words(here.clause)) > 1:
        return False
    return any(_harm_along(told, at, step) for step in (-1, 1))


def _harm_along(told: Tellings, at: int, step: int) -> bool:
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
