"""On which side of the net the damage was."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from pipeline.notes.lexicon import Meanings
from pipeline.notes.told import Told, words_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pipeline.notes.clauses import Clause, Item
    from pipeline.notes.tellings import Telling, Tellings
    from pipeline.notes.told import Sure

BOTH = "both"
ON_BOTH = Meanings(side=BOTH)

DOORS = {"door", "board", "otter board", "otterboard"}

FEW_WORDS = 2
"""So short a clause holds nothing but a side."""
PAIRED = {"wing", "bunt", "sweep", "selvedge"}
"""Parts that there are two of; both of any other behind it is no side."""
ONE_ABOVE_THE_OTHER = {"belly"}
"""Both of these may be the upper and the lower."""
PORT_OR_PORT_AND_STARBOARD = {"p/s", "p.s"}
"""Port side beside one wing, port and starboard beside wings."""
OF_TWO = {"both", "baith", "two", "each", "either"}
"""With these both sides are named as one word; port and starboard are named one by one."""
COUNTED, TWO_OF_THEM = {"two", "twa", "2"}, {"wing", "bunt"}
"""So many of these are both; two legs or seams may be on one side."""
NETS = {"nets", "trawls", "quarters", "corners"}
"""Both of these are one on each side."""
OF_THEM = ("both of them", "both o them", "baith o them", "baith o' them")
"""So a clause takes up two of a kind that were named before it."""

LEFT_OR_RIGHT = {"left", "right"}
AND = {"and", "an", "&", "+", "n", "plus"}
"""Between both and a side these tell of two things: both wings and the port bridle."""
LETTERS = {"s", "r", "l"}
"""With these, sides only beside a part, a net or a harm, or alone, as they are other words too."""
NET = {"net", "trawl", "trl", "gear", "bag"}
SIDE_OF = {"of", "at", "on", "along"}
"""Behind these left and right are sides: the wing of left."""
STAYED = {
    "there", "below", "on", "behind", "with", "in", "each", "down", "after", "for", "to", "at",
    "undone", "back", "the",
}  # fmt: skip
"""Before these left is a verb: a wing left behind."""
NO_SIDE_BEHIND = {"was", "were", "is", "are", "be", "has", "had", "have", "me", "to"}
"""Last behind these it is none: what was left, serves me right, from left to right."""
QUITE = {
    "off", "out", "up", "through", "thro", "thru", "across", "along", "down", "round", "around",
    "to", "back", "in", "into", "away", "over", "from", "where", "at", "behind", "under", "aft",
    "on", "enough", "beside", "before", "after", "next", "inside", "by", "there",
}  # fmt: skip
"""Before these right is an adverb: a wing right off."""
UP_OR_DOWN = {"upper", "lower", "top", "bottom"}
"""Behind these left and right are sides: the upper left."""
OF_A_PART = {"rope", "line", "end", "ends", "panel", "sheet", "piece", ")", *UP_OR_DOWN}
"""One of these may stand between a part and its side: the wing rope right, the sweep (old) left."""
WHAT_REMAINS = {"no", "half", "only", "not", "nothing", "little", "much"}
"""In a clause with these left is what remains: no belly left."""
HARBOUR = {"in", "until", "till"}
"""Behind these, at the end of a clause, port is a harbour."""


def side_of(told: Tellings) -> Told[str | None]:
    """The side of the damage: port, starboard, both, or None for not told."""
    for near, how_sure in _nearest_first(told):
        found = _one_or_both([(side, one.clause) for one in near for side in _sides(one.clause)])
        sides = {side.meanings["side"] for side in found}
        if sides:
            side = sides.pop() if len(sides) == 1 else BOTH
            return Told(side, words_of(told, found), how_sure)
    return _of_a_door(told)


def _of_a_door(told: Tellings) -> Told[str | None]:
    """The side of a door, where one of a pair was torn and no other side is told of."""
    pair = any(_paired(part) for one in told for part in one.clause.parts)
    torn = pair and any(one.sure for one in told)
    doors = [side for one in told for side in _before_a_door(one.clause)] if torn else []
    sides = {side.meanings["side"] for side in doors}
    return Told(sides.pop(), words_of(told, doors), "guess") if len(sides) == 1 else Told(None)


def _before_a_door(clause: Clause) -> list[Item]:
    """The sides of the doors that a clause names."""
    doors = [thing.at for thing in clause.things if thing.text in DOORS]
    return [side for side in clause.of("side") if side.end in doors]


def _one_or_both(found: list[tuple[Item, Clause]]) -> list[Item]:
    """The sides found, without a both that is not of a paired part, where one side is named."""
    one_side = [side for side, _ in found if side.words[0] not in OF_TWO]
    return [
        side
        for side, clause in found
        if side in one_side or not one_side or _of_paired_parts(side, clause)
    ]


def _nearest_first(told: Tellings) -> Iterator[tuple[list[Telling], Sure]]:
    """The clauses that may name the side of the harm: its own, its sentence's, those of the net."""
    if "side" not in told.sections and not any(_counted(one.clause) for one in told):
        return
    sure = [one for one in told if one.sure]
    yield [*sure, *_gone_on(told)] if sure else told, "sure"
    sentences = {one.clause.sentence for one in sure}
    yield [one for one in told if one.clause.sentence in sentences and not one.spared], "likely"
    of_the_net = [one for one in told if _may_have_the_side(one.clause)]
    yield [one for one in of_the_net if not (one.elsewhere or one.sound or one.away)], "guess"
    yield [one for one in told if not (one.elsewhere or one.spared)], "guess"


