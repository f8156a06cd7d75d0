"""A process that runs nothing but this program, and so need not load what only others would use."""

from __future__ import annotations

import sys
from contextlib import contextmanager
from importlib.abc import MetaPathFinder
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator


class _Absent(MetaPathFinder):
    """Says of some packages that they are not installed."""

    def __init__(self, packages: Collection[str]) -> None:
        self._packages = packages

    def find_spec(self, name: str, *_: object) -> None:
        """Nothing, so that the next finder is asked; raises `ModuleNotFoundError` for these."""
        if name in self._packages:
            raise ModuleNotFoundError(f"No module named '{name}'", name=name)


class _Process:
    """Whose this process is."""

    ours = False


def begin_own_process() -> None:
    """Say that this process is the program's own; one that only calls it is left as it is."""
    _Process.ours = True


@contextmanager
def without(*packages: str) -> Iterator[None]:
    """In a process of our own, load what stands in here as if the packages were not installed."""
    if not _Process.ours:
        yield
        return
    absent = _Absent(packages)
    sys.meta_path.insert(0, absent)
    try:
        yield
    finally:
        sys.meta_path.remove(absent)
