"""Pictures out of Vega-Lite and SVG, drawn in a second process beside the words.

vl_convert lets nothing else run in its process while it draws, and takes a second to begin. So it
begins while the rigs are being compared, and draws while the pages are written. A picture is
promised at once, and there when the promise is called.
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from base64 import b64decode, b64encode
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from functools import cache, partial
from typing import IO, TYPE_CHECKING, Any, Self, TypeVar, cast

import vl_convert

from reports.language import IN_ENGLISH, spoken

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    Picture = TypeVar("Picture", str, bytes)

Row = dict[str, Any]

PNG_SCALE = 2.0
"""Pixels to a unit: 660 across for most charts, sharp in a printed column."""
SMALLEST: Row = {"data": {"values": [{}]}, "mark": "point"}


def svg_of(spec: str, figures: Row | None = None, days: Row | None = None) -> str:
    """The chart of a Vega-Lite specification, as an SVG that stands by itself.

    Figures and days are written as in English, or by locales as Vega takes them.
    """
    svg = vl_convert.vegalite_to_svg(spec, format_locale=figures, time_format_locale=days)
    return str(svg)


def png_of(svg: str) -> bytes:
    """The picture in pixels."""
    return bytes(vl_convert.svg_to_png(svg, scale=PNG_SCALE))


class Pictures:
    """Draws what is asked for: in the second process, or here, as each is called, without one."""

    def __init__(self, second: SecondProcess | None = None) -> None:
        self._second = second
        self._charts: dict[tuple[str, str], Callable[[], str]] = {}

    def chart(self, spec: Row) -> Callable[[], str]:
        """The promise of a chart as SVG; what several readers are shown is drawn once."""
        language, written = spoken(), json.dumps(spec)
        key = language.tag, written
        if key not in self._charts:
            locales = () if language is IN_ENGLISH else (language.of_charts, language.of_days)
            self._charts[key] = self._promised(svg_of, written, *locales)
        return self._charts[key]

    def png(self, svg: str) -> Callable[[], bytes]:
        """The promise of an SVG in pixels."""
        return self._promised(png_of, svg)

    def _promised(self, draw: Callable[..., Picture], *asked: object) -> Callable[[], Picture]:
        if self._second is None:
            return cache(partial(draw, *asked))
        return self._second.promised(draw, *asked)


DRAWN_HERE = Pictures()


@contextmanager
def drawn_beside() -> Iterator[Pictures]:
    """Pictures from a second process, which begins at once; from this one, where none can be had.

    On a machine of one core there is none.
    """
    try:
        process = None if os.cpu_count() == 1 else _begun()
    except OSError:
        process = None
    if process is None:
        yield DRAWN_HERE
        return
    with SecondProcess(process) as second:
        pictures = Pictures(second)
        pictures.chart(SMALLEST)
        yield pictures


class SecondProcess:
    """Hands what is asked for to a process, one thing after the other; it ends with the block."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self._process = process
        self._thread = ThreadPoolExecutor(1)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._process.kill()
        self._thread.shutdown(cancel_futures=True)
        self._process.communicate()

    def promised(self, draw: Callable[..., Picture], *asked: object) -> Callable[[], Picture]:
        """The promise of what `draw` gives."""
        return self._thread.submit(self._drawn, draw, *asked).result

    def _drawn(self, draw: Callable[..., Picture], *asked: object) -> Picture:
        """What the process answers; if it has come to an end, it is drawn here."""
        there, back = cast(IO[str], self._process.stdin), cast(IO[str], self._process.stdout)
        try:
            there.write(json.dumps((draw.__name__, asked)) + "\n")
            there.flush()
            answer = back.readline()
        except OSError:
            answer = ""
        if not answer:
            return draw(*asked)
        picture = json.loads(answer)
        return cast("Picture", picture if draw is svg_of else b64decode(picture))


def _begun() -> subprocess.Popen[str]:
    """The second process. It finds this package where it is installed, not in the folder at hand.

    Raises `OSError` where no process can be had.
    """
    command = [sys.executable, "-P", "-m", __name__]
    pipe, nowhere = subprocess.PIPE, subprocess.DEVNULL
    return subprocess.Popen(  # noqa: S603 - our own module
        command, stdin=pipe, stdout=pipe, stderr=nowhere, encoding="utf-8"
    )


def draw_what_is_asked() -> None:
    """Answer each line of standard input, a kind of picture and what it is of, with the picture.

    Ctrl-C goes to all processes: the first ends, and takes this one with it.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    for line in sys.stdin:
        kind, asked = json.loads(line)
        picture = png_of(*asked) if kind == png_of.__name__ else svg_of(*asked)
        answer = b64encode(picture).decode() if isinstance(picture, bytes) else picture
        sys.stdout.write(json.dumps(answer) + "\n")
        sys.stdout.flush()


if __name__ == "__main__":
    draw_what_is_asked()
