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
from concurrent.futures import Future
from contextlib import contextmanager, suppress
from functools import cache, partial
from importlib import import_module
from threading import Condition, Thread
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
    """What is asked, as handed over, and the promise of its answer.

    `by_it` is whether only the process is to do it.
    """

    work: Callable[..., object]
    asked: tuple[object, ...]
    by_it: bool
    written: bytes
    promise: Future[object]

    def done_here(self) -> object:
        """The work, done in this process."""
        return self.work(*self.asked)


class Here:
    """Promises, too, and keeps them in this process when they are called."""

    def promised(self, work: Callable[..., Answer], *asked: object) -> Callable[[], Answer]:
        """The promise of what `work` makes of what is `asked`."""
        return cache(partial(work, *asked))

    by_either = promised

    def teller(self, say: Say) -> Say:
        """What work is handed to tell its steps by, which reaches `say`."""
        return say


AHEAD = 2
"""So much is handed over at a time. While this process is at something that lets nothing else run
in it, as drawing does, the other one has its next work with it already."""


class SecondProcess(Here):
    """Hands work to a process of its own, one thing after the other; it ends with the block.

    What is promised goes before what either can do. `work` is a function that a module has under
    its name, and it and all that is `asked` can be pickled, as can the answer.
    """

    def __init__(self, process: subprocess.Popen[bytes]) -> None:
        self._process = process
        self._by_it: deque[Asked] = deque()
        self._by_either: deque[Asked] = deque()
        self._handed: deque[Asked] = deque()
        self._say: Say = silent
        self._ended = False
        self._changed = Condition()
        self._threads = [Thread(target=self._hand_over), Thread(target=self._take_answers)]

    def __enter__(self) -> Self:
        for thread in self._threads:
            thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        with self._changed:
            self._ended = True
            self._changed.notify_all()
        self._process.kill()
        for thread in self._threads:
            thread.join()
        self._process.communicate()

    def promised(self, work: Callable[..., Answer], *asked: object) -> Callable[[], Answer]:
        """The promise of what the second process makes of what is `asked`.

        While that is waited for, this process does of what either can do.
        """
        promise = self._ask(work, asked, by_it=True)

        def answer() -> Answer:
            while not promise.done() and (other := self._left_to_either()):
                self._keep(other, other.done_here)
            return cast("Answer", promise.result())

        return answer

    def by_either(self, work: Callable[..., Answer], *asked: object) -> Callable[[], Answer]:
        """The same, but done here if it has not been begun when it is called for."""
        promise = self._ask(work, asked, by_it=False)

        def answer() -> Answer:
            return work(*asked) if promise.cancel() else cast("Answer", promise.result())

        return cache(answer)

    def teller(self, say: Say) -> Say:
        """What work is handed to tell its steps by, which reaches `say`."""
        self._say = say
        return cast("Say", Teller())

    def _ask(
        self, work: Callable[..., object], asked: tuple[object, ...], *, by_it: bool
    ) -> Future[object]:
        """The promise of an answer to what is put at the end of its line."""
        asking = Asked(work, asked, by_it, pickle.dumps((work, asked)), Future())
        with self._changed:
            (self._by_it if by_it else self._by_either).append(asking)
            self._changed.notify_all()
        return asking.promise

    def _left_to_either(self) -> Asked | None:
        """The last that either may do and neither has begun, if there is one."""
        with self._changed:
            while self._by_either:
                asked = self._by_either.pop()
                if asked.promise.set_running_or_notify_cancel():
                    return asked
        return None

    def _keep(self, asked: Asked, answer: Callable[[], object]) -> None:
        """Keep a promise by an answer, or by what goes wrong with it."""
        try:
            asked.promise.set_result(answer())
        except Exception as error:  # noqa: BLE001 - raised where the promise is called
            asked.promise.set_exception(error)

    def _hand_over(self) -> None:
        """Hand over what is asked, a little ahead of the answers, until the end."""
        while (asked := self._next_to_hand_over()) is not None:
            there = cast(IO[bytes], self._process.stdin)
            with suppress(OSError):  # it has come to an end: then there will be no answer either
                there.write(asked.written)
                there.flush()

    def _next_to_hand_over(self) -> Asked | None:
        """The next that was not done here, when there is room for it; None at the end."""
        while True:
            with self._changed:
                self._changed.wait_for(lambda: self._ended or self._has_room())
                if self._ended:
                    return None
                asked = (self._by_it or self._by_either).popleft()
                if asked.promise.set_running_or_notify_cancel():
                    self._handed.append(asked)
                    self._changed.notify_all()
                    return asked

    def _has_room(self) -> bool:
        """Whether the process may have the next: nothing goes ahead of what only it does."""
        if len(self._handed) == AHEAD:
            return False
        return bool(
            self._by_it or (self._by_either and not any(each.by_it for each in self._handed))
        )

    def _take_answers(self) -> None:
        """Keep each promise as its answer comes, until the end."""
        while True:
            with self._changed:
                self._changed.wait_for(lambda: self._ended or self._handed)
                if self._ended:
                    return
                asked = self._handed[0]
            self._keep(asked, partial(self._answer_to, asked))
            with self._changed:
                self._handed.popleft()
                self._changed.notify_all()

    def _answer_to(self, asked: Asked) -> object:
        """What the process answers; if it has come to an end, it is done here.

        Raises what it has to tell the user, as the work would here.
        """
        try:
            while isinstance(answer := _next_from(cast(IO[bytes], self._process.stdout)), Said):
                self._say(answer.step)
        except (OSError, EOFError, pickle.UnpicklingError):
            return None if self._ended else asked.work(*_told_by(self._say, asked.asked))
        if isinstance(answer, Failed):
            raise answer.error
        return answer


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
