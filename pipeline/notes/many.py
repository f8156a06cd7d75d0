"""Many notes read at once, on all the cores of the machine where that pays."""

from __future__ import annotations

import gc
import os
from concurrent.futures import ProcessPoolExecutor
from itertools import chain
from multiprocessing import get_context
from typing import TYPE_CHECKING, Any, Self

from pipeline.notes.cells import cells_of
from pipeline.notes.lexicon import built_in
from pipeline.notes.reading import read_several

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from pipeline.notes.lexicon import Lexicon

MANY = 1_500
"""Fewer notes are read before a second process has begun."""
NOTES_AT_A_TIME = 500
"""So many notes are handed to a process at once."""


class NoteReader:
    """Reads notes by one lexicon; what processes it has begun end with it."""

    def __init__(self, lexicon: Lexicon | None = None, cores: int | None = None) -> None:
        self.lexicon = lexicon or built_in()
        self._cores = cores or os.cpu_count() or 1
        self._processes: ProcessPoolExecutor | None = None

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        if self._processes is not None:
            self._processes.shutdown(cancel_futures=True)

    def read(self, notes: Sequence[str]) -> Iterable[tuple[Any, ...]]:
        """The cells of each note, in their order; other processes begin on them at once."""
        if self._cores == 1 or (len(notes) < MANY and self._processes is None):
            return list(map(cells_of, read_several(notes, self.lexicon)))
        if self._processes is None:
            self._processes = ProcessPoolExecutor(
                self._cores, get_context("spawn"), _begin, (self.lexicon,)
            )
        some = [notes[at : at + NOTES_AT_A_TIME] for at in range(0, len(notes), NOTES_AT_A_TIME)]
        return chain.from_iterable(self._processes.map(_read, some))


_lexicon: list[Lexicon] = []
"""The lexicon of this process, set once when it begins."""


def _begin(lexicon: Lexicon) -> None:
    """Take the lexicon; and as reading a note leaves no cycle behind, look for none."""
    gc.disable()
    _lexicon[:] = [lexicon]


def _read(notes: Sequence[str]) -> list[tuple[Any, ...]]:
    return list(map(cells_of, read_several(notes, _lexicon[0])))
