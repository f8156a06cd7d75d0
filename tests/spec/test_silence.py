"""A library that writes to standard output from C is not heard; what we write is."""

from __future__ import annotations

import ctypes
import sys

import pytest

from pipeline.sharing.silence import in_silence


@pytest.mark.skipif(sys.platform == "win32", reason="C's buffer can't be emptied by name there")
def test_what_c_writes_meanwhile_is_lost_and_nothing_else(
    capfd: pytest.CaptureFixture[str],
) -> None:
    of_c = ctypes.CDLL(None)
    sys.stdout.write("before ")
    of_c.printf(b"of C before ")
    with in_silence():
        of_c.printf(b"of C meanwhile ")
    of_c.printf(b"of C after")
    of_c.fflush(None)
    assert capfd.readouterr().out == "before of C before of C after"
