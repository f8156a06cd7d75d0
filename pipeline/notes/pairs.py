"""Causes that two words name together: ground that was hard, twine that was old, tonnes of fish."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from pipeline.notes.clauses import Item

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pipeline.notes.clauses import Clause

HARD = (
    r"(?:hard|rough|bad|coarse|coorse|crs|foul|stony|rocky|dirty|sharp|uneven|lumpy|broken|ill|roch|"
    r"ruff|rgh|hrd|hd|snaggy|craggy|jagged|stoney|stane?y)"
)
GROUND = r"(?:ground|grund|grnd|grd|gnd|bottom|btm|bottum|botn|bodem|bunn|bund)"
OLD = (
    r"(?:old|auld|oul'?|ould|aul|aal|worn|cheap|tired|rotten|weak|perished|brittle|"
    r"ancient|rusty|rusted|corroded)"
)
MATERIAL = (
    r"(?:twine|thread|lacings?|stitching|seizings?|netting|cotton|nylon|garn|splices?|shackle|"
    r"seams?|lashings?)"
)
IS = r"(?:'s|was|is|wis|were|it|too|very|so|that|some|gone|got|[:,]) "
PAIRS = (
    ("hard_ground", re.compile(rf"\b{HARD},? (?:\w+ )?{GROUND}\b")),
    ("hard_ground", re.compile(rf"\b{GROUND} ?(?:{IS}){{0,2}}{HARD}\b")),
    ("wear", re.compile(rf"\b{OLD},? (?:\w+ )?{MATERIAL}\b")),
    (
        "wear",
        re.compile(rf"\b(?:{MATERIAL}|wire|rope) ?(?:{IS}){{0,2}}{OLD}\b(?! (?:wire|rope|net))"),
    ),
)
"""The words stand beside each other, at most a word between."""

TONNES = re.compile(
    r"\b\d+(?:[.,]\d+)? ?(?:t|ton|tons|tonn|tonnes?) "
    r"(?!md|mend|lost|fast|and|to )(?:of |o )?[a-z]{3}"
)
"""So many tonnes of a catch: the weight that burst it."""
PULLING = {"warp", "warps", "tension", "door", "doors", "pull", "peak", "load", "per"}
"""Tonnes of these are pulled, not caught."""
ONE_OF_A_PAIR = {
    "ground", "grund", "grnd", "grd", "gnd", "bottom", "btm", "bottum", "botn", "bodem", "bunn",
    "bund", "twine", "thread", "lacing", "lacings", "stitching", "seizing", "seizings", "netting",
    "cotton", "nylon", "garn", "splice", "splices", "shackle", "seam", "seams", "lashing",
    "lashings", "wire", "rope",
}  # fmt: skip
"""Most clauses hold none of them, and this tells so at once."""
TONS = {"t", "ton", "tons", "tonn", "tonne", "tonnes"}
NO_WORD_PLACE = -100
"""Such a pair stands by its letters, not by its words."""


def causes_in_pairs(clause: Clause) -> Iterator[Item]:
    """The causes that two words of a clause name together."""
    if clause.said.isdisjoint(ONE_OF_A_PAIR):
        return
    for cause, pair in PAIRS:
        for found in pair.finditer(clause.note, clause.start, clause.stop):
            yield _item(cause, found)


def tonnes_of_fish(clause: Clause) -> Iterator[Item]:
    """The tonnes that a clause says were in the net."""
    if not clause.said.isdisjoint(TONS) and clause.said.isdisjoint(PULLING):
        for found in TONNES.finditer(clause.note, clause.start, clause.stop):
            yield _item("overload", found)


def _item(cause: str, found: re.Match[str]) -> Item:
    words = tuple(found[0].split())
    return Item({"cause": cause}, NO_WORD_PLACE, NO_WORD_PLACE, found.start(), found.end(), words)
