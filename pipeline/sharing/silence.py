"""Keep a library from writing to the screen behind Python's back."""

from __future__ import annotations

import ctypes
import os
import sys
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

STANDARD_OUTPUT = 1


@contextmanager
def in_silence() -> Iterator[None]:
    """Whatever C code writes to standard output meanwhile is lost; what Python wrote is not.

    Only where C's own buffer can be emptied by name, which is everywhere but on Windows; there it
    does nothing.
    """
    if sys.platform == "win32":
        yield
        return
    of_c = ctypes.CDLL(None)
    sys.stdout.flush()
    of_c.fflush(None)
    kept, nowhere = os.dup(STANDARD_OUTPUT), os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, STANDARD_OUTPUT)
    try:
        yield
    finally:
        of_c.fflush(None)
        os.dup2(kept, STANDARD_OUTPUT)
        os.close(kept)
        os.close(nowhere)
