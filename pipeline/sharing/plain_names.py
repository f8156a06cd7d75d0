"""Names of rigs and grounds, and titles, in which a boat may be named, without the boat."""

from __future__ import annotations

import re
from itertools import chain, count
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable

A_BOAT = "a boat"


def without_boats(text: str, boats: Collection[str]) -> str:
    """The text with each boat's name in it, as a word or words by themselves, as "a boat"."""
    longest_first = sorted(boats, key=len, reverse=True)
    for boat in longest_first:
        words = r"[\W_]+".join(re.escape(word) for word in re.findall(r"[^\W_]+", boat))
        if words:
            text = re.sub(rf"(?<![^\W_]){words}(?![^\W_])", A_BOAT, text, flags=re.IGNORECASE)
    return text


def labels_without_boats(
    labels: Iterable[str], boats: Collection[str], trade_words: Collection[str] = ()
) -> dict[str, str]:
    """What each label is called in the co-op's report: itself, or without the boats in it.

    Labels that come out alike are numbered. A word of the trade stays, though a boat be called so.
    """
    called: dict[str, str] = {}
    for label in sorted(set(labels)):
        plain = label if label in trade_words else without_boats(label, boats)
        numbered = (f"{plain} ({number})" for number in count(2))
        called[label] = next(
            name for name in chain([plain], numbered) if name not in called.values()
        )
    return called