def _gone_on(told: Tellings) -> Iterator[Telling]:
    """The clauses that go on where a harm is told: bars gone port wing, four stbd wing."""
    for harmed, one in pairwise(told):
        told_of = one.sure or one.spared or one.elsewhere or one.away or one.doubted
        if harmed.sure and not told_of and one.clause.of("part") and _one_side(one.clause):
            yield one


def _one_side(clause: Clause) -> bool:
    return any(side.meanings["side"] != BOTH for side in clause.of("side"))


def _may_have_the_side(clause: Clause) -> bool:
    """Whether it names a part or the net, or hardly more than a side."""
    return bool(clause.of("part")) or clause.names_the_net or _few_words(clause)


def _few_words(clause: Clause) -> bool:
    return sum(word.isalnum() for word in clause.words.values()) <= FEW_WORDS


def _sides(clause: Clause) -> list[Item]:
    """The sides that a clause names, but for those of a door or a winch.

    Both of something on one side is that side: the port bridles both parted.
    """
    sides = [
        _wide(side, clause)
        for side in clause.of("side")
        if _is_a_side(side, clause) and not any(thing.at == side.end for thing in clause.things)
    ]
    sides += [part._replace(meanings=ON_BOTH, words=("two",)) for part in _counted(clause)]
    one_side = [side for side in sides if side.meanings["side"] != BOTH]
    return [
        side
        for side in sides
        if side.words[0] not in OF_TWO or not any(_one_thing(side, one, clause) for one in one_side)
    ]


def _wide(side: Item, clause: Clause) -> Item:
    """The side, or both where p/s stands beside more than one of a paired part: the wings p/s."""
    if side.text not in PORT_OR_PORT_AND_STARBOARD:
        return side
    many = any(_paired(part) and _beside(part, side) for part in clause.of("part") if _many(part))
    return side._replace(meanings=ON_BOTH) if many else side


def _counted(clause: Clause) -> list[Item]:
    """The paired parts of which the clause counts two."""
    if clause.said.isdisjoint(COUNTED):
        return []
    return [
        part
        for part in clause.of("part")
        if part.meanings["part"] in TWO_OF_THEM
        and _many(part)
        and clause.words.get(part.at - 1) in COUNTED
    ]


def _paired(part: Item) -> bool:
    return part.meanings["part"] in PAIRED


def _many(part: Item) -> bool:
    return part.words[-1].endswith("s")


def _one_thing(both: Item, side: Item, clause: Clause) -> bool:
    """Whether both is said of what is on the side; it is not where an and stands between them."""
    return not AND & {clause.words.get(at) for at in range(both.end, side.at)}


def _is_a_side(side: Item, clause: Clause) -> bool:
    """Whether a word that may be a side is one here."""
    if side.text in LEFT_OR_RIGHT | LETTERS:
        return _beside_a_part(side, clause)
    if side.text in {"both", "baith"}:
        return _of_a_pair(side, clause)
    harbour = side.text == "port" and clause.words.get(side.at - 1) in HARBOUR
    return not (harbour and side.end not in clause.words)


