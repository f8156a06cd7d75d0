"""What a note tells of one thing, the words it rests on, and how sure that is."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Generic, Literal, NamedTuple, TypeVar

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pipeline.notes.clauses import Item
    from pipeline.notes.tellings import Tellings

Sure = Literal["sure", "likely", "guess"]
SURE: tuple[Sure, ...] = ("sure", "likely", "guess")
"""Said outright; implied, misspelt or said elsewhere in the note; no more than mentioned."""

Value = TypeVar("Value")


class Told(NamedTuple, Generic[Value]):
    """A value that a note tells, or None or () for not told; its words; and how sure it is."""

    value: Value
    words: tuple[str, ...] = ()
    sure: Sure = "sure"


def words_of(told: Tellings, items: Iterable[Item]) -> tuple[str, ...]:
    """The words of some items as the note has them, each once, in their order."""
    places = sorted({(item.start, item.stop) for item in items})
    note = told[0].clause.note if places else ""
    return tuple(dict.fromkeys([note[start:stop] for start, stop in places]))


def least_sure(*levels: Sure) -> Sure:
    """The least sure of some."""
    return max(levels, key=SURE.index)


def as_spelt(items: Iterable[Item]) -> Sure:
    """How sure words are of which some may be slips of the pen."""
    return "likely" if any(item.slip for item in items) else "sure"


def no_surer(told: Told[Value], than: Told[Any]) -> Told[Value]:
    """What is told, no surer than something else that it hangs on."""
    return Told(told.value, told.words, least_sure(told.sure, than.sure))
