"""What is worked out of a word or another thing, kept so that it is worked out once for each."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable

MOST_REMEMBERED = 50_000
"""So many words are remembered, and then the list begins anew."""

Key = TypeVar("Key")
Value = TypeVar("Value")


class Remembered(dict[Key, Value]):
    """What was worked out of words, by the word; `remembered[word]` works it out where it must."""

    def __init__(self, work_out: Callable[[Key], Value]) -> None:
        super().__init__()
        self._work_out = work_out

    def __missing__(self, word: Key) -> Value:
        """Work it out, and remember it."""
        if len(self) >= MOST_REMEMBERED:
            self.clear()
        value = self[word] = self._work_out(word)
        return value
