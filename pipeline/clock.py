"""What tells each step as it begins, and keeps how long it took."""

from __future__ import annotations

from collections.abc import Callable
from time import perf_counter

Say = Callable[[str], None]
"""Takes the name of a step as it begins."""


class Clock:
    """Tells each step as it begins and keeps how long it took."""

    def __init__(self, say: Say) -> None:
        self.seconds: dict[str, float] = {}
        self._say = say
        self._step: str | None = None
        self._began = 0.0

    def step(self, name: str) -> None:
        """End the step before, and begin this one."""
        self.stop()
        self._say(name)
        self._step, self._began = name, perf_counter()

    def stop(self) -> None:
        """End the step that is under way."""
        if self._step is not None:
            took = self.seconds.get(self._step, 0.0) + perf_counter() - self._began
            self.seconds[self._step] = round(took, 3)
        self._step = None


def silent(_: str) -> None:
    """Tell nobody."""
