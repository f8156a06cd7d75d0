"""The known word nearest to a misspelt one."""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING

from schemas.words import saying

if TYPE_CHECKING:
    from collections.abc import Iterable


DID_YOU_MEAN = saying(" (did you mean {}?)")


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """` (did you mean …?)` if a known word is near, else nothing."""
    near = get_close_matches(word, list(known), n=1, cutoff=0.6)
    return DID_YOU_MEAN.format(repr(near[0])) if near else ""
