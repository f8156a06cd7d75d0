"""The seasons of a proof, on as many cores as there are."""

from __future__ import annotations

import sys
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    Found = TypeVar("Found")

AT_ONCE = 10
"""Seasons are handed over so many at a time where there are many."""


def over_seasons(work: Callable[[int], Found], seeds: range) -> Iterator[Found]:
    """What `work` finds in the season of each seed, in their order; how far it is goes to stderr.

    Processes are begun anew: one that is a copy of this, libraries' threads and all, may wait for
    ever.
    """
    with ProcessPoolExecutor(mp_context=get_context("spawn")) as pool:
        at_once = AT_ONCE if len(seeds) > AT_ONCE**2 else 1
        for done, found in enumerate(pool.map(work, seeds, chunksize=at_once), start=1):
            sys.stderr.write(f"\r{done} of {len(seeds)}")
            yield found
    sys.stderr.write("\n")
