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
from collections import deque
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager, suppress
from functools import cache, partial
from importlib import import_module
from typing import IO, TYPE_CHECKING, NamedTuple, Self, TypeVar, cast

from pipeline.clock import silent
from pipeline.own_process import begin_own_process
from pipeline.problems import RigseasonError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from pipeline.clock import Say

    Answer = TypeVar("Answer")


class Teller(NamedTuple):
    """What stands among the things asked for what tells each step; either process puts its own."""


class Said(NamedTuple):
    """A step that the second process begins."""

    step: str


class Failed(NamedTuple):
    """What it has to tell the user in place of an answer."""

    error: RigseasonError


class Asked(NamedTuple):
    """What is asked, and the promise of its answer."""

    promise: Future[object]
    work: Callable[..., object]
    asked: tuple[object, ...]


class Here:
    """Promises, too, and keeps them in this process when they are called."""

    def promised(self, work: Callable[..., Answer], *asked: object) -> Callable[[], Answer]:
        """The promise of what `work` makes of what is `asked`."""
        return cache(partial(work, *asked))

    by_either = promised

    def teller(self, say: Say) -> Say:
        """What work is handed to tell its steps by, which reaches `say`."""
        return say


class SecondProcess(Here):
    """Hands work to a process of its own, one thing after the other; it ends with the block.

    What is promised goes before what either can do. `work` is a function that a module has under
    its name, and it and all that is `asked` can be pickled, as can the answer.
    """

    def __init__(self, process: subprocess.Popen[bytes]) -> None:
        self._process = process
        self._thread = ThreadPoolExecutor(1)
        self._by_it: deque[Asked] = deque()
        self._by_either: deque[Asked] = deque()
        self._say: Say = silent

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._process.kill()
        self._thread.shutdown(cancel_futures=True)
        self._process.communicate()

    def promised(self, work: Callable[..., Answer], *asked: object) -> Callable[[], Answer]:
        """The promise of what the second process makes of what is `asked`."""
        return cast("Callable[[], Answer]", self._ask(self._by_it, work, asked).result)

    def by_either(self, work: Callable[..., Answer], *asked: object) -> Callable[[], Answer]:
        """The same, but done here if it has not been begun when it is called for."""
        promise = self._ask(self._by_either, work, asked)

        def answer() -> Answer:
            return work(*asked) if promise.cancel() else cast("Answer", promise.result())

        return cache(answer)

    def teller(self, say: Say) -> Say:
        """What work is handed to tell its steps by, which reaches `say`."""
        self._say = say
        return cast("Say", Teller())

    def _ask(
        self, line: deque[Asked], work: Callable[..., object], asked: tuple[object, ...]
    ) -> Future[object]:
        """The promise of an answer to what is put at the end of a line."""
        promise: Future[object] = Future()
        line.append(Asked(promise, work, asked))
        self._thread.submit(self._answer_next)
        return promise

    def _answer_next(self) -> None:
        """Keep the next promise, unless it was kept here."""
        promise, work, asked = (self._by_it or self._by_either).popleft()
        if not promise.set_running_or_notify_cancel():
            return
        try:
            promise.set_result(self._answered(work, *asked))
        except Exception as error:  # noqa: BLE001 - raised where the promise is called
            promise.set_exception(error)

    def _answered(self, work: Callable[..., Answer], *asked: object) -> Answer:
        """What the process answers; if it has come to an end, it is done here.

        Raises what it has to tell the user, as the work would here.
        """
        there, back = cast(IO[bytes], self._process.stdin), cast(IO[bytes], self._process.stdout)
        written = pickle.dumps((work, asked))
        try:
            there.write(written)
            there.flush()
            while isinstance(answer := _next_from(back), Said):
                self._say(answer.step)
        except (OSError, EOFError, pickle.UnpicklingError):
            return work(*_told_by(self._say, asked))
        if isinstance(answer, Failed):
            raise answer.error
        return cast("Answer", answer)


HERE = Here()


@contextmanager
def second_process() -> Iterator[Here]:
    """A second process; there is none on a machine of one core."""
    try:
        process = None if os.cpu_count() == 1 else _begun()
    except OSError:
        process = None
    if process is None:
        yield HERE
        return
    with SecondProcess(process) as second:
        yield second


def _begun() -> subprocess.Popen[bytes]:
    """The process. It finds this package where it is installed, not in the folder at hand.

    Raises `OSError` where no process can be had.
    """
    work = f"from {__name__} import {answer_what_is_asked.__name__} as answer; answer()"
    pipe, nowhere = subprocess.PIPE, subprocess.DEVNULL
    return subprocess.Popen(  # noqa: S603 - our own module
        [sys.executable, "-P", "-c", work], stdin=pipe, stdout=pipe, stderr=nowhere
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
    begin_own_process()
    gc.disable()
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    with os.fdopen(os.dup(sys.stdout.fileno()), "wb") as back:
        os.dup2(sys.stderr.fileno(), sys.stdout.fileno())

        def write(told: object) -> None:
            pickle.dump(told, back)
            back.flush()

        def say(step: str) -> None:
            write(Said(step))

        with suppress(EOFError):
            while True:
                handed = _next_from(sys.stdin.buffer)
                work, asked = cast("tuple[Callable[..., object], tuple[object, ...]]", handed)
                try:
                    write(work(*_told_by(say, asked)))
                except RigseasonError as error:
                    write(Failed(error))


def _told_by(say: Say, asked: tuple[object, ...]) -> tuple[object, ...]:
    """What is asked, with what tells each step in its place."""
    return tuple(say if isinstance(each, Teller) else each for each in asked)


def _next_from(pipe: IO[bytes]) -> object:
    """The next thing that the other of the two processes has written."""
    return pickle.load(pipe)  # noqa: S301 - from our own process
