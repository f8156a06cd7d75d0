"""What did the damage, as far as a note says."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from pipeline.notes.own_gear import gear_that_tore
from pipeline.notes.pairs import causes_in_pairs, tonnes_of_fish
from pipeline.notes.told import Told, as_spelt, least_sure, words_of
from schemas.words import CAUSES

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pipeline.notes.clauses import Clause, Item
    from pipeline.notes.harm import Telling
    from pipeline.notes.told import Sure


NOT_THIS_CAUSE = 3
"""A not so many words before a cause denies it."""
COMPARED = {"debris", "animal", "stones", "other_gear", "handling"}
"""Things that a hole may be as big as."""
SELDOM_ALONE = {"handling", "overload", "mud"}
"""Causes beside which a note often means another."""

WEIGHT = {
    "weight", "ton", "tonne", "tonnes", "tons", "tonn", "t", "wecht", "lift", "strain", "strained",
    "heavy", "packed", "choked", "loaded", "load",
}  # fmt: skip
WEIGHING = {"mud", "stones", "debris"}
"""Too much weight of one of these is no more than that."""
GEAR_OF_OTHERS = {
    "anchors", "wires", "ropes", "rusty", "iron", "anchor", "wire", "rope", "buoy", "chain",
    "cable", "mooring", "hawser",
}  # fmt: skip
POT_CATCH = {"crab", "crabs", "lobsters", "eels", "conger", "congers"}
CATCH = {"dogs", "dogfish", "spurs", "spurdogs", "starfish", "jellyfish", "dog", "squid"}
RUST = {"rust", "rusted", "rusty", "corroded"}
HELD = {
    "caught", "hung", "jammed", "stuck", "hooked", "snagged", "trapped", "fouled", "foul",
    "snaggit", "hookit",
}  # fmt: skip
STOPPED = {"stopped", "stuck", "held", "bogged", "stop"}
LIFTING = {
    "lifting", "lift", "hauling", "heaving", "hoist", "aboard", "rail", "excess", "release",
}  # fmt: skip

EXPLAINED: tuple[tuple[set[str], str, set[str]], ...] = (
    ({"other_gear"}, "debris", GEAR_OF_OTHERS),
    ({"other_gear"}, "animal", POT_CATCH),
    ({"other_gear", "handling", "ground_gear", "animal", "debris"}, "fast", HELD),
    ({"mud"}, "fast", STOPPED),
    ({"fast"}, "debris", {"mooring", "anchor"}),
    ({"overload"}, "animal", CATCH),
    ({"overload"}, "handling", LIFTING),
    ({"debris"}, "wear", RUST),
    ({"chafe"}, "mud", {"sand"}),
    ({"hard_ground"}, "chafe", {"skinned", "abrasive", "scraped"}),
    ({"handling"}, "overload", {"load"}),
    ({"chafe"}, "handling", {"becket", "strop"}),
)
"""Where one of the first is named, the second is not meant, if nothing but these words says it:
the anchor of a longline, the crabs in the pots, caught on the rail, burst with dogs at the rail."""

GROUND = {
    "bank", "ridge", "pile", "ground", "grund", "grnd", "gnd", "grd", "bottom", "btm", "field",
    "patch", "bed", "reef", "edge", "garden", "slope", "country",
}  # fmt: skip
"""A boulder bank, a ridge of cobbles."""
TOWED_OVER = {"over", "ovr", "ower", "owre", "across", "acrs", "among", "amongst", "on", "along"}
ROCKS = {"rocks", "rox"}
BAGS = {"codend", "lengthener", "belly"}
"""Rocks, where no part is named that could hold them, are the ground."""
BEFORE_ROCKS = {"the", "they", "them", "some", "big", "loose", "sharp", "small", "those", "dem"}
MORE_THAN_ONE = ("s", "rox", "cobble", "shingle", "rubble", "flint")
"""Towed over rocks is ground; on a rock is none."""
CUTTING = {"cut", "slit", "slice", "hacksaw", "cutted"}
INTENT = {"to", "tae", "2"}
HAD = {"had", "have", "has", "having", "hd", "forced", "obliged", "necessary"}
RID_OF = {"get", "git", "release", "free", "clear", "be", "let", "remove", "discharge", "empty"}
CUT_REACHES = 8
"""Had to cut the bag; cut the square to let him go: the aim stands so many words behind."""
NETTING = {"twine", "meshes", "netting", "net", "trawl", "bars"}

AGAINST = {"on", "behind", "under", "against", "agin", "at", "round"}
BEFORE_A_STONE = {"a", "an", "the", "big", "great", "gurt", "large", "some", "one", "muckle", "old"}
"""A stone behind these is one that the net sat fast on."""


class _Named(NamedTuple):
    """A cause that a clause names, and the item that names it."""

    cause: str
    item: Item
    one: Telling


def causes_of(told: list[Telling]) -> Told[tuple[str, ...]]:
    """What did the damage, as far as the note says; a fast on hard ground is a fast."""
    found = list(_named(told))
    own = [gear for one in told if not one.elsewhere for gear in gear_that_tore(one.clause)]
    cut = [item for one in told if not one.elsewhere for item in _cut_by_the_crew(one.clause)]
    named = {each.cause for each in found}
    named |= ({"ground_gear"} if own else set()) | ({"handling"} if cut else set())
    names = named - _explained(named, found, told)
    if not names:
        return Told(())
    kept = [each for each in found if each.cause in names]
    items = [each.item for each in kept]
    return Told(
        tuple(cause for cause in CAUSES if cause in names),
        words_of(told, (*items, *own, *cut)),
        least_sure(_how_sure(named, names, kept), as_spelt(items)),
    )


def _named(told: list[Telling]) -> Iterator[_Named]:
    """The causes that the clauses name, but for those denied or only compared with."""
    bagged = any(part.meanings["part"] in BAGS for one in told for part in one.clause.of("part"))
    for one in told:
        for item in () if one.elsewhere else one.clause.of("cause"):
            cause = item.meanings["cause"]
            compared = cause in COMPARED and one.clause.compares_with(item)
            if not (item.means("not_fast") or compared or _ruled_out(item, one.clause)):
                of_ground = cause == "stones" and (
                    _are_the_ground(item, one.clause) or (item.text in ROCKS and not bagged)
                )
                yield _Named("hard_ground" if of_ground else cause, item, one)
        for item in () if one.elsewhere else causes_in_pairs(one.clause):
            yield _Named(item.meanings["cause"], item, one)
        for item in tonnes_of_fish(one.clause) if one.sure else ():
            yield _Named("overload", item, one)


def _are_the_ground(stones: Item, clause: Clause) -> bool:
    """Whether the stones are what was towed over, and none in the net: boulder bank, over rocks."""
    if clause.words.get(stones.end) in GROUND:
        return True
    at = stones.at - 1
    if clause.words.get(at) in {"of", "o"} and clause.words.get(at - 1) in GROUND:
        return True
    while clause.words.get(at) in BEFORE_ROCKS:
        at -= 1
    return clause.words.get(at) in TOWED_OVER and stones.words[-1].endswith(MORE_THAN_ONE)


def _cut_by_the_crew(clause: Clause) -> list[Item]:
    """The cut that had to be made in the net, to be rid of what was in it."""
    words = clause.words
    made = next((at for at, word in words.items() if word in CUTTING), None)
    if made is None or not (clause.parts or clause.said & NETTING):
        return []
    had_to = words.get(made - 1) in INTENT and words.get(made - 2) in HAD
    behind = [words.get(at, "") for at in range(made + 1, made + CUT_REACHES)]
    aim = any(to in INTENT and rid in RID_OF for to, rid in pairwise(behind))
    by_hand = had_to or aim
    return [item for item in clause.of("harm") if by_hand and item.at <= made < item.end]


def _how_sure(named: set[str], names: set[str], kept: list[_Named]) -> Sure:
    """Sure where one cause is named and no other, beside the harm."""
    if len(names) > 1:
        return "guess"
    alone = len(named) == 1 and not names & SELDOM_ALONE and not _sat_on_a_stone(kept)
    return "sure" if alone and all(each.one.sure for each in kept) else "likely"


def _explained(named: set[str], found: list[_Named], told: list[Telling]) -> set[str]:
    """The causes that another one explains."""

    def only(cause: str, words: set[str]) -> bool:
        return all(words & set(each.item.words) for each in found if each.cause == cause)

    explained = {cause for by, cause, words in EXPLAINED if by & named and only(cause, words)}
    if "fast" in named:
        explained.add("hard_ground")
        if _sat_on_a_stone(found):
            explained.add("stones")
    fish = any(one.clause.of("fish") for one in told)
    if WEIGHING & named and not fish and only("overload", WEIGHT):
        explained.add("overload")
    return explained


def _sat_on_a_stone(found: list[_Named]) -> bool:
    """Whether a stone is what the net sat fast on, not one in the bag."""
    return any(
        _stands_against(each.item, each.one.clause) for each in found if each.cause == "stones"
    )


def _stands_against(stone: Item, clause: Clause) -> bool:
    at = stone.at - 1
    while clause.words.get(at) in BEFORE_A_STONE:
        at -= 1
    return clause.words.get(at) in AGAINST


def _ruled_out(cause: Item, clause: Clause) -> bool:
    """Whether a not before the cause denies it."""
    return any(0 < cause.at - no.at <= NOT_THIS_CAUSE for no in clause.of("not"))
