"""Work on all cores at once, in threads: numpy and scipy let others run while they reckon."""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

Asked = TypeVar("Asked")
Answer = TypeVar("Answer")


def on_all_cores(work: Callable[[Asked], Answer], asked: Iterable[Asked]) -> Iterator[Answer]:
    """The answers, in the order of what was asked, as many at a time as there are cores."""
    with ThreadPoolExecutor(os.cpu_count()) as threads:
        yield from threads.map(work, asked)
