"""A file written whole or not at all."""

from __future__ import annotations

import os
from contextlib import contextmanager
from pathlib import Path
from tempfile import mkdtemp
from typing import TYPE_CHECKING

from pipeline.problems import WrongUsageError

if TYPE_CHECKING:
    from collections.abc import Iterator
    from typing import TextIO


@contextmanager
def whole_file(place: Path) -> Iterator[TextIO]:
    """Open a file beside `place` that takes its place once all is written.

    A file that is there keeps its mode, and a link leads on to what it led to. Raises
    `WrongUsageError` where it can't be written.
    """
    place = place.resolve()
    if place.exists() and not (place.is_file() and os.access(place, os.W_OK)):
        raise WrongUsageError(f"{place} may not be written over.")
    try:
        folder = Path(mkdtemp(dir=place.parent, prefix=f".{place.name}-"))
    except OSError as error:
        raise WrongUsageError(f"{place} can't be written: {error.strerror}.") from error
    new = folder / place.name
    try:
        with new.open("w", encoding="utf-8-sig", newline="") as file:
            yield file
        if place.exists():
            new.chmod(place.stat().st_mode)
        new.replace(place)
    finally:
        new.unlink(missing_ok=True)
        folder.rmdir()
