"""A second process beside this one, so that two cores work on one season.

What is asked of it is promised at once, and there when the promise is called. It takes one thing
after the other. What it can't do, or where there is none, is done here: the answer is the same.
"""

from __future__ import annotations

import gc
import os
import pickle
import signal
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager, suppress
from functools import cache, partial
from importlib import import_module
from typing import IO, TYPE_CHECKING, Self, TypeVar, cast

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    Answer = TypeVar("Answer")


LONG_TO_LOAD = ("pipeline.damage_findings", "scipy.stats", "statsmodels.stats.multitest")
"""Of what it is asked for this takes most time to load, between one and two seconds of its core."""


class Here:
    """Promises, too, and keeps them in this process when they are called."""

    def promised(self, work: Callable[..., Answer], *asked: object) -> Callable[[], Answer]:
        """The promise of what `work` makes of what is `asked`."""
        return cache(partial(work, *asked))

    by_either = promised


class SecondProcess(Here):
    """Hands work to a process of its own, one thing after the other; it ends with the block.

    `work` is a function that a module has under its name, and it and all that is `asked` can be
    pickled, as can the answer.
    """

    def __init__(self, process: subprocess.Popen[bytes]) -> None:
        self._process = process
        self._thread = ThreadPoolExecutor(1)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._process.kill()
        self._thread.shutdown(cancel_futures=True)
        self._process.communicate()

    def promised(self, work: Callable[..., Answer], *asked: object) -> Callable[[], Answer]:
        """The promise of what the second process makes of what is `asked`."""
        return self._thread.submit(self._answered, work, *asked).result

    def by_either(self, work: Callable[..., Answer], *asked: object) -> Callable[[], Answer]:
        """The same, but done here if it has not been begun when it is called for."""
        promise = self._thread.submit(self._answered, work, *asked)

        def answer() -> Answer:
            return work(*asked) if promise.cancel() else promise.result()

        return cache(answer)

    def _answered(self, work: Callable[..., Answer], *asked: object) -> Answer:
        """What the process answers; if it has come to an end, it is done here."""
        there, back = cast(IO[bytes], self._process.stdin), cast(IO[bytes], self._process.stdout)
        written = pickle.dumps((work, asked))
        try:
            there.write(written)
            there.flush()
            return cast("Answer", _next_from(back))
        except (OSError, EOFError, pickle.UnpicklingError):
            return work(*asked)


HERE = Here()


@contextmanager
def second_process() -> Iterator[Here]:
    """A second process, which begins at once to load what it will be asked for.

    There is none on a machine of one core.
    """
    try:
        process = None if os.cpu_count() == 1 else _begun()
    except OSError:
        process = None
    if process is None:
        yield HERE
        return
    with SecondProcess(process) as second:
        second.promised(load, *LONG_TO_LOAD)
        yield second


def _begun() -> subprocess.Popen[bytes]:
    """The process. It finds this package where it is installed, not in the folder at hand.

    Raises `OSError` where no process can be had.
    """
    command = [sys.executable, "-P", "-m", __name__]
    pipe, nowhere = subprocess.PIPE, subprocess.DEVNULL
    return subprocess.Popen(  # noqa: S603 - our own module
        command, stdin=pipe, stdout=pipe, stderr=nowhere
    )


def load(*modules: str) -> None:
    """Load modules before they are needed."""
    for module in modules:
        import_module(module)


def answer_what_is_asked() -> None:
    """Answer on standard output whatever work comes in on standard input, until none comes.

    What anything here prints goes nowhere. Ctrl-C goes to all processes: the first ends, and takes
    this one with it. Nobody looks for garbage, as in the first.
    """
    gc.disable()
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    with os.fdopen(os.dup(sys.stdout.fileno()), "wb") as back:
        os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
        with suppress(EOFError):
            while True:
                handed = _next_from(sys.stdin.buffer)
                work, asked = cast("tuple[Callable[..., object], tuple[object, ...]]", handed)
                pickle.dump(work(*asked), back)
                back.flush()


def _next_from(pipe: IO[bytes]) -> object:
    """The next thing that the other of the two processes has written."""
    return pickle.load(pipe)  # noqa: S301 - from our own process


if __name__ == "__main__":
    answer_what_is_asked()
