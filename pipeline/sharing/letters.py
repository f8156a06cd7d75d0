"""Boats under letters that say nothing of them."""

from __future__ import annotations

from itertools import count, product
from string import ascii_uppercase
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    import numpy as np


def letters(
    vessels: Collection[str], consenting: Collection[str], chance: np.random.Generator
) -> dict[str, str]:
    """What each boat is called: its name if it consents, else a letter, at random by `chance`.

    No letter is the name of a boat. Asked again with the same `chance` it gives other letters. So
    that they change with each report and can't be guessed, its seed must be a new one from
    `secrets.randbits(128)` each time, and kept nowhere.
    """
    named = {vessel: vessel for vessel in vessels if vessel in consenting}
    unnamed = sorted(set(vessels) - set(named))
    mixed = chance.permutation(len(unnamed))
    free = (letter for letter in _alphabet() if letter not in vessels)
    return named | {unnamed[at]: letter for at, letter in zip(mixed, free, strict=False)}


def _alphabet() -> Iterator[str]:
    """A to Z, then AA, AB and so on without end."""
    for length in count(1):
        for several in product(ascii_uppercase, repeat=length):
            yield "".join(several)
