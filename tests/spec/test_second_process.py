"""What is asked of a second process is answered as here, whatever becomes of it."""

from __future__ import annotations

import os
import subprocess
import sys
from math import factorial
from time import sleep
from typing import TYPE_CHECKING

import pytest

from pipeline.problems import WrongUsageError
from pipeline.second_process import HERE, Here, SecondProcess, second_process

if TYPE_CHECKING:
    from collections.abc import Callable

    from pipeline.clock import Say

ASLEEP = "import time; time.sleep(600)"


@pytest.mark.parametrize("process", ["", "import sys; sys.stdin.buffer.read(1)", "print(1)"])
def test_what_a_process_that_ends_can_not_do_is_done_here(process: str) -> None:
    with SecondProcess(_running(process)) as second:
        assert second.promised(factorial, 5)() == 120
        assert second.by_either(factorial, 6)() == 720


def test_another_process_does_what_is_promised_where_there_is_a_core_for_it() -> None:
    with second_process() as second:
        elsewhere = second.promised(os.getpid)() != os.getpid()
        assert elsewhere is (second is not HERE) is (os.cpu_count() != 1)


@pytest.mark.parametrize("promised", [SecondProcess.promised, SecondProcess.by_either])
def test_what_goes_wrong_there_is_told_here(promised: Callable[..., Callable[[], int]]) -> None:
    with second_process() as second:
        answer = promised(second, factorial, -1)
        with pytest.raises(ValueError, match="negative"):
            answer()
        assert second.promised(factorial, 3)() == 6


def test_each_step_of_work_there_is_told_here_before_its_answer() -> None:
    told: list[str] = []
    with second_process() as second:
        answer = second.promised(_in_steps, second.teller(told.append), 2)
        assert (answer() != os.getpid()) is (second is not HERE)
        assert told == ["step 1", "step 2"]
        assert second.promised(factorial, 3)() == 6


def test_steps_of_work_that_can_not_be_done_there_are_told_as_well() -> None:
    told: list[str] = []
    with SecondProcess(_running("")) as second:
        assert second.promised(_in_steps, second.teller(told.append), 1)() == os.getpid()
    assert told == ["step 1"]


def test_what_there_is_to_tell_the_user_is_raised_here_and_the_process_goes_on() -> None:
    with second_process() as second:
        there = second.promised(os.getpid)()
        with pytest.raises(WrongUsageError) as told:
            second.promised(_refuse, ["One thing.", "Another."])()
        assert told.value.sentences == ["One thing.", "Another."]
        assert second.promised(os.getpid)() == there


def test_what_is_printed_there_is_no_answer() -> None:
    with second_process() as second:
        second.promised(print, "not an answer")
        assert second.promised(factorial, 3)() == 6


def test_what_either_may_do_is_done_here_once_if_it_has_not_been_begun() -> None:
    done: list[int] = []
    with SecondProcess(_running(ASLEEP)) as second:
        second.promised(sleep, 0)
        answer = second.by_either(done.append, 1)
        answer()
        answer()
    assert done == [1]


def test_what_is_promised_goes_before_what_either_may_do() -> None:
    done: list[str] = []
    with SecondProcess(_running("")) as second:
        second.promised(sleep, 0.1)
        second.by_either(done.append, "what either may do")
        second.promised(done.append, "what is promised")
        while len(done) < 2:  # neither is called for, which would do one of them here
            sleep(0.01)
    assert done == ["what is promised", "what either may do"]


def test_while_one_promise_is_waited_for_what_either_may_do_is_done() -> None:
    done: list[int] = []
    with second_process() as second:
        waited_for = second.promised(sleep, 1.0)
        either = [second.by_either(done.append, number) for number in (1, 2)]
        waited_for()
        assert done == ([2, 1] if second is not HERE else [])
        for each in either:
            each()
    assert sorted(done) == [1, 2]


def test_what_goes_wrong_while_another_is_waited_for_is_told_where_it_is_called_for() -> None:
    with second_process() as second:
        waited_for = second.promised(sleep, 1.0)
        wrong = second.by_either(factorial, -1)
        waited_for()
        with pytest.raises(ValueError, match="negative"):
            wrong()


def test_it_ends_with_its_block_whatever_it_is_at() -> None:
    process = _running(ASLEEP)
    with SecondProcess(process) as second:
        second.promised(factorial, 3)
        assert process.poll() is None
    assert process.poll() is not None


def test_where_no_process_can_be_had_all_is_done_here(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "executable", "/no/such/python")
    with second_process() as second:
        assert second is HERE


def test_here_work_is_done_once_and_when_it_is_called_for() -> None:
    done: list[int] = []
    answer = Here().promised(done.append, 1)
    assert not done
    answer()
    answer()
    assert done == [1]


def _in_steps(say: Say, steps: int) -> int:
    for step in range(steps):
        say(f"step {step + 1}")
    return os.getpid()


def _refuse(sentences: list[str]) -> None:
    raise WrongUsageError(sentences)


def _running(script: str) -> subprocess.Popen[bytes]:
    pipe = subprocess.PIPE
    return subprocess.Popen([sys.executable, "-c", script], stdin=pipe, stdout=pipe)