def _beside_a_part(side: Item, clause: Clause) -> bool:
    """Whether left, right or a letter is a side here, and left no verb, right no adverb."""
    behind = clause.words.get(side.end)
    ahead = [part for part in clause.of("part") if _right_before(side, part, clause)]
    if side.text == "r":
        ahead = [part for part in ahead if _paired(part)]
    if ahead or (behind in NET and side.text != "r"):
        return True
    if (side.text == "left" and _remains(behind, clause)) or (
        side.text == "right" and behind in QUITE
    ):
        return False
    if side.text in LEFT_OR_RIGHT and (_on_the(side, clause) or _ends_it(side, clause)):
        return True
    if side.text != "left" and side.at > 0 and _alone(side, clause):
        return True
    return _behind_a_part(side, clause)


def _right_before(side: Item, part: Item, clause: Clause) -> bool:
    """Whether the part comes next, behind no more than a full stop: S. wing."""
    return clause.note[side.stop : part.start].strip() in {"", "."} and part.at >= side.end


def _alone(side: Item, clause: Clause) -> bool:
    """Whether it is all that is said, or opens a clause with nothing but a number behind it."""
    behind = clause.words.get(side.end) or clause.words.get(side.end + 1)
    opens = next(iter(clause.words)) == side.at
    return opens and (behind is None or not behind[0].isalpha())


def _behind_a_part(side: Item, clause: Clause) -> bool:
    """Whether it is behind a part or at the end behind a harm; wings left are what remains."""
    before = clause.words.get(side.at - 1)
    between = int(before == "(" or (side.text in LEFT_OR_RIGHT and before in OF_A_PART))
    ends = {side.at, side.at - between}
    if parts := [part for part in clause.of("part") if part.end in ends]:
        return side.text != "left" or not _many(parts[0])
    torn = any(harm.end == side.at for harm in clause.of("harm"))
    return torn and side.end not in clause.words and side.text != "left"


def _remains(behind: str | None, clause: Clause) -> bool:
    """Whether left is what remains or was left behind, as the word behind it or the clause says."""
    all_that_is = bool(clause.said & WHAT_REMAINS) or (clause.turned and behind is None)
    return behind in STAYED or all_that_is


def _on_the(side: Item, clause: Clause) -> bool:
    """Whether it is of left, on the left, or on the right and nothing more."""
    before, earlier = (clause.words.get(side.at - step) for step in (1, 2))
    last = side.end not in clause.words
    if before in SIDE_OF or (before in UP_OR_DOWN and last):
        return True
    if before != "the":
        return False
    return (earlier in SIDE_OF and (last or side.text == "left")) or (earlier == "in" and last)


def _ends_it(side: Item, clause: Clause) -> bool:
    """Whether it is the last word of a clause that names a part: seam torn left."""
    last = side.end not in clause.words
    return last and bool(clause.parts) and clause.words.get(side.at - 1) not in NO_SIDE_BEHIND


def _of_a_pair(both: Item, clause: Clause) -> bool:
    """Whether both is all that is said, or two of a kind of which there is one on each side."""
    if _few_words(clause) or clause.text.startswith(OF_THEM):
        return True
    if {clause.words.get(at) for at in (both.end, both.end + 1)} & NETS:
        return True
    return any(_two_of(part, both) for part in clause.of("part"))


def _two_of(part: Item, both: Item) -> bool:
    """Whether both is said of a part, and means one on each side."""
    if _paired(part):
        return _beside(part, both)
    many = _many(part) and part.meanings["part"] not in ONE_ABOVE_THE_OTHER
    return many and part.follows(both, 1)


def _beside(part: Item, both: Item) -> bool:
    return part.follows(both, 2) or both.follows(part, 1)


def _of_paired_parts(both: Item, clause: Clause) -> bool:
    """Whether it is said of wings, bunts, sweeps or selvedges: both wings, the wings both."""
    return clause.text.startswith(OF_THEM) or any(
        _paired(part) and (_beside(part, both) or part.at == both.at) for part in clause.of("part")
    )
