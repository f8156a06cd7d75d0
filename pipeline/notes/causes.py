"""What did the damage, as far as a note says."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pipeline.notes.own_gear import gear_that_tore
from pipeline.notes.told import Told, as_spelt, least_sure, words_of
from schemas.words import CAUSES

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pipeline.notes.clauses import Clause, Item
    from pipeline.notes.tellings import Telling, Tellings
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

AGAINST = {"on", "behind", "under", "against", "agin", "at", "round"}
BEFORE_A_STONE = {"a", "an", "the", "big", "great", "gurt", "large", "some", "one", "muckle", "old"}
"""A stone behind these is one that the net sat fast on."""


def causes_of(told: Tellings) -> Told[tuple[str, ...]]:
    """What did the damage, as far as the note says; a fast on hard ground is a fast."""
    found = list(_named(told))
    own = [gear for one in told if not one.elsewhere for gear in gear_that_tore(one.clause)]
    if not (found or own):
        return Told(())
    named = {item.meanings["cause"] for item, _ in found} | ({"ground_gear"} if own else set())
    names = named - _explained(named, found, told)
    kept = [(item, one) for item, one in found if item.meanings["cause"] in names]
    items = [item for item, _ in kept]
    return Told(
        tuple([cause for cause in CAUSES if cause in names]),
        words_of(told, (*items, *own)),
        least_sure(_how_sure(named, names, kept), as_spelt(items)),
    )


def _named(told: Tellings) -> Iterator[tuple[Item, Telling]]:
    """The causes that the clauses name, but for those denied or only compared with."""
    for one in told:
        for item in () if one.elsewhere else one.clause.of("cause"):
            compared = item.meanings["cause"] in COMPARED and one.clause.compares_with(item)
            if not (item.means("not_fast") or compared or _ruled_out(item, one.clause)):
                yield item, one


def _how_sure(named: set[str], names: set[str], kept: list[tuple[Item, Telling]]) -> Sure:
    """Sure where one cause is named and no other, beside the harm."""
    if len(names) > 1:
        return "guess"
    alone = len(named) == 1 and not names & SELDOM_ALONE and not _sat_on_a_stone(kept)
    return "sure" if alone and all(one.sure for _, one in kept) else "likely"


def _explained(named: set[str], found: list[tuple[Item, Telling]], told: Tellings) -> set[str]:
    """The causes that another one explains."""
    if len(named) == 1:
        return set()

    def only(cause: str, words: set[str]) -> bool:
        return all(words & set(item.words) for item, _ in found if item.meanings["cause"] == cause)

    explained = {
        cause
        for by, cause, words in EXPLAINED
        if cause in named and by & named and only(cause, words)
    }
    if "fast" in named:
        explained.add("hard_ground")
        if _sat_on_a_stone(found):
            explained.add("stones")
    if WEIGHING & named and "fish" not in told.sections and only("overload", WEIGHT):
        explained.add("overload")
    return explained


def _sat_on_a_stone(found: list[tuple[Item, Telling]]) -> bool:
    """Whether a stone is what the net sat fast on, not one in the bag."""
    return any(
        _stands_against(item, one.clause) for item, one in found if item.means("cause", "stones")
    )


def _stands_against(stone: Item, clause: Clause) -> bool:
    at = stone.at - 1
    while clause.words.get(at) in BEFORE_A_STONE:
        at -= 1
    return clause.words.get(at) in AGAINST


def _ruled_out(cause: Item, clause: Clause) -> bool:
    """Whether a not before the cause denies it."""
    return any(0 < cause.at - no.at <= NOT_THIS_CAUSE for no in clause.of("not"))
