"""The boat's own gear where it tore the netting: the cause then, and no part that was torn."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pipeline.notes.clauses import Clause, Item

GEAR = {"ground_gear", "fishing_line", "sweep"}
NETTING = {"wing", "bunt", "bosom", "belly", "square", "lengthener", "codend", "selvedge"}
NETTING_WORDS = {"netting", "meshes", "twine", "net", "mesh"}

ACTS = {
    "caught", "catched", "fouled", "foul", "hooked", "took", "tuk", "tore", "ate", "eaten",
    "chewed", "snagged", "jumped", "rolled", "rode", "ridden", "riding", "grabbed", "dug",
    "digging", "sawn", "sawed", "sawing", "picked", "slapped", "came", "come", "lifted", "wore",
    "pulled", "dragged", "hold", "holed", "turned", "flipped", "ran", "running", "got", "gone",
    "went", "walked", "bit", "chafed", "tangled", "wrapped", "buried", "kicked", "flogged",
    "flogging", "thrashing", "rubbing", "rubbed", "ripped", "bited", "bitten", "cutted", "cut",
    "cam", "gaed",
}  # fmt: skip
"""What gear does to netting; the first of them follows the gear."""
INTO = {"through", "thru", "thro", "into", "intil", "inta", "over", "under", "ower", "owre"}
OFF = {"off", "adrift", "out", "away", "from", "loose", "of"}
"""Bobbins that came off the bosom are lost and tore nothing."""
LISTING = {"and", "&", "an", "n", "+", "plus", "og", "en"}
BY = {"by", "av", "af"}
BY_REACHES = 6
"""Torn by a bent shackle on the tickler: so many words between at most."""
BEFORE_GEAR = {"the", "her", "our", "own", "its", "my", "a", "one", "of", "his", "wir", "oor"}

HARM_BEFORE = 1
"""Parted a bridle: harm so near before the gear is the gear's own."""
INTO_WITHIN = 2
"""Over, through or off stand right behind the gear that they are said of."""
REACHES = 12
"""The netting stands so many words behind the gear at most."""


def gear_that_tore(clause: Clause) -> list[Item]:
    """The ground gear, line or sweep of a clause that did the harm and did not suffer it."""
    if not clause.parts:
        return []
    gears = [part for part in clause.of("part") if part.meanings["part"] in GEAR]
    return [gear for gear in gears if _named_as_doer(gear, clause) or _acted(gear, clause)]


def _named_as_doer(gear: Item, clause: Clause) -> bool:
    """Whether it stands behind a by, or is called the boat's own: chewed by our own discs."""
    at, own = gear.at - 1, False
    while (word := clause.words.get(at)) in BEFORE_GEAR:
        own = own or word == "own"
        at -= 1
    return own or any(
        clause.words.get(by) in BY
        and any(harm.end <= by for harm in clause.of("harm"))
        and not any(by < part.at < gear.at for part in clause.of("part"))
        for by in range(gear.at - BY_REACHES, gear.at)
    )


def _acted(gear: Item, clause: Clause) -> bool:
    """Whether it did something to netting named behind it: discs caught in the belly."""
    suffered = any(gear.follows(harm, HARM_BEFORE) for harm in clause.of("harm"))
    if suffered or clause.words.get(gear.end) in LISTING:
        return False
    torn = NETTING | ({"fishing_line"} if gear.means("part", "ground_gear") else set())
    netting = [
        part.at
        for part in clause.of("part")
        if part.meanings["part"] in torn and 0 < part.at - gear.end <= REACHES
    ]
    netting += [
        at
        for at, word in clause.words.items()
        if word in NETTING_WORDS and 0 < at - gear.end <= REACHES
    ]
    return any(_acts_between(gear.end, at, clause) for at in netting)


def _acts_between(start: int, end: int, clause: Clause) -> bool:
    between = [clause.words.get(at, "") for at in range(start, end)]
    if OFF & set(between[:INTO_WITHIN]):
        return False
    return bool(ACTS & set(between) or INTO & set(between[:INTO_WITHIN]))
